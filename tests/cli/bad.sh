#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Malformed inputs: each bad/NAME.yaml (or .json), checked inside that folder, must say on standard
# error what bad/NAME.err holds, print nothing, and exit with 2, or with what bad/NAME.status holds.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
work=$(mktemp -d) || exit 1
cd "$TIPCREST_SOURCE/tests/cli/bad" || exit 1

for expected in *.err; do
    name=${expected%.err}
    set_file=$name.yaml
    [ -e "$set_file" ] || set_file=$name.json
    wanted=2
    [ ! -e "$name.status" ] || wanted=$(cat "$name.status")
    status=0
    "$TIPCREST" check "$set_file" >"$work/out" 2>"$work/err" </dev/null || status=$?
    if difference=$(diff -u "$expected" "$work/err" 2>&1); then
        ok "$name: says what is wrong"
    else
        not_ok "$name: says what is wrong" "$difference"
    fi
    equal "$name: exits with $wanted and prints nothing" "$status $(wc -c <"$work/out")" "$wanted 0"
done

rm -rf "$work"
finish
