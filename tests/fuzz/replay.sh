#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST_BUILD comes from the harness
# Gives every input of the fuzzing corpus to its target, built by any compiler and without libFuzzer.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
work=$(mktemp -d) || exit 1
corpus=$(cd "$TIPCREST_SOURCE/tests/fuzz/corpus" && pwd) || exit 1
cd "$TIPCREST_SOURCE/tests/fuzz/beside" || exit 1

for inputs in "$corpus"/*; do
    name=$(basename "$inputs")
    if [ ! -x "$TIPCREST_BUILD/tests/fuzz/fuzz_$name" ]; then
        skip "$name: all that is claimed holds" 'built without it'
        continue
    fi
    status=0
    "$TIPCREST_BUILD/tests/fuzz/fuzz_$name" "$inputs"/* >"$work/out" 2>"$work/err" || status=$?
    count=$(set -- "$inputs"/* && echo $#)
    if [ "$status" -eq 0 ] && [ "$(wc -l <"$work/out")" -eq "$count" ]; then
        ok "$name: all that is claimed holds for $count inputs"
    else
        not_ok "$name: all that is claimed holds for $count inputs" "exit status $status, at" \
            "$(tail -n 1 "$work/out")" "$(tail -n 40 "$work/err")"
    fi
done

rm -rf "$work"
finish
