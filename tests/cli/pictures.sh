#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# The pictures of why and step: what is in them, as PNG, SVG and PDF, and what is refused. Data is the
# invented practice head.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
examples=$(cd "$TIPCREST_SOURCE/examples" && pwd)
set=$examples/practice-head/layered.yaml

lacking=$(no_pictures)
if [ -n "$lacking" ]; then
    skip 'pictures of why and step' "$lacking"
    finish
fi
find_python xml.etree.ElementTree

# words FILE.pdf: its text, blanks made one.
words() {
    pdftotext "$1" - | tr -s ' \n\f' '   '
}

for command in why step; do
    for ending in png svg pdf; do
        run "$command" "$set" --picture "a.$ending"
        equal "$command --picture a.$ending: exit status" "$status" 0
        equal "$command --picture a.$ending: nothing on standard error" "$(cat err)" ''
        cp "a.$ending" "first.$ending"
        run "$command" "$set" --picture "a.$ending"
        equal "$command --picture a.$ending: the same bytes again" \
            "$(cksum <"a.$ending")" "$(cksum <"first.$ending")"
    done
    # Source: the PNG specification, its signature and the type of the first chunk.
    equal "$command: a PNG" "$(od -An -c -N16 a.png | tr -d ' \n')" '211PNG\r\n032\n\0\0\0\rIHDR'
    equal "$command: the SVG is well formed" "$("$python" -c 'import xml.etree.ElementTree as t
print(t.parse("a.svg").getroot().tag)')" '{http://www.w3.org/2000/svg}svg'
    contains "$command: the title" "$(words a.pdf)" 'Practice head, 12/11/10'
    contains "$command: cautions" "$(words a.pdf)" 'licensed hands; local rules go first'
    # Closed form: 100 mm at 127 points an inch are 500 pixels; a big-endian number at byte 16.
    run "$command" "$set" --picture small.png --width 100 --dpi 127
    equal "$command --width 100 --dpi 127: pixels" "$status $(od -An -tu1 -j16 -N4 small.png | tr -s ' ')" \
        '0  0 0 1 244'
    run "$command" "$set" --picture dark.svg --dark
    equal "$command --dark: the ground is another one" \
        "$status $(cmp -s dark.svg a.svg && echo same)" '0 '
    for option in '--width 100' '--dpi 100' --dark; do
        # shellcheck disable=SC2086 # an option and its value
        run "$command" "$set" $option
        equal "$command $option without --picture" "$status $(cat err)" \
            "2 tipcrest $command: ${option%% *} is for a picture; add --picture FILE, or leave it out"
    done
    run "$command" "$set" --picture a.svg --dpi 100
    equal "$command --dpi for an SVG" "$status $(cat err)" \
        "2 tipcrest $command: --dpi is for a file that ends in .png or .gif; \"a.svg\" has no pixels"
    run "$command" "$set" --picture a.png --width 10
    equal "$command --width 10" "$status $(cat err)" \
        "2 tipcrest $command: --width is 10, but must be from 20 to 2000 mm"
    run "$command" "$set" --picture a.gif
    equal "$command --picture a.gif: exit status" "$status" 2
    contains "$command --picture a.gif: what would be right" "$(cat err)" '.png, .svg or .pdf'
    run "$command" "$set" --picture nowhere/a.png
    equal "$command --picture nowhere/a.png: exit status" "$status" 1
done

# What the legend says of the names, and which way the average lash grows.
run draw "$examples/practice-head/equal.yaml" --view front -o legend.pdf
contains 'front: how many staggered tips are named and how many are not' "$(words legend.pdf)" \
    'stick out: 13 named, 35 not' # 48 in all, as check says; how many have room: earlier result
run draw "$examples/client/client.yaml" --view front -o legend.pdf
contains 'front of two eyes: each eye counts its staggered tips' "$(words legend.pdf)" '67 tips, 17 stick out'
run draw "$set" --view side -o side.pdf
# The mean pitch of the survey's 81 suitable lashes, -10.02, and of their yaw from that of their place,
# -0.31 degrees, summed from its cells.
contains 'side: a lash that grows down is said to' "$(words side.pdf)" 'grows 10° down, 0.3° inwards'
run step --picture step.pdf
contains 'step: from which layer the picture tells' "$(words step.pdf)" \
    'shorter than on the bottom layer, mm (top: both steps)'

run check "$set" --picture small.png --width 100 --dpi 127 --dark
equal 'check --width 100 --dpi 127 --dark: pixels' \
    "$status $(od -An -tu1 -j16 -N4 small.png | tr -s ' ')" '0  0 0 1 244'

# What the picture says is what the JSON has, in the digits of the picture.
run why "$set" --json why.json --picture why.pdf
"$python" - >expected <<'END'
import json
eye = json.load(open("why.json"))["eyes"][0]
print("%.2f" % eye["whole_rms_mm"])
for cause in eye["causes"].values() if isinstance(eye["causes"], dict) else eye["causes"]:
    print("%.2f" % cause["without_rms_mm"])
END
text=$(words why.pdf)
while read -r figure; do
    contains "why: the picture has $figure" "$text" "$figure"
done <expected
equal 'why: the whole and five causes at least' "$(awk 'END { print (NR >= 6) }' expected)" 1
contains 'why: the answer of the table' "$text" \
    'The rule (each layer 1 mm shorter) helps: 0.30 mm rms with it, 0.68 mm with equal lengths.'

# sides FILE.pdf: on which side of "helps" and "hurts" the numbers with a sign are, as a list of faults.
sides() {
    pdftotext -bbox "$1" box.html
    "$python" - <<'END'
import re
word = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="[\d.]+">([^<]*)</word>')
words = [(float(a), float(y), float(b), text) for a, y, b, text in word.findall(open("box.html").read())]
left, right = next((b, a) for _, y, b, text in words if text == "helps"
                   for a, level, _, other in words if other == "hurts" and abs(y - level) < 0.5)
number = re.compile(r"[+\u2212]\d\.\d\d+$")
found = [(a, b, text) for a, y, b, text in words if number.match(text)]
wrong = [text for a, b, text in found if (b > right if text[0] == "\u2212" else a < left)]
print(len(found) > 2, len({text[0] for a, b, text in found}), *wrong)
END
}
# said NAME SET: each cause in the picture of SET lies where the words of its table put it. Causes of a
# pair, which the words judge together, have a figure and no side.
said() {
    run why "$2" --picture said.pdf
    cp out said.txt
    pdftotext -bbox said.pdf box.html
    equal "why, $1: each bar is where the words put its cause" "$("$python" - <<'END'
import re
text = re.sub(r"\s+", " ", open("said.txt").read())
word = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>')
words = [(float(a), float(y + h) / 2, text) for a, y, h, text in
         ((a, float(y), float(h), t) for a, y, _, h, t in word.findall(open("box.html").read()))]
kinds = {}
for kind, found in re.findall(r"(Hurts|Hurts too|Helps|Changes little|No part): ([^:]*)\.", text):
    for name in re.sub(r"\([^)]*\)", "", found).split(","):
        kinds[name.strip().split(". ")[0]] = kind.split()[0]
for name in re.findall(r"can change, ([a-z ]+?) costs? most", text):
    kinds.setdefault(name, "Hurts")
if "Root heights and layer shortening" in text:
    kinds["root heights"] = kinds["layer shortening"] = "pair"
kinds.pop("lengths by layer", None)
wrong = []
for name, kind in kinds.items():
    first = name.split()[0].capitalize()
    # Rows are 6 mm (17 points) apart at least; a label is at most 2 mm below the name of its row.
    y = min(y for x, y, t in words if t == first and x < 200)
    row = [t for x, level, t in words if 200 < x < 440 and -2 < level - y < 9]
    signs = {t[0] for t in row if re.match(r"[+\u2212]?\d\.\d\d+$", t)} - {"0"}
    wanted = {"Hurts": [{"+"}], "Helps": [{"\u2212"}], "Changes": [{"+"}, {"\u2212"}, set()]}.get(kind, [set()])
    if signs not in wanted or ("part" in row) != (kind == "No"):
        wrong.append((name, kind, row))
print(len(kinds), *wrong)
END
)" "$3"
}

equal 'why: what takes away is on the side of "helps", what adds on that of "hurts"' \
    "$(sides why.pdf)" 'True 2'
# lower MM: the survey of the set with each layer MM less above the one below.
lower() {
    awk -F , -v OFS=, -v mm="$1" '/^#/ { next }
        !named++ { for (i = 1; i <= NF; i++) at[$i] = i; print; next }
        { layer = $at["layer"]; $at["height_mm"] -= mm * (layer == "top" ? 2 : layer == "middle"); print }
        ' "$examples/practice-head/survey.csv" >survey.csv
}
lower 0.7 # 0.3 mm apart, for which the rule shortens too much
cp "$set" low.yaml
run why low.yaml --picture low.pdf
equal 'why: the same where the rule hurts, and nothing helps' "$(sides low.pdf)" 'True 1'
contains 'why: and it says so' "$(words low.pdf)" 'The rule (each layer 1 mm shorter) hurts: '
said 'where the rule hurts' low.yaml 6
said 'where it helps' "$set" 6
said 'without a rule' "$examples/practice-head/equal.yaml" 6
lower 0.35
said 'where it changes little' low.yaml 6
contains 'why: which is so here' "$(cat out)" 'changes little: '
rm survey.csv

run step "$set" --picture step.pdf
text=$(words step.pdf)
for curl in J B C CC D DD L M; do
    contains "step: curl $curl" " $text " " $curl "
done
contains 'step: how a tip rises' "$text" 'root 1 mm higher'
contains 'step: from where what is left over shows' "$text" '0.3 mm from nearer than 34 cm' # 0.3 mm / tan 3'
sed 's/^tray: .*/tray: any/' "$set" >any.yaml
cp "$examples/practice-head/survey.csv" .
run step any.yaml --picture any.pdf
contains 'step: without a tray, level lengths' "$(words any.pdf)" \
    'no tray: level lengths in mm, nothing left over'
run step --picture bare.svg
equal 'step without a set draws too' "$status" 0
run step "$examples/client/client.yaml" --eye right --curl D --length 11 --picture one.pdf
equal 'step of one curl: exit status' "$status" 0
contains 'step of one curl: its name' " $(words one.pdf) " ' D '

# ---- The lesson and the profile

# Figures are those of the table of step, which tests/cli/step.sh holds against checks.
lesson=$examples/practice-head/layered.yaml
run step "$lesson"
contains 'the table has the figures' "$(cat out)" '0.30 mm rms off one line (equal: 0.68)'
run draw "$lesson" --view lesson -o lesson.pdf
text=$(words lesson.pdf)
contains 'lesson: both profiles by name' "$text" 'Equal: 12/12/12'
# By the table of step: 1.04 and 1.84 less, and 0.95 / 0.82 for a layer that roots 1.00 mm higher.
contains 'lesson: why, and what placement takes off' "$text" \
    'A root 1 mm higher raises the tip 0.95 mm; 1 mm less length lowers it 0.82 mm. The upper layers come level with 1.04 and 1.84 mm less.'
contains 'lesson: what that is made of' "$text" \
    'Level by height alone: 1.17 and 2.27 mm less; placement changes that by −0.13 and −0.43.'
contains 'lesson: the answer first, and the title below it' "$text" \
    '12/11/10 helps here: 0.30 mm rms, equal lengths 0.68 Left eye open, from the front: equal lengths and 1 mm less a layer · Practice head, 12/11/10'
contains 'lesson: of which lashes' "$text" 'over all 81 lashes'
contains 'lesson: when' "$text" 'It pays where layers root at least 0.64 mm apart; from 1.53 mm on, 2 mm less pays more.'
contains 'lesson: the couch' "$text" 'From the couch equal lengths look more even: equal 0.42, 1 mm less 0.57 mm rms.'
contains 'lesson: what a colour and its mark are, and the placement' "$text" 'top: under its lash'
run draw "$lesson" --view lesson --apart 0.3 -o lesson.pdf
contains 'lesson: close layers, where the rule harms' "$(words lesson.pdf)" \
    '12/11/10 hurts here: 0.67 mm rms, equal lengths 0.31'
run draw "$lesson" --view lesson --apart 0.65 -o lesson.pdf
contains 'lesson: layers at which the two choices are as good' "$(words lesson.pdf)" '12/11/10 changes little here: '
# Lashes drawn by chance, invented: a tray that lacks what would be more even, and too few to judge.
"$TIPCREST" begin -o lacks.yaml --tray 8,9,10,11,12 --curl CC --diameter 0.05 --lengths 8,9,10,11,9 --eyes left >/dev/null
picture_of() { # VIEW SET: the words of this picture
    if [ "$1" = step ]; then run step "$2" --picture one.pdf; else run draw "$2" --view "$1" -o one.pdf; fi
    words one.pdf
}
for view in lesson step; do
    contains "$view: the answer says that the tray lacks sizes" "$(picture_of $view lacks.yaml)" \
        '10/9/8 would help: 0.33 mm rms, equal 0.79; the tray lacks sizes '
done
"$TIPCREST" begin -o few.yaml --eyes left >/dev/null
sed -i 's/count: 96/count: 5/' few.yaml
for view in lesson step; do
    text=$(picture_of $view few.yaml)
    contains "$view: too few lashes to judge" "$text" 'Too few lashes to judge how even they are '
    equal "$view: and no figure that says how even" "$(echo "$text" | grep -c 'rms: \|by the viewer\|It pays\|best of')" 0
done
equal 'front: layers of too few tips have a dash, not none' "$(picture_of front few.yaml | grep -o 'none\|–' | sort | uniq -c | tr -s ' \n' ' ')" ' 6 – '
"$TIPCREST" begin -o two.yaml >/dev/null
contains 'front: the key of two eyes says how many tips it does not name' "$(picture_of front two.yaml)" \
    'stick out: 17 named, 12 not'
# One layer has nothing to level; two have profiles of two, and one number of each kind.
awk -F , -v OFS=, '/^#/ { print; next } !named++ { for (i = 1; i <= NF; i++) column[$i] = i; print; next }
    { $column["layer"] = "bottom"; print }' "$examples/practice-head/survey.csv" >one-layer.csv
sed 's/survey: survey.csv/survey: one-layer.csv/' "$lesson" >one-layer.yaml
run draw one-layer.yaml --view lesson -o lesson.pdf
text=$(words lesson.pdf)
contains 'lesson of one layer: no rule' "$text" 'One layer: a rule for layers has nothing to level'
equal 'lesson of one layer: no other layer' "$(printf '%s' "$text" | grep -cE 'middle:|top:|12/12')" 0
awk -F , -v OFS=, '/^#/ { print; next } !named++ { for (i = 1; i <= NF; i++) column[$i] = i; print; next }
    $column["layer"] != "top"' "$examples/practice-head/survey.csv" >two-layers.csv
sed 's/survey: survey.csv/survey: two-layers.csv/' "$lesson" >two-layers.yaml
run draw two-layers.yaml --view lesson -o lesson.pdf
text=$(words lesson.pdf)
contains 'lesson of two layers: their lengths' "$text" 'Equal: 12/12 '
contains 'lesson of two layers: what the middle one needs' "$text" \
    'The upper layer comes level with 1.04 mm less.'
equal 'lesson of two layers: no top layer' "$(printf '%s' "$text" | grep -c 'top: ')" 0
run step two-layers.yaml
contains 'step of two layers: what the middle one needs' "$(cat out)" 'Level at the pupil (C 12 mm): middle 1.04 mm less than bottom; 11 mm'
run draw "$lesson" --view side -o side.pdf
contains 'side: the layers of the set' "$(words side.pdf)" 'layers root 1.00 and 0.95 mm apart'
run draw "$lesson" --view side --apart 0.3 -o side.pdf
contains 'side: layers as asked' "$(words side.pdf)" 'layers root 0.30 and 0.30 mm apart'
run draw "$lesson" --view front --apart 0.3 -o front.pdf
equal 'front: no layers are asked' "$status $(cat err)" \
    '2 tipcrest draw: --apart is for --view side and --view lesson, not for --view front'

run draw "$lesson" --view lesson --viewer 30 -o lesson.pdf
equal 'lesson: its views are its own' "$status $(cat err)" \
    '2 tipcrest draw: --view lesson shows the open eye from the front and the couch; leave out --opening and --viewer'

# ---- What a picture says of itself

run draw "$examples/practice-head/equal.yaml" --view deviations -o deviations.pdf
said=$(words deviations.pdf | grep -o '[0-9]* of 48 tips that stick out are named')
# Each name stands before its number; so does the last id of each of three columns of the list.
names=$(words deviations.pdf | grep -oE '[abc][0-9][0-9] (\+|−)[0-9]\.[0-9]{2}' | grep -c .)
equal 'deviations: how many tips are named, of those beyond the tolerance' "${said%% *}" "$((names - 3))"
run draw "$lesson" --view compare --with "$examples/practice-head/equal.yaml" --viewer 30 -o compare.pdf
equal 'compare: from above it is not what everybody sees' "$(words compare.pdf | grep -c 'everybody')" 0
run draw "$lesson" --view artist -o artist.pdf
contains 'artist: what a dash stands for' "$(words artist.pdf)" 'bottom to top (–: none)'

# ---- Ctrl-C

tests=$TIPCREST_SOURCE/tests/cli
if has_terminal; then
    "$python" "$tests/interrupt.py" INT "$TIPCREST" draw "$set" --view film --frames 600 -o film.png 2>err
    equal 'a long film shows itself on a terminal, and an interrupt ends it' "$(tail -n 1 err)" \
        'exit status -2; terminal: drawing: N % done, N s; Ctrl-C ends it without a picture'
    equal 'and nothing is left of it' "$(find . -name 'film*' -o -name '.tipcrest-*')" ''
else
    skip 'a long film shows itself on a terminal' "$no_terminal"
fi

rm -rf "$work"
finish
