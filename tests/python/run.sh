#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The Python package and its tests, as TAP: sh tests/python/run.sh [FOLDER]
#
# FOLDER is that of a build of the library with pictures and studies (build/ unless given), which is
# installed into a folder that goes away at the end. PYTHON is the Python to use, as
# build-aux/find-python.sh finds it. The package is built as a wheel and as a source archive, checked by
# mypy, and tested: as it is, and with Python's debug allocator. If the library was built for
# AddressSanitizer, with gcc or clang, it is tested under that instead, leaks aside, since Python keeps
# memory to its end.

cd "$(dirname "$0")/../.." || exit 1
TIPCREST_SOURCE=$(pwd)
export TIPCREST_SOURCE
. tests/tap.sh
. build-aux/set-up.sh
build=$(cd "${1:-${TIPCREST_BUILD:-build}}" 2>/dev/null && pwd)
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE

# What is not there is no failure of ours.
leave() {
    skip 'the Python package' "$1"
    finish
}

python=$(sh build-aux/find-python.sh cffi numpy pytest setuptools wheel 2>&1) || leave "$python"
[ -f "$(dirname "$("$python" -c 'import sysconfig; print(sysconfig.get_paths()["include"])')/.")/Python.h" ] ||
    leave 'no headers of Python'
for library in "$build"/libtipcrest-study.la "$build"/libtipcrest-draw.la; do
    [ -e "$library" ] || leave "no build with studies and pictures in ${1:-${TIPCREST_BUILD:-build}}"
done
grep -q "^dlname='..*'" "$build/libtipcrest.la" || leave 'no shared libraries'

work=$(mktemp -d) || exit 1
end() {
    rm -rf "$work"
    finish
}

# install_from BUILD ROOT: what a package would install.
install_from() {
    quietly "$work/install.log" in_folder "$1" make install "DESTDIR=$2"
    prefix=$2$(sed -n 's/^prefix = //p' "$1/Makefile")
    if [ -z "${TIPCREST_API:-}" ] && [ ! -e "$prefix/share/tipcrest/tipcrest-api.json" ]; then
        mkdir -p "$prefix/share/tipcrest"
        "$python" build-aux/api.py -o "$prefix/share/tipcrest/tipcrest-api.json"
    fi
}

# with ROOT COMMAND...: pkg-config and the loader find what was installed there.
with() (
    prefix=$1$(sed -n 's/^prefix = //p' "$build/Makefile")
    shift
    env PKG_CONFIG='pkg-config --define-prefix' "PKG_CONFIG_PATH=$prefix/lib/pkgconfig" \
        "LD_LIBRARY_PATH=$prefix/lib" "$@"
)

# package ROOT FOLDER ARGUMENT...: runs setup.py on a copy of the package.
package() (
    root=$1
    mkdir -p "$2" && cp -R examples/python "$2/source" && cd "$2/source" || exit 1
    shift 2
    with "$root" "$python" setup.py "$@" >"$work/package.log" 2>&1
)

# run_tests CLAIM ROOT SITE ENVIRONMENT...: a line for each test of pytest.
run_tests() {
    claim=$1 root=$2 site=$3
    shift 3
    : >"$work/tap"
    status=0
    (cd "$work" && with "$root" "TIPCREST_TAP=$work/tap" "PYTHONPATH=$site" "$@" "$python" -m pytest -q -p no:cacheprovider \
        ${only:+-k "$only"} "$TIPCREST_SOURCE/tests/python") >"$work/pytest.log" 2>&1 || status=$?
    while read -r line; do
        case $line in
        *' # SKIP '*) skip "$claim: $(echo "${line#ok - }" | sed 's/ # SKIP.*//')" "${line#* # SKIP }" ;;
        'ok - '*) ok "$claim: ${line#ok - }" ;;
        *) not_ok "$claim: ${line#not ok - }" ;;
        esac
    done <"$work/tap"
    [ "$status" -eq 0 ] || sed 's/^/#   /' "$work/pytest.log"
    equal "$claim: pytest ends well" "$status" 0
}

# A million rows say nothing more under sanitizers and the debug allocator.
few='not million'

# ---- Under AddressSanitizer ----------------------------------------------------------------------

flags=$(sed -n 's/^CFLAGS = //p' "$build/Makefile")
case $flags in
*-fsanitize=address*)
    CC=$(sed -n 's/^CC = //p' "$build/Makefile")
    export CC
    case $($CC --version) in
    *clang*) runtime=libclang_rt.asan-$(uname -m).so ;;
    *) runtime=libasan.so ;;
    esac
    preload=$($CC -print-file-name="$runtime")
    if [ "$preload" = "$runtime" ]; then
        skip 'under AddressSanitizer' "no $runtime for $CC"
        end
    fi
    install_from "$build" "$work/root" || exit 1
    if (export "CFLAGS=$flags" && package "$work/root" "$work/asan" -q build --build-lib "$work/site"); then
        ok 'the package is built for the sanitizer'
    else
        not_ok 'the package is built for the sanitizer' "$(cat "$work/package.log")"
        end
    fi
    # The command has its own runtime, which would meet that of Python.
    only="$few and not those_of_the_command"
    run_tests 'under AddressSanitizer' "$work/root" "$work/site" "LD_PRELOAD=$preload" \
        ASAN_OPTIONS=detect_leaks=0:allocator_may_return_null=1 PYTHONMALLOC=malloc
    end
    ;;
esac

# ---- As it is ------------------------------------------------------------------------------------

only=
install_from "$build" "$work/root" || exit 1
TIPCREST=$build/tipcrest
export TIPCREST
if (package "$work/root" "$work/sdist" -q sdist) &&
    mkdir "$work/wheel" && tar -xf "$work"/sdist/source/dist/*.tar.gz -C "$work/wheel"; then
    ok 'the source archive is made'
else
    not_ok 'the source archive is made' "$(cat "$work/package.log")"
fi
if (cd "$work"/wheel/* && with "$work/root" "$python" setup.py -q bdist_wheel >"$work/package.log" 2>&1) &&
    "$python" -m zipfile -e "$work"/wheel/*/dist/*-abi3-*.whl "$work/site"; then
    ok 'the wheel is made from it, for the stable interface of Python'
else
    not_ok 'the wheel is made from it, for the stable interface of Python' "$(cat "$work/package.log")"
    end
fi
run_tests 'as it is' "$work/root" "$work/site"

if mypy --version >/dev/null 2>&1; then
    cp examples/python/pyproject.toml "$work"
    equal 'mypy, strict, finds nothing' \
        "$(cd "$work" && mypy --python-executable "$python" --cache-dir "$work/mypy" site/tipcrest 2>&1)" \
        "Success: no issues found in $(find "$work/site/tipcrest" -name '*.py*' ! -name py.typed | sed 's/\.pyi*$//' | sort -u | wc -l) source files"
else
    skip 'mypy, strict, finds nothing' 'no mypy'
fi

only=$few
run_tests 'with the debug allocator' "$work/root" "$work/site" PYTHONMALLOC=debug PYTHONDEVMODE=1
end
