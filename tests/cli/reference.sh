#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# The program against the reference (tests/reference): every number agrees to 1e-9 mm, or to 1e-9 of
# its size where that is larger, as the model asks. The reference takes its time: check runs on one or
# two sets of each family, and why on sets that are hard for it. TIPCREST_REFERENCE=all runs both on
# every set.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python numpy yaml
export PYTHONDONTWRITEBYTECODE=1

work=$(mktemp -d) || exit 1
reference=$TIPCREST_SOURCE/tests/reference

"$python" "$reference/awkward.py" "$work/sets" >"$work/list" || exit 1
if [ "${TIPCREST_REFERENCE-}" != all ]; then # without the further ones of a family
    more='edge-lids-[3-6]|everything-[4-6]|strays-(20|45)|part-(corners|inner-half|outer-half)'
    more="$more|layer-overrides-steps|worn-all-(blend|planned)|worn-some-blend|described-full"
    grep -Ev "/($more)\\.yaml\$" "$work/list" >"$work/fewer"
    mv "$work/fewer" "$work/list"
fi
find "$TIPCREST_SOURCE/examples/practice-head" -name '*.yaml' >>"$work/list"

# Of why: cells, single choices, blend, an intended map, cells without a bottom layer, ties, no tray,
# two eyes with one line and with their own, an eye without causes.
hard_for_why='worn-some worn-some-planned-blend no-bottom ties-in-cells no-tray-blend no-tray-steps
    two-eyes-shared two-eyes-own one-cannot-bond-own bond-2 measured-curls no-common-range tips-4-5'

# compare COMMAND REFERENCE SET ARGUMENT...: both programs with these arguments.
compare() {
    command=$1
    written_by=$2
    set_file=$3
    name=$(basename "$3")
    shift 3
    claim="$command $name${*:+, $*,} agrees with the reference's $written_by"
    status=0
    "$TIPCREST" "$command" "$set_file" "$@" --json "$work/program.json" >"$work/log" 2>&1 &&
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
    compare check check.py "$one"
done <"$work/list"
for one in $(head -n 3 "$work/list") "$TIPCREST_SOURCE/examples/practice-head/layered.yaml"; do
    compare check check.py "$one" --against intended
    compare check check.py "$one" --opening 0.5 --viewer 33.3
    compare check check.py "$one" --seen-from 300
done
# Loads and droops: young lashes, fans, all placements; bonds that have grown out.
compare check weight.py "$work/sets/bond-1.yaml"
compare check weight.py "$work/sets/worn-some.yaml" --opening 0.7 --viewer 12.5
# What the layering rule gains, and level steps: an example, worn lengths, an intended map with blend,
# a layer without lashes, few tips, a second eye, a mean lash that cannot bond.
compare step lesson.py "$TIPCREST_SOURCE/examples/practice-head/layered.yaml" --apart 0.7
compare step lesson.py "$TIPCREST_SOURCE/examples/client/client.yaml" --eye right
for name in worn-some-planned-blend no-bottom tips-4-5 one-cannot-bond-own; do
    compare step lesson.py "$work/sets/$name.yaml"
done
# Causes, against both lines.
if [ "${TIPCREST_REFERENCE-}" = all ]; then
    cp "$work/list" "$work/causes"
else
    for name in $hard_for_why; do
        echo "$work/sets/$name.yaml"
    done >"$work/causes"
fi
while read -r one; do
    for line in fitted intended; do
        compare why why.py "$one" --against "$line"
    done
done <"$work/causes"

echo "# largest difference of all: $(sort -g "$work/largest" | tail -n 1)"
rm -rf "$work"
finish
