#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# The edges of the command, with few and quick calls: small faults in cli/ are tried against this
# script (tests/mutants/cli.list). All data is invented; words are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

# set_of SURVEY: a set of one left eye.
set_of() {
    printf 'tipcrest: 1\ntitle: Small drill (invented)\neyes:\n  - side: left\n'
    printf '    lashes: {survey: %s}\n' "$1"
    echo '    map: [{to: 0.5, length_mm: 10, curl: C}, {to: 1, length_mm: 11, curl: C}]'
}
set_of small.csv >set.yaml
small_survey small.csv
sed 's/side: left/side: right/' set.yaml >right.yaml
cp set.yaml left.yaml
# Lashes that plan leaves bare or keeps, each for a reason of its own.
set_of some.csv >some.yaml
awk 'BEGIN {
    print "id,u,layer,length_mm,yaw_deg,condition,ext_length_mm"
    for (i = 10; i < 90; i += 2) {
        cells = "8,0,,"
        if (i == 20) cells = "8,0,stray,"
        if (i == 30) cells = "3,0,,"
        if (i == 40) cells = "8,70,,"
        if (i == 50) cells = "1.2,0,,"
        if (i == 60) cells = "8,0,,14"
        if (i == 70) cells = "8,0,,none"
        print "n" i ",0." i ",bottom," cells
    }
}' >some.csv

lacking=$(no_pictures)

# ---- The command itself ----

wrong "a command is missing; $TIPCREST --help lists them"
wrong 'there is no command "chek"; perhaps check was meant' chek
wrong "there is no command \"xyzzy\"; $TIPCREST --help lists them" help xyzzy
for first in --version --help -h; do
    wrong "$first takes no argument; \"x\" is one too many" $first x
done
wrong 'help takes one command, and "x" is one too many' help check x
wrong "a command comes first, not \"-x\"; $TIPCREST --help lists them" -x
mkdir 'a b'
ln -s "$TIPCREST" 'a b/tip'
equal 'a name with a blank is quoted where it is to be typed' "$('a b/tip' 2>&1)" \
    "tipcrest: a command is missing; 'a b/tip' --help lists them"
ln -s "$TIPCREST" "a b/it's"
mkdir bin
for name in -tip "$(printf 'a\001')"; do
    ln -s "$TIPCREST" "bin/$name"
done
# shellcheck disable=SC2215 # it is the name of a program
equal 'nor is one like an option' "$(PATH=$PWD/bin:$PATH && -tip 2>&1)" \
    'tipcrest: a command is missing; tipcrest --help lists them'
equal 'nor one that no terminal shows' "$("bin/$(printf 'a\001')" 2>&1)" \
    'tipcrest: a command is missing; tipcrest --help lists them'
far=$(printf %0200d 0)/$(printf %0200d 1)
mkdir -p "$far"
ln -s "$TIPCREST" "$far/tip"
equal 'nor one that fills lines' "$("$far/tip" 2>&1)" \
    'tipcrest: a command is missing; tipcrest --help lists them'
equal 'a name that cannot be quoted is left out' "$("a b/it's" 2>&1)" \
    'tipcrest: a command is missing; tipcrest --help lists them'

# ---- Help ----

good --help
equal 'the help names the command without its folders' "$(tail -n 2 out)" \
    "  $(basename "$TIPCREST") help COMMAND   all options of a command
  $(basename "$TIPCREST") --version      the version"
good help draw
equal 'what a call needs comes first' "$(head -n 1 out)" \
    'usage: tipcrest draw SET --view VIEW -o FILE [--width MM] [--dpi N] [--dark]'
for on in begin plan; do
    good help $on
    equal "help $on is as wide as a terminal and no wider" \
        "$(awk '{ n = length > n ? length : n } END { print (n > 76 && n <= 80) }' out)" 1
done

# ---- Words of a call ----

bad '--full is given twice' check set.yaml --full --full
bad '--seen-from is 5701, but must be from 60 to 5700 mm' check set.yaml --seen-from 5701
bad '--seen-from is 59, but must be from 60 to 5700 mm' check set.yaml --seen-from 59
bad '--digits is 0, but must be from 1 to 17' check set.yaml --digits 0
bad '--digits is 2.5, but must be a whole number from 1 to 17' check set.yaml --digits 2.5
bad '--json needs a value, and "--dark" looks like an option; if it is the value, write --json=--dark' \
    check set.yaml --json --dark
bad '-o needs a value, and "-d" looks like an option; for a file of that name write ./-d' plan set.yaml -o -d
equal 'nothing is written' "$(find . -name '*-d*')" ''
bad 'the name of the set file is empty; leave it out, or give one' step ''
bad 'one set file is enough; "right.yaml" is one too many' step set.yaml right.yaml
bad '--free takes its value behind =; write --free=2' plan set.yaml --free 2
bad '"–json" begins with a long dash; write it with two hyphens, --json' check set.yaml –json
bad '"—o" begins with a long dash; write it with a hyphen, -o' begin —o a.yaml
bad '--layers is "12/11"; it is B/M/T, 3 values' begin -o a.yaml --layers 12/11
bad '--layers has more than 3 values' begin -o a.yaml --layers 12/11/10/9
bad '--tray is "9,5;10"; separate its values by commas, with a point in a number: 9.5,10' \
    begin -o a.yaml --tray '9,5;10'
half='; commas separate the lengths, so write half a millimetre with a point: 9.5'
few='--lengths: in a zone of 5 mm the middle layer would get 4 mm, less than any of the tray; give that zone at least 7 mm, or layers that differ less'
bad "$few$half" begin -o a.yaml --lengths 9,5
bad "$few$half" begin -o a.yaml --lengths 9,5,11
bad "$few" begin -o a.yaml --lengths 5,9
bad '--look and --lengths both give the map; leave one of them out' \
    begin -o a.yaml --look cat --lengths 9,10
bad '--curls has "Q"; each is J, B, C, CC, D, DD, L or M' plan set.yaml --curls C,Q
for mark in / ';' - ' '; do
    bad "--curls is \"C${mark}D\"; separate its values by commas: C,D" plan set.yaml --curls "C${mark}D"
done
bad '--curls has "C/Q"; each is J, B, C, CC, D, DD, L or M' plan set.yaml --curls C/Q
bad '--curls has more than 16 values' plan set.yaml --curls C,C,C,C,C,C,C,C,C,C,C,C,C,C,C,C,C
good plan set.yaml --curls 'C , D'
bad '--eye is right, and set.yaml has no such eye' step set.yaml --eye right
bad '--longest is 30, which the tray lacks; the nearest that it has is 20' plan set.yaml --look cat --longest 30
# Any length is at hand, and the rule asks for one that no extension has.
printf 'id,u,layer,length_mm\na01,0.2,bottom,8\na02,0.3,top,8\n' >short.csv
cat >short.yaml <<'END'
tipcrest: 1
tray: any
layering: {step_mm: 1.5}
eyes:
  - side: left
    lashes: {survey: short.csv}
    map: [{to: 1, length_mm: 4, curl: C}]
END
run check short.yaml
equal 'a length by the rule that no extension has' "$status $(cat err)" \
    '2 tipcrest: short.yaml:7:11: lash "a02" on the top layer of this zone would get 1 mm, its mapped length less 2 steps of 1.5 mm, and an extension has 3 mm at least; give the zone 6 mm or more, or change step_mm, or fix a length for this layer of the zone, such as top: {length_mm: 3}'

# ---- What calls do ----

for eyes in left right both; do
    good begin -o eyes-$eyes.yaml --eyes $eyes
    equal "begin --eyes $eyes has them" \
        "$(sed -n 's/^  - side: \([a-z]*\) .*/\1/p' eyes-$eyes.yaml | sort | tr '\n' ' ')" \
        "$(echo $eyes | sed 's/both/left right/') "
done
contains 'begin says what to do next' "$(cat out)" "  $TIPCREST check eyes-both.yaml"
good check set.yaml --json - --csv a.csv
equal 'a report to standard output stands there alone' "$(head -n 1 out) $(tail -n 1 out)" '{ }'
equal 'its sides are those of the set' "$(sed -n '2,$s/,.*//p' a.csv | sort -u)" left

# The limits of the set: at 1 mm beyond its lash no extension of the set is within them.
echo 'plan: {overlength_mm: 1}' | cat set.yaml - >strict.yaml
for limits in set strict; do
    run check $limits.yaml --full
    cp out $limits.txt
done
equal 'check counts by the limits of the set' "$(cmp -s set.txt strict.txt || echo differs)" differs

mkdir one other reports
set_of a.csv >one/Ann.yaml
set_of a.csv >other/ann.yaml
small_survey one/a.csv
small_survey other/a.csv
good check one/Ann.yaml other/ann.yaml --reports reports
equal 'names that differ in capitals alone are told apart' \
    "$(cd reports && echo *)" 'Ann.csv Ann.json Ann.txt ann-2.csv ann-2.json ann-2.txt'

good check set.yaml --opening 0.5 --viewer 20
contains 'the view of a call goes before that of the set' "$(cat out)" 'left eye: eye 50 % open, from 20° above'
good check set.yaml --against intended
contains 'the line of a call' "$(cat out)" "typical distance from the map's line"
sed 's/^title:/foo: 1\n&/' set.yaml >foo.yaml
run check foo.yaml
contains 'a message begins with file, line and column' "$status $(cat err)" '2 tipcrest: foo.yaml:2:1: key "foo" '
for on in check why step plan; do
    good $on set.yaml --csv - --decimal comma --digits 1
    equal "$on has decimal commas and one digit" \
        "$(grep -c ';' out) $(grep -c '[.]' out) $(grep -c ',[0-9]*[1-9][0-9]' out)" "$(wc -l <out) 0 0"
done

# Names without an ending, with nothing else, and as long as a file's may be.
long=$(printf %0250d 0)
rm reports/*
for name in plain .yaml "$long"; do
    cp one/Ann.yaml "one/$name"
done
good check one/plain one/.yaml "one/$long" --reports reports
equal 'reports are named by what stands before the ending, if anything does' \
    "$(cd reports && for file in *.csv .*.csv; do echo "$file"; done)" \
    "$(printf %0240d 0).csv
plain.csv
.yaml.csv"
bad '--reports: the name of the folder is too long' \
    check set.yaml --reports "$(printf %04090d 0)"
run check set.yaml --reports reports --full
equal 'one set with reports may have its full table' "$status $(cat err)" '0 '
printf 'id,u,layer,length_mm\na,0.3,bottom,8\na,0.5,bottom,8\n' >twice.csv
set_of twice.csv >twice.yaml
run check twice.yaml
contains 'an id that is there twice is told with its row' "$status $(cat err)" '2 tipcrest: twice.csv:3'

# ---- plan ----

written='this file was not written by plan, or was changed since; choose another name or folder, or move it away'
for name in planned.yaml planned-left.csv; do
    echo mine >$name
    wrong "$name: $written" plan some.yaml -o planned.yaml
    equal "$name stays" "$(cat $name)" mine
    rm $name
done
good plan some.yaml -o planned.yaml
# note ID: the last cell of a row of the planned survey.
note() { sed -n "s/^$1,.*,//p" planned-left.csv; }
equal 'a note says why a lash is bare or keeps what it has' \
    "$(for id in n20 n30 n40 n50 n60 n70; do echo "$id $(note $id)"; done)" \
    'n20 left bare: its condition
n30 left bare: short or thin
n40 left bare: astray
n50 left bare: too short for the bond
n60 as its row gives it
n70 left bare: its row says none'

# planned OPTION...: what JSON says of a plan of the set with these options.
planned() {
    rm -f plan.json
    run plan set.yaml --json plan.json "$@"
    for name in least free_mm lashes samples_wanted corrections; do
        echo "$name $(member $name plan.json | head -n 1)"
    done
}
equal 'a plan with the usual options' "$(planned)" 'least "rms"
free_mm 0
lashes 10
samples_wanted 0
corrections 0'
# The share of 13 lashes is rounded up: 0.8 * 13 = 10.4.
equal 'a plan with others' "$(planned --least max --free=0.5 --share 0.8)" 'least "max"
free_mm 0.5
lashes 11
samples_wanted 0
corrections 0'
equal 'and over samples, with a line that is free by 1 mm' "$(planned --free --samples 7)" 'least "rms"
free_mm 1
lashes 10
samples_wanted 7
corrections 0'
bad '--samples, --least max and --free do not go together; leave out one of them' \
    plan set.yaml --samples 7 --least max --free
echo 'plan: {baby_below_mm: 9}' | cat some.yaml - >babies.yaml
run plan babies.yaml
equal 'a plan that no choice can meet is work that failed' "$status $(wc -l <err)" '1 1'

# ---- Pictures ----

# pixels FILE: how many a row of a GIF or PNG has.
pixels() {
    case $1 in
    *.gif) od -An -tu1 -j6 -N2 "$1" | awk '{ print $1 + 256 * $2 }' ;;
    *) od -An -tu1 -j18 -N2 "$1" | awk '{ print 256 * $1 + $2 }' ;;
    esac
}

# strokes FILE: what an SVG picture draws by lines: everything but text and areas.
strokes() { grep 'stroke:rgb' "$1"; }

if [ -n "$lacking" ]; then
    skip 'pictures' "$lacking"
else
    for frames in 12 100; do
        good draw set.yaml --view film --frames $frames --width 20 --dpi 10 -o film.png
        equal "$frames frames" "$(for file in film-*; do echo "$file"; done | sed -n '1p;$p' | tr '\n' ' ')" \
            "$(case $frames in 100) echo film-001.png ;; *) echo film-01.png ;; esac) film-$(
                printf %02d $frames).png "
        rm film-*
    done
    # 40 mm at 80 points an inch, and at 160: 40 / 25.4 * 80 = 125.98 and 251.97.
    good draw set.yaml --view film --frames 2 --width 40 -o film.gif
    equal 'a film to send has 80 pixels an inch' "$(pixels film.gif)" 126
    good draw set.yaml --view front --width 40 -o front.png
    equal 'a picture has 160' "$(pixels front.png)" 252

    # Beyond the tolerance lie more tips when the viewer comes near, so marks follow it, and nothing
    # else that is drawn by lines does.
    for near in 60 5700; do
        good draw some.yaml --view front --seen-from $near -o marks-$near.svg
        good draw some.yaml --view front --seen-from $near -o plain-$near.svg --plain
    done
    equal '--plain draws no marks' "$(strokes plain-60.svg)" "$(strokes plain-5700.svg)"
    equal 'they are there without it' \
        "$(($(strokes marks-60.svg | wc -l) > $(strokes marks-5700.svg | wc -l)))" 1

    # A comparison has the names of its sets where their titles are the same.
    mkdir before after later
    for folder in before after later; do
        cp set.yaml small.csv $folder
    done
    for folder in after later; do
        good draw before/set.yaml --view compare --with $folder/set.yaml -o $folder.svg
    done
    equal 'sets of one file name are told apart by their folders' \
        "$(cmp -s after.svg later.svg || echo differ)" differ

    for pair in 'left right' 'right left'; do
        run draw "${pair% *}.yaml" --view compare --with "${pair#* }.yaml" -o none.png
        equal "sets of a ${pair% *} and a ${pair#* } eye have nothing to compare" "$status $(cat err)" \
            "2 tipcrest draw: ${pair% *}.yaml has only a ${pair% *} eye and ${pair#* }.yaml only a ${pair#* } eye; a comparison needs the same eye in both"
    done
    bad 'set.yaml has no right eye; leave out --eye, or give the other side' \
        draw set.yaml --view front --eye right -o none.png
    ln -s /dev/full full.png
    run draw set.yaml --view front -o full.png --width 20 --dpi 10
    equal 'a picture for which there is no room is told' "$status $(cat err)" \
        '1 tipcrest: full.png: cannot be written: the disk is full'

    good step right.yaml --picture right.svg
    good step right.yaml --picture same.svg --eye right
    equal 'the picture of step is of the first eye of its set' "$(cmp right.svg same.svg)" ''
    good step set.yaml --picture near.svg --apart 0.5
    good step set.yaml --picture far.svg --apart 1.5
    equal 'and of layers as far apart as the call says' \
        "$(cmp -s near.svg far.svg || echo differ)" differ
fi

cd /
rm -rf "$work"
finish
