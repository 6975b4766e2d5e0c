#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest-study-mpi from outside: the files of the command for 1, 2 and 3 ranks, also after a job
# that ended early, and what is said of wrong calls and files. All sets are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
program=${TIPCREST_BUILD-.}/tipcrest-study-mpi
if [ ! -x "$program" ]; then
    skip 'tipcrest-study-mpi' 'it was not built: configure did not find Open MPI'
    finish
fi
if ! command -v mpirun >/dev/null; then
    skip 'tipcrest-study-mpi' 'there is no mpirun'
    finish
fi
. "$TIPCREST_SOURCE/tests/cli/command.sh"

cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - side: left
    lashes: {describe: {count: 24, phases: none}}
    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: 11, curl: C}]
END
{
    echo 'tipcrest-study: 1'
    echo 'set: set.yaml'
    echo 'vary: {curl: [C, CC, D], longest_mm: 10:13:1, lid.mrd1_mm: 1:8:1, lid.globe_radius_mm: [8, 12]}'
    echo 'outputs: [fitted.rms_mm, load.mass_ratio.max]'
    echo 'runs: 20'
} >study.yaml

# ranks N ARGUMENT...: leaves out, err and status, as run does. mpirun has words of its own on
# standard error, which are not ours.
ranks() {
    number=$1
    shift
    status=0
    OMPI_MCA_btl=self,vader OMPI_MCA_plm_rsh_agent=false mpirun --oversubscribe --allow-run-as-root \
        -n "$number" "$program" "$@" >out 2>said </dev/null || status=$?
    grep '^tipcrest' said >err
    :
}

ranks 1 --version
if [ "$status" -ne 0 ]; then
    skip 'tipcrest-study-mpi' "mpirun starts nothing here: $(head -n 1 said)"
    finish
fi
equal 'the version is that of the command' "$(cat out)" "tipcrest-study-mpi $("$TIPCREST" --version | sed 's/.* //')"

same() {
    if differs=$(diff -rq "$2" "$3" 2>&1); then ok "$1"; else not_ok "$1" "$differs" "$(cat said)"; fi
}

"$TIPCREST" study study.yaml -o one --all >table || not_ok 'the command does the study' "$?"
for number in 1 2 3; do
    ranks $number study.yaml -o "ranks$number" --all
    equal "$number ranks do the study" "$status $(cat err)" '0 '
    same "$number ranks give the files of the command" one "ranks$number"
    equal "$number ranks print the table of the command" "$(sed "s/ranks$number/one/" out)" "$(cat table)"
done
ranks 2 study.yaml -o threads --all --threads 2
same '2 ranks of 2 threads give the files of the command' one threads
ranks 2 study.yaml -o none --part 3/7
equal 'a part is done' "$status" 0
"$TIPCREST" study study.yaml -o part --part 3/7 >/dev/null
same 'a part has the files of the command' part none

# ---- Jobs that end early -------------------------------------------------------------------------

# A job that is killed, and one that is asked to end: both go on with --resume, with other ranks.
long="--vary layering.step_mm=0:2:0.02 --vary lid.mrd1_mm=2:5:0.01 --output fitted.rms_mm --all"
# shellcheck disable=SC2086 # words
{
    "$TIPCREST" study set.yaml $long -o long >/dev/null
    for signal in KILL TERM; do
        OMPI_MCA_btl=self,vader OMPI_MCA_plm_rsh_agent=false mpirun --oversubscribe \
            --allow-run-as-root -n 3 "$program" set.yaml $long -o "$signal" >out 2>said </dev/null &
        job=$!
        while [ ! -s "$signal/results.csv" ] && kill -0 $job 2>/dev/null; do sleep 0.02; done
        kill -$signal $job 2>/dev/null
        wait $job 2>/dev/null
        # Ranks of a job whose mpirun was killed end a little later.
        while :; do
            ranks 2 set.yaml $long -o "$signal" --resume
            grep -q 'another tipcrest is at work' err || break
            sleep 0.1
        done
        rm -f "$signal"/.tipcrest-*.tmp
        same "a job that got $signal comes to the same files" long "$signal"
    done
}

# ---- What is wrong -------------------------------------------------------------------------------

ranks 2 study.yaml --no-such
equal 'rank 0 alone says what is wrong with a call' "$status $(cat err)" \
    '2 tipcrest study: there is no option "--no-such"; tipcrest help study lists them'
ranks 3 missing.yaml -o missing
equal 'a file that is missing is told once' "$status $(wc -l <err)" '1 1'
ranks 2 study.yaml -o one
equal 'a folder that has a study is refused' "$status $(cat err)" \
    '2 tipcrest: one: this folder has the results of a study; --resume goes on with it, and -o takes another folder'
ranks 2 --help
contains 'there is a page of help' "$(cat out)" 'usage: mpirun -n N tipcrest-study-mpi'
# Each rank in a folder of its own, one of them with another set.
mkdir other
sed 's/count: 24/count: 25/' set.yaml >other/set.yaml
cp study.yaml other
status=0
OMPI_MCA_btl=self,vader OMPI_MCA_plm_rsh_agent=false mpirun --oversubscribe --allow-run-as-root \
    -n 1 "$program" study.yaml -o two : -wdir other -n 1 "$program" study.yaml -o two >out 2>said </dev/null ||
    status=$?
contains 'a rank that reads another set ends the job' "$status $(cat said)" \
    'tipcrest: rank 1 does not read the same study; all ranks need the same files, and one version of tipcrest'
finish
