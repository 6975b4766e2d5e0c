#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Malformed inputs: each record of bad/*.txt, see bad/README.md, must get its message and status.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
records=$(cd "$TIPCREST_SOURCE/tests/cli/bad" && pwd) || exit 1
work=$(mktemp -d) || exit 1
mkdir "$work/sets" "$work/says" && cp -R "$records/bytes/." "$work/sets" && chmod -R u+w "$work/sets"

# Takes the records apart: sets/ gets their files, says/ what is to be said, and list a line for each,
# with its name and its exit status.
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
        print name, (/, exit [0-9]+$/ ? $4 : 2) >list
        next
    }
    /^--- / { start(system("test -e " sets $2) == 0 ? "/dev/null" : sets $2); next }
    index(to, says) == 1 && $0 == "" { next }
    { print >to }
' "$records"/*.txt || exit 1

cd "$work/sets" || exit 1
while read -r name wanted; do
    status=0
    "$TIPCREST" check "$name" >"$work/out" 2>"$work/err" </dev/null || status=$?
    found="exit $status, $(wc -c <"$work/out") bytes printed"
    if difference=$(diff -u "$work/says/$name" "$work/err" 2>&1) &&
        [ "$status $(wc -c <"$work/out")" = "$wanted 0" ]; then
        ok "$name: says what is wrong, prints nothing and exits with $wanted"
    else
        not_ok "$name: says what is wrong, prints nothing and exits with $wanted" "$found" \
            "$difference"
    fi
done <"$work/list"
equal 'every record was run' "$tap_count" "$(cat "$records"/*.txt | grep -c '^=== ')"

cd / && rm -rf "$work"
finish
