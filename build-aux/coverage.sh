#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# coverage.sh: how much of the library the tests run. Builds with gcc --coverage in build/coverage,
# runs 'make check' there, prints lines and branches of each floor and the files that fall short,
# and leaves a page for reading in build/coverage/report/index.html. Ends with 'N passed, N failed':
# each test, and one for each threshold that holds.
#
# A branch that cannot be taken is left out by a comment GCOVR_EXCL_BR_LINE with the reason beside it.

cd "$(dirname "$0")/.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh
folder=build/coverage

sh build-aux/packages.sh build tests ci || exit 1

# Counters are written when a process ends, into files beside the objects. Where a test limits what may
# be written, or is run by a user who may not write there, the counters go to a place where nobody looks:
# a half-written file would spoil the counts of all others, and tests read what a process complains of.
mkdir -p "$folder/elsewhere"
chmod 1777 "$folder/elsewhere"
# A program and no script: what is called by another name, or found by PATH, must see that name.
cat >"$folder/command.c" <<END
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <unistd.h>

int main(int argc, char **argv) {
    struct rlimit most = {RLIM_INFINITY, RLIM_INFINITY};
    char place[4096];
    (void)argc;
    (void)getrlimit(RLIMIT_FSIZE, &most);
    if (most.rlim_cur != RLIM_INFINITY || access("$(pwd)/$folder/lib", W_OK) != 0) {
        snprintf(place, sizeof place, "$(pwd)/$folder/elsewhere/%ld", (long)getuid());
        setenv("GCOV_PREFIX", place, 1);
    }
    execv("$(pwd)/$folder/tipcrest", argv);
    return 127;
}
END
${CC-gcc} -o "$folder/command" "$folder/command.c" || exit 1
rm -rf "$folder/elsewhere"/*
find "$folder" -name '*.gcda' -exec rm -f {} +

# Without clones: a loop compiled for several instruction sets would be counted once for each, of which
# a machine runs one. Other builds run the same tests with them.
GCOV_ERROR_FILE=/dev/null \
CK_TIMEOUT_MULTIPLIER=3 TIPCREST_COMMAND="$(pwd)/$folder/command" \
    sh tests/run.sh "$folder" --enable-werror --enable-tests --enable-static --disable-shared --disable-clones \
    CC=gcc 'CFLAGS=-Og -g --coverage -fprofile-update=atomic' >"$folder-tests.log" 2>&1
tests=$?
cat "$folder-tests.log"
rm -f "$folder"/*conftest.gc*

mkdir -p "$folder/report"
# Objects are read one after another: gcovr's own threads wait for ever once one of them has failed.
gcovr --root . --filter 'lib/' --filter 'cli/' --exclude-unreachable-branches --json-summary "$folder/coverage.json" \
    --html-details "$folder/report/index.html" "$folder" >"$folder/gcovr.log" 2>&1 || {
    tail -n 20 "$folder/gcovr.log"
    echo '0 passed, 1 failed'
    exit 1
}
echo
python3 build-aux/coverage.py "$folder/coverage.json" "$(tail -n 1 "$folder-tests.log")" && [ $tests -eq 0 ]
