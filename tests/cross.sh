#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# cross.sh [FOLDER]: builds the core, and an example with it, for wasm32-wasi and for 64-bit Windows by
# mingw-w64, and compares what the example prints where it can be run here. Skips what this machine has no
# compiler for. Builds below FOLDER, build/cross unless given, and ends with 'N passed, N failed'.

cd "$(dirname "$0")/.." || exit 1
TIPCREST_SOURCE=$PWD
. "$TIPCREST_SOURCE/tests/tap.sh"
. build-aux/set-up.sh
work=${1:-build/cross}
mkdir -p "$work" || exit 1
work=$(cd "$work" && pwd)
skipped=0

lacks() { # NAME REASON
    skip "the core builds for $1" "$2"
    skipped=$((skipped + 1))
}
build() { # NAME HOST OPTION...
    name=$1 host=$2
    shift 2
    prepare "$work/$name" --host="$host" --disable-tests --disable-shared --enable-static \
        --without-file --without-draw --without-study CFLAGS=-O1 "$@" &&
        in_folder "$work/$name" make -j2 libtipcrest.la
}
example() { # NAME OUTPUT COMPILER...
    name=$1 output=$2
    shift 2
    well "an example links for $name" "$@" -O1 -Iinclude -o "$work/$name/$output" examples/top_line.c \
        "$work/$name/.libs/libtipcrest.a" -lm
}
runs() { # NAME PROGRAM...
    name=$1
    shift
    "$@" 2>"$work/log" </dev/null | tr -d '\r' >"$work/out"
    well "and prints what it should on $name" diff -u examples/top_line.expected "$work/out"
}

# Its own macros of isnan and the like warn, so that warnings are no errors there.
mingw=x86_64-w64-mingw32
if command -v $mingw-gcc >/dev/null; then
    well 'the core builds for mingw-w64' build mingw $mingw CC=$mingw-gcc
    example mingw top_line.exe $mingw-gcc -static
    if command -v wine >/dev/null; then
        runs mingw env "WINEPREFIX=$work/wine" WINEDEBUG=-all wine "$work/mingw/top_line.exe"
    else
        skip 'and prints what it should on mingw' 'no wine'
        skipped=$((skipped + 1))
    fi
else
    lacks mingw-w64 "no $mingw-gcc"
fi

# clang with Debian's wasi-libc; the same way as examples/page/build.sh.
wasi='clang --target=wasm32-wasi'
echo 'int main(void) { return 0; }' >"$work/probe.c"
if $wasi -o "$work/probe.wasm" "$work/probe.c" 2>/dev/null; then
    well 'the core builds for wasm32-wasi' build wasi wasm32-wasi --enable-werror CC="$wasi" AR=llvm-ar RANLIB=llvm-ranlib
    # shellcheck disable=SC2086 # a list of words
    example wasi top_line.wasm $wasi
    if command -v node >/dev/null; then
        cat >"$work/run.mjs" <<'END'
import { WASI } from 'node:wasi';
import { readFileSync } from 'node:fs';
const wasi = new WASI({ version: 'preview1', args: ['top_line'] });
const module = new WebAssembly.Module(readFileSync(process.argv[2]));
process.exitCode = wasi.start(new WebAssembly.Instance(module, wasi.getImportObject()));
END
        runs wasi node --no-warnings "$work/run.mjs" "$work/wasi/top_line.wasm"
    else
        skip 'and prints what it should on wasi' 'no node'
        skipped=$((skipped + 1))
    fi
else
    lacks wasm32-wasi 'no clang with wasi-libc'
fi

trap - EXIT
echo "1..$tap_count"
echo "$((tap_count - tap_failed - skipped)) passed, $tap_failed failed, $skipped skipped"
[ "$tap_failed" -eq 0 ]
