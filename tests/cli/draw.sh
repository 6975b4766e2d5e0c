#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest draw from outside: what it says to wrong calls, what fails, and that files appear whole or
# not at all. What is in the pictures is for tests/draw. All data is invented; words are the command's.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

cat >set.yaml <<'END'
tipcrest: 1
title: Small drill (invented)
eyes:
  - {side: left, lashes: {survey: small.csv}, map: [{to: 1, length_mm: 10, curl: C}]}
END
sed 's/side: left/side: right/' set.yaml >right.yaml
printf 'id,u,layer,length_mm\na,0.3,bottom,8\nb,0.5,middle,8\nc,0.7,top,8\n' >small.csv

lacking=$(no_pictures)
if [ "$lacking" = 'built without pictures' ]; then
    run draw set.yaml --view front -o probe.png
    equal 'without pictures, draw says so and fails' "$status" 1
elif [ -n "$lacking" ]; then
    skip 'draw' "$lacking"
fi
if [ -n "$lacking" ]; then
    rm -rf "$work"
    finish
fi

# Everything in the folder but what run leaves, with its contents.
state() { find . -type f ! -name out ! -name err -exec cksum {} + | sort; }

# bad MESSAGE ARGUMENT...: a wrong call of draw set.yaml says just this, exits with 2, prints nothing
# and leaves no file.
bad() {
    message=$1
    shift
    before=$(state)
    run draw set.yaml "$@"
    equal "draw $*: says what is wrong and what would be right" "$(cat err)" "tipcrest draw: $message"
    equal "draw $*: exits with 2 and prints nothing" "$status $(wc -c <out)" '2 0'
    equal "draw $*: leaves no file" "$(state)" "$before"
}

# fails MESSAGE ARGUMENT...: work that fails says just this, exits with 1 and changes no file.
fails() {
    message=$1
    shift
    before=$(state)
    run draw set.yaml "$@"
    equal "draw $*: says why it failed" "$(cat err)" "tipcrest: $message"
    equal "draw $*: exits with 1 and prints nothing" "$status $(wc -c <out)" '1 0'
    equal "draw $*: every file stays as it was" "$(state)" "$before"
}

# draws ARGUMENT...: exits with 0 and says nothing.
draws() {
    run draw "$@"
    equal "draw $*: exits with 0 and says nothing" "$status$(cat out err)" 0
}

# ---- Help

run draw --help
equal 'draw --help exits with 0' "$status$(cat err)" 0
contains 'it shows how to call' "$(cat out)" 'usage: tipcrest draw SET --view VIEW -o FILE'
equal 'it is at most 80 columns wide' "$(grep -c '.\{81\}' out)" 0
for view in front artist side deviations layers compare film; do
    equal "it lists the view $view" "$(grep -c "^  $view  " out)" 1
done
for option in --eye --dark --width --dpi --opening --viewer --against --plain --from-head --at --with --frames; do
    equal "it tells what $option does" "$(grep -c "^  $option " out)" 1
done
listed=$(sed -n 's/^  \([a-z]\{2,\}\)  .*/\1/p' out | tr '\n' ' ' | sed 's/ $//')
cp out help
run help draw
equal 'help draw is draw --help' "$(cat out)" "$(cat help)"
rm help

# ---- Wrong calls

# As the help lists them: "a, b or c".
views=$(echo "$listed" | sed 's/ /, /g; s/\(.*\), /\1 or /')
ends='the name of the file must end in .png, .svg, .pdf or .gif'
bad '--seen-from sets the tolerance, of which --view side shows nothing; leave it out' --view side -o a.png --seen-from 400
bad '--seen-from sets the tolerance, of which --view artist shows nothing; leave it out' --view artist -o a.png --seen-from 400
for view in '--viewer 5' '--opening 0.5'; do
    # shellcheck disable=SC2086 # two words
    bad '--view lesson shows the open eye from the front and the couch; leave out --opening and --viewer' \
        --view lesson -o a.png $view
done
bad '--view is "frnt"; perhaps front was meant' --view frnt -o a.png
bad "--view is \"zzz\"; it is $views" --view zzz -o a.png
bad '--view has an empty value; '"$TIPCREST"' help draw says what it needs' --view '' -o a.png
bad '-o has an empty value; '"$TIPCREST"' help draw says what it needs' --view front -o ''
bad '--width has an empty value; '"$TIPCREST"' help draw says what it needs' --view front -o a.png --width ''
bad "--view is missing; it is $views" -o a.png
bad '-o FILE is missing; '"$TIPCREST"' help draw says what it is' --view front
for name in a.jpg a a.png.txt .png png set.yaml -; do
    bad "-o is \"$name\"; $ends" --view front -o "$name"
done
for width in 0 19.9 2000.1 -254 1e9; do
    bad "--width is $width, but must be from 20 to 2000 mm" --view front -o a.png --width "$width"
done
for width in nan inf wide 254mm; do
    bad "--width is \"$width\", but must be a number from 20 to 2000 mm" \
        --view front -o a.png --width "$width"
done
bad '--width is "25,4", but needs a decimal point: 25.4' --view front -o a.png --width 25,4
for dpi in 0 9.9 1201 1e9 -160; do
    bad "--dpi is $dpi, but must be from 10 to 1200" \
        --view front -o a.png --dpi "$dpi"
done
# 12000 pixels on 2000 mm are 12000 * 25.4 / 2000 = 152.4 points an inch (closed form).
bad 'a PNG has at most 12000 pixels in a row; at this width --dpi is at most 152' \
    --view front -o a.png --width 2000 --dpi 1200
bad '--dpi is for a file that ends in .png or .gif; "a.pdf" has no pixels' --view front -o a.pdf --dpi 100
bad '--eye is "both"; it is left or right' --view front -o a.png --eye both
bad 'set.yaml has no right eye; leave out --eye, or give the other side' --view front -o a.png --eye right
bad '--opening is 1.01, but must be from 0 to 1' \
    --view front -o a.png --opening 1.01
bad '--viewer is 81, but must be from -80 to 80 degrees' --view front -o a.png --viewer 81
bad '--against is "both"; it is fitted or intended' --view front -o a.png --against both
bad '--at is 1, but must be from 0.02 to 0.98' \
    --view side -o a.png --at 1
bad '--at is for --view side, not for --view front' --view front -o a.png --at 0.5
bad '--plain is for --view front, not for --view side' --view side -o a.png --plain
bad '--from-head is for --view artist, not for --view front' --view front -o a.png --from-head
bad '--with is for --view compare, not for --view front' --view front -o a.png --with set.yaml
bad '--frames is for --view film, not for --view front' --view front -o a.png --frames 3
bad '--view compare needs a second set to compare with: --with SET2' --view compare -o a.png
for frames in 1 601; do
    bad "--frames is $frames, but must be from 2 to 600" --view film -o a.png --frames "$frames"
done
bad '--frames is 2.5, but must be a whole number from 2 to 600' --view film -o a.png --frames 2.5
for frames in nan many; do
    bad "--frames is \"$frames\", but must be a whole number from 2 to 600" \
        --view film -o a.png --frames "$frames"
done
bad '--view film opens the eye from 0 to 1; leave out --opening' --view film -o a.png --opening 1
for name in a.svg a.pdf; do
    bad "-o is \"$name\"; a film needs a name that ends in .gif or .png" --view film -o $name
done
bad '-o is "a.gif"; only a film is a GIF; the view front needs a name that ends in .png, .svg or .pdf' \
    --view front -o a.gif
bad 'there is no option "--wdth"; perhaps --width was meant' --view front -o a.png --wdth 3
bad 'one set file is enough; "more.yaml" is one too many' --view front -o a.png more.yaml
bad '--dpi needs a value; '"$TIPCREST"' help draw says which' --view front -o a.png --dpi
before=$(state)
run draw
equal 'draw alone: asks for a set file, exits with 2' "$status $(cat err)" \
    '2 tipcrest draw: a set file is missing: '"$TIPCREST"' draw SET'
run draw set.yaml --view compare --with right.yaml -o a.png
equal 'compare of a left with a right eye exits with 2, or says that it failed' \
    "$((status > 0)) $(wc -l <err)" '1 1'
equal 'and leaves no file' "$(state)" "$before"

# ---- Work that fails

fails 'nowhere/a.png: cannot be opened for writing: there is no such folder' \
    --view front -o nowhere/a.png
mkdir taken.png
fails 'taken.png: cannot be opened for writing: it is a folder; give the name of a file' \
    --view front -o taken.png
for ending in png svg pdf; do
    ln -s /dev/full "full.$ending"
    fails "full.$ending: cannot be written: the disk is full" --view side -o "full.$ending"
    equal "full.$ending is still what it was" "$(readlink "full.$ending")" /dev/full
done
run draw nosuch.yaml --view front -o a.png
equal 'a set that is missing is told' "$status $(cat err)" \
    '1 tipcrest: nosuch.yaml: cannot be opened: there is no such file'
run draw set.yaml --view compare --with nosuch.yaml -o a.png
equal 'a second set that is missing is told' "$status $(cat err)" \
    '1 tipcrest: nosuch.yaml: cannot be opened: there is no such file'

# A film of which one frame cannot be written: the others, old and new, are left alone.
echo old >reel-1.png
mkdir reel-02.png
echo old >reel-01.png
fails 'reel-02.png: cannot be opened for writing: it is a folder; give the name of a file' \
    --view film --frames 3 -o reel.png
equal 'an older frame stays as it was' "$(cat reel-01.png)" old
rmdir reel-02.png
draws set.yaml --view film --frames 3 -o reel.png --dpi 20
equal 'a film as a whole takes the place of older frames' \
    "$(echo reel-??.png) $(head -c 4 reel-01.png | tail -c 3)" \
    'reel-01.png reel-02.png reel-03.png PNG'

# The system's limit on open files: 40 frames where 30 files may be open at once.
status=0
(
    # shellcheck disable=SC3045 # what has no such limit writes them all the same
    ulimit -n 30 2>/dev/null
    exec "$TIPCREST" draw set.yaml --view film --frames 40 -o long.png --dpi 10 2>err
) || status=$?
equal 'a film of more frames than files may be open is written' \
    "$status $(cat err)$(find . -name 'long-??.png' | wc -l) $(find . -name '.tipcrest-*' | wc -l)" '0 40 0'
rm -f long-??.png

# A limit on a file's size stands for a disk that fills up half way.
for ending in png svg pdf; do
    echo old >"old.$ending"
    before=$(state)
    status=0
    (
        trap '' XFSZ
        ulimit -f 8
        exec "$TIPCREST" draw set.yaml --view front -o "old.$ending" 2>err
    ) || status=$?
    equal "a $ending that becomes too large for the disk exits with 1" "$status" 1
    contains "a $ending that becomes too large for the disk is told" "$(cat err)" \
        "old.$ending: cannot be written"
    equal "the older $ending stays as it was, and nothing lies beside it" "$(state)" "$before"
done

# ---- Calls that do their work

for view in front artist side deviations layers lesson; do
    draws set.yaml --view $view -o "$view.png" --dpi 40
    equal "$view.png begins as a PNG does" "$(head -c 4 $view.png | tail -c 3)" PNG
done
draws set.yaml --view compare --with set.yaml -o same.svg
# Too few tips for a line, or none at all.
for many in 0 1 2; do
    awk -F, -v OFS=, -v many=$many 'NR == 1 { print $0, "condition"; next }
        { print $0, NR - 1 <= many ? "suitable" : "baby" }' small.csv >few.csv
    sed 's/small.csv/few.csv/' set.yaml >few.yaml
    for view in front artist side deviations layers why lesson; do
        draws few.yaml --view $view -o few.pdf
        if [ $view != side ] && [ $view != lesson ] && command -v pdftotext >/dev/null; then
            contains "$many of 3 lashes carry an extension: $view tells that there is no line" \
                "$(pdftotext few.pdf - | tr -s ' \n' '  ')" 'fewer than three tips'
        fi
    done
    draws few.yaml --view compare --with set.yaml -o few.png --dpi 40
done
rm -f few.*
# What was assumed stands at the foot, in fewer words where there is no room for all.
if command -v pdftotext >/dev/null; then
    foot() {
        draws "$1" --view front -o foot.pdf
        pdftotext foot.pdf - | grep Assumed
    }
    equal 'what was assumed stands at the foot' "$(foot set.yaml | tail -n 1)" \
        'Assumed where not given: height, pitch, yaw, roll, turn, root diameter, tip diameter (3 lashes), 9 of 9 measures of the lid'
    printf '%s\n' id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg,roll_deg,turn_deg,root_diameter_mm \
        a,0.3,bottom,8,0,0,,0,,0.1 b,0.5,middle,8,,0,,,60,0.1 c,0.7,top,8,,,0,,,0.1 >uneven.csv
    sed 's/small.csv/uneven.csv/' set.yaml >uneven.yaml
    equal 'in fewer words where there is no room' "$(foot uneven.yaml | tail -n 1)" \
        'Assumed: 6 measures of lashes, 9 of 9 measures of the lid; check lists them'
    sed 's/small.csv/&, drawn: true/' set.yaml >drawn.yaml
    contains 'that lashes are drawn by chance stands before it' "$(foot drawn.yaml | tail -n 1)" \
        '3 lashes drawn by chance, not measured. Assumed'
    rm -f foot.pdf uneven.* drawn.yaml
fi
# What is told apart by what: the text of the picture, blanks made one.
if command -v pdftotext >/dev/null; then
    told() {
        draws "$1" --view compare --with "$2" -o told.pdf
        pdftotext -layout told.pdf - | grep Before: | sed 's/^ *//; s/  *$//; s/   */ | /'
    }
    mkdir other
    cp set.yaml more.yaml
    cp set.yaml small.csv other
    sed 's/^title.*/title: Another drill/' set.yaml >another.yaml
    sed '/^title/d' set.yaml >untitled.yaml
    title='Small drill (invented)'
    equal 'sets of one title are told apart by their files' "$(told set.yaml more.yaml | tail -n 1)" \
        "Before: set.yaml | After: more.yaml"
    equal 'files of one name by their folders' "$(told set.yaml other/set.yaml | tail -n 1)" \
        "Before: set.yaml | After: other/set.yaml"
    equal 'a set without a title has the name of its file' \
        "$(told ./set.yaml untitled.yaml | tail -n 1)" \
        "Before: set.yaml · $title | After: untitled.yaml"
    equal 'titles that differ need no names' "$(told set.yaml another.yaml | tail -n 1)" \
        "Before: $title | After: Another drill"
else
    skip 'sets are told apart' 'there is no pdftotext'
fi
# Views of one eye show the eye that step answers for.
if command -v pdftotext >/dev/null; then
    cp set.yaml left.yaml
    for first in left right; do
        second=right
        if [ $first = right ]; then
            second=left
        fi
        awk '!/^(tipcrest|title|eyes)/ || !seen[$1]++' $first.yaml $second.yaml >both.yaml
        run step both.yaml
        answered=$(grep -o "$first eye" out | head -n 1)
        equal "step answers for the $first eye where it comes first" "$answered" "$first eye"
        for view in side lesson; do
            draws both.yaml --view $view -o one.pdf
            equal "$view shows the $first eye where it comes first" \
                "$(pdftotext one.pdf - | grep -ow 'Left eye\|Right eye' | tr '[:upper:]' '[:lower:]')" "$first eye"
        done
    done
    draws both.yaml --view side --eye left -o one.pdf
    equal 'or the one that is asked for' "$(pdftotext one.pdf - | grep -ow 'Left eye\|Right eye')" 'Left eye'
    draws both.yaml --view compare --with set.yaml -o one.pdf
    draws both.yaml --view compare --with both.yaml -o two.pdf
    for eyes in one two; do
        equal "compare, $eyes: its legend names the layers" \
            "$(pdftotext $eyes.pdf - | grep -ow 'top\|middle\|bottom' | sort -u | tr '\n' ' ')" 'bottom middle top '
    done
else
    skip 'views of one eye' 'there is no pdftotext'
fi
draws set.yaml --view front -o UPPER.PDF
equal 'the ending counts in capitals too' "$(head -c 5 UPPER.PDF)" '%PDF-'
echo old >front.svg
draws set.yaml --view front -o front.svg
equal 'an older file is replaced' "$(head -c 5 front.svg)" '<?xml'
draws set.yaml --view front -o twice.pdf --opening 0.25 --viewer=-30 --eye left --dark --plain
cp twice.pdf first.pdf
draws --dark --plain -o twice.pdf --view=front --eye=left --viewer -30 --opening=0.25 set.yaml
equal 'the order of options does not matter' "$(cksum <twice.pdf)" "$(cksum <first.pdf)"
before=$(cksum set.yaml small.csv)
ln -s set.yaml link.svg
run draw set.yaml --view front -o link.svg
equal 'a picture never takes the place of its own set' "$((status > 0)) $(cksum set.yaml small.csv)" \
    "1 $before"
mkfifo pipe.svg
cat pipe.svg >through &
reader=$!
draws set.yaml --view side -o pipe.svg
wait "$reader"
draws set.yaml --view side -o plain.svg
equal 'a pipe gets the same bytes as a file' "$(cksum <through)" "$(cksum <plain.svg)"
equal 'and is still a pipe' "$(test -p pipe.svg && echo pipe)" pipe

rm -rf "$work"
finish
