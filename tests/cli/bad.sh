#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Malformed inputs: for each record of bad/*.txt, see bad/README.md, every command that reads a set must
# give the same message and status, print nothing and leave no output behind.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
records=$(cd "$TIPCREST_SOURCE/tests/cli/bad" && pwd) || exit 1
work=$(mktemp -d) || exit 1
mkdir "$work/sets" "$work/says" "$work/left" && cp -R "$records/bytes/." "$work/sets" &&
    chmod -R u+w "$work/sets"

# Takes the records apart: sets/ gets their files, says/ what is to be said, and list a line for each,
# with its name, its exit status and the commands that take it.
awk -v sets="$work/sets/" -v says="$work/says/" -v list="$work/list" '
    function start(file) {
        if (to != "")
            close(to)
        to = file
        printf "" >to
    }
    /^=== / {
        name = $2
        start(system("test -e " sets name) == 0 ? "/dev/null" : sets name)
        next
    }
    /^--- says/ {
        start(says name)
        wanted = match($0, /, exit [0-9]+/) ? substr($0, RSTART + 7, RLENGTH - 7) : 2
        takers = match($0, /, taken by [a-z ]+/) ? substr($0, RSTART + 11, RLENGTH - 11) : ""
        print name, wanted, takers >list
        next
    }
    /^--- / { start(system("test -e " sets $2) == 0 ? "/dev/null" : sets $2); next }
    index(to, says) == 1 && $0 == "" { next }
    { print >to }
' "$records"/*.txt || exit 1

# ---- The calls --------------------------------------------------------------------------------

lacking=$(no_pictures)
picture='--picture ../left/a.png' sheets='--sheet ../left/a.pdf --sheet-zones ../left/b.pdf'
[ -z "$lacking" ] || picture='' sheets=''
reports='--json ../left/a.json --csv ../left/a.csv'

# call WAY SET: a command that reads a set, with every output that it can write, and other ways in which
# it takes one.
# shellcheck disable=SC2086 # lists of options
call() {
    case $1 in
    check | why | step) "$TIPCREST" "$1" "$2" $reports $picture ;;
    plan) "$TIPCREST" plan "$2" -o ../left/a.yaml $reports $sheets ;;
    study) "$TIPCREST" study "$2" --vary layering.step_mm=1 -o ../left/study ;;
    draw) "$TIPCREST" draw "$2" --view front -o ../left/a.png ;;
    draw-second) "$TIPCREST" draw ../good.yaml --view compare --with "$2" -o ../left/a.png ;;
    check-table) "$TIPCREST" check "$2" ;;
    check-reports) "$TIPCREST" check --reports ../left "$2" ;;
    esac
}
"$TIPCREST" begin -o "$work/good.yaml" >"$work/out" 2>&1 </dev/null || cat "$work/out"

# reads_set COMMAND: as its help page shows it.
reads_set() { "$TIPCREST" help "$1" | head -n 1 | grep -q "^usage: [^ ]* $1 \[*SET"; }
found=$(for command in $("$TIPCREST" help | sed -n 's/^  \([a-z]*\)   .*/\1/p'); do
    ! reads_set "$command" || echo "$command"
done)
studies=
! reads_set study || studies='
study'
equal 'each command that reads a set is called here' "$found" 'check
draw
why
step
plan'"$studies"
ways='check why step plan check-table check-reports'
[ -z "$studies" ] || ways="$ways study"
if [ -z "$lacking" ]; then ways="$ways draw draw-second"; else skip 'pictures' "$lacking"; fi

# ---- The records ------------------------------------------------------------------------------

# anything_left: a name in the folder for outputs.
anything_left() {
    for file in "$work/left"/* "$work/left"/.[!.]*; do
        [ ! -e "$file" ] || echo "${file##*/}"
    done
}

# refuses WAY SET STATUS: says what does not hold.
refuses() {
    status=0
    call "$1" "$2" >"$work/out" 2>"$work/err" </dev/null || status=$?
    [ "$status" = "$3" ] || echo "$1: exit $status"
    [ ! -s "$work/out" ] || echo "$1: $(wc -c <"$work/out") bytes printed"
    cmp -s "$work/says/$2" "$work/err" || diff -u "$work/says/$2" "$work/err"
    left=$(anything_left)
    if [ -n "$left" ]; then
        echo "$1: left behind $left"
        rm -rf "$work/left" && mkdir "$work/left"
    fi
}

# takes WAY SET: the same for a command in which the set is good.
takes() {
    status=0
    call "$1" "$2" >"$work/out" 2>"$work/err" </dev/null || status=$?
    [ "$status" = 0 ] && [ -s "$work/out" ] && [ ! -s "$work/err" ] &&
        { [ -e "$work/left/a.json" ] || [ -e "$work/left/study/study.json" ]; } || echo "$1: exit $status, $(cat "$work/err")"
    rm -rf "$work/left" && mkdir "$work/left"
}

# A sanitiser watches what reads the set, which is the same in all: there each record meets one of them, in
# turn.
turn=0
ways_of_record() {
    if [ "${TIPCREST_SANITIZED-}" = yes ]; then
        echo "$ways" | cut -d ' ' -f $((turn % $(echo "$ways" | wc -w) + 1))
    else
        echo "$ways"
    fi
}

cd "$work/sets" || exit 1
before=$tap_count
while read -r name wanted takers; do
    turn=$((turn + 1))
    found=$(for way in $(ways_of_record); do
        case " $takers " in
        *" $way "*) takes "$way" "$name" ;;
        *) refuses "$way" "$name" "$wanted" ;;
        esac
    done)
    claim="$name: each command says what is wrong, leaves nothing and exits with $wanted"
    if [ -z "$found" ]; then ok "$claim"; else not_ok "$claim" "$found"; fi
done <"$work/list"
equal 'every record was run' "$((tap_count - before))" "$(cat "$records"/*.txt | grep -c '^=== ')"

cd / && rm -rf "$work"
finish
