#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# run.sh [SECONDS]: builds the fuzz targets with clang and libFuzzer in build/fuzz, replays the corpus
# and fuzzes each target for so many seconds (20 unless given), two side by side, and then the command
# itself (command.py). Prints how many inputs were run and ends with 'N passed, N failed'. Fails on a claim that does not hold, an error
# that a sanitizer sees, a leak, an input that takes 300 seconds, and 1 GB of memory.
#
# The input that did it is kept in build/fuzz/crashes; give it to build/fuzz/tests/fuzz/fuzz_TARGET to
# see it again, in tests/fuzz/beside. Mend the fault, and add the input to tests/fuzz/corpus/TARGET
# under a name that says what it was. What fuzzing finds of interest stays in build/fuzz/corpus and is
# used again; from there,
#
#     fuzz_TARGET -merge=1 -use_counters=0 tests/fuzz/corpus/TARGET build/fuzz/corpus/TARGET
#
# adds to the corpus what reaches code that nothing in it reaches.

set -u
cd "$(dirname "$0")/../.." || exit 1
# shellcheck source=build-aux/set-up.sh
. build-aux/set-up.sh
exec </dev/null

seconds=${1:-20}
targets='set_file survey number numeric json study study_file'
place=$PWD/build/fuzz
flags='-g -O1 -fno-omit-frame-pointer -fno-sanitize-recover=all'
flags="$flags -fsanitize=fuzzer-no-link,address,undefined,float-cast-overflow"

build() {
    set_up build/fuzz --enable-static --disable-shared --without-draw CC=clang "CFLAGS=$flags" ||
        return 1
    # shellcheck disable=SC2086 # lists of names
    programs=$(printf 'tests/fuzz/fuzz_%s ' $targets)
    # libFuzzer brings the main function, before that of replay.c is looked for.
    # shellcheck disable=SC2086
    quietly build/fuzz/targets.log in_folder build/fuzz \
        make -j2 LDFLAGS='-fsanitize=fuzzer,address,undefined' $programs &&
        quietly build/fuzz/command.log in_folder build/fuzz \
            make -j2 LDFLAGS='-fsanitize=address,undefined' tipcrest
}

# run TARGET ARGUMENT...: in the folder whose files a set file may name.
run() (
    target=$1
    shift
    cd tests/fuzz/beside || exit 1
    ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1:quarantine_size_mb=32 \
    UBSAN_OPTIONS=print_stacktrace=1 \
        "$place/tests/fuzz/fuzz_$target" -timeout=300 -rss_limit_mb=1024 -print_final_stats=1 \
        -verbosity=1 "-artifact_prefix=$place/crashes/$target-" "$@" >"$place/$target.log" 2>&1
)

# The corpus first, then what fuzzing makes of a copy of it.
fuzz() (
    target=$1
    dictionary=$PWD/tests/fuzz/$target.dict
    mkdir -p "build/fuzz/corpus/$target"
    cp tests/fuzz/corpus/"$target"/* "build/fuzz/corpus/$target"
    run "$target" -runs=0 "$PWD/tests/fuzz/corpus/$target" || return 1
    set -- -max_total_time="$seconds" "$place/corpus/$target"
    [ ! -e "$dictionary" ] || set -- "-dict=$dictionary" "$@"
    run "$target" "$@"
)

# Leaves the status of a target in a file, for it runs beside another.
verdict_of() {
    if fuzz "$1"; then echo passed; else echo failed; fi >"build/fuzz/$1.verdict"
}

executions() {
    sed -n 's/^stat::number_of_executed_units: *//p' "build/fuzz/$1.log" | tail -n 1
}

build || no_run 'The build of the fuzz targets failed.'
mkdir -p build/fuzz/crashes
rm -f build/fuzz/*.verdict
for pair in 'set_file number' 'survey numeric' 'json study' 'study_file'; do
    for target in $pair; do verdict_of "$target" & done
    wait
done

passed=0
failed=0
sum=0
for target in $targets; do
    count=$(executions "$target")
    verdict=$(cat "build/fuzz/$target.verdict" 2>/dev/null || echo failed)
    printf '%s %10d inputs  fuzz_%s\n' "$verdict" "${count:-0}" "$target"
    sum=$((sum + ${count:-0}))
    if [ "$verdict" = passed ] && [ "${count:-0}" -gt 0 ]; then
        passed=$((passed + 1))
        continue
    fi
    failed=$((failed + 1))
    tail -n 60 "build/fuzz/$target.log"
done
if ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=print_stacktrace=1 \
    python3 tests/fuzz/command.py build/fuzz/tipcrest "$seconds"; then
    passed=$((passed + 1))
else
    failed=$((failed + 1))
fi
echo "$sum inputs in all, each target for $seconds s; what crashed is in build/fuzz/crashes"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
