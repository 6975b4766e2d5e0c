#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, some words from room.sh
# What is promised of what comes in, from outside: each limit with what is just allowed and what is just
# beyond, where a survey may lie, and that text from files reaches nothing raw. Numbers are those of the
# documentation, messages the command's own.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/room.sh"

# ---- Sizes ---------------------------------------------------------------------------------------

fresh
described >plain.yaml
size=$(wc -c <plain.yaml)
{ cat plain.yaml; repeat $((1000000 - size)) '#'; } >most.yaml
{ cat plain.yaml; repeat $((1000001 - size)) '#'; } >more.yaml
equal 'the largest set file has 1 MB' "$(wc -c <most.yaml)" 1000000
good 'a set file of 1 MB is read' check most.yaml
ends 2 'a set file of 1 MB and a byte is refused' \
    'more.yaml: the file is too large; it may have at most 1 MB' check more.yaml

# The root is one level. What is deep or has many parts means nothing, and is told as that.
{ cat plain.yaml; echo "x: $(repeat 31 '[')$(repeat 31 ']')"; } >deep.yaml
run check deep.yaml
contains 'lists 32 deep are read, and then wrong for what they are' "$(cat "$said/err")" \
    'deep.yaml:6:1: key "x" is not known in a set file; known are'
{ cat plain.yaml; echo "x: $(repeat 32 '[')$(repeat 32 ']')"; } >deep.yaml
ends 2 'lists 33 deep are refused' \
    'deep.yaml:6:35: lists and blocks lie too deep in each other; at most 32' check deep.yaml
echo "{\"tipcrest\": 1, \"x\": $(repeat 32 '{"x": ')1$(repeat 32 '}')}" >deep.json
ends 2 'JSON objects 33 deep are refused' \
    'deep.json:1:208: lists and blocks lie too deep in each other; at most 32' check deep.json

# Parts: the root, two keys, the 1, the list, its items.
printf 'tipcrest: 1\ntray: [%s1]\n' "$(repeat 99994 '1, ')" >parts.yaml
ends 2 '100 000 parts are read, and then wrong for what they are' \
    'parts.yaml:1:1: eyes is missing; a set has one eye or two' check parts.yaml
printf 'tipcrest: 1\ntray: [%s1]\n' "$(repeat 99995 '1, ')" >parts.yaml
ends 2 '100 001 parts are refused' \
    'parts.yaml:2:299993: the file has too many parts; it may have at most 100000' check parts.yaml

set_with a.csv >set.yaml
# 20 MB: a survey, and comment lines up to the last byte.
{
    rows 30
    awk 'BEGIN { for (i = 0; i < 2000; i++) { printf "#"; for (j = 0; j < 1000; j++)
        printf "ten bytes "; print "" } }'
} | head -c 20000000 >a.csv
equal 'the largest survey has 20 MB' "$(wc -c <a.csv)" 20000000
good 'a survey of 20 MB is read' check set.yaml
printf '#' >>a.csv
ends 2 'a survey of 20 MB and a byte is refused' \
    'a.csv: the file is too large; it may have at most 20 MB' check set.yaml

rows 100000 >a.csv
good '100 000 lashes are read' check set.yaml --csv all.csv
equal 'and each of them is reported' "$(wc -l <all.csv)" 100001
rows 100001 >a.csv
ends 2 'a lash more is refused where it stands' \
    'a.csv:100002:1: there are too many lashes; a survey may have 100000' check set.yaml
equal 'a refused survey leaves the older report' "$(wc -l <all.csv)" 100001

# lined BYTES START CHARACTER: a survey with a line of so many bytes.
lined() {
    rows 30
    printf '%s%s\n' "$2" "$(repeat $(($1 - ${#2})) "$3")"
}
for start in 'z,0.5,top,8,' '#'; do
    lined 64000 "$start" n | sed '1s/$/,note/; 2,31s/$/,/' >a.csv
    good "a line of 64 kB that begins with $start is read" check set.yaml
    lined 64001 "$start" n | sed '1s/$/,note/; 2,31s/$/,/' >a.csv
    run check set.yaml
    contains "a byte more is refused where it stands" "$status $(cat "$said/err")" \
        '2 tipcrest: a.csv:32:'
    contains 'and it is said what it may have' "$(cat "$said/err")" 'it may have at most 64 kB'
done

# ---- Where a survey may lie ----------------------------------------------------------------------

fresh
mkdir -p sets/below sets-2
rows 30 >sets/in.csv
rows 30 >sets/below/in.csv
rows 30 >out.csv
rows 30 >sets-2/out.csv
ln -s below/in.csv sets/link-in.csv
ln -s ../out.csv sets/link-out.csv
ln -s .. sets/up
ln -s below sets/link-below
ln -s round.csv sets/round.csv
ln -s nowhere.csv sets/dangling.csv
mkfifo sets/fifo.csv
leads="leads out of the set file's folder; keep it beside the set file or below it"
absent='cannot be opened: there is no such file; it must lie beside the set file or below it, and capital letters count'

# surveyed NAME: a set whose survey has this name.
surveyed() { set_with "\"$1\"" >sets/set.yaml; }
for name in in.csv ./in.csv below/in.csv below/../in.csv link-in.csv link-below/in.csv \
    up/sets/in.csv ../sets/in.csv; do
    surveyed "$name"
    good "survey $name lies inside" check sets/set.yaml
done
for name in ../out.csv link-out.csv up/out.csv ../sets-2/out.csv below/../../out.csv \
    ../nowhere.csv up/nowhere.csv ..; do
    surveyed "$name"
    ends 2 "survey $name leads out" "sets/set.yaml:4:22: survey \"$name\" $leads" \
        check sets/set.yaml
done
for name in "$PWD/sets/in.csv" /etc/hostname /nowhere.csv; do
    surveyed "$name"
    run check sets/set.yaml
    contains "survey $name is absolute and refused" "$status $(cat "$said/err")" \
        '2 tipcrest: sets/set.yaml:4:22: survey "/'
done
for name in nowhere.csv In.csv below/nowhere.csv nowhere/in.csv dangling.csv; do
    surveyed "$name"
    ends 1 "survey $name is missing" "sets/set.yaml:4:22: survey \"$name\" $absent" \
        check sets/set.yaml
done
surveyed ''
ends 2 'a survey without a name is refused' \
    'sets/set.yaml:4:22: survey is an empty text; it needs the name of a file' check sets/set.yaml
surveyed .
ends 2 'the folder itself is no survey' 'sets/.: this is a folder; give the file itself' \
    check sets/set.yaml
surveyed below
ends 2 'a folder is no survey' 'sets/below: this is a folder; give the file itself' \
    check sets/set.yaml
surveyed round.csv
ends 1 'a link to itself is told' \
    'sets/set.yaml:4:22: survey "round.csv" cannot be opened: its links lead round in a circle' \
    check sets/set.yaml
surveyed fifo.csv
ends 2 'a pipe is no survey, and nothing waits for it' \
    'sets/fifo.csv: this is a device or a pipe; give a file' check sets/set.yaml
set_with in.csv >sets/set.yaml
ln -s sets/set.yaml link.yaml
rows 30 >in.csv
good 'a set file by way of a link has its surveys beside the link' check link.yaml
(cd sets/below && "$TIPCREST" check ../set.yaml >"$said/out" 2>&1)
equal 'and the working folder plays no part' "$(head -n 1 "$said/out" | cut -c 1-6)" 'Even: '

# ---- What is no set file -------------------------------------------------------------------------

for what in sets sets/; do
    ends 2 "a folder, $what, is no set file" "$what: this is a folder; give the file itself" \
        check "$what"
done
mkfifo fifo.yaml
for what in fifo.yaml /dev/null /dev/zero; do
    ends 2 "$what is no set file, and nothing waits for it" \
        "$what: this is a device or a pipe; give a file" check "$what"
done
ends 1 'a missing set file is told' 'none.yaml: cannot be opened: there is no such file' \
    check none.yaml
ends 1 'a set file in a missing folder is told' \
    'none/set.yaml: cannot be opened: there is no such file' check none/set.yaml
run check "$(repeat 300 x)"
contains 'a name that no file can have is told' "$status $(cat "$said/err")" \
    'x: cannot be opened: its name is too long'

# ---- Text from files reaches nothing raw ---------------------------------------------------------

fresh
# Escapes of terminals, a bell, marks that turn writing round, Pango's markup, XML, formulas.
cat >set.yaml <<'END'
tipcrest: 1
title: "\e[31mred \a<span size='99999'>& \u202Eback\u202C \x9B2J \u2028 ]]> %s%n"
curls:
  "=1+\e": [[0.4, 0], [0.6, 70]]
  "<b>&": [[0.4, 0], [0.6, 60]]
eyes:
  - side: left
    lashes: {survey: a.csv}
    map: [{to: 0.5, length_mm: 11, curl: "=1+\e"}, {to: 1, length_mm: 12, curl: "<b>&"}]
line: {tolerance_mm: 0.05}
END
esc=$(printf '\033') rtl=$(printf '\342\200\256') bell=$(printf '\007')
{
    echo id,u,layer,length_mm,ext_length_mm
    printf '%s,%s\n' '=1+1' 0.1,bottom,8,9 '+1' 0.14,middle,8,14 '-1+1' 0.2,top,8,9 \
        '@SUM(A1)' 0.24,bottom,8,14 "${esc}[2J${esc}]0;title$bell" 0.3,middle,8,9 \
        "${rtl}gpj" 0.34,top,8,14 "<b>&amp;</b>" 0.4,bottom,8,9 "\"=\"\"x\"\",1\"" 0.5,top,8,14 \
        "a	tab" 0.6,bottom,8,9 '<span size=x>' 0.7,middle,8,14
    rows 40 | sed '1d; s/$/,/'
} >a.csv

# safe CLAIM FILE: no control character but line ends, no mark of direction, no C1 escape.
safe() {
    if LC_ALL=C grep -q "$(printf '[\001-\011\013-\037\177]')" "$2" ||
        LC_ALL=C grep -q "$(printf '\342\200[\250-\256]\|\302[\200-\237]')" "$2"; then
        not_ok "$1" "$(LC_ALL=C tr -c '[:print:]\n' '?' <"$2" | head -n 5)"
    else
        ok "$1"
    fi
}
for command in check why step; do
    good "$command takes a set full of escapes" "$command" set.yaml --json "$command.json"
    safe "$command: its table is safe for a terminal" "$said/out"
    safe "$command: its JSON is safe for a terminal" "$command.json"
    good "$command: its JSON is printed" "$command" set.yaml --json -
    safe "$command: and is safe for a terminal there too" "$said/out"
done
good 'check writes its CSV' check set.yaml --csv a.out.csv
# A tab within an id stays: it moves the cursor and nothing else.
tr -d '\t' <a.out.csv >no-tabs
safe 'the CSV is safe for a terminal' no-tabs
for id in '=1+1' '+1' '-1+1' '@SUM(A1)'; do
    contains "id $id gets an apostrophe in the CSV" "$(cat a.out.csv)" "left,'$id,"
done
contains 'so does one in quotation marks' "$(cat a.out.csv)" "left,\"'=\"\"x\"\",1\","
contains 'so does the label of a curl' "$(cat a.out.csv)" "'=1+\\x1b,"
equal 'no cell of a text begins as a formula' \
    "$(cut -d , -f 2,7 a.out.csv | grep -c '^[=+@-]\|,[=+@]')" 0

# Messages quote what is in files and calls.
{ sed 's/^line:/"\\e[2J\\u202E": 1\nline:/' set.yaml; } >wrong.yaml
run check wrong.yaml
safe 'a message that quotes a key is safe' "$said/err"
contains 'and shows it' "$(cat "$said/err")" 'key "\x1b[2J\u202e" is not known'
{ cat a.csv; printf '%s,x,top,8,\n' "${esc}[2J"; } >bad.csv
sed 's/a\.csv/bad.csv/' set.yaml >bad.yaml
run check bad.yaml
safe 'a message about a row is safe' "$said/err"
sed '/=1+1/d' a.csv >twice.csv
printf '%s\n' "${esc}[2J${esc}]0;title$bell,0.5,top,8," >>twice.csv
sed 's/a\.csv/twice.csv/' set.yaml >twice.yaml
run check twice.yaml
safe 'a message that quotes an id is safe' "$said/err"
contains 'and shows it too' "$(cat "$said/err")" 'id "\x1b[2J\x1b]0;title\x07" is here twice'
odd="${esc}[2J$rtl$(printf '\377')
name"
run check "$odd.yaml"
safe 'a message that names a file is safe' "$said/err"
equal 'and is one line' "$(wc -l <"$said/err")" 1
run check set.yaml --json "none/$odd.json"
safe 'so is one that names an output' "$said/err"
run "$odd"
safe 'so is one that names a command' "$said/err"
cp set.yaml "$odd.yaml"
good 'a set file with such a name is read' check "$odd.yaml" --json odd.json
run begin -o "$odd-begin.yaml"
safe 'begin tells such a name safely' "$said/out"

if [ -z "$lacking" ]; then
    python=$(sh "$TIPCREST_SOURCE/build-aux/find-python.sh" xml.dom.minidom 2>&1) || {
        skip 'SVGs are XML' "$python"
        python=
    }
    for view in front artist side deviations layers; do
        good "$view draws a set full of markup, and Pango has nothing to complain about" \
            draw set.yaml --view "$view" -o "$view.svg"
        [ -n "$python" ] || continue
        if "$python" -c 'import sys, xml.dom.minidom as d; d.parse(sys.argv[1])' "$view.svg" \
            2>"$said/err"; then
            ok "$view: the SVG is XML"
        else
            not_ok "$view: the SVG is XML" "$(tail -n 1 "$said/err")"
        fi
    done
    contains 'the title stands in the SVG as text' "$(cat front.svg)" '&lt;span size='
    good 'a PDF takes it too' draw set.yaml --view layers -o layers.pdf
    good 'and a PNG' draw set.yaml --view artist -o artist.png
else
    skip 'a picture of a set full of markup' "$lacking"
fi

leave
