#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# Counted lines of every command: what it prints by itself takes at most 15 lines an eye, beside
# blank lines, cautions, doubts and the zones of a plan; --full prints more. A command that keeps to
# this stands in the list below. All sets are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

lines_of_an_eye=15
commands='check why' # they take --against; plan and step, which do not, stand below

# Lines that do not count: cautions and what figures rest on, looks out of reach, doubts, zones.
beside='^"Shows nearer|^  nobody measured|^For trained|^Doubt|^  [0-9]+ +[01][.][0-9]|^  Zone, up to|^A demonstration|^  sample drew them|drawn by chance, none measured|^Runs are drawn|^  they show what may|^The lashes are one sample|^The map: look|liked best'

# counted: the lines of the last output that count.
counted() {
    # What is out of reach is a sentence of several lines, of which all but the first are indented.
    awk '/mm is not reached/ { within = 1; next } within && /^ / { next } { within = 0; print }' out |
        grep -vE "$beside" | grep -c .
}

examples=$TIPCREST_SOURCE/examples
good begin -o two.yaml --look cat --layers 12/11/10
good begin -o one.yaml --eyes right --lengths 8,9,10 --survey one.csv
printf 'tipcrest: 1\ntitle: %s\n' "$(printf 'A title %.0s' 1 2 3 4 5 6 7 8 9 10)" >long.yaml
sed '/^tipcrest:/d;/^title:/d;s/viewer_deg:.*//' one.yaml >>long.yaml

# within COMMAND EYES SET ARGUMENT...: the command keeps to the lines for so many eyes.
within() {
    command=$1
    most=$(($2 * lines_of_an_eye))
    shift 2
    good "$command" "$@"
    found=$(counted)
    if [ "$found" -le "$most" ] && [ "$found" -gt 2 ]; then
        ok "$command $* prints at most $most lines"
    else
        not_ok "$command $* prints at most $most lines" "$found lines:" "$(cat out)"
    fi
}

for command in $commands; do
    for set in "$examples"/practice-head/*.yaml one.yaml long.yaml; do
        within "$command" 1 "$set"
        within "$command" 1 "$set" --against intended
    done
    for set in "$examples"/client/client.yaml two.yaml; do
        within "$command" 2 "$set"
        within "$command" 2 "$set" --against intended
    done
    cp out short.txt
    good "$command" two.yaml --against intended --full
    equal "$command --full prints more" "$([ "$(counted)" -gt "$(grep -c . short.txt)" ] && echo more)" more
done

for set in "$examples"/practice-head/*.yaml one.yaml long.yaml; do
    within step 1 "$set"
done
within step 2 "$examples/client/client.yaml"
within step 1 "$examples/client/client.yaml" --eye right
within step 1 --apart 0.3
for set in "$examples"/practice-head/*.yaml one.yaml; do
    within plan 1 "$set"
done
within plan 2 "$examples/client/client.yaml"
within plan 2 two.yaml
within plan 2 two.yaml --each-eye
within plan 2 two.yaml --samples 0
within plan 1 "$examples/practice-head/equal.yaml" --look cat --longest 13
within plan 2 "$examples/client/client.yaml" --fans 1,3
within begin 1 -o many.yaml --look doll --tray 8-13 --length 9
within check 1 "$examples"/practice-head/*.yaml one.yaml long.yaml two.yaml
case $("$TIPCREST" study x 2>&1) in
*'built without studies'*) skip 'study prints at most 15 lines' 'it was built without studies' ;;
*)
    for study in placement lid pitch; do
        within study 1 "$examples/studies/$study.yaml"
    done
    ;;
esac
for command in step plan; do
    good "$command" two.yaml
    cp out short.txt
    good "$command" two.yaml --full
    equal "$command --full prints more" "$([ "$(counted)" -gt "$(grep -c . short.txt)" ] && echo more)" more
done

cd /
rm -rf "$work"
finish
