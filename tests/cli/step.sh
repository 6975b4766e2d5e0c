#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# tipcrest step from outside: standard output, standard error and exit status of good and bad calls, and
# its JSON against lib/file/schema/step.schema.json. All data is invented; words are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
command=step
examples=$TIPCREST_SOURCE/examples

# A set with two lids, a tray in halves, a curl of its own and another mean lash.
cat >set.yaml <<'END'
tipcrest: 1
title: Two lids (invented)
eyes:
  - side: right
    lid: {mrd1_mm: 2}
    lashes: {describe: {}}
    map: [{to: 1, length_mm: 12, curl: X}]
  - side: left
    lashes: {describe: {}}
    map: [{to: 1, length_mm: 12, curl: C}]
mean_lash: {length_mm: 8, turn_deg: 50}
tray: {lengths_mm: [6, 6.5, 7, 7.5, 8, 8.5, 9, 9.5, 10, 10.5, 11, 11.5, 12, 12.5, 13]}
curls:
  X: [[0.4, 0], [0.6, 70]]
END
# A mean lash that is too short to carry anything.
sed 's/length_mm: 8, /length_mm: 1.5, /; s/Two lids/Too short/' set.yaml >short.yaml
# Any length is at hand.
sed 's/^tray: .*/tray: any/; s/Two lids/No tray/' set.yaml >any.yaml

# rows FILE: how many steps a report has.
rows() { grep -c '^  {"curl": ' "$1"; }

# four: a number to four decimals.
four() { LC_ALL=C awk '{ printf "%.4f", $1 }'; }

# middle FILE CURL LENGTH PLACEMENT: the exact step from bottom to middle, all placed alike.
middle() {
    placed="\"placement\": {\"bottom\": \"$4\", \"middle\": \"$4\", \"top\": \"$4\"}"
    sed -n "s/^  {\"curl\": \"$2\", \"length_mm\": $3, $placed, \"step_mm\": {\"middle\": \([-0-9.e]*\),.*/\1/p" "$1"
}

# ---- Help

good --help
contains '--help lists step' "$(cat out)" \
    'step      says whether 12/11/10 suits a set, and the level step by curl'
good help step
contains 'help step shows how to call' "$(cat out)" 'usage: tipcrest step [SET]'
equal 'help step is at most 80 columns wide' "$(grep -c '.\{81\}' out)" 0
cp out help.txt
good step --help
equal 'step --help is help step' "$(cat out)" "$(cat help.txt)"

# ---- Without a set: the defaults

good step
cp out table.txt
# Earlier results of this project: 1.02 and 0.83.
contains 'the first line answers' "$(head -n 1 out)" 'Level at the pupil (C 12 mm): middle 1.02 and top 1.86 mm less than bottom; 11'
contains 'the table names eye and view' "$(cat out)" 'left eye, open, from the front;'
contains 'without lashes the layers are assumed' "$(cat out)" 'layers root 1.00 and 1.00 mm apart, assumed.'
equal 'at most 15 lines beside the caution' "$(wc -l <out | tr -d ' ')" 16
good step --full
contains 'the full table is for 12 mm' "$(joined)" ', 12 mm on the bottom layer '
for curl in J B C CC D DD L M; do
    equal "the table has $curl both at the outer side and as it is taught" \
        "$(grep -c "^    $curl  *[0-9]" out)" 2
done
# Earlier results of this project: C needs 1.1528 mm at the outer side, J 1.5666.
# Distances: left over / tan 3', 0.13 mm / 0.000873 is 149 mm.
contains 'C at the outer side: sizes, what they leave over, from where that shows' "$(joined)" \
    ' C 1.15 1.14 2.29 11 10 +0.13 +0.24 15 28 '
contains 'J at the outer side asks for more than one size' "$(joined)" \
    ' J 1.57 1.57 3.13 10 9 -0.26 +0.08 30 <10 '
contains 'at the outer side D leaves most' "$(joined)" \
    'Most is left over with D on the top layer: 0.32 mm, which shows from nearer than 37 cm. Usual placement: '
contains 'as it is taught J does' "$(joined)" \
    'Most is left over with J on the top layer: 0.29 mm, which shows from nearer than 33 cm. What moves '
contains 'the table says what a root does' "$(cat out)" 'A root 1 mm higher lifts it by 0.95 mm.'
contains 'the table says what is assumed' "$(cat out)" 'layers without lashes 1 mm apart: common practice, no source'
contains 'the table ends with cautions' "$(tail -n 1 out)" 'local rules go first'
# Characters that are several bytes long take one column.
equal 'the table is at most 80 columns wide' "$(sed 's/°/x/g; s/′/x/g' out | LC_ALL=C grep -c '.\{81\}')" 0
good step --json a.json
equal 'the table is the same beside a file' "$(cat out)" "$(cat table.txt)"
good step --json -
equal '--json - prints the report and nothing else' "$(cat out)" "$(cat a.json)"
good step --csv a.csv
equal 'the table is the same beside CSV' "$(cat out)" "$(cat table.txt)"
good step --csv -
equal '--csv - prints the report and nothing else' "$(cat out)" "$(cat a.csv)"
good step --csv - --decimal comma
equal '--decimal comma writes decimal commas and semicolons' "$(tr ',;' '.,' <out)" "$(cat a.csv)"
good step --csv all.csv --digits 17
equal '--digits 17 writes all' "$(grep -c '[0-9]\{12\}' a.csv) $(grep -c '[0-9]\{12\}' all.csv)" \
    "0 $((8 * 8 * 17))"
cat >same.py <<'END'
import csv
import json
rows = list(csv.DictReader(open("a.csv")))
report = json.load(open("a.json"))
for row, step in zip(rows, report["steps"], strict=True):
    expected = {"side": report["side"], "curl": step["curl"], "length_mm": step["length_mm"]} | {
        f"{layer}_{name}": value for name, layers in step.items() if isinstance(layers, dict)
        for layer, value in layers.items()}
    if row.keys() != expected.keys():
        print(row.keys(), expected.keys())
    for name, value in expected.items():
        same = row[name] == value if isinstance(value, str) else \
            abs(float(row[name]) - value) <= 1e-5 * abs(value)
        if not same:
            print(name, row[name], value)
print(len(rows))
END
find_python json
equal 'CSV has a row for each step, with the figures of JSON' "$("$python" same.py)" $((8 * 8 * 17))
equal 'no set: no digest, no title, a left eye' \
    "$(member input_digest a.json) $(member title a.json) $(member side a.json)" 'null null "left"'
equal '8 curls, 8 lengths, 16 placements and the one that is taught' "$(rows a.json)" $((8 * 8 * 17))
equal 'C of 12 mm at the outer side' "$(middle a.json C 12 outer-side | four)" 1.1528
equal 'J of 12 mm at the outer side' "$(middle a.json J 12 outer-side | four)" 1.5666

# ---- Options

good step --curl D --length 9.5 --json d.json --full
equal 'one curl and one length: its placements alone' "$(rows d.json)" 17
contains 'the table is for them' "$(joined)" ', 9.5 mm on the bottom layer '
contains 'and so are the sentences' "$(cat out)" '(mean lash, curl D, 9.5 mm, at the outer side)'
equal 'the table has one curl, twice' "$(grep -c '^    [A-Z]*  *[0-9][0-9.]*  [0-9]' out)" 2
equal 'and no curl that leaves most' "$(grep -c 'left over with' out)" 0
good step --curl D --json e.json
equal 'one curl: all lengths' "$(rows e.json)" $((8 * 17))
good step --length 9.5 --json e.json
equal 'one length: all curls' "$(rows e.json)" $((8 * 17))
equal 'the same question has the same answer' "$(middle e.json D 9.5 top)" "$(middle d.json D 9.5 top)"
good step --eye right --json e.json
equal '--eye right without a set' "$(member side e.json) $(middle e.json C 12 top)" \
    "\"right\" $(middle a.json C 12 top)"

# ---- With a set

good step set.yaml --json right.json --full
contains 'the table names title and eye' "$(cat out)" 'Two lids (invented), right eye, open, from the front;'
contains 'the set'"'"'s own curl is there' "$(cat out)" '    X  '
contains 'half a millimetre is a size of this tray' "$(cat out)" '    10.5 '
equal 'the first eye of the set is it, and 9 curls' "$(member side right.json) $(rows right.json)" \
    "\"right\" $((9 * 8 * 17))"
digest=$(sha256sum <set.yaml | cut -d ' ' -f 1)
equal 'the digest is that of the set file' "$(member input_digest right.json)" "\"sha256:$digest\""
good step set.yaml --eye left --curl X --json left.json
equal '--eye chooses the other' "$(member side left.json)" '"left"'
if [ "$(middle left.json X 12 top)" != "$(middle right.json X 12 top)" ]; then
    ok 'another lid asks for another step'
else
    not_ok 'another lid asks for another step' "both: $(middle left.json X 12 top)"
fi
good step short.yaml --json short.json
contains 'a mean lash that is too short is told' "$(joined)" \
    'The mean lash cannot carry an extension: less than 1 mm is left to bond the extension to the lash. '
good step short.yaml --csv - --length 12 --curl C
equal 'and empty cells in CSV' "$(sed 1d out | grep -c '^right,C,12,[a-z-]*,[a-z-]*,[a-z-]*,,,,,,,,$')" 17
equal 'and has null' "$(member sensitivities short.json) $(grep -c '"step_mm": {"middle": null, "top": null}' short.json)" \
    "null $((9 * 8 * 17 + 1))"
sizes=$(awk 'BEGIN { for (i = 70; i < 134; i++) printf "%s%.1f", (i > 70 ? ", " : ""), i / 10 }')
sed "s/^tray: .*/tray: {lengths_mm: [$sizes]}/; s/Two lids/Fine tray/" set.yaml >fine.yaml
run step fine.yaml --full
contains 'what a fine tray leaves over cannot be seen' "$(joined)" ' mm, too little to be seen.'
sed 's/^tray: .*/tray: {C: {0.15: [8, 9, 10, 11, 12]}, X: {0.15: [10, 11, 12]}}/; s/Two lids/Two curls/' set.yaml >curls.yaml
run step curls.yaml --full
equal 'curls that the tray lacks have no sizes' "$status $(grep -c '^    B  .*  -    - ' out) $(grep -c '^    C  .*  -    - ' out)" '0 2 0'
# Seen from the front a tip straight above its root turns towards the viewer, and neither up nor down.
sed 's/turn_deg: 50}/turn_deg: 50, pitch_deg: 45}/; s/Two lids/Upright/' set.yaml >upright.yaml
run step upright.yaml --full
contains 'what does not move a tip is told so' "$(joined)" \
    ' A lash that grows 1° further up the lid does not move it up or down. '
sed 's/turn_deg: 50}/turn_deg: 50, pitch_deg: 60}/; s/Two lids/Steep/' set.yaml >steep.yaml
run step steep.yaml --full
contains 'of placements too' "$(joined)" ', the outer side does not move it up or down. '
contains 'and what lowers it' "$(joined)" ' A lash that grows 1° further up the lid lowers it by '
good step any.yaml --json any.json --full
contains 'a set without a tray is told' "$(joined)" \
    ' The set has no tray (tray: any): a level length is exact, and nothing is left over. '
contains 'and the table has level lengths' "$(cat out)" 'exact step  both  level length'
equal 'with two decimals' "$(grep -c '\.[0-9]\{3\}' out)" 0
equal 'and nothing is left over' "$(grep -c '"left_over_mm": {"middle": 0, "top": 0}, "shows_from_mm": {"middle": 0, "top": 0}' any.json)" \
    $((9 * 8 * 17))

# ---- What the rule gains

good step "$examples/client/client.yaml"
equal 'two eyes have 16 lines beside the caution and that nobody measured' \
    "$(grep -vc 'drawn by chance, none measured' out)" 17
head -n 2 out >both
for side in left right; do # source: the answer for that eye alone
    good step "$examples/client/client.yaml" --eye $side
    case $side in left) name=Left ;; right) name=Right ;; esac
    equal 'and both are answered for first' "$(grep "^$name: best with " both | sed 's/.* with //')" \
        "$(sed -n '1s/^Best for this set: //p' out)"
done
# The practice head with layers so far apart, checked as if it had been surveyed so: the figures are the
# checks' own, to two digits of the table and to 9 of the report. The mean heights of its layers are
# of suitable lashes.
good step "$examples/practice-head/layered.yaml" --json head.json
equal 'the practice head has at most 15 lines beside the caution' "$(wc -l <out | tr -d ' ')" 16
for apart in 0.3 0.6 1 1.4; do
    LC_ALL=C awk -F, -v OFS=, -v apart=$apart '
        /^#/ { next }
        /^id/ { header = $0; next }
        { row[++n] = $0; if ($9 == "suitable") { sum[$3] += $5; count[$3]++ } }
        END {
            up["bottom"] = 0; up["middle"] = 1; up["top"] = 2
            print header
            for (i = 1; i <= n; i++) {
                $0 = row[i]
                base = sum["bottom"] / count["bottom"]
                $5 = sprintf("%.15g", base + up[$3] * apart + $5 - sum[$3] / count[$3])
                print
            }
        }' "$examples/practice-head/survey.csv" >survey.csv
    for less in 0 1 2; do
        sed "s/step_mm: 1 /step_mm: $less /; s/^tray:.*/tray: any/" \
            "$examples/practice-head/layered.yaml" >apart.yaml
        "$TIPCREST" check apart.yaml --json apart.json >/dev/null
        key=$(echo equal_mm one_less_mm two_less_mm | cut -d ' ' -f $((less + 1)))
        found=$(sed -n '/"own"/,/]/s/.*"apart_mm": '"$apart"',.*"'"$key"'": \([0-9.]*\).*/\1/p' head.json |
            head -n 1)
        checked=$(sed -n '/"fitted": {/,/}/s/.*"rms_mm": \([0-9.]*\).*/\1/p' apart.json | head -n 1)
        equal "layers $apart mm apart, $less mm less: as a check of that survey" \
            "$(LC_ALL=C awk "BEGIN { printf \"%.9f\", $found }")" \
            "$(LC_ALL=C awk "BEGIN { printf \"%.9f\", $checked }")"
    done
done
good step "$examples/practice-head/layered.yaml" --apart 0.3 --json near.json
# As checked above: 0.306 and 0.668.
contains 'close layers need no rule' "$(head -n 1 out)" 'Best 0.3 mm apart: equal lengths, 0.31 mm rms off one line (1 mm less: 0.67).'
contains 'and the table says that it was asked' "$(joined)" 'layers root 0.30 and 0.30 mm apart, as asked.'
equal 'what is asked for is on the curve' \
    "$(sed -n 's/.*"here": {\("equal_mm.*\)}},*$/\1/p' near.json)" \
    "$(sed -n '/"own"/,/]/s/.*"apart_mm": 0.3, \(.*\)}},*$/\1/p' near.json | head -n 1)"
bad '--apart is 3.5, but must be from 0 to 3 mm' --apart 3.5
# A tray that has nothing of the rule's curl and diameter: the lashes are not too few.
cp "$examples/practice-head/survey.csv" .
sed 's/^tray: .*/tray: {D: {0.15: [8, 9, 10, 11, 12]}}/' "$examples/practice-head/layered.yaml" >lacking.yaml
good step lacking.yaml
equal 'a tray without a size that fits: the answer leaves it aside' "$(sed -n 1,2p out | tr -s ' \n' '  ')" \
    'No size of the tray fits here; 1 mm less a layer would lie 0.30 mm rms off one line (equal: 0.68). '
sed 's/step_mm: 1/step_mm: 0/' lacking.yaml >lacking-equal.yaml
good step lacking-equal.yaml --apart 0.3
equal 'or equal lengths would be better' "$(sed -n 1,2p out | tr -s ' \n' '  ')" \
    'No size of the tray fits here; equal lengths would lie 0.31 mm rms off one line (1 mm less: 0.67). '
# The look has 8 mm somewhere, and the tray nothing below, so that only equal lengths are in it.
good begin -o short-tray.yaml --look cat --layers 12/12/12 --tray 8-13 --eyes left
good step short-tray.yaml --json short-tray.json
equal 'a tray that lacks what would be better: that is said' "$(sed -n 1,2p out | tr -s ' \n' '  ')" \
    "$("$python" -c '
import json
at = json.load(open("short-tray.json"))["lesson"]["here"]
assert at["one_less_mm"] < at["equal_mm"] == at["best_mm"]
print("Best of the tray: equal lengths, %.2f mm rms off one line; 1 mm less would have %.2f, but the tray "
      "lacks its sizes. " % (at["equal_mm"], at["one_less_mm"]))')"
sed 's/^tray: .*/tray: any/; s/length_mm: [0-9]*, curl/length_mm: 3, curl/' "$examples/practice-head/layered.yaml" >shortest.yaml
good step shortest.yaml
contains 'nothing shorter than 3 mm is a choice' "$(head -n 1 out)" 'Best for this set: equal lengths, '
equal 'and nothing is said of what cannot be tried' "$(grep -c 'better\|beats\|middle - \|1 mm less: ' out)" 0
contains 'nor of a level length' "$(joined)" \
    'Level at the pupil (C 3 mm): no length from 3 to 30 mm does it for each layer.'

# ---- Layers with lengths of their own in a zone

sed 's/{to: 0.5, length_mm: 11, curl: C}/{to: 0.5, length_mm: 11, curl: C, top: {length_mm: 10}}/' \
    "$examples/practice-head/layered.yaml" >own.yaml
cp "$examples/practice-head/survey.csv" survey.csv
good step own.yaml
contains 'a zone that gives a layer its own length is told' "$(joined)" \
    'In 1 of 5 zones layers have their own lengths: left aside here, not by check.'
good step "$examples/practice-head/layered.yaml"
equal 'and only where there is one' "$(joined | grep -c 'their own lengths')" 0

# ---- Calls that are wrong

bad 'one set file is enough; "b.yaml" is one too many' set.yaml b.yaml
bad 'a set is read from a file, not from standard input, because surveys lie beside it' -
bad 'the name of the set file is empty; leave it out, or give one' ''
bad 'there is no option "--curls"; perhaps --curl was meant' --curls C
bad 'there is no option "--opening" here; commands that have it: check, draw, why' --opening 1
bad '--curl is given twice' --curl C --curl D
bad '--curl has an empty value; '"$TIPCREST"' help step says what it needs' --curl ''
bad '--curl is "Q"; it is J, B, C, CC, D, DD, L or M' --curl Q
bad '--curl is "cc"; perhaps CC was meant' --curl cc
bad '--curl is "Y"; it is J, B, C, CC, D, DD, L, M or X' set.yaml --curl Y
bad '--length is 2.9, but must be from 3 to 30 mm' --length 2.9
bad '--length is "12mm", but must be a number from 3 to 30 mm' --length 12mm
bad '--length is "nan", but must be a number from 3 to 30 mm' --length nan
bad '--length is "9,5", but needs a decimal point: 9.5' --length 9,5
bad 'only one of --json and --csv can go to standard output; give the other a file' --json - --csv -
bad '--eye is "both"; it is left or right' --eye both
bad "--eye is right, and $examples/practice-head/equal.yaml has no such eye" \
    "$examples/practice-head/equal.yaml" --eye right
same='are the same file; give the output a name of its own'
wrong "the output set.yaml and the input set.yaml $same" set.yaml --json set.yaml

# ---- Work that fails

fails 'nowhere.yaml: cannot be opened: there is no such file' nowhere.yaml
fails 'nowhere/x.json: cannot be opened for writing: there is no such folder' --json nowhere/x.json
if [ -c /dev/full ]; then
    fails '/dev/full: cannot be written: the disk is full' --json /dev/full
    status=0
    "$TIPCREST" step >/dev/full 2>err || status=$?
    equal 'a full standard output is told' "$status $(cat err)" \
        '1 tipcrest: standard output: cannot be written: the disk is full'
else
    skip 'a full device is told' 'no /dev/full'
fi
echo old >old.json
(
    ulimit -f 1
    said=0
    "$TIPCREST" step --json old.json >out 2>err || said=$?
    echo "$said" >status
)
equal 'a file that may not grow is told' "$(cat status) $(cat err)" \
    '1 tipcrest: old.json: cannot be written: it would be larger than is allowed'
equal 'and the old one stays' "$(cat old.json)" old
equal 'nothing is left behind' "$(find . -name '.tipcrest-*')" ''

# ---- What the figures are of

"$TIPCREST" begin --eyes left -o begun.yaml >begun.txt
good step begun.yaml
equal 'as asked for: nothing is set apart' "$(grep -c 'of the set as it is' out)" 0
contains 'the answer says that nobody measured the lashes' "$(cat out)" \
    '  left eye: 96 of 96 lashes drawn by chance, none measured
'
good step begun.yaml --curl D
contains 'a curl that is not the set'"'"'s: the level is of it, evenness is not' "$(cat out)" \
    '  Figures off one line are of the set as it is, its own curls and lengths.
'
good step begun.yaml --length 9 --full
contains 'a length likewise' "$(cat out)" \
    '  Figures off one line are of the set as it is, its own curls and lengths.
'
contains 'in full too nobody measured them' "$(cat out)" 'Assumed, not measured
  left eye: 96 of 96 lashes drawn by chance, none measured
'
sed 's/count: 96/count: 5/' begun.yaml >few.yaml
good step few.yaml
contains 'too few lashes to judge' "$(head -n 1 out)" \
    ' lashes are too few to judge how even a choice of lengths is.'
equal 'and then no figure says how even' "$(grep -c 'rms\|equal lengths\|beats\|couch' out)" 0
contains 'but the level is there' "$(cat out)" '  Level at the pupil (C 10 mm): '
good step few.yaml --full
equal 'nor in full' "$(grep -c 'equal lengths\|beats\|couch' out)" 0

# ---- The schema

find_python jsonschema
schema=$TIPCREST_SOURCE/lib/file/schema/step.schema.json
"$TIPCREST" step "$examples/client/client.yaml" --json client.json >/dev/null
"$TIPCREST" step --length 3 --json least.json >/dev/null
"$TIPCREST" step --length 30 --json most.json >/dev/null
"$TIPCREST" step begun.yaml --json drawn.json >/dev/null
reports='a.json d.json e.json right.json left.json short.json any.json client.json least.json most.json drawn.json'
# shellcheck disable=SC2086 # a list of names
"$python" "$TIPCREST_SOURCE/tests/cli/validate.py" "$schema" $reports >faults 2>&1 || :
for report in $reports; do
    if grep -qxF "$report: keeps to the schema" faults; then
        ok "$report: keeps to the schema"
    else
        not_ok "$report: keeps to the schema" "$(grep -F "$report:" faults)"
    fi
done
if found=$("$python" "$TIPCREST_SOURCE/tests/cli/validate.py" --break "$schema" right.json short.json 2>&1); then
    ok "no member can be left out, added or of another type: $found"
else
    not_ok 'no member can be left out, added or of another type' "$found"
fi

cd /
rm -rf "$work"
finish
