#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST_BUILD comes from the harness
# page.sh [SCRIPT ARGUMENT...]: runs the tests of the live page where there is all that they need, or
# another script beside this. run.sh installs what it takes.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"

lacks() {
    echo "1..0 # SKIP $1; sh tests/page/run.sh installs all that the page's tests need"
    exit 77
}

for folder in "$TIPCREST_BUILD" "$TIPCREST_BUILD/page"; do
    [ ! -e "$folder/page.html" ] || [ ! -d "$folder/browser/node_modules" ] || found=$folder
done
[ -n "$found" ] || lacks 'there is no page yet'
command -v node >/dev/null || lacks 'there is no node'
chromium=$(command -v chromium || command -v chromium-browser) || lacks 'there is no chromium'

work=$(mktemp -d) || exit 1
cp "$TIPCREST_SOURCE"/tests/page/*.mjs "$found/browser"
status=0
(cd "$found/browser" && CHROMIUM=$chromium PAGE=$found/page.html WORK=$work \
    FIREFOX=$(command -v firefox-esr) TIPCREST=$found/tipcrest node "${@:-test.mjs}") || status=$?
rm -rf "$work"
exit "$status"
