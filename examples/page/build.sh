#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# build.sh OUT SOURCE...: compiles the library's sources, as 'make page' gives them, and the page's own
# to WebAssembly, and joins all with the page's files to OUT, one HTML file. CLANG names the compiler.
#
# The module imports nothing: it can compute and no more. The page is to be small (-Oz, and TCR_SMALL of
# lib/num/inline.h), and yet plan over many samples while a client waits. Sums are the same as any other
# build's (-ffp-contract=off).

here=$(dirname "$0")
root=$here/../..
out=$1
shift
objects=$out.objects
rm -rf "$objects"
mkdir -p "$objects" || exit 1

# The flags of a file: those for speed cost some 35 kB of the page.
flags_of() {
    case $1 in
    */plan/bear.c) echo '-O2' ;;
    */line/intended.c | */model/describe.c | */num/random.c | */rod/load.c) echo '-O2 -DTCR_SMALL' ;;
    */plan/pool.c | */plan/redraw.c | */plan/wanting.c) echo '-O2 -DTCR_SMALL' ;;
    *) echo '-Oz -DTCR_SMALL' ;;
    esac
}

wasm() {
    "${CLANG:-clang}" --target=wasm32-wasi -flto -std=c11 -D_XOPEN_SOURCE=700 -ffp-contract=off \
        -fvisibility=hidden -Wall -Wextra -Wno-static-in-inline -Werror -I"$root/include" -I"$root/lib" "$@"
}

# compile_half 0|1 SOURCE...: every second source, from the first or from the second on.
compile_half() {
    number=$((100 + $1))
    half=$1
    shift
    for source in "$@" "$here"/*.c; do
        case $source in
        *.c) ;;
        *) continue ;;
        esac
        number=$((number + 1))
        [ $((number % 2)) -eq 0 ] || continue
        # shellcheck disable=SC2046 # a list of flags
        wasm $(flags_of "$source") -c "$source" -o "$objects/$number-$half.o" || return 1
    done
}

compile_half 0 "$@" &
second=0
compile_half 1 "$@" || second=1
wait "$!" && [ "$second" -eq 0 ] || exit 1
wasm -Oz -mexec-model=reactor -Wl,--gc-sections -Wl,--strip-all -Wl,-z,stack-size=524288 \
    -o "$out.wasm" "$objects"/*.o -lc-printscan-no-floating-point || exit 1
"${PYTHON:-python3}" "$here/join.py" "$out.wasm" "$out.new" || exit 1
rm -rf "$out.wasm" "$objects"
mv "$out.new" "$out"
