#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# build-aux/set-up.sh: a long build tells how far it is, and what failed. The makefile is invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
TIPCREST_SOURCE=$(cd "$TIPCREST_SOURCE" && pwd) || exit 1
work=$(mktemp -d) || exit 1
cd "$work" || exit 1
. "$TIPCREST_SOURCE/build-aux/set-up.sh"

mkdir folder
{
    echo 'all:'
    for i in $(seq 90); do printf '\t@echo "  CC       f%s.lo"\n' "$i"; done
    printf 'bad:\n\t@echo "  CC       x.lo"\n\t@echo what went wrong; false\n'
} >folder/Makefile

equal 'how many files are compiled is told now and then' \
    "$(MAKEFLAGS='' make_telling folder all 2>&1; echo "$?")" \
    '  40 of 90 files compiled
  80 of 90 files compiled
0'
equal 'a build that fails shows the end of its log' \
    "$(MAKEFLAGS='' make_telling folder bad 2>err; echo "$?") $(grep -c 'what went wrong' err) $(tail -n 1 err)" \
    '1 1 failed: make bad (all of it in folder/make.log)'

cd /
rm -rf "$work"
finish
