#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# tipcrest why from outside: standard output, standard error and exit status of good and bad calls, and
# its JSON against lib/file/schema/why.schema.json. All data is invented; words are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
command=why
examples=$TIPCREST_SOURCE/examples

# A small set: layers in turn along the lid, with a 1 mm step and every placement that is taught.
cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - side: left
    lashes: {survey: small.csv}
    map:
      - {to: 0.5, length_mm: 10, curl: C}
      - {to: 1, length_mm: 11, curl: C}
layering: {placement: {bottom: top, middle: outer-side, top: underside}}
opening: 0.8
viewer_deg: 12.5
END
small_survey small.csv
# Two eyes, of which the left one has no line: only two lashes carry an extension.
cat >two.yaml <<'END'
tipcrest: 1
eyes:
  - {side: left, lashes: {survey: few.csv}, map: [{to: 1, length_mm: 10, curl: C}]}
  - {side: right, lashes: {survey: small.csv}, map: [{to: 1, length_mm: 10, curl: C}]}
END
head -n 3 small.csv >few.csv

# ---- Help

good --help
contains '--help lists why' "$(cat out)" 'why       says what makes a set uneven, cause by cause'
good help why
contains 'help why shows how to call' "$(cat out)" 'usage: tipcrest why SET'
equal 'help why is at most 80 columns wide' "$(grep -c '.\{81\}' out)" 0
cp out help.txt
good why --help
equal 'why --help is help why' "$(cat out)" "$(cat help.txt)"

# ---- Calls that do their work

good why set.yaml
contains 'the table names title, eye and view' "$(cat out)" \
    'Small drill (invented), left eye: eye 80 % open, from 12.5° above'
contains 'the answer comes first' "$(head -n 1 out)" 'The rule (each layer 1 mm shorter) '
contains 'the table says once what rms is, and which line it is' "$(grep -c 'rms: ' out) $(cat out)" \
    '1 The rule'
contains 'of the fitted line' "$(cat out)" "rms: a tip's typical distance from the fitted line; far tips count more"
contains 'then what a higher root and a shorter extension do' "$(joined)" 'A root 1 mm higher raises the mean lash'"'"'s tip '
contains 'then what an artist can change' "$(cat out)" 'Of what an artist can change, '
equal 'an eye takes at most 15 lines' "$(($(sed -n '1,/^$/p' out | wc -l) <= 16))" 1
equal 'shares are left to --full' "$(grep -ci 'share\|first in\|last out' out)" 0
equal 'nothing is said to be chosen for something' "$(grep -ci 'chosen for' out)" 0
cp out answer.txt
good why set.yaml --full
equal '--full begins with the same answer' "$(sed '/^  Of what an artist/,$d' out)" \
    "$(sed '/^  Of what an artist/,$d' answer.txt)"
for cause in 'root heights' 'layer shortening' placement 'zone steps' 'single choices' 'natural variation'; do
    equal "the table has a row of $cause" "$(grep -cE "^    (  )?$cause  *[-+0]" out)" 1
done
for name in 'Root heights' 'Layer shortening' Placement 'Zone steps' 'Single choices' 'Natural variation'; do
    equal "the table has a sentence of $name" "$(grep -c "^    $name" out)" 1
done
equal 'sentences stand before figures' \
    "$(grep -n '^    Placement\|^    Causes' out | sed 's/^[0-9]*: *//; s/[ :].*//' | tr '\n' ' ')" \
    'Placement Causes '
equal 'no word of statistics or mechanics' "$(grep -ci 'shapley\|moment\|mean square' out)" 0
contains 'the table tells how to read it' "$(cat out)" 'How to read the figures'
contains 'the table tells what was assumed' "$(cat out)" 'pitch assumed for 13 of 13 lashes'
contains 'the table ends with cautions' "$(tail -n 1 out)" 'local rules go first'
cp out table.txt
good why set.yaml --full --json a.json
equal 'the table is the same beside a file' "$(cat out)" "$(cat table.txt)"
good why --json - set.yaml
equal '--json - prints the report and nothing else' "$(cat out)" "$(cat a.json)"
equal 'the command is named' "$(member command a.json)" '"why"'
digest=$(cat set.yaml small.csv | sha256sum | cut -d ' ' -f 1)
equal 'the digest is that of the set file and its survey' "$(member input_digest a.json)" \
    "\"sha256:$digest\""
equal 'the view is the set file'"'"'s' "$(member opening a.json) $(member viewer_deg a.json)" '0.8 12.5'
good why set.yaml --json b.json --viewer -30 --opening=0.5
equal '--viewer and --opening change it' "$(member opening b.json) $(member viewer_deg b.json)" '0.5 -30'
good why set.yaml --json b.json --against intended
equal '--against intended is reported' "$(member against b.json)" '"intended"'
contains '--against intended is in the table' "$(cat out)" "rms: a tip's typical distance from the map's line; "
good why two.yaml --json two.json
contains 'an eye without a line is told with the reason' "$(cat out)" \
    'No causes to tell, because fewer than three lashes carry an extension'
equal 'an eye without a line has null, the other its causes' \
    "$(member causes two.json | tr '\n' ' ')$(member reason two.json)" \
    'null [ "fewer than three lashes carry an extension"'

# CSV has what JSON has, under the same names.
good why two.yaml --csv two.csv
good why --csv - two.yaml
equal '--csv - prints the report and nothing else' "$(cat out)" "$(cat two.csv)"
cat >same.py <<'END'
import csv
import json
rows = list(csv.DictReader(open("two.csv")))
eyes = json.load(open("two.json"))["eyes"]
expected = []
for eye in eyes:
    causes = eye["causes"] and eye["causes"] + [
        {"cause": name} | eye[name] for name in ("layering", "lengths_along_lid")]
    of_eye = {name: eye[name] for name in ("side", "lashes", "whole_rms_mm", "bare_rms_mm")}
    for cause in causes or [{"reason": eye["reason"]}]:
        expected.append(of_eye | cause)
for row, one in zip(rows, expected, strict=True):
    for name, cell in row.items():
        value = one.get(name)
        same = cell == (value or "") if isinstance(value, str) or value is None else \
            abs(float(cell) - value) <= 1e-5 * abs(value)
        if not same:
            print(name, cell, value)
print(len(rows))
END
find_python json
equal 'CSV has a row for each cause and pair, with the figures of JSON' "$("$python" same.py)" 9

# The practice head, with the 12/11/10 rule and with equal lengths.
good why "$examples/practice-head/layered.yaml"
contains 'a good layered set is told that the rule helps' "$(joined)" \
    'The rule (each layer 1 mm shorter) helps: 0.30 mm rms with it, 0.68 mm with equal lengths.'
contains 'and that heights and lengths make up for each other' "$(joined)" \
    'Root heights and layer shortening make up for each other: 0.33 mm rms with both levelled, 0.88 with the roots alone levelled, 0.68 with the lengths alone.'
good why "$examples/practice-head/equal.yaml"
contains 'equal lengths are told what the rule would do' "$(joined)" \
    'All layers have equal lengths; the rule (each layer 1 mm shorter) would help: 0.30 mm rms with it, 0.68 mm without.'
contains 'which is what an artist can change' "$(joined)" \
    'Of what an artist can change, lengths by layer cost most: by the rule '
contains 'equal lengths leave the heights to show' "$(joined)" \
    'Hurts: root heights (0.33 without, but lashes grow so).'

# The same tray without its shortest lengths: the map's shortest is 9 mm.
sed 's/^tray: .*/tray: {lengths_mm: [9, 10, 11, 12]}/' "$examples/practice-head/equal.yaml" >lacking.yaml
cp "$examples/practice-head/survey.csv" survey.csv
good why lacking.yaml
# By hand, from map and survey: who would wear 8 or 7 mm.
lacking=$(awk -F , '/^#/ { next } !named++ { for (i = 1; i <= NF; i++) column[$i] = i; next }
    $column["condition"] == "suitable" || $column["condition"] == "" {
        u = $column["u"]; layer = $column["layer"]
        n += (u <= 0.15 && layer != "bottom") || (u > 0.15 && u <= 0.3 && layer == "top") }
    END { print n }' survey.csv)
contains 'the rule is recommended with what the tray lacks for it' "$(joined)" \
    "0.68 mm without; the tray lacks its sizes for $lacking of 81 lashes."
good why lacking.yaml --json lacking.json
equal 'JSON has the number' "$(member ruled_lacking lacking.json)" "$lacking"

# Layers 0.3 mm apart: the rule shortens more than the heights ask for. Worn lengths and a plan.
awk -F , -v OFS=, '/^#/ { next } !named++ { for (i = 1; i <= NF; i++) column[$i] = i; print; next }
    { layer = $column["layer"]; $column["height_mm"] -= 0.7 * (layer == "top" ? 2 : layer == "middle"); print }
    ' "$examples/practice-head/survey.csv" >survey.csv
cp "$examples/practice-head/layered.yaml" low.yaml
good why low.yaml
contains 'a set whose layers are too near for the rule is told that it hurts' "$(joined)" \
    'The rule (each layer 1 mm shorter) hurts: '
contains 'and that the shortening is what to change' "$(joined)" \
    'Of what an artist can change, layer shortening costs most: '
good plan low.yaml -o planned.yaml
good why planned.yaml
contains 'a planned set is told by its own lengths' "$(joined)" "The layers' own lengths "
awk -F , -v OFS=, '/^#/ { next } !named++ { for (i = 1; i <= NF; i++) column[$i] = i; print $0, "ext_length_mm"; next }
    { print $0, $column["condition"] == "suitable" || $column["condition"] == "" ? 11 : "" }
    ' "$examples/practice-head/survey.csv" >survey.csv
good why low.yaml
contains 'worn lengths are told as worn' "$(joined)" 'All layers wear equal lengths; the rule '
cp "$examples/practice-head/survey.csv" survey.csv
good why "$examples/client/client.yaml"
equal 'both eyes of a client are told, in the order of the set' \
    "$(sed -n 's/^.*, \(left\|right\) eye$/\1/p' out | tr '\n' ' ')" 'left right '
for table in table.txt out; do
    # Characters that are two bytes long take one column.
    equal "$table is at most 80 columns wide" "$(sed 's/[²°]/x/g' "$table" | LC_ALL=C grep -c '.\{81\}')" 0
done

# ---- Calls that are wrong

bad 'a set file is missing: '"$TIPCREST"' why SET'
bad 'a set file is missing: '"$TIPCREST"' why SET' ''
bad 'a set is read from a file, not from standard input, because surveys lie beside it' -
bad 'one set file is enough; "b.yaml" is one too many' set.yaml b.yaml
bad 'there is no option "--jsno"; perhaps --json was meant' set.yaml --jsno x
bad 'only one of --json and --csv can go to standard output; give the other a file' set.yaml --json - --csv -
bad '--json is given twice' set.yaml --json x.json --json y.json
bad '--json needs a value; '"$TIPCREST"' help why says which' set.yaml --json
bad '--opening is 2, but must be from 0 to 1' set.yaml --opening 2
bad '--viewer is "1e999", but must be a number from -80 to 80 degrees' set.yaml --viewer 1e999
bad '--viewer is "12,5", but needs a decimal point: 12.5' set.yaml --viewer 12,5
bad '--against is "line"; it is fitted or intended' set.yaml --against line
same='are the same file; give the output a name of its own'
cp set.yaml before.yaml
wrong "the output set.yaml and the input set.yaml $same" set.yaml --json set.yaml
wrong "the output small.csv and the input small.csv $same" set.yaml --json small.csv
equal 'the input is as it was' "$(cat set.yaml)" "$(cat before.yaml)"
sed 's/curl: C}/curl: Q}/' set.yaml >wrong.yaml
wrong 'wrong.yaml:7:40: curl "Q" is not in the catalogue; one of J, B, C, CC, D, DD, L, M, or define it under curls' \
    wrong.yaml
run wyh
equal 'a command is suggested by its letters' "$(cat err)" \
    'tipcrest: there is no command "wyh"; perhaps why was meant'

# ---- Work that fails

fails 'nowhere.yaml: cannot be opened: there is no such file' nowhere.yaml
fails 'nowhere/x.json: cannot be opened for writing: there is no such folder' \
    set.yaml --json nowhere/x.json
echo old >old.json
if [ -c /dev/full ]; then
    fails '/dev/full: cannot be written: the disk is full' set.yaml --json /dev/full
    status=0
    "$TIPCREST" why set.yaml >/dev/full 2>err || status=$?
    equal 'a full standard output is told' "$status $(cat err)" \
        '1 tipcrest: standard output: cannot be written: the disk is full'
else
    skip 'a full device is told' 'no /dev/full'
fi
(
    ulimit -f 1
    said=0
    "$TIPCREST" why set.yaml --json old.json >out 2>err || said=$?
    echo "$said" >status
)
equal 'a file that may not grow is told' "$(cat status) $(cat err)" \
    '1 tipcrest: old.json: cannot be written: it would be larger than is allowed'
equal 'and the old one stays' "$(cat old.json)" old
equal 'nothing is left behind' "$(find . -name '.tipcrest-*')" ''

# ---- The schema

find_python jsonschema numpy yaml
schema=$TIPCREST_SOURCE/lib/file/schema/why.schema.json
"$python" "$TIPCREST_SOURCE/tests/reference/awkward.py" sets >list || exit 1
find "$examples" -name '*.yaml' -exec grep -L '^tipcrest-study' {} + >>list
echo two.yaml >>list
mkdir reports
while read -r set_file; do
    name=$(basename "$set_file")
    for against in fitted intended; do
        run why "$set_file" --against "$against" --json "reports/$name against the $against line"
        [ "$status" -eq 0 ] || not_ok "why $name --against $against: exits with 0" "$(cat err)"
    done
done <list
"$python" "$TIPCREST_SOURCE/tests/cli/validate.py" "$schema" reports/* >faults 2>&1 || :
for report in reports/*; do
    name=$(basename "$report")
    if grep -qxF "$name: keeps to the schema" faults; then
        ok "$name: keeps to the schema"
    else
        not_ok "$name: keeps to the schema" "$(grep -F "$name:" faults)"
    fi
done
equal 'every set gave its reports' "$(find reports -type f | wc -l)" "$((2 * $(wc -l <list)))"
contains 'some of them have an eye without causes' "$(cat reports/*)" '"causes": null'
# One report with causes and one without, broken at every place in turn.
if found=$("$python" "$TIPCREST_SOURCE/tests/cli/validate.py" --break "$schema" two.json 2>&1); then
    ok "no member can be left out, added or of another type: $found"
else
    not_ok 'no member can be left out, added or of another type' "$found"
fi

cd /
rm -rf "$work"
finish
