#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness
# plan -o replaces only files that it wrote and nobody changed since: whatever else lies under the
# names that it would write stays, and the message says what to do. All sets are invented.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"

other='this file was not written by plan, or was changed since; choose another name or folder, or move it away'
files='plan-left.csv plan-right.csv plan.yaml'

good begin --lengths 8,9,8 --count 40 -o both.yaml
good begin --lengths 8,9,8 --count 40 --eyes left -o left.yaml
mkdir room kept

# fresh: an empty folder to plan in.
fresh() {
    cd "$work" && rm -rf room kept && mkdir room kept && cd room || exit 1
}

# plan SET: the call under test; --samples 0 because it is the fastest.
plan() { run plan "../$1.yaml" --samples 0 -o plan.yaml; }

# planned: a plan of both eyes, nobody's work lying in its way.
planned() {
    fresh
    plan both
    cp ./* ../kept
}

# refused NAME CLAIM: the call on both eyes names the file, and every file stays as in kept/.
refused() {
    plan both
    equal "$2: it is refused" "$status $(wc -c <"$work/out") $(cat "$work/err")" \
        "2 0 tipcrest: $1: $other"
    equal "$2: all stays as it is, and nothing is added" "$(diff -r . ../kept)" ''
}

planned
equal 'the set and a survey for each eye are written' "$status $(cat "$work/err")$(echo ./*)" \
    '0 ./plan-left.csv ./plan-right.csv ./plan.yaml'
for name in $files; do
    equal "$name ends with the digest of the lines above it" "$(tail -n 1 "$name")" \
        "# tipcrest may replace this file while the lines above have sha256:$(
            sed '$d' "$name" | sha256sum | cut -d ' ' -f 1 # of GNU coreutils
        )"
done
good check plan.yaml
plan both
equal 'what nobody changed is written again' "$status $(cat "$work/err")$(diff -r . ../kept)" '0 '
plan left
equal 'and also for another set' "$status $(cat "$work/err")$(cmp plan-right.csv ../kept/plan-right.csv)" '0 '
if cmp -s plan.yaml ../kept/plan.yaml; then
    not_ok 'the set file is then the new one' "$(head plan.yaml)"
else
    ok 'the set file is then the new one'
fi

# The ways in which people change files: a value, the ends of lines by another editor, the last or
# the first line gone, a remark below or above.
for name in $files; do
    # shellcheck disable=SC2016 # the last line, to sed
    for change in 's/8/9/' 's/$/\r/' '$d' '1d' '$a # mine' '1i # mine'; do
        planned
        sed "$change" ../kept/"$name" >"$name"
        if cmp -s "$name" ../kept/"$name"; then not_ok "$change changes $name"; fi
        cp "$name" ../kept
        refused "$name" "$name changed by $change"
    done
    mv "$name" mine
    plan both
    equal "$name moved away: the plan is written" "$status $(cat "$work/err")" '0 '
    equal "$name moved away: what was moved is untouched" "$(cmp mine ../kept/"$name")" ''
done

# What somebody else made, beside files of an earlier plan and alone.
for name in $files; do
    for text in mine '' '# A set planned by tipcrest. Old.'; do
        planned
        printf %s "$text" >"$name"
        cp "$name" ../kept
        refused "$name" "$name of others, \"$text\", beside a plan"
        fresh
        printf %s "$text" >"$name"
        cp "$name" ../kept
        refused "$name" "$name of others, \"$text\", alone"
    done
done

fresh
plan left
echo mine >plan-right.csv
cp ./* ../kept
refused plan-right.csv 'a survey of the other eye'
plan left
equal 'which is no matter where that eye is not planned' \
    "$status $(cat "$work/err")$(diff -r . ../kept)" '0 '

fresh
mkdir plan-right.csv
plan both
equal 'a folder of that name is told' "$status $(cat "$work/err") $(ls -A)" \
    '1 tipcrest: plan-right.csv: cannot be opened for writing: it is a folder; give the name of a file plan-right.csv'

cd / && rm -rf "$work"
finish
