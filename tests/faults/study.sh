#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# A study to which memory and the system fail, call by call, or which is killed at each of them
# (interpose.c): it says why and exits with 1, or its files are right; and whatever it left,
# --resume, or a new start where no study had begun, comes to the same files. All sets are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
TIPCREST_SOURCE=$(cd "$TIPCREST_SOURCE" && pwd) || exit 1
case $("$TIPCREST" study x 2>&1) in
*'built without studies'*)
    skip 'a study to which the system fails' 'it was built without studies'
    finish
    ;;
esac
if [ "${TIPCREST_SANITIZED-}" = yes ]; then
    skip 'a study to which the system fails' 'the interposer needs the plain command'
    finish
fi

work=$(mktemp -d) || exit 1
cd "$work" || exit 1
cat >set.yaml <<'END'
tipcrest: 1
eyes:
  - side: left
    lashes: {describe: {count: 14, phases: none}}
    map: [{to: 1, length_mm: 11, curl: C}]
END
# No chart: Pango ends the process without memory.
study() {
    "$TIPCREST" study "$work/set.yaml" --vary opening=0.5,0.7,1 --vary viewer_deg=0,5,9 \
        --design random --points 6 --runs 2 --all --threads 1 --no-chart "$@"
}
mkdir before # what is there before each run: nothing
study -o right >out 2>err || not_ok 'a study is done where nothing fails' "$(cat err)"

# inject FAULT [lasts]: the command again and again, with another call failing each time.
inject() {
    mkdir "$1" && (
        cd "$1" || exit
        FAULT_WITH=$1 FAULT_OLD=$work/before FAULT_RUNS=$PWD/runs
        LD_PRELOAD=$TIPCREST_BUILD/tests/faults/interpose.so
        export FAULT_WITH FAULT_OLD FAULT_RUNS LD_PRELOAD
        [ $# -lt 2 ] || export FAULT_LASTS=yes
        study -o made
    )
}

# judge FAULT: a line for each run that is not as it should be.
judge() {
    while read -r number status call rest; do
        said=$(cat "$1/$number/err" 2>/dev/null)
        rm -f "$1/$number/made"/.tipcrest-*.tmp
        case $status in
        0) diff -rq right "$1/$number/made" >/dev/null || echo "run $number, $call: done, but not right" ;;
        1) [ -n "$said" ] || echo "run $number, $call: exits with 1 and says nothing" ;;
        137) ;;
        *) echo "run $number, $call: ends with $status: $said $rest" ;;
        esac
        resume=
        [ ! -e "$1/$number/made/study.json" ] || resume=--resume
        study -o "$1/$number/made" $resume >out 2>err || echo "run $number, $call: no going on: $(cat err)"
        rm -f "$1/$number/made"/.tipcrest-*.tmp
        diff -rq right "$1/$number/made" >/dev/null ||
            echo "run $number, $call: goes on to other files"
    done <"$1/runs"
}

# test_system_study interrupts and halves each call in one process, which takes less.
faults='ENOSPC EIO kill memory'
[ "${TIPCREST_FAULTS-}" != all ] || faults="$faults EINTR short"
for fault in $faults; do
    # Calls for memory are many; a prime, so that it falls on all kinds of them.
    [ "$fault" != memory ] || [ "${TIPCREST_FAULTS-}" = all ] || export FAULT_STEP=31
    said=$(inject "$fault" 2>&1)
    found=$(judge "$fault")
    count=$(wc -l <"$fault/runs")
    if [ -z "$found" ] && [ "$count" -gt 5 ]; then
        ok "$fault at each of $count calls: it says why, and goes on to the same files"
    else
        not_ok "$fault at each of $count calls: it says why, and goes on to the same files" \
            "$said" "$(echo "$found" | head -n 20)"
    fi
done

cd /
rm -rf "$work"
finish
