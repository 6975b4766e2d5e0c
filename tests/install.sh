#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# install.sh [FOLDER]: builds the parts that may be left out each by itself, and static archives beside
# shared libraries; installs, checks and uninstalls these. Builds below FOLDER, build/install unless
# given, and ends with 'N passed, N failed'.
#
# With the names of two builds that there are, it builds nothing: TIPCREST_PLAIN is one without pictures
# and studies, which stands for all parts that may be left out, TIPCREST_ARCHIVES one of static archives
# alone, with any flags. .ci/run does so; it builds the core alone too (tests/cross.sh), and installs
# shared libraries (make distcheck).

cd "$(dirname "$0")/.." || exit 1
TIPCREST_SOURCE=$PWD
. "$TIPCREST_SOURCE/tests/tap.sh"
. build-aux/set-up.sh
work=${1:-build/install}
mkdir -p "$work" || exit 1
work=$(cd "$work" && pwd)
stage=$work/stage
CC=${CC:-cc}
export CC

build() { # FOLDER OPTION...
    prepare "$1" --disable-tests --enable-werror CFLAGS=-O0 "$2" ${3+"$3"} ${4+"$4"} && in_folder "$1" make -j2
}
installed() { (cd "$1" && find . ! -type d | sort); }

# without PARTS FOLDER: that build lacks these parts, and all that belongs to them.
without() {
    rm -rf "$stage"
    well "it installs without $1" in_folder "$2" make install DESTDIR="$stage"
    for part in $1; do
        [ "$part" = yaml ] || equal "nothing of $part is installed" \
            "$(installed "$stage" | grep -E "libtipcrest-$part|tipcrest-$part.pc")" ''
        [ "$part" != file ] || equal 'nor the command' "$(installed "$stage" | grep 'bin/\|man1\|bash-c')" ''
    done
    well "it uninstalls without $1" in_folder "$2" make uninstall DESTDIR="$stage"
    equal "and leaves nothing without $1" "$(installed "$stage")" ''
}
parts='file yaml draw study'
if [ -n "${TIPCREST_PLAIN-}" ]; then
    parts=
    without 'draw study' "$TIPCREST_PLAIN"
fi
for part in $parts; do
    well "it builds --without-$part" build "$work/without-$part" "--without-$part"
    without "$part" "$work/without-$part"
done

# ---- Archives --------------------------------------------------------------------------------------

prefix=$work/prefix
rm -rf "$stage" "$prefix"
if [ -n "${TIPCREST_ARCHIVES-}" ]; then
    both=$TIPCREST_ARCHIVES here=$prefix/lib
    CC="$(sed -n 's/^CC = //p' "$both/Makefile") $(sed -n 's/^CFLAGS = //p' "$both/Makefile")"
    set -- "prefix=$prefix"
else
    both=$work/both here=$prefix/lib/here
    set --
    well 'it builds shared and static' build "$both" --enable-static "--prefix=$prefix" "--libdir=$here"
    well 'it installs below DESTDIR' in_folder "$both" make install DESTDIR="$stage"
    equal 'and nowhere else' "$(ls -d "$prefix" 2>/dev/null)" ''
    well 'it uninstalls below DESTDIR' in_folder "$both" make uninstall DESTDIR="$stage"
    equal 'and leaves no file' "$(installed "$stage")" ''
    equal 'nor a folder of its own' "$(find "$stage" -type d -name '*tipcrest*')" ''
fi
well 'it installs' in_folder "$both" make install "$@"
files=$(installed "$prefix")
shared=libtipcrest.so
[ -z "${TIPCREST_ARCHIVES-}" ] || shared=libtipcrest.a
for file in bin/tipcrest include/tipcrest/tipcrest.h "${here#"$prefix/"}/$shared" \
    "${here#"$prefix/"}/libtipcrest-study.a" "${here#"$prefix/"}/pkgconfig/tipcrest-draw.pc" \
    "${here#"$prefix/"}/cmake/tipcrest/tipcrest-config.cmake" \
    share/man/man1/tipcrest.1 share/man/man1/tipcrest-plan.1 share/man/man3/tcr_check_new.3 \
    share/man/man3/tipcrest_set.h.3 share/tipcrest/tipcrest-api.json share/doc/tipcrest/LICENSE \
    share/doc/tipcrest/README.md share/doc/tipcrest/doc/model.md share/doc/tipcrest/examples/top_line.c \
    share/bash-completion/completions/tipcrest; do
    contains "$file is installed" "$files
" "./$file
"
done
mpi=0
for file in bin/tipcrest-study-mpi share/man/man1/tipcrest-study-mpi.1 \
    share/bash-completion/completions/tipcrest-study-mpi; do
    [ ! -e "$prefix/$file" ] || mpi=$((mpi + 1))
done
equal 'tipcrest-study-mpi comes with its page and its completion, or not at all' "$((mpi % 3))" 0
for file in doc/*.md; do
    contains "$file is installed" "$files
" "./share/doc/tipcrest/$file
"
done
equal 'the links in the installed texts lead to files' "$(sh tests/links.sh "$prefix/share/doc/tipcrest")" ''
equal 'a link that leads nowhere would be found' \
    "$(mkdir "$work/dead" && echo '[a](b.md#c) [d](http://e) [f](#g)' >"$work/dead/a.md" &&
        sh tests/links.sh "$work/dead")" './a.md: there is no b.md'
rm -rf "$work/dead"
# A prefix that only make knows is none that pkg-config knows.
[ $# -eq 0 ] || sed -i "s,^prefix=.*,prefix=$prefix," "$here"/pkgconfig/tipcrest*.pc
well 'what is installed passes installcheck' in_folder "$both" make installcheck "$@"

# Archives together, whole: no name twice, nothing missing.
PKG_CONFIG_PATH=$here/pkgconfig
export PKG_CONFIG_PATH
echo '#include <tipcrest/version.h>
int main(void) { return tcr_version()[0] != 48; }' >"$work/whole.c"
needs=$(pkg-config --static --libs tipcrest-study tipcrest-draw | tr ' ' '\n' | grep -v '^-ltipcrest' | tr '\n' ' ')
# shellcheck disable=SC2086 # lists of words
well 'the archives link together whole' $CC -I"$prefix/include" -o "$work/whole" "$work/whole.c" \
    -Wl,--whole-archive "$here/libtipcrest-study.a" "$here/libtipcrest-draw.a" "$here/libtipcrest-file.a" \
    "$here/libtipcrest.a" -Wl,--no-whole-archive $needs
well 'and run' "$work/whole"
# An archive needs the other archives: a shared library beside them hides what they share.
for part in '' -file -draw -study; do
    # shellcheck disable=SC2046,SC2086 # lists of words
    well "libtipcrest$part.a links whole with what pkg-config says" $CC -I"$prefix/include" \
        -o "$work/whole" "$work/whole.c" -Wl,--whole-archive "$here/libtipcrest$part.a" \
        -Wl,--no-whole-archive $({
            pkg-config --static --libs "tipcrest$part" | sed "s/-ltipcrest$part //g"
            pkg-config --libs-only-L --libs-only-l --static tipcrest
        } | sed 's/-l\(tipcrest[a-z-]*\)/-l:lib\1.a/g')
done
well 'it uninstalls' in_folder "$both" make uninstall "$@"
equal 'and nothing is left' "$(installed "$prefix")" ''

trap - EXIT
echo "1..$tap_count"
echo "$((tap_count - tap_failed)) passed, $tap_failed failed"
[ "$tap_failed" -eq 0 ]
