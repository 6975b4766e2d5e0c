#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# tipcrest check of many sets: the ranking, their reports in a folder, sets that fail, and options that
# are for one set. All data is invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

mkdir class again reports
make_set() { # FILE LENGTH: one zone, every third lash of its survey wears LENGTH
    {
        echo id,u,layer,length_mm,ext_length_mm
        i=10
        while [ "$i" -lt 90 ]; do
            echo "n$i,0.$i,bottom,8.$((i % 4)),$([ $((i % 3)) -eq 0 ] && echo "$2")"
            i=$((i + 2))
        done
    } >"${1%.yaml}.csv"
    printf 'tipcrest: 1\neyes:\n  - {side: left, lashes: {survey: %s}, map: [{to: 1, length_mm: 10, curl: C}]}\n' \
        "$(basename "${1%.yaml}.csv")" >"$1"
}
make_set class/ann.yaml 12
make_set class/ben.yaml 10
make_set again/ann.yaml 11

# ranks: the names of the last ranking, in their order.
ranks() { sed -n 's/^ *[0-9-][0-9]* .* \([^ ]*\)$/\1/p' out | tr '\n' ' '; }
# names FOLDER: what lies in it.
names() { (cd "$1" && find . -type f | sed 's,^\./,,' | LC_ALL=C sort | tr '\n' ' '); }

# ---- The ranking

good check class/ann.yaml class/ben.yaml again/ann.yaml
equal 'the most even set comes first' "$(ranks)" 'class/ben.yaml again/ann.yaml class/ann.yaml '
equal 'each set has a line, beside two of heading, the columns and the cautions' "$(wc -l <out)" 7
contains 'by what it ranks is said' "$(joined)" \
    "Sets by evenness, the most even first rms: a tip's typical distance from the fitted line"
sed 's/side: left,/& lid: {mrd1_mm: 0.35},/; s/ben.csv/class\/&/' class/ben.yaml >shut.yaml
good check class/ann.yaml shut.yaml
contains 'a doubt names the set that it is about' "$(joined)" \
    'Doubt, shut.yaml, left eye: mrd1 is 0.35 mm, a lid that hardly opens; in centimetres?'
equal 'and only of that set' "$(grep -c '^Doubt' out)" 1
good check class/ann.yaml class/ben.yaml again/ann.yaml
cp out ranking
good check class/ann.yaml class/ben.yaml again/ann.yaml --reports reports
equal 'the ranking is the same beside reports' "$(cat out)" "$(cat ranking)"
equal 'each set has its reports, by names of their own' "$(names reports)" \
    'ann-2.csv ann-2.json ann-2.txt ann.csv ann.json ann.txt ben.csv ben.json ben.txt '
for one in class/ann:ann class/ben:ben again/ann:ann-2; do
    "$TIPCREST" check "${one%:*}.yaml" --json one.json --csv one.csv >/dev/null
    "$TIPCREST" check "${one%:*}.yaml" --full >one.txt
    for ending in json csv txt; do
        equal "${one#*:}.$ending is the report of ${one%:*}.yaml alone" \
            "$(cat "reports/${one#*:}.$ending")" "$(cat "one.$ending")"
    done
done
rm reports/* one.*
good check class/ben.yaml --reports reports --decimal comma
contains 'one set with reports still has its own table' "$(head -n 1 out)" 'Even: '
equal 'and they are its reports' "$(names reports)" 'ben.csv ben.json ben.txt '
contains 'with decimal commas where asked' "$(head -n 1 reports/ben.csv)" 'side;id;layer;u;'
good check class/ann.yaml class/ben.yaml --against intended --seen-from 1000
contains 'the line and the tolerance are those of the call' "$(joined)" 'Sets by match to their maps'
contains 'in each line' "$(cat out)" ' (0.87 mm) '

# ---- Sets that fail

rm reports/*
printf 'tipcrest: 1\nfoo: 2\n' >reports/bad.yaml
before=$(cksum <reports/bad.yaml)
run check reports/bad.yaml class/ann.yaml nowhere.yaml class/ben.yaml --reports reports
equal 'the others are ranked' "$(ranks)" 'class/ben.yaml class/ann.yaml '
equal 'each that fails is named at the end' "$(cut -d : -f 1-3 err | tr '\n' ' ')" \
    'tipcrest: reports/bad.yaml:2 tipcrest: nowhere.yaml: cannot be opened '
equal 'the call was wrong' "$status" 2
equal 'the others have their reports' "$(names reports)" \
    'ann.csv ann.json ann.txt bad.yaml ben.csv ben.json ben.txt '
equal 'what failed stays as it was' "$(cksum <reports/bad.yaml)" "$before"
run check class/ann.yaml nowhere.yaml
equal 'a set that is not there is work that failed' "$status $(cat err)" \
    '1 tipcrest: nowhere.yaml: cannot be opened: there is no such file'
run check reports/bad.yaml nowhere.yaml
equal 'where all fail nothing is printed' "$status $(wc -c <out) $(wc -l <err)" '2 0 2'

# A report would replace an input.
cp class/ben.csv kept.csv
run check class/ann.yaml class/ben.yaml --reports class
equal 'no report replaces a survey of any of the sets' "$status $(cut -d ';' -f 1 err)" \
    '2 tipcrest: class/ann.csv: there is a file of this name already'
equal 'and none is written' "$(names class) $(cksum <class/ben.csv)" \
    "ann.csv ann.yaml ben.csv ben.yaml  $(cksum <kept.csv)"
run check class/ann.yaml class/ben.yaml --reports newfolder
equal 'a folder that is not there is made' "$status $(names newfolder)" \
    '0 ann.csv ann.json ann.txt ben.csv ben.json ben.txt '
fails 'no/folder/ann.json: cannot be opened for writing: there is no such folder' \
    check class/ann.yaml class/ben.yaml --reports no/folder

# A report would replace somebody's file: its name is not one that the caller chose.
rm -f reports/*
echo mine >reports/ben.txt
wrong 'reports/ben.txt: there is a file of this name already; choose another name or folder, or move it away' \
    check class/ann.yaml class/ben.yaml --reports reports
equal 'no report is written then, and the file is as it was' \
    "$(names reports) $(cat reports/ben.txt)" 'ben.txt  mine'
rm -f reports/*
good check class/ann.yaml class/ben.yaml --reports reports
before=$(cat reports/* | cksum)
run check class/ann.yaml class/ben.yaml --reports reports --decimal comma
equal 'reports of an earlier round stay too' \
    "$status $(wc -c <out) $(cut -d ';' -f 1 err) $(cat reports/* | cksum)" \
    "2 0 tipcrest: reports/ann.json: there is a file of this name already $before"

# ---- Options that are for one set

for option in '--json x.json' '--csv x.csv' --full; do
    # shellcheck disable=SC2086 # an option and its value
    bad "${option% *} is for one set; for many, --reports DIR writes their full reports into a folder" \
        check class/ann.yaml class/ben.yaml $option
done
bad '--json and --reports do not go together; leave one of them out' \
    check class/ann.yaml --reports reports --json x.json

# ---- The picture of a class

if [ -z "$(no_pictures)" ]; then
    mkdir with-picture
    good check class/ann.yaml class/ben.yaml --picture both.svg --reports with-picture
    equal 'a picture beside reports' "$(head -c 5 both.svg) $(names with-picture)" \
        '<?xml ann.csv ann.json ann.txt ben.csv ben.json ben.txt '
    run check class/ann.yaml class/ben.yaml --picture pair.svg
    good check class/ben.yaml class/ann.yaml --picture pair-turned.svg
    equal 'the picture is in the order of the ranking, not of the call' \
        "$(cmp pair.svg pair-turned.svg 2>&1)" ''
    # More sets than there is room for, some alike, one that cannot be judged, by the map's line.
    mkdir crowd
    for nine in 1 2 3 4 5 6 7 8 9; do
        for k in a b c; do
            make_set "crowd/$k$nine.yaml" "9.$nine"
        done
    done
    sed 5q class/ann.csv >few.csv
    sed 's/ann.csv/few.csv/' class/ann.yaml >few.yaml
    good check crowd/*.yaml few.yaml --picture crowd.svg
    good check crowd/*.yaml few.yaml --picture crowd-mapped.svg --against intended
    if command -v pdftotext >/dev/null; then
        good check crowd/*.yaml few.yaml --picture crowd.pdf
        pdftotext -raw crowd.pdf - | tr -s ' \n' ' ' >crowd.txt
        contains 'of more sets than there is room for the most even are shown' "$(cat crowd.txt)" \
            'Sets that follow and are not shown: 3.'
        contains 'and those that cannot be judged are counted' "$(cat crowd.txt)" ', 1 not judged.'
        sed 's/survey: [a-z0-9.]*/describe: {count: 40, phases: none}/' class/ann.yaml >chance.yaml
        equal 'ranks, and which are shared, are the same in ranking and picture' \
            "$(grep -o 'crowd/[a-z0-9.]*: [0-9]\+\( =\)*,' crowd.txt | sed 's/\(.*\): \(.*\),/\2 \1/')" \
            "$(sed -n 's/^ *\([0-9]\+\( =\)*\) .* \(crowd.*\)/\1 \3/p' out | head -n 24)"
        mkdir a-folder-with-a-long-name
        cp class/ann.yaml a-folder-with-a-long-name/long.yaml
        cp class/ann.csv a-folder-with-a-long-name/ann.csv
        good check class/ben.yaml a-folder-with-a-long-name/long.yaml --picture long.pdf
        contains 'a long path goes without its folders' "$(pdftotext -raw long.pdf - | tr '\n' ' ')" ' long.yaml: 2'
        contains 'some are shared' "$(cat crowd.txt)" ' =, '
        contains 'and the mark is explained' "$(cat crowd.txt)" \
            '=: a rank is shared by sets less than 0.05 mm behind its first, which counts as no difference (assumed).'
        good check class/ann.yaml chance.yaml --picture chance.pdf
        equal 'where no two are so near there is no mark' \
            "$(pdftotext -raw chance.pdf - | grep -c ' =,\|^=')" 0
        contains 'it says how many sets have lashes that nobody measured' "$(pdftotext -raw chance.pdf - | tr -s ' \n' ' ')" \
            'Sets shown whose lashes are drawn by chance, not measured: 1.'
        good check crowd/*.yaml few.yaml --picture mapped.pdf --against intended
        contains 'against the map the picture says so' "$(pdftotext -raw mapped.pdf -)" \
            'Sets by match to their maps, the best first'
    fi
    run check few.yaml few.yaml --picture none.svg
    equal 'without a set that can be judged there is a ranking and no picture' \
        "$status $(ranks) $(cat err) $(ls none.svg 2>/dev/null)" \
        '0 few.yaml few.yaml  tipcrest: no picture: none of the sets can be judged '
    bad '--width is for a picture; add --picture FILE, or leave it out' \
        check class/ann.yaml class/ben.yaml --width 100
    bad '--picture and --reports do not go together; leave one of them out' \
        check class/ann.yaml --reports reports --picture x.png
fi

many=$(awk 'BEGIN { for (i = 0; i < 501; i++) print "s" i ".yaml" }')
# shellcheck disable=SC2086 # many words
run check $many
equal '501 sets are too many' "$status $(cat err)" \
    '2 tipcrest check: 500 set files are enough; "s500.yaml" is one too many'

cd /
rm -rf "$work"
finish
