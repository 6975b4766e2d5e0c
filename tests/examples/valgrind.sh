#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The examples, and the commands of README.md without their pictures, under valgrind: no read of what
# was never written, no access outside, nothing left unfreed. Built without pictures and studies in
# build/ci/plain, for pango and fontconfig keep caches until the process ends. Writes TAP.

cd "$(dirname "$0")/../.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh
folder=build/ci/plain
mkdir -p build/ci
set_up "$folder" --enable-werror --without-draw --without-study --disable-shared CC=gcc \
    'CFLAGS=-g -O1' >build/ci/plain.log 2>&1 &&
    quietly build/ci/plain.log in_folder "$folder" make -j2 examples/plan_eye examples/top_line || exit 1

export TIPCREST_SOURCE=.
. tests/tap.sh
work=$(mktemp -d) || exit 1
clean() {
    status=0
    valgrind --quiet --error-exitcode=99 --leak-check=full --show-leak-kinds=all \
        --errors-for-leak-kinds=all "$@" >"$work/out" 2>"$work/err" </dev/null || status=$?
    shift
    equal "valgrind has nothing to say about $program $*" "$status $(cat "$work/err")" '0 '
}
for program in examples/plan_eye examples/top_line; do
    clean "$folder/$program"
done
program=tipcrest
clean "$folder/tipcrest" --help
for set in examples/practice-head/equal.yaml examples/practice-head/layered.yaml \
    examples/client/client.yaml; do
    clean "$folder/tipcrest" check "$set"
    clean "$folder/tipcrest" check "$set" --json "$work/set.json" --csv "$work/set.csv"
    clean "$folder/tipcrest" why "$set"
    clean "$folder/tipcrest" why "$set" --json "$work/why.json"
done
clean "$folder/tipcrest" step
clean "$folder/tipcrest" step examples/client/client.yaml --json "$work/step.json"
clean "$folder/tipcrest" begin -o "$work/my.yaml" --survey "$work/my.csv"
clean "$folder/tipcrest" check "$work/my.yaml"
client=examples/client/client.yaml
clean "$folder/tipcrest" plan "$client" -o "$work/plan.yaml" --json "$work/plan.json"
clean "$folder/tipcrest" plan "$work/plan.yaml"
clean "$folder/tipcrest" plan "$client" --look doll --free --most-lengths 4 --corrections all --samples 10
clean "$folder/tipcrest" plan "$client" --least max --samples 10 --zone-step 1 --fans 1,3 --diameters 0.05,0.12
rm -rf "$work"
finish
