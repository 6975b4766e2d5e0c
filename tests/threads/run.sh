#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of tests/threads, and that of a study's threads, under ThreadSanitizer, built in build/threads:
# it sees a write that threads share though it happened to do no harm. Before that, race.c shows that a
# race would be seen, under the same options. Ends with 'N passed, N failed'.

cd "$(dirname "$0")/../.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh

results=build/threads/results
seeded=$results/race.log
# What GLib, Pango, fontconfig and cairo do is not looked at: they are built without the sanitiser,
# which does not know their locks.
export TSAN_OPTIONS=halt_on_error=1:exitcode=66:ignore_noninstrumented_modules=1

# see_the_race: TAP of whether ThreadSanitizer reports the race of race.c, by its words and its status.
see_the_race() {
    status=0
    build/threads/tests/threads/race >"$results/race.out" 2>&1 || status=$?
    if [ "$status" -eq 66 ] && grep -q 'WARNING: ThreadSanitizer: data race' "$results/race.out" &&
        grep -q count_bytes "$results/race.out"; then
        echo 'ok 1 - a race made on purpose, in a sink of two pictures, is seen'
    else
        echo "not ok 1 - a race made on purpose, in a sink of two pictures, is seen (exit status $status)"
    fi
    echo '1..1'
}

# run_test FOLDER/NAME: its log, which is shown if it fails.
run_test() {
    log=$results/${1#*/}.log
    "build/threads/tests/$1" >"$log" 2>&1 || tail -n 80 "$log"
}

if set_up build/threads --enable-static --disable-shared --enable-tests CC=gcc \
    'CFLAGS=-g -O1 -fsanitize=thread' && mkdir -p "$results" &&
    quietly build/threads/test.log in_folder build/threads \
        make -j2 tests/threads/race tests/threads/test_shared tests/threads/test_drawn \
            tests/study/test_run tests/study/test_sets; then
    # A log without the closing line of the tests counts as one failed.
    see_the_race >"$seeded"
    run_test threads/test_shared
    run_test threads/test_drawn
    run_test study/test_run
    run_test study/test_sets
    exec sh build-aux/count-checks.sh "$seeded" "$results/test_shared.log" "$results/test_drawn.log" \
        "$results/test_run.log" "$results/test_sets.log"
fi
echo '0 passed, 1 failed'
exit 1
