#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The tests of tests/threads under ThreadSanitizer, built in build/threads and nothing else with it:
# it sees a write that threads share though it happened to do no harm. Ends with 'N passed, N failed'.

cd "$(dirname "$0")/../.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh

result=build/threads/shared.log
if set_up build/threads --enable-static --disable-shared --without-draw --enable-tests CC=gcc \
    'CFLAGS=-g -O1 -fsanitize=thread' &&
    quietly build/threads/test.log in_folder build/threads make -j2 tests/threads/test_shared; then
    # A log without the closing line of the tests counts as one failed.
    TSAN_OPTIONS=halt_on_error=1:exitcode=66 CK_TIMEOUT_MULTIPLIER=5 \
        build/threads/tests/threads/test_shared >"$result" 2>&1 || tail -n 80 "$result"
    exec sh build-aux/count-checks.sh "$result"
fi
echo '0 passed, 1 failed'
exit 1
