#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# count-checks.sh LOG...: sums the single checks in logs of the tests. Prints a line for each log and
# at the end 'N passed, N failed', with ', N skipped' if any were; exits with 0 if none failed.
#
# It knows the closing line of a Check program and the lines of TAP (ok, not ok). A test that the
# harness calls failed though none of its checks did, that ran no check, or that left no log counts as
# one failed; so does a run in which nothing was counted at all.

passed=0
failed=0
skipped=0

# Prints 'passed failed skipped' of one log; the harness's verdict is in the .trs file beside it.
count() {
    verdict=
    [ ! -f "${1%.log}.trs" ] || verdict=$(sed -n 's/^:test-result: *//p' "${1%.log}.trs")
    awk -v verdict="$verdict" '
        /^[0-9]+%: Checks: [0-9]+, Failures: [0-9]+, Errors: [0-9]+/ {
            gsub(/[^0-9]+/, " ")
            bad = $3 + $4; fail += bad; pass += $2 - bad
        }
        /^ok .*# *[Ss][Kk][Ii][Pp]/ { skip++; next }
        /^ok( |$)/ { pass++; tap++ }
        /^not ok( |$)/ { fail++; tap++ }
        /^1\.\.[0-9]+/ { sub(/^1\.\./, ""); planned = $1 + 0 }
        END {
            if (planned > tap + skip) fail += planned - tap - skip
            if (verdict == "SKIP" && pass + fail == 0) skip += !skip
            else if (fail == 0 && verdict != "" && verdict != "PASS") fail = 1
            if (pass + fail + skip == 0) fail = 1
            print pass + 0, fail + 0, skip + 0
        }' "$1"
}

for log in "$@"; do
    if [ -f "$log" ]; then
        counts=$(count "$log")
    else
        counts='0 1 0'
    fi
    # shellcheck disable=SC2086 # three numbers
    set -- $counts
    passed=$((passed + $1))
    failed=$((failed + $2))
    skipped=$((skipped + $3))
    note=
    [ "$3" -eq 0 ] || note=", $3 skipped"
    [ -f "$log" ] || note=' (it did not run)'
    printf '%6d passed %4d failed  %s%s\n' "$1" "$2" "${log%.log}" "$note"
done

[ $((passed + failed)) -gt 0 ] || failed=1
if [ "$skipped" -gt 0 ]; then
    echo "$passed passed, $failed failed, $skipped skipped"
else
    echo "$passed passed, $failed failed"
fi
[ "$failed" -eq 0 ]
