#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest study from outside: its files for any number of threads, parts and kills, what is said of
# wrong calls and files, and single points against check. All sets are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
python=$(sh "$TIPCREST_SOURCE/build-aux/find-python.sh" jsonschema numpy 2>/dev/null)
export PYTHONDONTWRITEBYTECODE=1
case $("$TIPCREST" study x 2>&1) in
*'built without studies'*)
    skip 'tipcrest study' 'it was built without studies'
    finish
    ;;
esac
command=study

cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - side: left
    lashes: {survey: small.csv}
    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: 11, curl: C}]
END
small_survey small.csv
sed 's/survey: small.csv/describe: {count: 24, phases: none}/' set.yaml >drawn.yaml
sed 's/^    map: .*/&/; s/side: left/side: right/; /^  - side/,$!d' drawn.yaml >right.part
cat drawn.yaml right.part >two.yaml
{
    echo 'tipcrest-study: 1'
    echo 'set: drawn.yaml'
    echo 'title: Which curl forgives (invented)'
    echo 'vary:'
    echo '  curl: [C, CC, D]'
    echo '  longest_mm: 10:13:1'
    echo '  layering.placement.top: [top, underside]'
    echo 'outputs: [fitted.rms_mm, load.mass_ratio.max]'
    echo 'runs: 20'
    echo 'seed: 7'
} >study.yaml

# results FOLDER: the digest of its table, as study.json has it.
results() { sed -n 's/.*"results_csv": "\(sha256:[0-9a-f]*\)".*/\1/p' "$1/study.json"; }

# same CLAIM FOLDER FOLDER: all files of two folders are the same.
same() {
    if differs=$(diff -rq "$2" "$3" 2>&1); then ok "$1"; else not_ok "$1" "$differs"; fi
}

# ---- Points against check ------------------------------------------------------------------------

good study set.yaml --vary layering.step_mm=0:2:1 --vary lid.mrd1_mm=2,4 -o points
equal 'a row for each point, in the order of the grid' "$(cut -d , -f 1,2 points/results.csv | tr '\n' ' ')" \
    'layering.step_mm,lid.mrd1_mm 0,2 0,4 1,2 1,4 2,2 2,4 '
printf 'layering: {step_mm: 1}\n' | cat set.yaml - | sed 's/lashes:/lid: {mrd1_mm: 4}\n    lashes:/' >point.yaml
good check point.yaml --json point.json
equal 'a point has the rms of check, digit for digit' "$(sed -n '5s/^[^,]*,[^,]*,\([^,]*\),.*/\1/p' points/results.csv)" \
    "$(sed -n '/"fitted"/,/}/s/.*"rms_mm": \([0-9.]*\),.*/\1/p' point.json | head -n 1)"
equal 'the digest in study.json is that of results.csv' "$(results points)" \
    "sha256:$(sha256sum points/results.csv | cut -d ' ' -f 1)"
equal 'the log of a study that is done is gone' "$(rm -f points/chart.png && ls points)" 'results.csv
results.npy
study.json'

# ---- The same for any number of threads, parts and stops -----------------------------------------

good study study.yaml -o one --threads 1 --all
for threads in 2 3 8; do
    good study study.yaml -o "threads$threads" --threads $threads --all
    same "$threads threads give the files of one" one "threads$threads"
done
good study study.yaml -o whole
for parts in 2 5; do
    dirs=
    part=0
    while [ $part -lt $parts ]; do
        part=$((part + 1))
        run study study.yaml --part $part/$parts -o "part$part-$parts"
        equal "part $part of $parts is done" "$status" 0
        dirs="part$part-$parts $dirs"
    done
    # shellcheck disable=SC2086 # a list of folders
    good study study.yaml --join $dirs -o "joined$parts"
    same "$parts parts make the whole" whole "joined$parts"
done
# Killed at random moments: the numbers of a fixed seed.
moments=$(LC_ALL=C awk 'BEGIN { srand(13); for (i = 0; i < 20; i++) printf "%.3f\n", 0.02 + 0.1 * rand() }')
long="--vary layering.step_mm=0:2:0.02 --vary lid.mrd1_mm=2:5:0.01 --output fitted.rms_mm --all"
# shellcheck disable=SC2086 # words
{
    good study set.yaml $long -o long
    killed=0 resume='' ended=0
    for moment in $moments; do
        "$TIPCREST" study set.yaml $long -o stopped $resume >/dev/null 2>&1 </dev/null &
        while [ ! -e stopped/study.json ] && kill -0 $! 2>/dev/null; do sleep 0.01; done
        sleep "$moment"
        kill -KILL $! 2>/dev/null
        ended=0
        wait $! 2>/dev/null || ended=$? # timeout(1) would not wait for what it kills
        [ "$ended" -eq 137 ] || break   # 128 and KILL
        killed=$((killed + 1))
        [ ! -e stopped/study.json ] || resume=--resume
    done
    [ -n "$resume" ] || killed='none with a file'
    rm -f stopped/.tipcrest-*.tmp # of a study.json that was being written; the command names them
    good study set.yaml $long -o stopped --resume
}
same "killed $killed times, a study comes to the same files" long stopped
case $ended in 0 | 137) ok 'nothing but a kill or its work ended it' ;; *) not_ok 'nothing but a kill or its work ended it' "$ended" ;; esac
case $killed in [1-9]*) ok 'it was killed' ;; *) not_ok 'it was killed' "$killed" ;; esac
good study set.yaml --vary opening=0.5,1 -o ended
run study set.yaml --vary opening=0.5,1 -o ended --resume
equal 'a study that is done says so' "$status $(cat err)" '0 tipcrest: this study is done; its results are in ended'

# shellcheck disable=SC2086 # words
{
    status=0
    "$TIPCREST" study set.yaml $long -o ended-early --threads 1 >out 2>err </dev/null &
    while [ ! -s ended-early/runs.npy ] && kill -0 $! 2>/dev/null; do sleep 0.02; done
    kill -TERM $! 2>/dev/null
    wait $! || status=$?
    equal 'a study that is asked to end exits with 1 and says what it keeps' "$status $(sed 's/[0-9][0-9]*/N/g' err)" \
        '1 tipcrest: stopped; N of N points are kept in ended-early, and --resume goes on with them'
    good study set.yaml $long -o ended-early --resume
}
same 'and goes on to the same files' long ended-early

# ---- Limits ---------------------------------------------------------------------------------------

# What plan would not give is said of the best, as check counts it.
printf 'plan: {overlength_mm: 2.2}\n' | cat set.yaml - >tight.yaml
good check tight.yaml --full
beyond=$(joined | sed -n 's/.*Beyond the limits that plan assumes: \([0-9]*\) of \([0-9]*\);.*/\1 \2/p')
share=$(echo "$beyond" | awk '{ printf "%.0f", 100 * $1 / $2 }')
equal 'some extensions of the set are beyond its limits, and not all' "$((share > 0 && share < 100))" 1
good study tight.yaml --vary opening=0.99,1
contains 'as many as check counts' "$(joined)" \
    "At opening 1, $share % of extensions are beyond the limits that plan assumes."
# Of choices that are as good the one is named that asks the least of lashes.
share_of() { # LONGEST: as this choice alone has it
    "$TIPCREST" study tight.yaml --vary longest_mm="$1" 2>&1 | tr -s ' \n' ' ' |
        sed -n 's/.*With this choice \(less than 1\|[0-9]*\) % of.*/\1/p'
}
good study tight.yaml --vary longest_mm=11,12 --alike 10 --goal most
contains 'and which choice, as good, has fewer' "$(joined)" \
    "plan assumes; with longest_mm 11, which is as good, $(share_of 11) %."
good study tight.yaml --vary longest_mm=9,12 --alike 10 --goal most
contains 'or none' "$(joined)" 'plan assumes; with longest_mm 9, which is as good, none.'
good study tight.yaml --vary longest_mm=11,12 --alike 0 --goal most
equal 'and none where it is worse' "$(joined | grep -c 'as good')" 0
printf 'plan: {overlength_mm: 30, mass_ratio: 100, moment_ratio: 100}\n' | cat set.yaml - >wide.yaml
good study wide.yaml --vary opening=0.99,1
equal 'nothing of limits where none is reached' "$(joined | grep -c 'beyond the limits')" 0

# ---- The chart -----------------------------------------------------------------------------------

if [ -z "$(no_pictures)" ]; then
    good study set.yaml --vary opening=0.5,0.7,1 --vary viewer_deg=0,5,9 --design sobol --points 64 -o by-chance
    equal 'points by chance have a chart' "$(ls by-chance/chart.png)" by-chance/chart.png
    mkdir -p taken/chart.png
    fails 'taken/chart.png: cannot be opened for writing: it is a folder; give the name of a file' set.yaml \
        --vary opening=0.5,1 -o taken
    equal 'a chart that cannot be written is told before the work begins' "$(ls taken)" chart.png
    # A line for each of a few values, over numbers in whatever order the study has them.
    good study set.yaml --vary opening=0.5,0.6,0.8,1 --vary layering.step_mm=0,1 --picture rising.svg
    good study set.yaml --vary opening=0.8,0.5,1,0.6 --vary layering.step_mm=0,1 --picture mixed.svg
    equal 'lines do not depend on the order of levels' "$(cmp rising.svg mixed.svg 2>&1)" ''
    good study set.yaml --vary opening=0.5,0.6,0.8,1 --vary layering.step_mm=1,0 --picture others.svg
    equal 'lines of the levels in another order are another chart' "$(cmp -s rising.svg others.svg; echo $?)" 1
    # The form of a chart: lines with runs, maps with words, and bars where a map has no room: for
    # more than a thousand places along an axis, seventeen panels, or a fourth factor.
    good study set.yaml --vary opening=0.5,0.6,0.8,1 --vary curl=C,D --runs 3 --picture runs.pdf
    good study set.yaml --vary opening=0.5,0.6,1 --vary curl=C,D --picture words.pdf
    good study set.yaml --vary curl=C,D --vary layering.placement.top=top,underside --picture all-words.pdf
    good study set.yaml --vary opening=0.5:1:0.00049 --vary curl=J,B,C,D --picture long.pdf
    good study set.yaml --vary opening=0.5,1 --vary viewer_deg=0,5 --vary curl=C,D --runs 2 --picture panels.pdf
    good study set.yaml --vary opening=0.5:0.9:0.025 --vary viewer_deg=0:16:1 \
        --vary lid.mrd1_mm=3:3.8:0.05 --picture panels-too-many.pdf
    good study set.yaml --vary opening=0.5,1 --vary viewer_deg=0,5 --vary curl=C,D --vary layering.step_mm=0,1 \
        --picture four.pdf
    # The best is the last, which is not among each second one.
    good study set.yaml --vary bond.offset_mm=0.50004:1:0.00004 --picture one-long.pdf
    contains 'of more points than a curve has room for some are drawn, and the best' \
        "$(pdftotext -raw one-long.pdf - 2>/dev/null | tr -s ' \n' ' ')" \
        'line: the value at each point ring: the best Best: bond.offset_mm 1, with value 0.048 mm of fitted.rms_mm. Of 12500 points one in 2 is drawn, and the best.'
    good study set.yaml --vary opening=0.50004:1:0.00004 --picture one-given.pdf
    contains 'of what no artist chooses none is the best' \
        "$(pdftotext -raw one-given.pdf - 2>/dev/null | tr -s ' \n' ' ')" \
        'line: the value at each point fitted.rms_mm, value: least 0.049 mm at opening 1, most 0.119 mm at opening 0.50004. They are not ranked: no artist chooses them. Of 12500 points one in 2 is drawn.'
    good study set.yaml --vary opening=0.5:1:0.005 --runs 2 --picture one.pdf
    contains 'as a line, so the key names no dots' "$(pdftotext -raw one.pdf - 2>/dev/null | tr -s ' \n' ' ')" \
        'line: the mean; band: 90 % of runs'
    for form in runs:line words:map all-words:map long:bars panels:map panels-too-many:bars four:bars; do
        said=$(pdftotext -raw "${form%:*}.pdf" - 2>/dev/null | tr -s ' \n' ' ')
        case ${form#*:} in
        line) contains "${form%:*}: a line for each" "$said" ' curl D ' ;;
        map) contains "${form%:*}: a map" "$said" 'The darker, the better' ;;
        bars)
            contains "${form%:*}: bars" "$said" 'share of the variance; 1 is all of it'
            equal "${form%:*}: shares have no unit" "$(echo "$said" | grep -c 'fitted.rms_mm, mm')" 0
            ;;
        esac
    done
    good study set.yaml --vary opening=0.5,1 -o without --no-chart
    equal 'without a chart where none is wanted' "$(cd without && echo *)" 'results.csv results.npy study.json'
fi

# ---- Two at once ---------------------------------------------------------------------------------

# A study of hours holds its folder until it is killed.
"$TIPCREST" study set.yaml --vary layering.step_mm=0:2:0.0001 --vary lid.mrd1_mm=2:5:0.0001 \
    --output fitted.rms_mm -o busy >/dev/null 2>&1 &
hours=$!
while [ ! -s busy/runs.npy ] && kill -0 $hours 2>/dev/null; do sleep 0.1; done
fails 'busy: another tipcrest is at work in this folder; wait for it, or give -o another folder' set.yaml \
    --vary layering.step_mm=0:2:0.0001 --vary lid.mrd1_mm=2:5:0.0001 --output fitted.rms_mm -o busy --resume
wrong 'busy: this folder has the results of a study; --resume goes on with it, and -o takes another folder' \
    set.yaml --vary layering.step_mm=0:2:0.0001 --vary lid.mrd1_mm=2:5:0.0001 --output fitted.rms_mm -o busy
kill -KILL $hours
wait $hours 2>/dev/null
rm -rf busy

# ---- study.json ----------------------------------------------------------------------------------

good study drawn.yaml --indices --vary layering.step_mm=0,1,2 --vary lid.mrd1_mm=2:5:0.5 --points 8 --runs 2 -o indices
good study set.yaml --vary longest_mm=6,10,13 -o some
"$TIPCREST" study study.yaml -o unfinished --part 1/2 >/dev/null
schema=$TIPCREST_SOURCE/lib/file/schema/study.schema.json
if [ -n "$python" ]; then
    for folder in one indices some unfinished; do
        equal "study.json of $folder keeps to its schema" \
            "$("$python" "$TIPCREST_SOURCE/tests/cli/validate.py" "$schema" "$folder/study.json" 2>&1)" \
            'study.json: keeps to the schema'
    done
    equal 'no member can be left out, added or of another type' \
        "$("$python" "$TIPCREST_SOURCE/tests/cli/validate.py" --break "$schema" indices/study.json 2>&1 | grep -c passes)" 0
else
    skip 'study.json keeps to its schema' 'there is no Python with jsonschema and numpy'
fi

# ---- NumPy ---------------------------------------------------------------------------------------

if [ -n "$python" ]; then
    equal 'NumPy reads results.npy as results.csv has it' \
        "$("$python" "$TIPCREST_SOURCE/tests/cli/npy.py" one/results.csv one/results.npy 2>&1)" $((24 * 12))
    equal 'the figures of a point are those that NumPy makes of its runs' \
        "$("$python" "$TIPCREST_SOURCE/tests/cli/npy.py" --figures one/runs.csv one/results.csv 2>&1)" $((24 * 2 * 4))
    equal 'NumPy reads runs.npy as runs.csv has it' \
        "$("$python" "$TIPCREST_SOURCE/tests/cli/npy.py" one/runs.csv one/runs.npy 2>&1)" $((24 * 20 * 2))
else
    skip 'NumPy reads results.npy' 'there is no Python with jsonschema and numpy'
fi

# ---- What is said --------------------------------------------------------------------------------

bad 'the set has no key "layering.stp_mm"; did you mean layering.step_mm?' set.yaml --vary layering.stp_mm=1,2
bad '"longest_mm" is no KEY=LIST or KEY=FROM:TO:STEP, such as longest_mm=8:14:1' set.yaml --vary longest_mm
bad 'the design has 1001000001001 points, but must have at most 10000000000' set.yaml \
    --vary layering.step_mm=0:1:0.001 --vary opening=0:1:0.001 --vary viewer_deg=0:10:0.00001001
bad '--resume needs the folder of the results, -o DIR' set.yaml --resume
bad '--part is "3/2"; it is I/N, such as 2/5, with N at most 100000' set.yaml --part 3/2 -o x
for part in 2 x/5 2/y 0/5 2/0 1.5/2 1/2.5 1/100001; do
    bad "--part is \"$part\"; it is I/N, such as 2/5, with N at most 100000" set.yaml --part $part -o x
done
bad '--part needs the folder of the results, -o DIR' set.yaml --part 1/2
bad '--join needs the folder of the results, -o DIR' set.yaml --join one
bad '--all needs the folder of the results, -o DIR' set.yaml --all
bad '--join puts parts together and computes none; leave out --part' set.yaml --join one --part 1/2 -o x
bad '--indices has a design of its own; leave out --design' set.yaml --indices --design sobol
bad 'the output "fitted.rms" is not known; did you mean fitted.rms_mm? One of fitted.rms_mm; --output, or outputs in a study file, adds others' \
    set.yaml --output fitted.rms_mm --of fitted.rms
wrong 'one: this folder has the results of a study; --resume goes on with it, and -o takes another folder' \
    study.yaml -o one
sed 's/runs: 20/runs: 30/' study.yaml >other.yaml
wrong 'one/study.json: the study has changed: runs was "20" and is "30" now; change it back, or give -o another folder' \
    other.yaml -o one --resume
sed 's/count: 24/count: 24, pitch_sd_deg: 5/' drawn.yaml >drawn2.yaml
sed 's/drawn.yaml/drawn2.yaml/' study.yaml >other.yaml
wrong 'one/study.json: the study has changed: set.eyes.left.lashes.describe.pitch_sd_deg was "4" and is "5" now; change it back, or give -o another folder' \
    other.yaml -o one --resume
sed 's/$/ # a comment/' study.yaml >other.yaml
good study other.yaml -o one --resume --all
wrong 'empty/study.json: there is no study in this folder to go on with' set.yaml -o empty --resume
wrong 'part1-2: the number of folders is not that of the parts (part 1 of 2)' study.yaml --join part1-2 -o x
wrong 'part1-2: this part is here twice (part 1 of 2)' study.yaml --join part1-2 part1-2 -o x
equal 'parts that cannot be joined leave nothing' "$(ls x)" ''
fails 'x/y/z: cannot be opened for writing: there is no such folder' set.yaml -o x/y/z

# A file of every kind of mistake.
said() { # LINE MESSAGE: a study file with one line more.
    cat study.yaml >wrong.yaml
    echo "$1" >>wrong.yaml
    wrong "wrong.yaml:$2" wrong.yaml
}
said 'runs: many' '11:1: key "runs" is here twice; it was given in line 9 already'
said 'poinst: 3' '11:1: key "poinst" is not known in a study file; did you mean points? Known are tipcrest-study, set, title, vary, outputs, design, points, scramblings, runs, seed, against, spread'
said 'design: gird' '11:9: design "gird" is not known; did you mean grid? One of grid, random, sobol, sensitivity'
sed 's/longest_mm: .*/longest_m: 10:13:1/' study.yaml >wrong.yaml
wrong 'wrong.yaml:6:3: the set has no key "longest_m"; did you mean longest_mm?' wrong.yaml
sed 's/curl: .*/curl: [C, Q]/' study.yaml >wrong.yaml
run study wrong.yaml
contains 'a curl that the set lacks has its place' "$(cat err)" 'wrong.yaml:5:13: '
sed 's/longest_mm: .*/longest_mm: {distribution: uniform, least: 9, mosst: 12}/' study.yaml >wrong.yaml
run study wrong.yaml
contains 'a distribution has its keys' "$(cat err)" 'wrong.yaml:6:49: key "mosst" is not known in a distribution'
sed 's,set: drawn.yaml,set: ../drawn.yaml,' study.yaml >wrong.yaml
wrong 'wrong.yaml:2:6: set "../drawn.yaml" leads out of the study file'"'"'s folder; keep it beside the study file or below it' \
    wrong.yaml

good study set.yaml --vary layering.step_mm=0:1:0.25 --runs 3 --all -o with-points
good study set.yaml --vary layering.step_mm=0:1:0.25 --runs 3 --all -o commas --decimal comma
equal 'decimal commas change nothing else in the tables' \
    "$(for name in results runs; do tr ';,' ',.' <commas/$name.csv | cmp - with-points/$name.csv && grep -c ';0,25;' commas/runs.csv; done)" \
    "$(printf '3\n3')"

# ---- The answer ----------------------------------------------------------------------------------

good study study.yaml
contains 'the answer names the best combination' "$(cat out)" 'Best: curl '
equal 'it takes at most 15 lines' "$([ "$(grep -c . out)" -le 18 ] && echo few)" few
good study study.yaml --best worst --runs 32 --of fitted.rms_mm --goal most --alike 0.1
contains 'the worst run can rank' "$(joined)" ' with mean worst of 2 runs '
# Here the worst of a run is the largest; its groups are runs one behind the other.
good study set.yaml --vary layering.step_mm=1 --runs 35 --best worst --all -o worst
found=$(awk -F , 'NR == 1 { for (i = 1; i <= NF; i++) if ($i == "fitted.rms_mm") at = i; next }
    { most = $at > most ? $at : most; of = NR - 2 < 32 && $at > of ? $at : of
      if (NR % 2 == 1 && NR - 2 < 32) { sum += of; of = 0 } }
    END { printf "with mean worst of 2 runs %.3f mm of fitted.rms_mm; the worst of all 35 runs is %.3f", sum / 16, most }' worst/runs.csv)
contains 'with what the rows of the runs come to' "$(joined)" "$found"
good study set.yaml --vary layering.step_mm=1,1.5 --runs 35 --best worst
contains 'in brief above the column' "$(cat out)" ' worst of 2    90 % of runs'
bad 'to rank by p90 takes 160 runs or more of each combination, and there are 20' study.yaml --best p90
if [ -z "$(no_pictures)" ] && command -v pdftotext >/dev/null; then
    for by in mean p90; do
        good study set.yaml --vary layering.step_mm=1,1.5 --runs 160 --best $by --picture $by.pdf
    done
    equal 'a chart draws means, and says so where these do not rank' \
        "$(for by in mean p90; do pdftotext -raw $by.pdf - | tr '\n' ' ' | grep -c 'Drawn are means, which do not decide'; done | tr '\n' ' ')" '0 1 '
fi
# A survey's lashes are varied, described ones drawn, in one set too.
good study set.yaml --vary layering.step_mm=1,1.5 --runs 2
contains 'runs vary the lashes of a survey' "$(joined)" ': 2 combinations, 2 runs of each, on lashes varied about the set'"'"'s '
sed 's/^eyes:/&\n  - side: right\n    lashes: {describe: {count: 40}}\n    map: [{to: 1, length_mm: 10, curl: C}]/' set.yaml >mixed.yaml
good study mixed.yaml --vary layering.step_mm=1,1.5 --runs 2
contains 'and draw those of a described eye beside it' "$(joined)" ' on lashes drawn anew or varied about the set'"'"'s '
good study study.yaml --indices --points 16 --runs 2
contains 'indices say which factor matters most' "$(cat out)" ' matters most for fitted.rms_mm'
if [ -n "$python" ]; then
    cp "$TIPCREST_SOURCE/examples/studies/one-eye.yaml" .
    # source: the intervals in study.json. Two factors that do the same are not told apart.
    for vary in 'curl=C,D layering.step_mm=0.7,1' 'viewer_deg=0:20:1 opening=0.8:1:0.01' \
        'curl=B,C,CC,D layering.step_mm=0:1:0.5 longest_mm=10:13:1 describe.pitch_sd_deg=4:11:1'; do
        rm -rf shares
        # shellcheck disable=SC2046 # a list of options
        good study one-eye.yaml --indices --points 16 -o shares $(for one in $vary; do echo "--vary $one"; done)
        equal "the sentence is that of the intervals: $vary" "$(sed -n '2,/^$/p' out | tr '\n' ' ' | tr -s ' ' |
            sed 's/\. The mean of.*//')" "$("$python" "$TIPCREST_SOURCE/tests/cli/shares.py" shares/study.json)"
    done
fi
good study set.yaml --vary longest_mm=6,10,13
contains 'points at which the set is not valid are counted' "$(cat out)" '1 evaluation failed, the first at longest_mm 6'
contains 'the message on a missing length says what to do' "$(joined)" \
    'which the tray lacks. Add that length to the tray of the set file, or write tray: any there.'
equal 'and have empty cells' "$(sed -n 2p some/results.csv)" '6,,,,,,,,,,,1'
good study two.yaml --vary curl=C,D -o both
contains 'two eyes have their sides in front' "$(head -n 1 both/results.csv)" ',left.fitted.rms_mm,right.fitted.rms_mm,'
good study two.yaml -o eyes
contains 'of two eyes the worse one counts' "$(joined)" \
    "with value $(LC_ALL=C awk -F , 'NR == 2 { printf "%.3f", ($1 > $2 ? $1 : $2) }' eyes/results.csv) mm of fitted.rms_mm of the worse eye"
good study study.yaml --dry-run
contains '--dry-run says how many' "$(cat out)" '480 evaluations: 24 points by 20 runs.'

cd /
rm -rf "$work"
finish
