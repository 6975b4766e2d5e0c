#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Run by 'make installcheck'. Builds and runs a C and a C++17 program against the installed copy, by
# pkg-config and by CMake, and asks CMake for versions and parts that there are and are not.

. "$TIPCREST_SOURCE/tests/tap.sh"
work=$(mktemp -d) || exit 1
PKG_CONFIG_PATH=$TIPCREST_PC${PKG_CONFIG_PATH+:$PKG_CONFIG_PATH}
LD_LIBRARY_PATH=$TIPCREST_LIBDIR${LD_LIBRARY_PATH+:$LD_LIBRARY_PATH}
export PKG_CONFIG_PATH LD_LIBRARY_PATH

has() { [ -e "$TIPCREST_LIBDIR/libtipcrest$1.so" ] || [ -e "$TIPCREST_LIBDIR/libtipcrest$1.a" ]; }
parts=core
for part in file draw study; do
    ! has "-$part" || parts="$parts $part"
done
static=
[ -e "$TIPCREST_LIBDIR/libtipcrest.so" ] || static=--static

# said CLAIM COMMAND...: the command ends with 0; else what it said.
said() {
    claim=$1
    shift
    if "$@" >"$work/log" 2>&1; then ok "$claim"; else not_ok "$claim" "$(tail -n 20 "$work/log")"; fi
}

# prints CLAIM PROGRAM EXAMPLE: the program prints what the example should.
prints() {
    (cd "$TIPCREST_SOURCE" && "$2" </dev/null) >"$work/out" 2>&1
    said "$1" diff -u "$TIPCREST_SOURCE/examples/$3.expected" "$work/out"
}

# ---- pkg-config ------------------------------------------------------------------------------------

# CC, CXX, CFLAGS and what pkg-config prints are lists of words.
# shellcheck disable=SC2046,SC2086,SC2153
case " $TIPCREST_EXAMPLES " in
*' examples/worst_lash '*)
    said 'a C++17 program builds with pkg-config' $CXX -std=c++17 -Wall -Wextra -Werror $CFLAGS \
        $($PKG_CONFIG --cflags tipcrest-file) -o "$work/worst" \
        "$TIPCREST_SOURCE/examples/worst_lash.cc" $($PKG_CONFIG $static --libs tipcrest-file)
    prints 'and prints what it should' "$work/worst" worst_lash
    ;;
*) skip 'a C++17 program builds with pkg-config' 'no C++ compiler, or no files' ;;
esac

numbers='#include <tipcrest/version.h>
#include <stdio.h>
int main(void) {
    printf("%d.%d.%d %s %d %s\n", TCR_VERSION_MAJOR, TCR_VERSION_MINOR, TCR_VERSION_PATCH, TCR_VERSION,
           TCR_VERSION_NUMBER, tcr_version());
    return 0;
}'
version=$($PKG_CONFIG --modversion tipcrest)
printf '%s\n' "$numbers" >"$work/numbers.c"
# shellcheck disable=SC2046,SC2086
said 'a C program builds with pkg-config' $CC -std=c11 $CFLAGS $($PKG_CONFIG --cflags tipcrest) \
    -o "$work/numbers" "$work/numbers.c" $($PKG_CONFIG $static --libs tipcrest)
equal 'the version is the same as text, as numbers, and of the library' "$("$work/numbers")" \
    "$version $version $(echo "$version" | awk -F. '{ print $1 * 10000 + $2 * 100 + $3 }') $version"

# ---- CMake -----------------------------------------------------------------------------------------

if ! command -v cmake >/dev/null; then
    skip 'programs build with CMake' 'no cmake'
    rm -rf "$work"
    finish
fi
cxx=
case " $TIPCREST_EXAMPLES " in *' examples/worst_lash '*) cxx=CXX ;; esac

# project REQUEST TARGETS [LINE]: a project that asks for the package so.
project() {
    rm -rf "$work/project"
    mkdir "$work/project"
    {
        echo 'cmake_minimum_required(VERSION 3.16)'
        echo "project(user LANGUAGES C $cxx)"
        [ -z "${3-}" ] || echo "$3"
        echo "find_package(tipcrest $1)"
        echo 'if(NOT tipcrest_FOUND)'
        # shellcheck disable=SC2016 # expanded by CMake
        echo '  message(FATAL_ERROR "not found: ${tipcrest_NOT_FOUND_MESSAGE}")'
        echo 'endif()'
        echo "add_executable(top $TIPCREST_SOURCE/examples/top_line.c)"
        echo 'set_property(TARGET top PROPERTY C_STANDARD 11)'
        echo "target_link_libraries(top $2)"
        if [ -n "$cxx" ]; then
            echo "add_executable(worst $TIPCREST_SOURCE/examples/worst_lash.cc)"
            echo 'set_property(TARGET worst PROPERTY CXX_STANDARD 17)'
            echo "target_link_libraries(worst $2)"
        fi
    } >"$work/project/CMakeLists.txt"
}
configure() {
    CC=${CC##* } CXX=${CXX##* } cmake -S "$work/project" -B "$work/project/build" \
        -DCMAKE_PREFIX_PATH="$TIPCREST_LIBDIR/cmake" -DCMAKE_C_FLAGS="$CFLAGS" -DCMAKE_CXX_FLAGS="$CFLAGS"
}

all=$(for part in $parts; do printf 'tipcrest::%s ' "$part"; done)
tried() { # HOW [LINE]
    project "${version%.*} CONFIG REQUIRED COMPONENTS $parts" "$all" "${2-}"
    said "CMake finds $parts$1" configure
    said "programs build with CMake$1" cmake --build "$work/project/build"
    prints "the C program prints what it should$1" "$work/project/build/top" top_line
    [ -z "$cxx" ] || prints "the C++ program prints what it should$1" "$work/project/build/worst" worst_lash
}
tried ''
if [ -e "$TIPCREST_LIBDIR/libtipcrest.a" ] && [ -e "$TIPCREST_LIBDIR/libtipcrest.so" ]; then
    tried ', static' 'set(tipcrest_USE_STATIC_LIBS ON)'
else
    skip 'CMake links the archives beside shared libraries' 'only one of them is installed'
fi

refused() { # CLAIM REQUEST
    cxx='' project "$2" tipcrest::core
    if configure >"$work/log" 2>&1; then not_ok "$1"; else ok "$1"; fi
}
found() { # CLAIM REQUEST
    cxx='' project "$2" tipcrest::core
    said "$1" configure
}
found 'no component means all' 'CONFIG'
found 'an optional part that is missing is no error' 'CONFIG OPTIONAL_COMPONENTS none'
found 'the exact version' "$version EXACT CONFIG"
found 'a range of versions' "0.2...1.0 CONFIG"
refused 'a part that there is not' 'CONFIG COMPONENTS none'
refused 'a newer version' '0.99 CONFIG'
refused 'a version before the last change of the interface' '0.1 CONFIG'
refused 'another major version' '1.0 CONFIG'
refused 'a range below' "0.1...<0.2 CONFIG"

rm -rf "$work"
finish
