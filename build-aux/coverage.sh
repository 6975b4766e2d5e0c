#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# coverage.sh: the tests under the address and undefined-behaviour sanitisers, but for faults of memory
# and of the system, and how much of the library they run. Builds with clang in build/coverage, runs
# 'make check' there, prints lines and branches of each floor and the files that fall short, and leaves a
# page for reading in build/coverage/report/index.html. Ends with 'N passed, N failed': each test, and one for each
# threshold that holds. DEVELOPERS.md says what counts as a branch.

cd "$(dirname "$0")/.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh
folder=build/coverage
counts=$(pwd)/$folder/counts

sh build-aux/packages.sh build tests ci || exit 1

# The counters of a program lie in a file that all its processes map (%c), so that they hold whatever
# ends a process.
counted="-fprofile-instr-generate=$counts/%m%c.counts -mllvm -runtime-counter-relocation"
sanitized='-fno-omit-frame-pointer -fno-sanitize-recover=all -fsanitize=address,undefined,float-cast-overflow'
# With clang, since other stages run what gcc made: it evaluates arguments in another order.
set -- "$folder" --enable-werror --enable-tests --disable-static --disable-clones CC=clang CXX=clang++ \
    "CFLAGS=-g -Og $sanitized $counted -fcoverage-mapping"
# A test that asks for more memory than there is gets NULL, as without the sanitiser.
export ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1:detect_stack_use_after_return=1
export LSAN_OPTIONS="suppressions=$PWD/tests/support/lsan.supp:print_suppressions=0"
export UBSAN_OPTIONS=print_stacktrace=1 CK_TIMEOUT_MULTIPLIER=5 TIPCREST_SANITIZED=yes

# The command runs once before the tests: they run it as other users, and where it may write nothing.
rm -rf "$counts"
set_up "$@" || no_run 'The build failed.'
"$folder/tipcrest" --version >/dev/null || no_run 'The command does not run.'
chmod 777 "$counts"
chmod 666 "$counts"/*
TIPCREST_TESTS_CFLAGS="-g -O0 $sanitized $counted" sh tests/run.sh "$@" >"$folder-tests.log" 2>&1
tests=$?
cat "$folder-tests.log"

# The command, its libraries and tipcrest-study-mpi are all of lib and cli.
set -- "$folder/tipcrest"
for object in "$folder"/.libs/libtipcrest*.so "$folder/tipcrest-study-mpi"; do
    [ ! -e "$object" ] || set -- "$@" "-object=$object"
done
{
    llvm-profdata merge -sparse -o "$folder/counts.all" "$counts"/*.counts &&
        llvm-cov export -instr-profile="$folder/counts.all" "$@" lib cli >"$folder/coverage.json" &&
        llvm-cov show -format=html -show-branches=count -output-dir="$folder/report" \
            -instr-profile="$folder/counts.all" "$@" lib cli
} >"$folder/llvm.log" 2>&1 || {
    tail -n 20 "$folder/llvm.log"
    no_run 'The counts cannot be read.'
}
echo
python3 build-aux/coverage.py "$folder/coverage.json" "$(tail -n 1 "$folder-tests.log")" && [ $tests -eq 0 ]
