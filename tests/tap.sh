# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# For tests that are shell scripts: source it, make one call for each claim, end with finish.
#
#     . "$TIPCREST_SOURCE/tests/tap.sh"
#     equal 'an unknown command exits with 2' "$status" 2
#     finish
#
# It writes TAP (test anything protocol) lines, which tests/run.sh counts. A script that ends before
# finish has failed, whatever it printed.

tap_count=0
tap_failed=0

# A search for leaks takes longer than the command itself. So only these scripts search for them; they
# reach most of its code. All tests in C search too.
case ${TIPCREST_SANITIZED-}$0 in
yes*/examples/run.sh | yes*/replay.sh | yes*/bad.sh | yes*/check.sh | yes*/draw.sh | yes*/kept.sh) ;;
yes*/many.sh | yes*/safety.sh | yes*/step.sh | yes*/why.sh) ;;
yes*) export "ASAN_OPTIONS=${ASAN_OPTIONS-}:detect_leaks=0" ;;
esac
trap 'echo "not ok $((tap_count + 1)) - the script came to its end"; exit 99' EXIT

# ok CLAIM: it holds.
ok() {
    tap_count=$((tap_count + 1))
    echo "ok $tap_count - $1"
}

# not_ok CLAIM [LINE...]: it does not; the lines say what was found.
not_ok() {
    tap_count=$((tap_count + 1))
    tap_failed=$((tap_failed + 1))
    echo "not ok $tap_count - $1"
    shift
    [ $# -eq 0 ] || printf '%s\n' "$@" | sed 's/^/#   /'
}

# equal CLAIM FOUND EXPECTED: both texts are the same.
equal() {
    if [ "$2" = "$3" ]; then ok "$1"; else not_ok "$1" "found:    $2" "expected: $3"; fi
}

# contains CLAIM FOUND PART: the text has the part in it.
contains() {
    case $2 in
    *"$3"*) ok "$1" ;;
    *) not_ok "$1" "found:    $2" "expected: $3, somewhere in it" ;;
    esac
}

# well CLAIM COMMAND...: the command ends well. It writes to $work/log, the end of which is shown if not.
# shellcheck disable=SC2154 # work comes from the script
well() {
    claim=$1
    shift
    if "$@" >"$work/log" 2>&1; then ok "$claim"; else not_ok "$claim" "$(tail -n 20 "$work/log")"; fi
}

# skip CLAIM REASON: it could not be tested here.
skip() {
    tap_count=$((tap_count + 1))
    echo "ok $tap_count - $1 # SKIP $2"
}

# no_pictures: prints why the command can draw nothing here, for a skip: it was built without
# pictures, or there is no font. Prints nothing where it can draw.
no_pictures() {
    probe=$(mktemp -d) || return
    "$TIPCREST" step --picture "$probe/a.png" --width 20 --dpi 10 2>&1 >/dev/null </dev/null |
        grep -o 'built without pictures\|no font found'
    rm -rf "$probe"
}

# Ends the script: 0 if every claim held.
finish() {
    trap - EXIT
    echo "1..$tap_count"
    [ "$tap_count" -gt 0 ] && [ "$tap_failed" -eq 0 ]
    exit
}
