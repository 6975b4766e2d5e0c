#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# Every JSON report keeps to lib/file/schema/check.schema.json (JSON Schema 2020-12), and the schema is
# one that a report can break.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python jsonschema numpy yaml
export PYTHONDONTWRITEBYTECODE=1

work=$(mktemp -d) || exit 1
schema=$TIPCREST_SOURCE/lib/file/schema/check.schema.json
tests=$TIPCREST_SOURCE/tests

"$python" "$tests/reference/awkward.py" "$work/sets" >"$work/list" || exit 1
find "$TIPCREST_SOURCE/examples" -name '*.yaml' -exec grep -L '^tipcrest-study' {} + >>"$work/list"
mkdir "$work/reports"
while read -r set_file; do
    name=$(basename "$set_file")
    for against in fitted intended; do
        "$TIPCREST" check "$set_file" --against "$against" \
            --json "$work/reports/$name against the $against line" >/dev/null
    done
done <"$work/list"
"$python" "$tests/cli/validate.py" "$schema" "$work"/reports/* >"$work/faults" 2>&1 ||
    echo "# validate.py exits with $?"
for report in "$work"/reports/*; do
    name=$(basename "$report")
    if grep -qxF "$name: keeps to the schema" "$work/faults"; then
        ok "$name: keeps to the schema"
    else
        not_ok "$name: keeps to the schema" "$(grep -F "$name:" "$work/faults")"
    fi
done
equal 'every set gave its reports' "$(find "$work/reports" -type f | wc -l)" \
    "$((2 * $(wc -l <"$work/list")))"

# A report, broken at every place in turn.
if found=$("$python" "$tests/cli/validate.py" --break "$schema" "$report" 2>&1); then
    ok "no member can be left out, added or of another type: $found"
else
    not_ok 'no member can be left out, added or of another type' "$found"
fi

rm -rf "$work"
finish
