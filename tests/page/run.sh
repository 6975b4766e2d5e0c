#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of the live page: sh tests/page/run.sh
#
# Installs what is missing, builds the page and the command in build/page, and drives the page in
# Chromium and Firefox. Ends with 'N passed, N failed'.

cd "$(dirname "$0")/../.." || exit 1
. build-aux/set-up.sh

folder=build/page
# A node from elsewhere brings its npm, beside which Debian's cannot be installed.
command -v node >/dev/null && command -v npm >/dev/null || groups=node
command -v chromium >/dev/null && command -v firefox-esr >/dev/null || groups="$groups browser"
# shellcheck disable=SC2086 # a list of groups
[ -z "$groups" ] || sh build-aux/packages.sh $groups || no_run 'The packages for the browser are missing.'
sh examples/page.sh || no_run 'There is no page.'
# The command is only compared with, so it need not be fast, nor take long to compile.
quietly "$folder/make.log" in_folder "$folder" make -j2 tipcrest CFLAGS=-O0 || no_run 'The build failed.'
mkdir -p "$folder/browser"
cp tests/page/package.json "$folder/browser"
if [ ! -d "$folder/browser/node_modules/playwright-core" ] || [ ! -d "$folder/browser/node_modules/axe-core" ]; then
    quietly "$folder/npm.log" in_folder "$folder/browser" npm install --ignore-scripts --no-audit --no-fund ||
        no_run 'npm could not install what drives the browser.'
fi
TIPCREST_BUILD=$(pwd)/$folder TIPCREST_SOURCE=$(pwd) sh tests/page/page.sh >"$folder/page-tests.log" 2>&1
cat "$folder/page-tests.log"
sh build-aux/count-checks.sh "$folder/page-tests.log"
