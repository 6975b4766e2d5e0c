#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# plan --time-limit: two eyes of 64 zones and a tray of 64 lengths, with limits for which a proof takes
# longer than anybody waits. The data is invented; nothing here looks at a clock.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

awk 'BEGIN {
    printf "tipcrest: 1\ntray: {lengths_mm: ["
    for (i = 0; i < 64; i++) printf "%s%.2f", (i == 0 ? "" : ", "), 5 + 0.15 * i
    print "]}\neyes:"
    split("left right", side, " ")
    for (s = 1; s <= 2; s++) {
        printf "  - side: %s\n    lashes: {describe: {count: 384, seed: %d}}\n    map: [", side[s], s
        for (i = 1; i <= 64; i++)
            printf "%s{to: %.6f, length_mm: %.2f, curl: %s}", (i == 1 ? "" : ", "), i / 64, \
                5 + 0.15 * int(i <= 42 ? 20 + i / 2 : 84 - i), (i % 2 ? "C" : "D")
        print "]"
    }
}' >large.yaml
limits='--samples 0 --free --most-lengths 4 --zone-step 0.6'

# Without a limit this was not done in 40 s of processor time. A first choice and a bound take about a second,
# with samples two to four, on a loaded machine too; sanitisers take several times as long.
once=20 sampled=16
[ -z "${TIPCREST_SANITIZED-}" ] || once=60 sampled=48
# shellcheck disable=SC2086 # several options
good plan large.yaml $limits --corrections 0 --time-limit $once --full --json large.json -o planned.yaml
contains 'the table says that it is not proved, and no choice comes nearer than the bound' \
    "$(joined)" 'Stopped: the best choice so far, not proved. For this map, tray and limits no choice for the zones comes nearer than 0.'
# The bound is printed rounded down, what lies above it rounded up (both to the safe side).
said=$(joined | sed 's/.*comes nearer than \([0-9.]*\) mm rms; this one is at most \([0-9.]*\) mm above that\..*/\1 \2/')
equal 'bound and gap are those of the JSON' "$(echo "$said" "$(member bound_mm large.json)" \
    "$(member rms_mm large.json)" | awk '{ print ($1 > 0 && $1 <= $3 && $3 - $1 < 0.0011 && \
        $2 >= $4 - $3 - 1e-9 && $2 - ($4 - $3) < 0.0011) ? "yes" : "no: " $0 }')" yes
equal 'the JSON says that it was stopped, and is not proved' \
    "$(member stopped large.json | head -n 1) $(member proved large.json)" 'true false'
good check planned.yaml

# Samples get half of the time, so that a choice by those that there are has a bound too: of eyes that nobody
# measured, whether 200 samples take longer than that or not.
good plan large.yaml --free --time-limit $sampled
contains 'with samples too the table says how near any choice can come' "$(joined)" \
    ' no choice is nearer on these than 0.'

good plan "$TIPCREST_SOURCE/examples/practice-head/layered.yaml" --time-limit 86400
contains 'a plan that has time is proved' "$(joined)" 'Proved for this map'
bad '--time-limit is 0, but must be from 0.1 to 86400 s' plan large.yaml --time-limit 0
bad '--time-limit is "soon", but must be a number from 0.1 to 86400 s' plan large.yaml --time-limit soon

rm -rf "$work"
finish
