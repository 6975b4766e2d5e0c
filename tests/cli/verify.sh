#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # python comes from find_python
# The reference itself, against printed numbers, closed forms and cruder ways to the same quantity
# (tests/reference/verify.py). Its claims on exact deflections need SciPy.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python numpy yaml
export PYTHONDONTWRITEBYTECODE=1

work=$(mktemp -d) || exit 1
status=0
"$python" "$TIPCREST_SOURCE/tests/reference/verify.py" >"$work/out" 2>"$work/err" || status=$?
while read -r verdict claim; do
    case $verdict in
    ok) ok "$claim" ;;
    FAIL) not_ok "$claim" ;;
    esac
done <"$work/out"
equal 'verify.py comes to its end' "$status $(tail -n 1 "$work/out")" '0 all claims hold'
[ ! -s "$work/err" ] || sed 's/^/# /' "$work/err"
if ! "$python" -c 'import scipy' 2>/dev/null; then
    skip 'deflections are those of an exact solver' 'there is no SciPy'
fi
rm -rf "$work"
finish
