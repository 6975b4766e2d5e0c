#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Run by 'make installcheck'. Holds the installed library to what an embedder counts on: every public
# header compiles alone, as strict C11 and as C++; examples build with nothing but pkg-config; no name
# outside tcr_ is exported.

. "$TIPCREST_SOURCE/tests/tap.sh"
work=$(mktemp -d) || exit 1
trap 'rm -rf "$work"; echo "not ok - the script came to its end"; exit 99' EXIT

PKG_CONFIG_PATH=$TIPCREST_PC${PKG_CONFIG_PATH+:$PKG_CONFIG_PATH}
LD_LIBRARY_PATH=$TIPCREST_LIBDIR${LD_LIBRARY_PATH+:$LD_LIBRARY_PATH}
export PKG_CONFIG_PATH LD_LIBRARY_PATH
static=
[ -e "$TIPCREST_LIBDIR/libtipcrest.so" ] || static=--static

modules='tipcrest tipcrest-file'
for module in tipcrest-draw tipcrest-study; do
    [ ! -e "$TIPCREST_PC/$module.pc" ] || modules="$modules $module"
done

compiles() {
    claim=$1
    shift
    if said=$("$@" 2>&1); then ok "$claim"; else not_ok "$claim" "$said"; fi
}

# CC, CFLAGS and what pkg-config prints are lists of words: they have to be split.
# shellcheck disable=SC2086,SC2153
{
    cflags=$($PKG_CONFIG --cflags $modules)
    libs=$($PKG_CONFIG $static --libs $modules)
    include=$($PKG_CONFIG --variable=includedir tipcrest)
    cxx=
    for name in ${CXX-} c++ g++ clang++; do
        [ -n "$cxx" ] || ! command -v "$name" >/dev/null || cxx=$name
    done

    for path in "$include"/tipcrest/*.h; do
        header=tipcrest/${path##*/}
        printf "#include <%s>\ntypedef int tcr_not_empty;\n" "$header" >"$work/one.c"
        cp "$work/one.c" "$work/one.cc"
        compiles "$header compiles alone" \
            $CC -std=c11 -Wall -Wextra -pedantic -Werror -fsyntax-only $cflags "$work/one.c"
        if [ -n "$cxx" ]; then
            compiles "$header compiles as C++" \
                $cxx -std=c++11 -Wall -Wextra -Werror -fsyntax-only $cflags "$work/one.cc"
        else
            skip "$header compiles as C++" 'no C++ compiler'
        fi
    done

    printf '%s\n' '#include <tipcrest/begin.h>' '#include <tipcrest/tipcrest.h>' \
        'int main() {' \
        'tcr_begin_options begin = tcr_begin_options_default();' \
        'tcr_line_options line = tcr_line_options_default();' \
        'return begin.eye[TCR_LEFT] && line.size == sizeof line && tcr_begin_validate(&begin, 0) == TCR_OK' \
        '? 0 : 1; }' >"$work/program.cc"
    if [ -n "$cxx" ]; then
        compiles 'a C++ program builds against the installed library' \
            $cxx -std=c++11 $CFLAGS $cflags -o "$work/program" "$work/program.cc" $libs
        compiles 'a C++ program runs' "$work/program"
    else
        skip 'a C++ program builds against the installed library' 'no C++ compiler'
    fi

    cd "$TIPCREST_SOURCE" || exit 1
    for program in $TIPCREST_EXAMPLES; do
        compiles "$program builds against the installed library" \
            $CC $CFLAGS $cflags -o "$work/example" "$program.c" $libs
        "$work/example" >"$work/out" </dev/null || echo "exit status $?" >>"$work/out"
        compiles "$program prints what it should" diff -u "$program.expected" "$work/out"
    done
}

for library in "$TIPCREST_LIBDIR"/libtipcrest*.so; do
    [ -e "$library" ] || continue
    strangers=$(nm -D --defined-only "$library" | awk '$2 != "A" && $3 !~ /^tcr_/ { print $3 }')
    equal "${library##*/} exports names in tcr_ only" "$strangers" ''
done

trap - EXIT
rm -rf "$work"
finish
