#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# packages.sh GROUP...: installs what is missing, of the groups 'base' (a compiler and autotools),
# 'build' (base and libraries), 'tests', 'page' (a compiler for the browser), 'browser' and 'node' (to
# test the page), 'package' (Debian's packages), 'cross' (for tests/cross.sh, beside page and node), 'ci',
# 'release' (what is only tried for a release), and of '32', 'big-endian' and 'musl' for
# tests/portable.sh. The one place that says what tipcrest needs.
# 'packages.sh --list GROUP...' only names them.
#
# On Debian and Ubuntu apt-get installs it, as root or through sudo, and nothing happens if all is
# there. Elsewhere it tells what to install and fails.

# Group, Debian's package, and how to see on another system that it is there: a command, a pkg-config
# module (module:), a Python module (python:), or not at all (-).
needed() {
    cat <<'END'
base   gcc                cc
base   libc6-dev          -
base   make               make
base   autoconf           autoreconf
base   automake           automake
base   libtool            libtoolize
base   pkg-config         pkg-config
build  libyaml-dev        module:yaml-0.1
build  libcairo2-dev      module:cairo
build  libpango1.0-dev    module:pangocairo
build  libpng-dev         module:libpng
build  libgif-dev         -
build  libgsl-dev         module:gsl
build  fonts-dejavu-core  -
build  fonts-noto-core    -
tests  check              module:check
tests  libglpk-dev        -
tests  libjansson-dev     module:jansson
tests  libsleef-dev       -
tests  python3            python3
tests  python3-numpy      python:numpy
tests  python3-jsonschema python:jsonschema
tests  python3-yaml       python:yaml
tests  poppler-utils      pdftotext
page   clang              clang
page   lld                wasm-ld
page   wasi-libc          -
page   libclang-rt-dev-wasm32 -
page   python3            python3
browser chromium          chromium
browser firefox-esr       firefox-esr
node   nodejs             node
node   npm                npm
ci     abigail-tools      abidiff
ci     clang              clang
ci     python3-cffi       python:cffi
ci     python3-dev        -
ci     python3-pytest     python:pytest
ci     python3-setuptools python:setuptools
ci     python3-wheel      python:wheel
ci     mypy               mypy
ci     python3-pandas     python:pandas
ci     clang-format       clang-format
ci     clang-tidy         clang-tidy
ci     cmake              cmake
ci     cppcheck           cppcheck
ci     mmdebstrap         mmdebstrap
ci     g++                c++
ci     llvm               llvm-cov
ci     git                git
ci     libclang-rt-dev    -
ci     libopenmpi-dev     module:ompi-c
ci     openmpi-bin        mpirun
ci     python3-markdown   python:markdown
ci     shellcheck         shellcheck
ci     valgrind           valgrind
ci     xz-utils           xz
package debhelper         dh
package dh-python         dh_python3
package dpkg-dev          dpkg-buildpackage
package lintian           lintian
package python3-cffi      python:cffi
package python3-dev       -
package python3-setuptools python:setuptools
cross  gcc-mingw-w64-x86-64-win32 x86_64-w64-mingw32-gcc
release wine               wine
release wine64             -
32     gcc-i686-linux-gnu i686-linux-gnu-gcc
32     libc6-dev-i386-cross -
32     qemu-user          qemu-i386
big-endian gcc-s390x-linux-gnu s390x-linux-gnu-gcc
big-endian libc6-dev-s390x-cross -
big-endian qemu-user      qemu-s390x
musl   musl-tools         musl-gcc
END
}

wanted() {
    for group in "$@"; do
        needed | awk -v group="$group" '
            $1 == group || (group == "build" && $1 == "base") { print $2, $3 }'
    done
}

# Of lines 'package probe', the packages that dpkg does not have installed.
missing_debian() {
    names=$(awk '{ print $1 }')
    # shellcheck disable=SC2016,SC2086 # dpkg-query's own variables; a list of names
    {
        dpkg-query -W -f '${Package} ${db:Status-Status}\n' $names 2>/dev/null
        echo "$names" | sed 's/$/ wanted/'
    } | awk '$2 == "installed" { have[$1] = 1 } $2 == "wanted" && !have[$1] { print $1 }'
}

# The same where there is no apt-get, by looking for what the package would bring.
missing_elsewhere() {
    while read -r package probe; do
        case $probe in
        -) ;;
        module:*) pkg-config --exists "${probe#module:}" 2>/dev/null || echo "$package" ;;
        python:*) python3 -c "import ${probe#python:}" 2>/dev/null || echo "$package" ;;
        *) command -v "$probe" >/dev/null || echo "$package" ;;
        esac
    done
}

as_root() {
    if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo "$@"; fi
}

# Says nothing unless it fails.
apt() {
    said=$(as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get -qq -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 "$@" </dev/null 2>&1) && return
    echo "$said" | tail -n 30 >&2
    return 1
}

give_up() {
    echo "tipcrest needs packages that are missing here. By their names on Debian:" >&2
    # shellcheck disable=SC2086 # one line of names
    echo "    "$missing >&2
    echo "$1" >&2
    exit 1
}

if [ $# -eq 0 ]; then
    echo "usage: packages.sh GROUP..., of base, build, tests, page, browser, node, package, cross, ci, release," \
        "32, big-endian and musl" >&2
    exit 2
fi

if [ "$1" = --list ]; then
    shift
    wanted "$@" | awk '{ print $1 }'
    exit
fi

if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
    missing=$(wanted "$@" | missing_elsewhere)
    [ -z "$missing" ] || give_up "Please install what your system calls them, and start again."
    exit 0
fi

missing=$(wanted "$@" | missing_debian)
[ -n "$missing" ] || exit 0
if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null; then
    give_up "Please install them as root with apt-get install, and start again."
fi
# shellcheck disable=SC2086 # one line of names
echo "installing" $missing
# An update that fails need not matter: the packages may be known already.
apt update || echo "apt-get update failed; trying with the lists that are there" >&2
# shellcheck disable=SC2086
apt install -y --no-remove --no-install-recommends $missing || give_up "apt-get install failed."
