#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python json
# Sentences of the reports that say why, or what to do next, in both directions: each is there where
# its figures carry it, and not where they do not. All sets are invented; figures come from the
# JSON of the same run.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
client=$TIPCREST_SOURCE/examples/client/client.yaml
find_python json

# says NAME WORDS, says_not NAME WORDS: whether the last output has the words.
says() { contains "$1: says '$2'" "$(joined)" "$2"; }
says_not() { equal "$1: does not say '$2'" "$(joined | grep -cF "$2")" 0; }

# ---- plan: the map as it stands, nearer than the plan or not

# mapped: whether the map is nearer than the plan, and more than a limit lets some lash carry.
mapped() {
    "$python" - <<'END'
import json
plan = json.load(open("plan.json"))
eyes = [eye["over_samples"] for eye in plan["eyes"]]
tips = [sum(cell["lashes"] for cell in eye["cells"]) for eye in plan["eyes"]]
def rms(name):
    return sum(n * eye[name] ** 2 for n, eye in zip(tips, eyes)) ** 0.5
print(rms("mapped_rms_mm") < rms("rms_mm"), max(eye["mapped_beyond_limits"] for eye in eyes) > 0,
      max(eye["mapped_not_at_hand"] for eye in eyes) > 0)
END
}
good plan "$client" --look cat --longest 12 --json plan.json
equal 'a map that is nearer and exceeds limits' "$(mapped)" 'True True False'
says 'a nearer map' '% of it beyond the limits; the plan keeps to them and is farther by that.'
good plan "$client" --look cat --longest 12 --zone-step 1 --samples 3
says_not 'a map that may be nearer since the call wants something else' 'is farther by that'
good plan "$client" --json plan.json
equal 'a map that is not nearer, and exceeds limits' "$(mapped)" 'False True False'
says 'a map that is not nearer' '% of it beyond the limits. With one'
says_not 'a map that is not nearer' 'is farther by that'
says 'a map that hardly differs' 'The map as it stands is as near: '
good plan "$client" --free --samples 3
says 'a line that moves' 'The map as it stands, off its own line: '
good plan "$client" --look cat --longest 12 --json plan.json
says_not 'a map that is nearer since it exceeds limits' 'is as near'
{ cat "$client" && printf 'tray: {lengths_mm: [8, 9, 10, 11]}\n'; } >short.yaml
good plan short.yaml --samples 3 --json plan.json
contains 'a tray that lacks a length of the map' "$(mapped)" 'True True'
says 'a tray that lacks a length of the map' 'not in the tray'

# ---- plan: the bound is told with what it is of

good begin -o survey.yaml --survey survey.csv --eyes left
good plan survey.yaml --samples 40 --json plan.json
says 'varying lashes' 'For lashes that vary, zones alone: 0.'
says 'varying lashes' 'no choice is then nearer than 0.'
good plan survey.yaml --samples 0
says 'lashes as they are' 'no choice for the zones comes nearer than 0.'
says_not 'lashes as they are' 'lashes that vary'

# ---- plan: a tray whose shortest is too long for the line of its map

set -- --eyes left --length 9 --mrd1 3.5 --lengths 8,8,9,10,11
good begin -o from8.yaml "$@" --tray 8,9,10,11,12,13
good plan from8.yaml
says 'a tray from 8 mm' "zones and layers have the tray's shortest, 8 mm, and tips over 0.5 mm high: shorter may help."
good begin -o from5.yaml "$@" --tray 5,6,7,8,9,10,11,12,13
good plan from5.yaml
says_not 'a tray from 5 mm' "the tray's shortest"

# ---- plan: layers that the share leaves bare, the gap that check reports, the files it wrote

good plan survey.yaml --samples 0 -o planned.yaml --json plan.json
says 'the files' 'Written: planned.yaml planned-left.csv plan.json'
bare=$(grep -c 'all stay bare' out)
cp out short.txt
good plan survey.yaml --samples 0 --share 1
says_not 'all lashes used' 'bare by the share'
says_not 'no file written' 'Written:'
cp short.txt out
if [ "$bare" -gt 0 ]; then
    says 'layers bare by the share' 'bare by the share; --share 1 uses all.'
else
    says_not 'no layer bare' 'bare by the share'
fi
good check planned.yaml
gap=$(joined | sed 's/.*Largest gap between tips: \([0-9.]*\).*/\1/')
cp short.txt out
says 'the gap' "Largest gap between tips $gap mm ("

# ---- plan: a list of lashes that is cut says how many it leaves out

cat >one-zone.yaml <<'END'
tipcrest: 1
title: One zone (invented)
eyes:
  - side: left
    lashes: {describe: {count: 200, phases: none}}
    map: [{to: 1, length_mm: 10, curl: C}]
END
good plan one-zone.yaml --samples 0 --corrections all --share 1 --json plan.json
# of_first: the corrected lashes that get what the first of them gets.
of_first() {
    "$python" - <<'END'
import json
lashes = [lash for lash in json.load(open("plan.json"))["eyes"][0]["lashes"] if lash["corrected"]]
print(sum(lash["extension"] == lashes[0]["extension"] for lash in lashes))
END
}
equal 'twelve are named, and how many more there are' \
    "$(joined | sed 's/.* differ from their zone\. [^:]*:\(.*\) and \([0-9]*\) more; .*/\1 \2/; s/ and [0-9]* more;.*//' |
        awk '{ n = 0; for (i = 1; i <= NF && $i ~ /^n[0-9]+$/; i++) n++; print n }')" 12
contains 'all of which are counted' "$(joined)" " and $(($(of_first) - 12)) more; "

# ---- plan: corrections are for measured lashes

good plan "$client" --samples 3 --corrections all
says 'corrections of lashes that nobody measured' 'Corrections need measured lashes, or --samples 0.'
good plan "$client" --samples 3
says_not 'no corrections asked for' 'Corrections need'

# ---- check: what makes a described lash a baby

good check "$client"
says 'described lashes' 'baby (below 5 mm)'
says 'described lashes' 'all lashes, drawn by chance: one client of many (study --runs draws'
good check survey.yaml
says_not 'surveyed lashes' 'baby (below'

cd /
rm -rf "$work"
finish
