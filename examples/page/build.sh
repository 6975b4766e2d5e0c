#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# build.sh OUT SOURCE...: compiles the library's sources, as 'make page' gives them, and the page's own
# to WebAssembly, and joins all with the page's files to OUT, one HTML file. CLANG names the compiler.
#
# The module imports nothing: it can compute and no more. -Oz and TCR_SMALL (lib/num/inline.h) because
# the page is to be small; its sums are the same as any other build's (-ffp-contract=off).

here=$(dirname "$0")
root=$here/../..
out=$1
shift

for source in "$@" "$here"/*.c; do
    case $source in
    *.c) sources="$sources $source" ;;
    esac
done

# shellcheck disable=SC2086 # a list of names without blanks
"${CLANG:-clang}" --target=wasm32-wasi -Oz -flto -std=c11 -D_XOPEN_SOURCE=700 -ffp-contract=off \
    -fvisibility=hidden -DTCR_SMALL -Wall -Wextra -Wno-static-in-inline -Werror \
    -I"$root/include" -I"$root/lib" -mexec-model=reactor \
    -Wl,--gc-sections -Wl,--strip-all -Wl,-z,stack-size=524288 -o "$out.wasm" $sources \
    -lc-printscan-no-floating-point || exit 1
"${PYTHON:-python3}" "$here/join.py" "$out.wasm" "$out.new" || exit 1
rm -f "$out.wasm"
mv "$out.new" "$out"
