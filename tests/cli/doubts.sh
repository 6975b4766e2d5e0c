#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, work from command.sh
# Doubts from outside: every command that reads a set tells them and goes on; the examples have none.
# All data is invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

cat >lid.yaml <<'END'
tipcrest: 1
eyes:
  - side: left
    lid: {mrd1_mm: 0.35}
    lashes: {describe: {count: 60}}
    map: [{to: 1, length_mm: 10, curl: C}]
END

for of in check why step plan; do
    good "$of" lid.yaml
    equal "$of tells the doubt on one line" "$(grep -c '^Doubt, ' out)" 1
    contains "$of says what is doubted" "$(cat out)" \
        'Doubt, left eye: mrd1 is 0.35 mm, a lid that hardly opens; in centimetres?'
    # Source: whoever reads the figures is to know first that they may rest on a mistake. One
    # answer, what it is of and the meaning of rms stand before.
    equal "$of tells it at once" \
        "$([ "$(sed -n '/^Doubt, /=' out)" -le 10 ] && [ "$(grep -n 'left eye' out | head -n 1)" = "$(grep -n '^Doubt' out)" ] && echo yes)" yes
    good "$of" lid.yaml --json -
    contains "$of has it in its JSON report" "$(cat out)" \
        '{"doubt": "lid_hardly_opens", "side": "left", "curl": null, "found": 0.35, "count": 0,'
    for set in client/client practice-head/equal practice-head/layered; do
        good "$of" "$TIPCREST_SOURCE/examples/$set.yaml"
        equal "$of has no doubt about the example $set" "$(grep -c '^Doubt' out)" 0
    done
done

cd / && rm -rf "$work"
finish
