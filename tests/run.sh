#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Every test: sh tests/run.sh [FOLDER [CONFIGURE-ARGUMENT...]]
#
# TIPCREST_TESTS has the names of those to run, in place of all, as make takes them. With
# TIPCREST_TESTS_CFLAGS the tests are compiled with these flags in place of the library's, but for those
# that have kernels of the library in them. Flags that do not optimise save a good part of the time.
# Installs what is missing, builds in FOLDER (build/ unless given) and runs 'make check' there. Shows
# the log of what failed, then the checks of each test, and ends with 'N passed, N failed'.

cd "$(dirname "$0")/.." || exit 1
. build-aux/set-up.sh

[ $# -gt 0 ] || set -- build
folder=$1

sh build-aux/packages.sh build tests || no_run 'The packages for the tests are missing.'
set_up "$@" || no_run 'The build failed.'
with_tests "$folder" || no_run 'The build failed.'

echo "running the tests in $folder"
if [ -n "${TIPCREST_TESTS_CFLAGS-}" ]; then
    quietly "$folder/kernels.log" in_folder "$folder" make -j2 kernel-tests || no_run 'The build failed.'
fi
logs=$(in_folder "$folder" make -s test-logs ${TIPCREST_TESTS:+"TESTS=$TIPCREST_TESTS"})
# The harness runs no test at all if one of them does not compile, and then leaves the logs of the last run.
for log in $logs; do
    rm -f "$folder/$log" "$folder/${log%.log}.trs"
done
in_folder "$folder" make -j2 check ${TIPCREST_TESTS:+"TESTS=$TIPCREST_TESTS"} \
    ${TIPCREST_TESTS_CFLAGS:+"CFLAGS=$TIPCREST_TESTS_CFLAGS"} </dev/null 2>&1 | tee "$folder/check.log" |
    while read -r line; do
        case $line in
        CC\ *)
            compiled=$((${compiled:-0} + 1))
            [ $((compiled % 40)) -ne 0 ] || echo "  $compiled files of the tests compiled"
            ;;
        PASS:* | FAIL:* | ERROR:* | SKIP:* | XPASS:* | XFAIL:*) echo "$line" ;;
        esac
    done

started=no
for log in $logs; do
    [ ! -e "$folder/$log" ] || started=yes
done
if [ "$started" = no ]; then
    tail -n 60 "$folder/check.log"
    no_run 'No test ran.'
fi

cd "$folder" || exit 1
for log in $logs; do
    if [ -e "$log" ] && ! grep -q '^:test-result: *\(PASS\|SKIP\)' "${log%.log}.trs"; then
        printf '\n==== %s\n' "$log"
        tail -n 200 "$log"
    fi
done
echo
# shellcheck disable=SC2086 # a list of names without blanks
sh "$OLDPWD/build-aux/count-checks.sh" $logs
