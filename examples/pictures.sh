#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes the pictures of README.md anew: sh examples/pictures.sh [TIPCREST]
#
# TIPCREST is the command to make them with, build/tipcrest unless given.

cd "$(dirname "$0")/.." || exit 1
tipcrest=${1:-build/tipcrest}
if ! command -v "$tipcrest" >/dev/null; then
    echo "pictures.sh: there is no $tipcrest; sh examples/first-set.sh builds it" >&2
    exit 1
fi

mkdir -p examples/pictures || exit 1
for set in layered equal; do
    "$tipcrest" check "examples/practice-head/$set.yaml" \
        --picture "examples/pictures/$set.png" >/dev/null || exit
    echo "examples/pictures/$set.png"
done
