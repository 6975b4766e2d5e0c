#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The core's tests on other machines than this one, and what the examples and the command print there:
#
#     sh tests/portable.sh [32] [big-endian] [musl]       # all three unless named
#
#     32          32-bit x86 with SSE2: with x87 doubles would have other bits
#     big-endian  s390x, under qemu-user
#     musl        another C library
#
# Everything is built in build/portable/, without pictures: tipcrest, and from Debian's sources the
# libraries that it and its tests need, for no package has them for these machines. Takes long, most of it
# to compile. A machine whose tools are not to be had is skipped, with the reason. Ends with 'N passed, N
# failed'.

cd "$(dirname "$0")/.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh

place=$root/build/portable
sources=$place/sources
mkdir -p "$sources" || exit 1

# ---- Libraries --------------------------------------------------------------------------------

# Debian's sources of the libraries, by apt-get with lists of its own; what is there is kept.
get_sources() {
    for library in check gsl libyaml; do
        ls "$sources/$library"_*.orig.tar.gz >/dev/null 2>&1 || missing="${missing-} $library"
    done
    [ -n "${missing-}" ] || return 0
    command -v apt-get >/dev/null || return
    mkdir -p "$sources/lists/partial" "$sources/cache/archives/partial" "$sources/etc" || return
    sed 's/^Types:.*/Types: deb-src/' /etc/apt/sources.list.d/debian.sources \
        /etc/apt/sources.list.d/ubuntu.sources >"$sources/etc/here.sources" 2>/dev/null
    sed -n 's/^deb /deb-src /p' /etc/apt/sources.list >"$sources/etc/here.list" 2>/dev/null
    set -- -o "Dir::State::lists=$sources/lists" -o "Dir::Cache=$sources/cache" \
        -o Dir::Etc::sourcelist=/dev/null -o "Dir::Etc::sourceparts=$sources/etc" \
        -o APT::Sandbox::User="$(id -un)"
    # shellcheck disable=SC2086 # names
    apt-get -qq "$@" update &&
        (cd "$sources" && apt-get -qq "$@" source --download-only $missing)
}

# unpack LIBRARY: into a folder of its name in $libraries.
unpack() {
    rm -rf "${libraries:?}/$1" && mkdir -p "$libraries/$1" &&
        tar -xf "$sources/$1"_*.orig.tar.gz -C "$libraries/$1" --strip-components=1
}

configure() { # LIBRARY ARGUMENT...
    (
        cd "$libraries/$1" || exit
        shift
        ./configure ${host:+"--host=$host"} CC="$cc" CFLAGS="-O1 $flags" --disable-shared \
            --disable-dependency-tracking "$@"
    )
}

build_check() {
    unpack check && configure check --disable-subunit && make -C "$libraries/check/lib" -j2 &&
        make -C "$libraries/check/src" -j2 libcheck.la
}

# compile_part PART: the files of a part of GSL. Its own Makefile says which; its libtool would take longer
# than the compiler.
compile_part() (
    cd "$libraries/gsl/$1" || exit
    # shellcheck disable=SC2016 # variables of make
    files=$(make -s --eval \
        'files: ; @echo $(filter %.c,$(foreach v,$(filter lib%_la_SOURCES,$(.VARIABLES)),$($v)))' files)
    # shellcheck disable=SC2086 # lists
    printf '%s\n' $files | xargs -n 10 -P 2 $cc -O1 $flags -DHAVE_CONFIG_H -I. -I.. -c
)

# What the tests use of GSL, and what that uses, in one library.
build_gsl() {
    unpack gsl && configure gsl && make -C "$libraries/gsl/gsl" || return
    for part in err sys utils complex block vector matrix permutation poly sort blas cblas linalg specfunc cdf rng \
        randist statistics integration deriv min multimin multiroots ode-initval2 multifit fit; do
        compile_part "$part" || return
    done
    rm -f "$libraries/libgsl.a"
    # Parts have files of the same names, so each is added, and none replaced.
    find "$libraries/gsl" -name '*.o' -exec "${prefix}ar" qc "$libraries/libgsl.a" {} + &&
        "${prefix}ranlib" "$libraries/libgsl.a"
}

build_libyaml() {
    unpack libyaml && cd "$libraries/libyaml" || return
    # shellcheck disable=SC2086 # lists
    $cc -O1 $flags -Iinclude -DYAML_VERSION_STRING='"0.2"' -DYAML_VERSION_MAJOR=0 -DYAML_VERSION_MINOR=2 \
        -DYAML_VERSION_PATCH=0 -c src/*.c && "${prefix}ar" cr libyaml.a ./*.o
}

build_libraries() {
    [ ! -e "$libraries/built" ] || return 0
    echo 'building libraries'
    mkdir -p "$libraries"
    for library in check libyaml gsl; do
        (quietly "$libraries/$library.log" "build_$library") || return
    done
    echo >"$libraries/built"
}

# ---- A machine --------------------------------------------------------------------------------

build() {
    build_libraries && set_up "$folder" ${host:+"--host=$host"} --without-draw --without-study --enable-tests \
        --disable-shared --enable-static CC="$cc" CFLAGS="-O2 $flags" \
        FILE_CFLAGS="-I$libraries/libyaml/include" FILE_LIBS="$libraries/libyaml/libyaml.a" \
        TESTS_CFLAGS="-I$libraries/check -I$libraries/check/src -I$libraries/gsl" \
        TESTS_LIBS="$libraries/check/src/.libs/libcheck.a $libraries/libgsl.a -lpthread -lm"
}

# The core's tests, as 'make check' runs them.
run_tests() {
    tests=$(in_folder "$folder" make -s core-tests)
    echo 'running the tests of the core'
    # No timeout: qemu is slow.
    CK_DEFAULT_TIMEOUT=0 in_folder "$folder" make -j2 check check_DATA= check_PROGRAMS="$tests" \
        TESTS="$tests" LOG_COMPILER="$emulator" >"$folder/check.log" 2>&1 </dev/null
    not_run=0
    for test in $tests; do
        logs="$logs $folder/$test.log"
        if [ ! -e "$folder/$test.log" ]; then
            not_run=$((not_run + 1))
        elif ! grep -q '^:test-result: PASS' "$folder/$test.trs" 2>/dev/null; then
            tail -n 40 "$folder/$test.log"
        fi
    done
    [ "$not_run" -eq 0 ] || tail -n 40 "$folder/check.log"
}

# prints CLAIM EXPECTED COMMAND...: a program of the machine prints the same.
prints() {
    claim=$1 expected=$2
    shift 2
    # shellcheck disable=SC2086 # an emulator or none
    if difference=$($emulator "$@" 2>&1 </dev/null | diff "$expected" - 2>&1); then
        ok "$machine: $claim"
    else
        not_ok "$machine: $claim" "$(echo "$difference" | head -n 10)"
    fi
}

# agrees COMMAND...: its JSON has all digits, and the last ones are the C library's, whose sine is not the
# same everywhere; the rest agrees as with the reference, to 1e-9.
agrees() {
    "$here/tipcrest" "$@" --json "$folder/here.json" >"$folder/out" 2>&1 </dev/null
    # shellcheck disable=SC2086 # an emulator or none
    $emulator "$folder/tipcrest" "$@" --json "$folder/there.json" >"$folder/out" 2>&1 </dev/null
    if difference=$(python3 tests/reference/compare.py "$folder/there.json" "$folder/here.json" 2>&1); then
        ok "$machine: tipcrest $*: its JSON agrees: $difference"
    else
        not_ok "$machine: tipcrest $*: its JSON agrees" "$(echo "$difference" | head -n 10)"
    fi
}

# TAP of what is printed there, against what was printed here: tables, and CSV with six digits, are the same.
compare_outputs() (
    # shellcheck source=tests/tap.sh
    . tests/tap.sh
    # shellcheck disable=SC2086 # names
    quietly "$folder/examples.log" in_folder "$folder" make -j2 $examples
    for example in $examples; do
        prints "$example prints what is expected" "$example.expected" "$folder/$example"
    done
    while read -r words; do
        # shellcheck disable=SC2086 # words
        "$here/tipcrest" $words >"$folder/expected" 2>&1 </dev/null
        # shellcheck disable=SC2086
        prints "tipcrest $words prints the same" "$folder/expected" "$folder/tipcrest" $words
    done <<'END'
check examples/practice-head/layered.yaml --full
check examples/practice-head/equal.yaml --full
check examples/client/client.yaml --full
check examples/practice-head/layered.yaml --csv -
why examples/practice-head/layered.yaml --full
why examples/client/client.yaml --full
step examples/practice-head/layered.yaml --full
step examples/client/client.yaml --full
plan examples/practice-head/layered.yaml --full
plan examples/client/client.yaml --samples 0 --full
plan examples/client/client.yaml --samples 20
begin -o -
END
    for set in practice-head/layered practice-head/equal client/client; do
        agrees check "examples/$set.yaml"
        agrees why "examples/$set.yaml"
        agrees step "examples/$set.yaml"
    done
    agrees plan examples/practice-head/layered.yaml
    agrees plan examples/client/client.yaml --samples 0
    finish
)

# run MACHINE: sets it up, tests it, and adds its logs to logs.
run() {
    machine=$1 folder=build/portable/$1 libraries=$place/libraries-$1 host='' flags='' emulator='' prefix=''
    results=$folder.log
    logs="$logs $results"
    case $machine in
    32) host=i686-linux-gnu flags='-msse2 -mfpmath=sse' ;;
    big-endian) host=s390x-linux-gnu ;;
    esac
    [ -z "$host" ] || prefix=$host-
    # The cross compilers bring their C library, which lies in no place where programs look for it.
    case $machine in
    32) emulator="/usr/$host/lib/ld-linux.so.2 --library-path /usr/$host/lib" ;;
    big-endian) emulator="qemu-s390x -L /usr/$host" ;;
    esac
    cc=${prefix:-musl-}gcc
    echo "== $machine"
    if ! sh build-aux/packages.sh "$machine"; then
        echo "ok 1 - $machine # SKIP its compiler is not to be had here" >"$results"
    elif ! get_sources; then
        echo "ok 1 - $machine # SKIP the sources of the libraries are not to be had here" >"$results"
    elif build; then
        # A kernel need not run such programs.
        [ "$machine" != 32 ] || "/usr/$host/lib/ld-linux.so.2" --version >/dev/null 2>&1 ||
            emulator="qemu-i386 -L /usr/$host"
        compare_outputs >"$results"
        grep '^not ok\|^#' "$results"
        run_tests
    else
        echo "not ok 1 - $machine: it is built" >"$results"
    fi
}

[ $# -gt 0 ] || set -- 32 big-endian musl
for machine; do
    case $machine in
    32 | big-endian | musl) ;;
    *) echo "usage: sh tests/portable.sh [32] [big-endian] [musl]" >&2; exit 2 ;;
    esac
done

here=build/portable/here logs=''
if ! sh build-aux/packages.sh build tests || ! set_up "$here" --enable-werror --without-draw CC=gcc; then
    echo '0 passed, 1 failed'
    exit 1
fi
examples='examples/plan_eye examples/top_line'
for machine; do
    start=$(date +%s)
    run "$machine"
    echo "$machine took $(($(date +%s) - start)) s"
done
# shellcheck disable=SC2086 # names without blanks
exec sh build-aux/count-checks.sh $logs
