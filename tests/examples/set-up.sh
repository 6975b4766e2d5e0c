#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# build-aux/set-up.sh: a long build tells how far it is, and what failed, and libtool is shortened. Makefile,
# libtool and compiler are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
TIPCREST_SOURCE=$(cd "$TIPCREST_SOURCE" && pwd) || exit 1
work=$(mktemp -d) || exit 1
cd "$work" || exit 1
. "$TIPCREST_SOURCE/build-aux/set-up.sh"

mkdir folder
{
    echo 'all:'
    for i in $(seq 90); do printf '\t@echo "  CC       f%s.lo"\n' "$i"; done
    printf 'bad:\n\t@echo "  CC       x.lo"\n\t@echo what went wrong; false\n'
} >folder/Makefile

equal 'how many files are compiled is told now and then' \
    "$(MAKEFLAGS='' make_telling folder all 2>&1; echo "$?")" \
    '  40 of 90 files compiled
  80 of 90 files compiled
0'
equal 'a build that fails shows the end of its log' \
    "$(MAKEFLAGS='' make_telling folder bad 2>err; echo "$?") $(grep -c 'what went wrong' err) $(tail -n 1 err)" \
    '1 1 failed: make bad (all of it in folder/make.log)'

# ---- quick-libtool.sh -------------------------------------------------------------------------

mkdir build-aux && cp "$TIPCREST_SOURCE/build-aux/quick-libtool.sh" build-aux
cat >cc <<'END'
#!/bin/sh
# Notes its call, warns, and writes what follows -o; told to fail it does.
echo "$*" >>calls
echo 'a warning' >&2
while [ $# -gt 0 ]; do
    case $1 in
    -o) : >"$2" ;;
    fail) exit 3 ;;
    esac
    shift
done
END
chmod +x cc

# libtool_of SHARED ARCHIVES: as configure makes one for these.
libtool_of() {
    {
        printf '%s\n' '# ### BEGIN LIBTOOL CONFIG' "build_libtool_libs=$1" "build_old_libs=$2"
        printf '%s\n' 'objdir=.libs objext=o pic_flag=" -fPIC -DPIC"' '# ### END LIBTOOL CONFIG'
        # shellcheck disable=SC2016 # expanded there
        echo 'echo "left to libtool: $*"'
    } >folder/libtool
    quicken_libtool folder && quicken_libtool folder
    rm -rf a calls && mkdir a
}

# compiles ARGUMENT...: what came of it: exit status, words, calls of the compiler, objects, and what a.lo
# says of them.
compiles() {
    sh folder/libtool --tag=CC --mode=compile ./cc "$@" >said 2>&1
    echo "$?" "$(cat said)"
    [ ! -e calls ] || cat calls
    find a -type f | sort
    [ ! -e a/b.lo ] || grep -v '^#' a/b.lo
}
libtool_of yes no
equal 'for shared libraries alone an object is compiled once, by place' \
    "$(compiles '-DNAME="two words"' -MF x.Tpo -c -o a/b.lo a/b.c)" \
    "0 a warning
-DNAME=\"two words\" -MF x.Tpo -c a/b.c -fPIC -DPIC -o a/.libs/b.o
a/.libs/b.o
a/b.lo
pic_object='.libs/b.o'
non_pic_object=none"
libtool_of yes yes
equal 'for archives too once more, and it is warned once' "$(compiles -c -o a/b.lo a/b.c)" \
    "0 a warning
-c a/b.c -fPIC -DPIC -o a/.libs/b.o
-c a/b.c -o a/b.o
a/.libs/b.o
a/b.lo
a/b.o
pic_object='.libs/b.o'
non_pic_object='b.o'"
libtool_of no yes
equal 'for archives alone once' "$(compiles -c -o a/b.lo a/b.c)" \
    "0 a warning
-c a/b.c -o a/b.o
a/b.lo
a/b.o
pic_object=none
non_pic_object='b.o'"
libtool_of yes no
equal 'what the compiler refuses has its status, and no object' "$(compiles fail -c -o a/b.lo a/b.c)" \
    '3 a warning
fail -c a/b.c -fPIC -DPIC -o a/.libs/b.o'
for option in -static -prefer-pic -Wc,-g -fPIC; do
    equal "$option is left to libtool" "$(compiles -c "$option" -o a/b.lo a/b.c | head -n 1)" \
        "0 left to libtool: --tag=CC --mode=compile ./cc -c $option -o a/b.lo a/b.c"
done
equal 'so is linking' "$(sh folder/libtool --mode=link ./cc -o b a/b.lo)" \
    'left to libtool: --mode=link ./cc -o b a/b.lo'

cd /
rm -rf "$work"
finish
