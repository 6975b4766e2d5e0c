#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The first thing to try: sh examples/first-set.sh
#
# Installs what is missing, builds tipcrest in build/, and looks at the set of an invented trainee on
# a practice head. It may be started from any folder, and does nothing twice.

cd "$(dirname "$0")/.." || exit 1
. build-aux/set-up.sh

sh build-aux/packages.sh build || exit 1
set_up build || exit 1

status=0
build/tipcrest check examples/practice-head/layered.yaml --picture build/first-set.png || status=$?
[ "$status" -eq 0 ] || exit "$status"
build/tipcrest check examples/practice-head/layered.yaml \
    --json build/first-set.json --csv build/first-set.csv >/dev/null || exit

echo
echo "The picture:   $root/build/first-set.png"
echo "Lash by lash:  $root/build/first-set.csv"
echo "For programs:  $root/build/first-set.json"
echo "The command:   $root/build/tipcrest"
