#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# install.sh [FOLDER]: builds the parts that may be left out each by itself, and static archives beside
# shared libraries; installs, checks and uninstalls these. Builds below FOLDER, build/install unless
# given, and ends with 'N passed, N failed'.

cd "$(dirname "$0")/.." || exit 1
TIPCREST_SOURCE=$PWD
. "$TIPCREST_SOURCE/tests/tap.sh"
folder=${1:-build/install}
mkdir -p "$folder" || exit 1
folder=$(cd "$folder" && pwd)
CC=${CC:-cc}
export CC

# quietly CLAIM COMMAND...: the command ends with 0; else the end of what it said.
quietly() {
    claim=$1
    shift
    if "$@" >"$folder/log" 2>&1; then ok "$claim"; else not_ok "$claim" "$(tail -n 20 "$folder/log")"; fi
}
build() { # NAME OPTION...: configures and builds in a folder of its own
    name=$1
    shift
    mkdir -p "$folder/$name"
    (cd "$folder/$name" && "$TIPCREST_SOURCE/configure" --disable-tests --enable-werror \
        --prefix="$folder/prefix" --libdir="$folder/prefix/lib/here" CFLAGS=-O0 "$@" && make -j2)
}
installed() { (cd "$1" && find . ! -type d | sort); }

for part in file draw study yaml; do
    quietly "it builds --without-$part" build "without-$part" "--without-$part"
    rm -rf "$folder/stage"
    quietly "and installs --without-$part" make -C "$folder/without-$part" install DESTDIR="$folder/stage"
    case $part in
    yaml) ;;
    *) equal "nothing of $part is installed" "$(installed "$folder/stage" | grep -E "libtipcrest-$part|tipcrest-$part.pc")" '' ;;
    esac
    [ "$part" != file ] || equal 'nor the command' "$(installed "$folder/stage" | grep 'bin/\|man1\|bash-c')" ''
    quietly "it uninstalls --without-$part" make -C "$folder/without-$part" uninstall DESTDIR="$folder/stage"
    equal "and leaves nothing --without-$part" "$(installed "$folder/stage")" ''
done

quietly 'it builds shared and static' build both --enable-static
rm -rf "$folder/stage" "$folder/prefix"
quietly 'it installs below DESTDIR' make -C "$folder/both" install DESTDIR="$folder/stage"
equal 'and nowhere else' "$(ls -d "$folder/prefix" 2>/dev/null)" ''
files=$(installed "$folder/stage$folder/prefix")
for file in bin/tipcrest include/tipcrest/tipcrest.h lib/here/libtipcrest.so lib/here/libtipcrest-study.a \
    lib/here/pkgconfig/tipcrest-draw.pc lib/here/cmake/tipcrest/tipcrest-config.cmake \
    share/man/man1/tipcrest.1 share/man/man1/tipcrest-plan.1 share/man/man3/tcr_check_new.3 \
    share/man/man3/tipcrest_set.h.3 share/tipcrest/tipcrest-api.json share/doc/tipcrest/LICENSE \
    share/doc/tipcrest/README.md share/doc/tipcrest/model.md share/doc/tipcrest/examples/top_line.c \
    share/bash-completion/completions/tipcrest; do
    contains "$file is installed" "$files
" "./$file
"
done
quietly 'it uninstalls below DESTDIR' make -C "$folder/both" uninstall DESTDIR="$folder/stage"
equal 'and leaves no file' "$(installed "$folder/stage")" ''
equal 'nor a folder of its own' "$(find "$folder/stage" -type d -name '*tipcrest*')" ''

quietly 'it installs' make -C "$folder/both" install
quietly 'what is installed passes installcheck' make -C "$folder/both" installcheck

# Archives together, whole: no name twice, nothing missing.
here=$folder/prefix/lib/here
PKG_CONFIG_PATH=$here/pkgconfig
export PKG_CONFIG_PATH
echo '#include <tipcrest/version.h>
int main(void) { return tcr_version()[0] != 48; }' >"$folder/whole.c"
needs=$(pkg-config --static --libs tipcrest-study tipcrest-draw | tr ' ' '\n' | grep -v '^-ltipcrest' | tr '\n' ' ')
# shellcheck disable=SC2086 # lists of words
quietly 'the archives link together whole' $CC -I"$folder/prefix/include" -o "$folder/whole" "$folder/whole.c" \
    -Wl,--whole-archive "$here/libtipcrest-study.a" "$here/libtipcrest-draw.a" "$here/libtipcrest-file.a" \
    "$here/libtipcrest.a" -Wl,--no-whole-archive $needs
quietly 'and run' "$folder/whole"
for part in '' -file -draw -study; do
    # shellcheck disable=SC2046,SC2086 # lists of words
    quietly "libtipcrest$part.a links whole with what pkg-config says" $CC -I"$folder/prefix/include" \
        -o "$folder/whole" "$folder/whole.c" -Wl,--whole-archive "$here/libtipcrest$part.a" \
        -Wl,--no-whole-archive $(pkg-config --static --libs "tipcrest$part" | sed "s/-ltipcrest$part //g") \
        $(pkg-config --libs-only-L --libs-only-l --static tipcrest)
done
quietly 'it uninstalls' make -C "$folder/both" uninstall
equal 'and nothing is left' "$(installed "$folder/prefix")" ''

trap - EXIT
echo "1..$tap_count"
echo "$((tap_count - tap_failed)) passed, $tap_failed failed"
[ "$tap_failed" -eq 0 ]
