#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of tests/threads under ThreadSanitizer, built in build/threads and nothing else with it:
# it sees a write that threads share though it happened to do no harm. Before that, race.c shows that a
# race would be seen. Ends with 'N passed, N failed'.

cd "$(dirname "$0")/../.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh

result=build/threads/shared.log
seeded=build/threads/race.log
export TSAN_OPTIONS=halt_on_error=1:exitcode=66

# see_the_race: TAP of whether ThreadSanitizer reports the race of race.c, by its words and its status.
see_the_race() {
    status=0
    gcc -g -O1 -fsanitize=thread -pthread tests/threads/race.c -o build/threads/race &&
        build/threads/race >build/threads/race.out 2>&1 || status=$?
    if [ "$status" -eq 66 ] && grep -q 'WARNING: ThreadSanitizer: data race' build/threads/race.out; then
        echo 'ok 1 - a race made on purpose is seen'
    else
        echo "not ok 1 - a race made on purpose is seen (exit status $status)"
    fi
    echo '1..1'
}
if set_up build/threads --enable-static --disable-shared --without-draw --enable-tests CC=gcc \
    'CFLAGS=-g -O1 -fsanitize=thread' &&
    quietly build/threads/test.log in_folder build/threads make -j2 tests/threads/test_shared; then
    # A log without the closing line of the tests counts as one failed.
    see_the_race >"$seeded"
    CK_TIMEOUT_MULTIPLIER=5 \
        build/threads/tests/threads/test_shared >"$result" 2>&1 || tail -n 80 "$result"
    exec sh build-aux/count-checks.sh "$seeded" "$result"
fi
echo '0 passed, 1 failed'
exit 1
