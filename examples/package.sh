#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Debian packages: sh examples/package.sh [FOLDER]
#
# Installs what is missing, builds the packages from the sources as they are and puts them into FOLDER,
# or build/packages. Whoever gets them needs no compiler: apt install ./tipcrest_*.deb ./libtipcrest0_*.deb

cd "$(dirname "$0")/.." || exit 1
. build-aux/set-up.sh

mkdir -p "${1:-build/packages}" || exit 1
folder=$(cd "${1:-build/packages}" && pwd)
sh build-aux/packages.sh build package || exit 1

# dpkg-buildpackage leaves its results beside the sources, and lists of objects among them.
place=$(mktemp -d "$folder/.build-XXXXXX") || exit 1
trap 'rm -rf "$place"' EXIT
trap 'exit 1' HUP INT TERM
mkdir "$place/tipcrest" || exit 1
tar -cf - --exclude=./build --exclude=./.git --exclude=./autom4te.cache . |
    tar -xf - -C "$place/tipcrest" || exit 1
# A check takes half an hour and more packages; tests/run.sh does that.
DEB_BUILD_OPTIONS="parallel=$(nproc) nocheck ${DEB_BUILD_OPTIONS-}" \
    quietly "$folder/build.log" in_folder "$place/tipcrest" dpkg-buildpackage -b -us -uc || exit 1
rm -f "$folder"/*.deb
mv "$place"/*.deb "$folder" || exit 1

echo "The packages are in $folder:"
(cd "$folder" && ls -- *.deb) | sed 's/^/    /'
echo "Install with: apt install$(cd "$folder" && for file in *.deb; do
    case $file in *-dev_* | *-dbgsym_*) ;; *) printf ' %s' "$folder/$file" ;; esac
done)"
