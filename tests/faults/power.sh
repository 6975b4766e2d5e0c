#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The power fails while a command writes its files. journal.c writes down what it does, disk.py draws
# what a disk may hold at each call: every output must be the whole old file or the whole new one, and
# the new one once the command has ended. A disk that forgets what was synced must be found wanting, or
# nothing would be shown here.

. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
. "$TIPCREST_SOURCE/tests/faults/before.sh"
find_python os re

if [ "${TIPCREST_SANITIZED-}" = yes ]; then
    skip 'loss of power' 'the journal is for the plain command'
    finish
fi

work=$(mktemp -d "${TMPDIR:-/tmp}/tipcrest-power-XXXXXX") || exit 1
trap 'rm -rf "$work"; echo "not ok - the script came to its end"; exit 99' EXIT
cd "$work" || exit 1
cp "$TIPCREST_SOURCE"/examples/practice-head/layered.yaml "$TIPCREST_SOURCE"/examples/practice-head/*.csv .
set=$work/layered.yaml
disks=0

# found_on LABEL JOURNAL WORD...: what disk.py says of it; the numbers of its last line in counts.
found_on() {
    verdict=$("$python" "$TIPCREST_SOURCE/tests/faults/disk.py" journal before now "$@" 2>&1)
    counts=$(echo "$verdict" | sed -n '$s/^[0-9 ]*$/&/p')
    if [ -n "$counts" ]; then found=$(echo "$verdict" | sed '$d'); else found=$verdict counts='0 0 0 0 0'; fi
}

# loses LABEL OLD TARGETS WORD...: one claim about a command; OLD as put_before has it.
loses() {
    label=$1 old=$2 targets=$3
    shift 3
    mkdir "$label" && cd "$label" && put_before "$old" && cp -R before now || return
    status=0
    (cd now && JOURNAL=$work/$label/journal LD_PRELOAD=$TIPCREST_BUILD/tests/faults/journal.so \
        exec "$TIPCREST" "$@") >out 2>err </dev/null || status=$?
    equal "$label: done where the power does not fail" "$status $(cat err)" '0 '
    # shellcheck disable=SC2086 # names
    found_on $targets
    if [ -z "$found" ]; then
        ok "$label: each file is the old or the new one, whole, whenever the power fails"
    else
        not_ok "$label: each file is the old or the new one, whole, whenever the power fails" \
            "$(echo "$found" | head -n 40)"
    fi
    # shellcheck disable=SC2086 # five numbers
    set -- $counts
    disks=$((disks + $1))
    echo "# $label: $1 disks, $2 calls; all old on $3, all new on $4, some of each on $5"
    equal "$label: old and new ones were seen" "$([ "$3" -gt 0 ] && [ "$4" -gt 0 ] && echo yes)" yes
    for forgets in file folder; do
        # shellcheck disable=SC2086
        found_on $forgets $targets
        contains "$label: without the sync of a $forgets something is lost" "$found" 'power lost after call'
    done
    cd "$work" && rm -rf "${work:?}/$label"
}

loses check 'a.json a.csv' 'a.json a.csv' check "$set" --json a.json --csv a.csv
loses check-new '' 'a.json a.csv' check "$set" --json a.json --csv a.csv
for without in nothing links; do # a file system that does not know these
    export JOURNAL_WITHOUT=$without
    loses "begin-without-$without" '' 'a.yaml s-left.csv s-right.csv' begin -o a.yaml --survey s.csv
done
unset JOURNAL_WITHOUT

plan_before
loses plan-again planned 'a.yaml a-left.csv a.json' plan "$set" -o a.yaml --json a.json

lacking=$(no_pictures)
if [ -z "$lacking" ]; then
    loses draw a.png a.png draw "$set" --view side --width 40 --dpi 40 -o a.png
    loses film '' 'a-01.png a-02.png a-03.png' \
        draw "$set" --view film --frames 3 --width 40 --dpi 40 -o a.png
else
    skip 'pictures' "$lacking"
fi

echo "# disks whose power failed: $disks"
rm -rf "$work"
finish
