#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The live page: sh examples/page.sh
#
# Installs what is missing, compiles the library for the browser and says where the page is: one file,
# which any browser opens from the disk, without a network.

cd "$(dirname "$0")/.." || exit 1
. build-aux/set-up.sh

folder=build/page
sh build-aux/packages.sh base page || exit 1
# Neither libyaml nor cairo is needed, nor is the host's library built; tests compare with its command.
prepare "$folder" --without-yaml --without-draw --without-study || exit 1
quietly "$folder/page.log" in_folder "$folder" make page || exit 1
tail -n 1 "$folder/page.log"
echo "The page is $(pwd)/$folder/page.html; open it in a browser."
