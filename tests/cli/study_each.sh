#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# tipcrest study where some factors are nobody's choice: what is best for each combination of them, against
# results.csv, and what the table says of it. The eye is invented; words are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
case $("$TIPCREST" study x 2>&1) in
*'built without studies'*)
    skip 'tipcrest study' 'it was built without studies'
    finish
    ;;
esac
find_python json
tests=$(cd "$TIPCREST_SOURCE/tests" && pwd)

cat >set.yaml <<'END'
tipcrest: 1
title: An eye (invented)
eyes:
  - side: left
    lashes: {describe: {count: 40, seed: 3}}
    map: [{to: 1, length_mm: 11, curl: C}]
tray: any
END

# agrees CLAIM FOLDER KEY...: study.json has for each combination of the keys what results.csv has.
agrees() {
    claim=$1
    shift
    equal "$claim" "$("$python" "$tests/cli/each.py" "$@" 2>&1 | tail -n 1)" "$rows rows agree"
}

# One choice is best throughout, between the factors that are given and behind them.
run study set.yaml --vary lid.mrd1_mm=2,3,4 --vary layering.step_mm=0,1,2 --vary opening=0.9,1 -o same
rows=6 agrees 'the best for each, in the order of the study' same lid.mrd1_mm opening
contains 'one best is named' "$(joined)" 'Best at each of 6 combinations of lid.mrd1_mm, opening: layering.step_mm 1, with value 0.'
contains 'and why it is asked so' "$(joined)" 'mm of fitted.rms_mm. They are not ranked against each other: no artist chooses them.'
contains 'all others are worse' "$(joined)" ' All others are worse. lid.mrd1_mm, opening: layering.step_mm value '
equal 'a row has what is given before what is best' "$(sed -n 's/^  \(4, 1: [0-9]*\) .*/\1/p' out)" '4, 1: 1'

# What is best depends on what is given.
run study set.yaml --vary apart_mm=0.1,0.5,1,1.4 --vary layering.step_mm=0,1 --vary curl=C,D -o other --picture other.pdf
rows=4 agrees 'a best of several factors' other apart_mm
contains 'without one best it is said' "$(joined)" \
    'What is best changes with apart_mm: layering.step_mm 0, curl D at 0.1; 1, D at 0.5 to 1; 1, C at 1.4. The best of each has value 0.'
if [ -z "$(no_pictures)" ] && command -v pdftotext >/dev/null; then
    contains 'in the chart too' "$(pdftotext -raw other.pdf - | tr -s ' \n' ' ')" \
        'What is best changes with apart_mm: layering.step_mm 0, curl D at 0.1; 1, D at 0.5 to 1; 1, C at 1.4. The best of each has value 0.'
fi
run study set.yaml --vary apart_mm=0.1,1 --vary layering.step_mm=0,1
contains 'where it is another for each value that is all' "$(joined)" \
    'What is best is not the same at the 2 values of apart_mm; the best of each has value 0.'
run study set.yaml --vary viewer_deg=20,25,30 --vary layering.step_mm=1,1.4 -o near
rows=3 agrees 'others that are as good' near viewer_deg
contains 'others that are as good are marked' "$(joined)" \
    ' =: another is worse by no more than 0.05 mm, which counts as no difference (assumed). viewer_deg: '
equal 'in each row' "$(grep -c '^  [0-9]*: .* = ' out)" 3

contains 'and one that is as good everywhere is named' "$(joined)" \
    'As good as the best, or not told apart from it, at each of 3 values of viewer_deg: layering.step_mm 1.4; the best of each has value 0.'

# A choice without a value is not worse. Two factors that are given, of which the last is the slower.
cat >missing.yaml <<'END'
tipcrest-study: 1
set: tray.yaml
vary:
  map.1.length_mm: [3, 11]
  viewer_deg: [0, 10]
  opening: [1]
END
sed 's/^tray: any/tray: {lengths_mm: [9, 10, 11]}/' set.yaml >tray.yaml
run study missing.yaml --runs 10 -o missing
rows=2 agrees 'a choice that fails has no value' missing viewer_deg opening
contains 'and is not called worse' "$(joined)" ' 2 combinations beside the best have no value. viewer_deg'
run study set.yaml --vary curl=C,CC,D --vary viewer_deg=0,10 --vary longest_mm=10,11 -o next
equal 'the second best of a row' "$(sed -n 's/^  0: .* \([0-9.]*\)$/\1/p' out)" "$("$python" -c 'import csv
rows = [float(row["fitted.rms_mm"]) for row in csv.DictReader(open("next/results.csv")) if row["viewer_deg"] == "0"]
print(f"{sorted(rows)[1]:.3f}")')"
# A label is a users text: it comes to a terminal safely.
sed 's/curl: C/curl: "A\\e[31m\\n\\u202E"/' set.yaml >strange.yaml
printf 'curls:\n  "A\\e[31m\\n\\u202E": [[1, 60]]\n' >>strange.yaml
cat >strange-study.yaml <<'END'
tipcrest-study: 1
set: strange.yaml
vary:
  curl: [D, "A\e[31m\n\u202E"]
  viewer_deg: [0, 10]
END
run study strange-study.yaml
equal 'a label with controls: exit status and none of them' \
    "$status $(tr -d '\n' <out | LC_ALL=C tr -d ' -~' | LC_ALL=C sed 's/\xC2\xB0//g' | wc -c)" '0 0'

# Over runs.
run study set.yaml --vary describe.pitch_sd_deg=4,8 --vary layering.step_mm=0,1 --runs 30 -o runs
rows=2 agrees 'over runs the mean decides' runs lashes.describe.pitch_sd_deg
contains 'the confidence is that of a row' "$(joined)" 'All others are worse, with 95 % confidence in each row.'
equal 'no other is alike or open there' "$(grep -c '"others_alike": 0, "others_open": 0, "others_not_ranked": 0' runs/study.json)" 2
run study set.yaml --vary describe.pitch_sd_deg=4,8 --vary layering.step_mm=1,1.001 --runs 30 -o twins
equal 'one that hardly differs is alike' "$(grep -c '"others_alike": 1, "others_open": 0' twins/study.json)" 2
run study set.yaml --vary describe.pitch_sd_deg=4,8 --vary layering.step_mm=0,1 --runs 30
contains 'it is of runs' "$(joined)" 'Best at each of 2 values of lashes.describe.pitch_sd_deg: layering.step_mm 1, with mean 0.'
run study set.yaml --vary describe.pitch_sd_deg=4,8 --vary layering.step_mm=0.5,1.5 --runs 4 -o few
rows=2 agrees 'few runs' few lashes.describe.pitch_sd_deg
contains 'what few runs do not tell apart is marked' "$(joined)" ' ?: another choice is not told apart by these runs. '
run study set.yaml --vary describe.pitch_sd_deg=4,8 --vary layering.step_mm=0,1 --runs 1
contains 'one run tells nothing' "$(joined)" ' One run tells nothing apart. '

# Too few tips make no line: no choice has a value there.
run study set.yaml --vary describe.count=2,40 --vary layering.step_mm=0,1 -o none
rows=2 agrees 'where nothing has a value nothing is best' none lashes.describe.count
contains 'and that is counted' "$(joined)" \
    'Best at the one value of lashes.describe.count: layering.step_mm 1, with value 0.308 mm of fitted.rms_mm. At 1 more no choice has a value. '
contains 'and stands in its row' "$(cat out)" '  2: no choice has a value '

run study set.yaml --vary describe.count=2,3 --vary layering.step_mm=0,1 --runs 2
contains 'where no combination has a value none is best' "$(joined)" \
    'No combination can be ranked: each lacks a value of fitted.rms_mm in one of its runs.'
run study set.yaml --vary layering.step_mm=1,1.2 --runs 101
contains 'of very many runs the first say what is beyond the limits' "$(joined)" \
    ' % of extensions are beyond the limits that plan assumes, in the first 100 runs.'

# More rows than there is room for.
run study set.yaml --vary viewer_deg=0:40:1 --vary layering.step_mm=0,1 -o many
rows=41 agrees 'many rows' many viewer_deg
contains 'those without room are counted' "$(joined)" ' ... 7 of 41, from first to last; all are in study.json '
# source: seven numbers from 0 to 40 at equal distances, rounded
equal 'and those shown lie evenly between the first and the last' \
    "$(sed -n 's/^  \([0-9]*\): .*/\1/p' out | tr '\n' ' ')" '0 7 13 20 27 33 40 '

# Nothing that an artist chooses: what comes of each, in the study's order, and no best.
run study set.yaml --vary viewer_deg=0:24:4 -o given
contains 'nothing is best where nobody chooses' "$(joined)" \
    "fitted.rms_mm, value: least $(range_of() { cut -d , -f 2 given/results.csv | tail -n +2 | sort -g | sed -n "$1p"; }
        printf '%.3f mm at viewer_deg 0, most %.3f' "$(range_of 1)" "$(range_of '$')") mm at viewer_deg 24. They are not ranked: no artist chooses them. "
equal 'its rows stand in the order of the study' "$(sed -n 's/^  \([0-9]*  *0\.[0-9]*\)$/\1/p' out | tr -s ' ')" \
    "$(tail -n +2 given/results.csv | cut -d , -f 1,2 | awk -F , '{ printf "%d %.3f\n", $1, $2 }')"
run study set.yaml --vary viewer_deg=0:0.4:0.1
contains 'a difference that does not matter is named' "$(joined)" \
    '. They differ by no more than 0.05 mm, which counts as no difference (assumed). '
equal 'and only then' "$(run study set.yaml --vary viewer_deg=0:24:4 && joined | grep -c 'They differ')" 0
run study set.yaml --vary viewer_deg=0:24:4 --runs 1
contains 'one run gives no ranking' "$(joined)" 'no artist chooses them. One run tells nothing apart.'
run study set.yaml --vary describe.gap_mm=0.9,1.1 --runs 3
contains 'values that few runs do not separate are counted' "$(joined)" \
    'no artist chooses them. These runs do not tell 1 of them from the first of these.'
run study set.yaml --vary viewer_deg=0:24:4 --goal most
contains 'where most is wanted that stands first' "$(joined)" ': most 0.'
run study set.yaml --vary viewer_deg=0,24 --vary layering.step_mm=1
equal 'a choice of one value is none' "$(grep -c '^Best: ' out)" 0
run study set.yaml --vary viewer_deg=0:24:4 --design random --points 12
equal 'points by chance have no best either' "$(grep -c '^Best: ' out)" 0
run study set.yaml --vary viewer_deg=0,24 --vary layering.step_mm=0,1 --design random --points 12
equal 'but where something is chosen too they have' "$(grep -c '^Best: ' out)" 1
run study set.yaml --vary describe.count=2,40
contains 'a point without a value says so' "$(cat out)" '  2: no value'
run study set.yaml --vary viewer_deg=0:40:1
contains 'more than there is room for lie evenly too' "$(joined)" ' of 41, from first to last; -o DIR writes them all to results.csv '

# All are chosen, or one only of what is given: one ranking, as ever.
for vary in '--vary layering.step_mm=0,1 --vary curl=C,D' '--vary viewer_deg=30 --vary layering.step_mm=0,1'; do
    # shellcheck disable=SC2086 # words of a call
    run study set.yaml $vary -o "one$((one = ${one:-0} + 1))"
    equal "one ranking: $vary" "$(grep -c '^Best: ' out) $(grep -c '"for_each": null' "one$one/study.json")" '1 1'
done
for vary in '--vary viewer_deg=0,30 --vary lid.mrd1_mm=3,4' '--vary apart_mm=0.5,1'; do
    # shellcheck disable=SC2086 # words of a call
    run study set.yaml $vary -o "one$((one = one + 1))"
    equal "no ranking: $vary" "$(grep -c '^Best: ' out) $(grep -c '"for_each": null' "one$one/study.json")" '0 1'
done
run study set.yaml --vary apart_mm=0.5,1 --vary layering.step_mm=0,1
contains 'how far the layers are apart is no choice' "$(joined)" ' 2 values of apart_mm'

cd /
rm -rf "$work"
finish
