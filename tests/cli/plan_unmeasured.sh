#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# tipcrest plan for a client nobody has measured, looks that cannot be had, and how much is printed. All
# data is invented; words are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python jsonschema yaml
export PYTHONDONTWRITEBYTECODE=1
examples=$(cd "$TIPCREST_SOURCE/examples" && pwd)
tests=$(cd "$TIPCREST_SOURCE/tests" && pwd)
schema=$(cd "$TIPCREST_SOURCE/lib/file/schema" && pwd)/plan.schema.json

# The lashes of the described client, and the same as if somebody had measured them.
described=$examples/client/client.yaml
client=$PWD/client.yaml
run plan "$described" --samples 1 -o drawn.yaml
awk '/side:/ { side = $3 } /describe:/ { sub(/describe:/, "survey: drawn-" side ".csv"); skip = 4 }
    skip > 0 { skip--; if (skip < 3) next } { print }' "$described" >"$client"

# ---- Zones and layers, over samples ----

run plan "$described" --json unmeasured.json -o unmeasured.yaml
equal 'nobody measured: exit status and nothing on standard error' "$status $(cat err)" '0 '
equal 'the title of the set says that it is planned' "$(sed -n 's/^title: //p' unmeasured.yaml)" \
    '"Invented client, both eyes, planned"'
# How many the table gives an extension on each eye, and how many the planned file's check counts.
joined | grep -o '[0-9]* of [0-9]* lashes get an extension; of the client[^.]*' >given
good check unmeasured.yaml
grep -o '^  [0-9]* of [0-9]* lashes carry extensions' out | sed 's/ of.*//; s/ //g' >checked
equal 'nobody measured: where check counts other lashes, plan says how many' \
    "$(sed 's/.*check counts \([0-9]*\),.*/\1/; s/.* drawn here \([0-9]*\).*/\1/' given)" "$(cat checked)"
equal 'and how many in the mean, which are those to lay out before what is lost' \
    "$(sed 's/ of .*//' given | awk '{ all += $1 } END { print all }')" \
    "$(tr -d ' \n' <unmeasured.json | sed 's/.*"work":{[^}]*"lashes":\([0-9]*\),"fibres".*/\1/')"
contains 'and it is so on an eye' "$(cat given)" 'check counts '
contains 'check says which lashes a plan would not load so' "$(cat out)" \
    "  2 of the 68 are beyond plan's limits: such a lash gets a shorter one, or none."
good check unmeasured.yaml --full
contains 'which are as many as it counts in full' "$(cat out)" 'Beyond the limits that plan assumes: 2 of 68;'
run plan "$described" --json unmeasured.json -o unmeasured.yaml
equal 'nobody measured: the first line answers' \
    "$(sed -n 1,5p out | sed 's/[0-9][0-9.]*/N/g')" \
    "N mm is not reached in zone N of the right eye, whose longest is N mm: more
  than N in N lashes there cannot carry it (limit: at most N mm longer than the
  lash).
Expect off the map's line: N mm rms; N % of the worse eye within N mm.
The map as it stands is as near: N mm rms; N %; N % of it beyond the limits."
contains 'nobody measured: it is said' "$(joined)" \
    'What to expect is the mean over 200 clients drawn by chance, with the zones alone: nobody measured these lashes.'
equal 'nobody measured: what each zone gets begins within nine lines' \
    "$(sed 9q out | grep -c '^  Zone, up to')" 1
contains 'nobody measured: how many want another size' "$(joined)" \
    ' in 10 lashes will want another size than their zone; with it '
contains 'nobody measured: for which length of lash tips are given' "$(joined)" \
    "How they differ (natural tip: of a lash of $(sed -n 's/^ *length_mm: \([0-9.]*\).*/\1/p' "$described" | head -n 1) mm):"
contains 'nobody measured: and how to tell them' "$(joined)" ' % a longer one: natural tip 0.5 mm (3.3°) lower, root 0.13 mm lower.'
# Lashes that are all alike but for their roots' place, and a tray of one size.
alike='pitch_sd_deg: 0, height_sd_mm: 0, turn_sd_deg: 0, length_sd_mm: 0, yaw_sd_deg: 0, phases: none, stray_share: 0'
cat >alike.yaml <<END
tipcrest: 1
title: Alike (invented)
eyes:
  - {side: left, lashes: {describe: {count: 90, $alike}}, map: [{to: 1, length_mm: 9, curl: C}]}
layering: {step_mm: 0}
tray: {lengths_mm: [9]}
END
run plan alike.yaml --diameters 0.05 --placements top
contains 'no lash wants another size where there is none' "$(joined)" \
    ' No lash will want another size than its zone. What to expect'
run plan alike.yaml --json alike.json
equal 'where hardly any does nothing is said of how these differ' "$(joined | grep -o '[^.]* lashes will want.*What to')" \
    " Fewer than 1 in 20 lashes will want another size than their zone; with it $("$python" -c 'import json, math
print(math.floor(100 * json.load(open("alike.json"))["eyes"][0]["over_samples"]["within_sized"]))') % of tips lie within 0.5 mm. What to"
if [ -z "$(no_pictures)" ] && command -v pdftotext >/dev/null; then
    run plan alike.yaml --sheet alike.pdf
    contains 'nor on the sheet' "$(pdftotext -raw alike.pdf - | tr -s ' \n' ' ')" \
        'Fewer than 1 in 100 want a longer size than their zone. Fewer than 1 in 100 want a shorter size than their zone.'
fi
run plan "$described" --json unmeasured.json
equal 'nobody measured: no lash is named' "$(grep -c 'n[0-9][0-9][0-9]' out)" 0
equal 'nobody measured: the JSON keeps to its schema' \
    "$("$python" "$tests/cli/validate.py" "$schema" unmeasured.json 2>&1)" \
    'unmeasured.json: keeps to the schema'
equal 'nobody measured: no lash, correction or order in the JSON; the sentence has its figures' "$("$python" - <<'END'
import json, re
plan = json.load(open("unmeasured.json"))
text = " ".join(open("out").read().split())
wants = [(eye["over_samples"]["wants_longer"]["share"], eye["over_samples"]["wants_shorter"]["share"]) for eye in plan["eyes"]]
said = re.findall(r"About (\d+) in 10 lashes will want.*?(\d+) % a longer one.*?(\d+) % a shorter", text)
print([eye["lashes"] for eye in plan["eyes"]], plan["work"]["sequence"], plan["plan"]["curve"], plan["plan"]["corrections"],
      plan["plan"]["samples"], [eye["zones_only"] for eye in plan["eyes"]],
      [(round(10 * (a + b)), round(100 * a), round(100 * b)) for a, b in wants] == [tuple(map(int, one)) for one in said])
END
)" '[[], []] [] [] 0 200 [True, True] True'
equal 'nobody measured: no row of the planned set says what a lash gets' \
    "$(cut -d, -f14-20 unmeasured-left.csv unmeasured-right.csv | grep -v "ext_\|^#" | sort -u)" ',,,,,,'
run check unmeasured.yaml
equal 'nobody measured: check takes the planned set' "$status" 0
run plan unmeasured.yaml
equal 'and plan again' "$status" 0
run plan "$described" --samples 0
equal 'the one drawn sample: the first line' "$(sed -n 1p out | sed 's/[0-9][0-9.]*/N/g')" \
    "Off the map's line: N mm rms; N % of the worse eye within N mm."
contains 'the one drawn sample: it is a demonstration' "$(joined)" \
    'A demonstration: lashes that nobody measured are planned one by one, as one sample drew them.'
run plan "$client"
equal 'measured lashes are no demonstration' "$(joined | grep -c 'demonstration')" 0
equal 'and have no samples unless they are asked for' "$(joined | grep -c 'drawn by chance')" 0
contains 'their corrections are named' "$(joined)" '20 lashes differ from their zone. 8 C on top: n012;'
awk '/side:/ { side = $3 } side == "right" && /describe:/ { sub(/describe:/, "survey: drawn-right.csv"); skip = 4 }
    skip > 0 { skip--; if (skip < 3) next } { print }' "$described" >half.yaml
run plan half.yaml --json half.json
equal 'of a described eye and a surveyed one only this is corrected by lash' "$status $("$python" - <<'END'
import json
plan = json.load(open("half.json"))
left, right = plan["eyes"]
print([eye["zones_only"] for eye in plan["eyes"]], left["lashes"], plan["plan"]["corrections"] ==
      sum(lash["corrected"] for lash in right["lashes"]) > 0, {place["side"] for place in plan["work"]["sequence"]})
END
)" "0 [True, False] [] True {'right'}"

if [ -z "$(no_pictures)" ] && command -v pdftotext >/dev/null; then
    run plan half.yaml --sheet half.pdf --free=0.1
    pdftotext -raw half.pdf - | tr -s ' \n' ' ' >half.txt
    contains 'their sheet says whose the figures are' "$(cat half.txt)" "$(printf 'Tips off the map\342\200\231s line, right eye: ')"
    contains 'and whose lashes nobody measured' "$(cat half.txt)" 'Nobody measured the lashes of the left eye: '
    contains 'and where the line is as far as it may' "$(cat half.txt)" ', which is as far as it may.'
fi
run plan half.yaml --full
equal 'the answer has the figures of each, and says whose they are' "$(sed -n '/^Off/p;/^Expect/p' out | sed 's/[0-9][0-9.]*/N/g')" \
    "Off the map's line, right eye: N mm rms; N % of tips within N mm.
Expect off the map's line, left eye: N mm rms; N % of tips within N mm."
equal 'as in the JSON' "$("$python" - <<'END'
import json, math, re
plan = json.load(open("half.json"))
text = open("out").read()
point = plan["plan"]["curve"][plan["plan"]["corrections"]]
over = plan["eyes"][0]["over_samples"]
print([f"{point['rms_mm']:.2f}", f"{over['rms_mm']:.2f}"] == re.findall(r"line, \w+ eye: ([\d.]+)", text),
      [math.floor(100 * share + 1e-9) for share in (point["within_tolerance"], over["within_tolerance"])] ==
      [int(share) for share in re.findall(r"line, \w+ eye: .*; (\d+) %", text)])
END
)" 'True True'
contains 'the table of corrections too' "$(joined)" \
    'These are of the tips of the right eye alone: nobody measured the lashes of the other.'
equal 'and the set as it is has no figure for one eye' "$(grep -c 'as the set is' out)" 0

# ---- What check says of loads ----

"$TIPCREST" begin -o long-lashes.yaml --lengths 8,10,12,13,12 --curl D --layers 13/12/11 >begun 2>&1 || cat begun
run check long-lashes.yaml --full
beyond=$(sed -n 's/^  Beyond the limits that plan assumes: \([0-9]*\) of \([0-9]*\).*/\1 of the \2/p' out)
good check long-lashes.yaml
equal 'check says where a tenth or more is beyond the limits' \
    "$(sed -n 's/^  \(.*\) are beyond the limits that plan assumes of a lash: --full[.]$/\1/p' out)" "$beyond"
good check "$described" --full
few=$(sed -n 's/^  Beyond the limits that plan assumes: \([0-9]*\) of .*/\1/p' out | tr '\n' ' ')
good check "$described"
equal "and not of fewer: ${few:-none}" "$(grep -c 'that plan assumes of a lash' out)" 0

# ---- Looks that cannot be had ----

sed 's/mrd1_mm: 3.6/mrd1_mm: 5.5/' "$client" >unlike.yaml
run plan unlike.yaml
contains 'what is out of reach comes first, and the eye that it is for' "$(head -n 4 out | tr -s ' \n' ' ')" \
    "11 mm is not reached in zone 4 of the left eye, whose longest is 10 mm: matching the right eye costs the left 1.3 mm (--each-eye plans each towards its own line). Off the map's line"
run plan unlike.yaml --each-eye
equal 'each eye towards its own line reaches it' "$(joined | grep -c 'is not reached')" 0
sed 's/length_mm: 11, curl/length_mm: 13, curl/' "$client" >long.yaml
run plan long.yaml
contains 'a limit in the way is named' "$(head -n 3 out | tr -s ' \n' ' ')" '13 mm is not reached in zone 4 of the left eye, whose longest is 12 mm: not every lash there can carry it (limits: at most '
contains 'with its number' "$(head -n 3 out | tr -s ' \n' ' ')" "20 times its turning force"
run plan "$client" --look cat --longest 16 --samples 20
equal 'two eyes that fall short for the same reasons share a sentence' "$(joined | grep -o '[^.]*is not reached[^.]*\.')" \
    "16 mm is not reached in zone 5 of either eye, whose longest is 13 mm: not every lash there can carry it (limits: at most 5 mm longer than the lash, 10 times as heavy, 20 times its turning force)."
run plan "$described" --look cat --longest 12
contains 'and limits that are not the same are told of each eye' "$(joined)" \
    '12 mm is not reached in zone 5 of either eye, whose longest is 11 mm: more than 1 in 10 lashes there cannot carry it (right eye, limit: at most 5 mm longer than the lash; left eye, limits: at most 5 mm longer than the lash, 20 times its turning force).'
run plan "$described" --look cat --longest 16
contains 'and so are lengths' "$(joined)" \
    '16 mm is not reached in zone 5 of either eye, whose longest is 14 mm on the right and 15 mm on the left: '
# A tray without what the rule gives.
sed '/^tray:/d' "$client" >poor.yaml
echo 'tray: {lengths_mm: [8, 9, 10, 11]}' >>poor.yaml
run plan poor.yaml
contains 'what the tray lacks is told' "$(joined)" \
    'The tray lacks 6 mm and others up to 7 mm, which the rule would give.'

# ---- At most 15 lines an eye, beside zones, doubts and cautions ----

# counted: the lines of out that count.
counted() {
    grep -vE '^  Zone, up to|^  [0-9]+ +[01][.][0-9][0-9] |none measured$|^For trained and' out | grep -c .
}
for call in "$described" "$client" "$client --free" unlike.yaml long.yaml "poor.yaml --look cat --longest 11" \
    half.yaml "$described --samples 0 --corrections all"; do
    # shellcheck disable=SC2086 # words of a call
    run plan $call
    equal "at most 30 lines for two eyes: ${call##*/}" "$status $(($(counted) <= 30))" '0 1'
done
for call in layered equal; do
    run plan "$examples/practice-head/$call.yaml"
    equal "at most 15 lines for one eye: $call" "$status $(($(counted) <= 15))" '0 1'
    lines=$(wc -l <out)
    run plan "$examples/practice-head/$call.yaml" --full
    equal "--full has more: $call" "$status $(($(wc -l <out) > lines))" '0 1'
done

# Of many cells with a part of a lash each: what is told is what they come to together.
for count in 2 5 12; do
    cat >few.yaml <<END
tipcrest: 1
eyes:
  - side: left
    lashes: {describe: {count: $count}}
    map: [{to: 0.2, length_mm: 8, curl: C}, {to: 0.5, length_mm: 9, curl: C}, {to: 1, length_mm: 9, curl: C}]
layering: {step_mm: 1, diameter_mm: 0.1}
END
    run plan few.yaml --samples 50
    about=$(sed -n 's/^ *About \([0-9]*\) of '"$count"' lashes get an extension.*/\1/p' out)
    equal "of $count lashes no more than $count get an extension" \
        "$([ "${about:-99}" -ge 1 ] && [ "${about:-99}" -le "$count" ] && echo so)" so
done

rm -rf "$work"
finish
