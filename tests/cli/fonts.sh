#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# A machine without fonts: every command that draws says so and changes no file; what draws nothing
# works as ever. fontconfig gets a configuration that knows no folder. Messages are the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
set=$TIPCREST_SOURCE/examples/practice-head/layered.yaml

if [ "$(no_pictures)" = 'built without pictures' ]; then
    skip 'pictures without a font' 'built without pictures'
    rm -rf "$work"
    finish
fi

printf '%s\n' '<?xml version="1.0"?>' '<!DOCTYPE fontconfig SYSTEM "fonts.dtd">' '<fontconfig/>' >fonts.conf
FONTCONFIG_FILE=$work/fonts.conf
export FONTCONFIG_FILE
says='no font found; install one, for instance fonts-dejavu-core'

# none FILE ARGUMENT...: fails for want of a font, leaves an older FILE as it was and adds no file.
none() {
    file=$1
    shift
    echo old >"$file"
    before=$(find . | sort)
    run "$@"
    equal "$1 ... $file: says what is missing" "$(cat err)" "tipcrest: $file: $says"
    equal "$1 ... $file: exits with 1 and prints nothing" "$status $(wc -c <out)" '1 0'
    equal "$1 ... $file: every file stays as it was" "$(cat "$file") $(find . | sort)" "old $before"
    rm "$file"
}

touch out err
for view in front artist side deviations layers why lesson; do
    none "$view.png" draw "$set" --view $view -o $view.png
done
for ending in svg pdf; do
    none "a.$ending" draw "$set" --view front -o a.$ending
done
none compare.png draw "$set" --view compare --with "$set" -o compare.png
none film.gif draw "$set" --view film --frames 2 -o film.gif
for command in check why step; do
    none $command.pdf $command "$set" --picture $command.pdf
done
none sheet.pdf plan "$set" --sheet sheet.pdf
none zones.pdf plan "$set" --sheet-zones zones.pdf

run draw "$set" --view film --frames 2 -o film.png
equal 'a film of pictures names the first' "$status $(cat err)" "1 tipcrest: film-01.png: $says"
equal 'and leaves none' "$(find . -name 'film*' -o -name '.tipcrest-*')" ''

# With a picture that fails, what stands beside it is not written either.
echo old >a.json
run check "$set" --json a.json --picture a.png
equal 'a report beside the picture stays as it was' "$status $(cat a.json)" '1 old'
equal 'and there is no picture' "$(find . -name a.png)" ''

# A study has run when its picture is drawn: its answer and its results stay.
if "$TIPCREST" study --help >out 2>err; then
    echo old >study.svg
    run study "$set" --vary layering.step_mm=0,1 --picture study.svg -o of-study
    equal 'study --picture: says what is missing, of the chart of its folder too' \
        "$(cat err)" "tipcrest: no of-study/chart.png: $says
tipcrest: study.svg: $says"
    equal 'study --picture: exits with 1, with the answer printed and the results in place' \
        "$status $(grep -c '^Best: ' out) $(wc -l <of-study/results.csv) $(cat study.svg)" '1 1 3 old'
    run study "$set" --vary layering.step_mm=0,1 -o alone
    equal 'a folder does without a chart, which is said' "$status $(cat err)" \
        "0 tipcrest: no alone/chart.png: $says"
fi

good check "$set" --json a.json
good plan "$set" -o planned.yaml
unset FONTCONFIG_FILE
rm -rf "$work"
finish
