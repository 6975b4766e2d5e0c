#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# The program against the reference (tests/reference): every number of every awkward set agrees to
# 1e-9 mm, or to 1e-9 of its size where that is larger, as the model asks.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python numpy yaml
export PYTHONDONTWRITEBYTECODE=1

work=$(mktemp -d) || exit 1
reference=$TIPCREST_SOURCE/tests/reference

"$python" "$reference/awkward.py" "$work/sets" >"$work/list" || exit 1
find "$TIPCREST_SOURCE/examples/practice-head" -name '*.yaml' >>"$work/list"

# compare REFERENCE SET ARGUMENT...: both programs with these arguments.
compare() {
    written_by=$1
    name=$(basename "$2")
    set_file=$2
    shift 2
    claim="$name${*:+, $*,} agrees with the reference's $written_by"
    status=0
    "$TIPCREST" check "$set_file" "$@" --json "$work/program.json" >"$work/log" 2>&1 &&
        "$python" "$reference/$written_by" "$set_file" "$@" >"$work/reference.json" 2>"$work/log" &&
        "$python" "$reference/compare.py" "$work/program.json" "$work/reference.json" \
            >"$work/log" 2>&1 || status=$?
    if [ "$status" -eq 0 ]; then
        ok "$claim: $(tail -n 1 "$work/log" | cut -c 1-120)"
    else
        not_ok "$claim" "$(head -n 6 "$work/log" | cut -c 1-200)" "$(tail -n 1 "$work/log" | cut -c 1-200)"
    fi
    sed -n 's/.*largest difference \([-+.0-9e]*\) at \([^:]*\):.*/\1 \2/p' "$work/log" |
        sed "s,\$, of $name," >>"$work/largest"
}

while read -r one; do
    compare check.py "$one"
done <"$work/list"
for one in $(head -n 3 "$work/list") "$TIPCREST_SOURCE/examples/practice-head/layered.yaml"; do
    compare check.py "$one" --against intended
    compare check.py "$one" --opening 0.5 --viewer 33.3
done
# Loads and droops: young lashes, fans, all placements; bonds that have grown out.
compare weight.py "$work/sets/bond-1.yaml"
compare weight.py "$work/sets/worn-some.yaml" --opening 0.7 --viewer 12.5

echo "# largest difference of all: $(sort -g "$work/largest" | tail -n 1)"
rm -rf "$work"
finish
