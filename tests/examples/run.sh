#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs every example program and compares what it prints with examples/NAME.expected. They run in the
# root of the source tree, so that an example may open examples/practice-head/.

. "$TIPCREST_SOURCE/tests/tap.sh"
work=$(mktemp -d) || exit 1
cd "$TIPCREST_SOURCE" || exit 1

for program in $TIPCREST_EXAMPLES; do
    status=0
    "$TIPCREST_BUILD/$program" >"$work/out" 2>"$work/err" </dev/null || status=$?
    equal "$program exits with 0" "$status" 0
    equal "$program has nothing to complain about" "$(cat "$work/err")" ''
    if difference=$(diff -u "$program.expected" "$work/out" 2>&1); then
        ok "$program prints what $program.expected says"
    else
        not_ok "$program prints what $program.expected says" "$difference"
    fi
done

rm -rf "$work"
finish
