#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # TIPCREST comes from the harness, python from find_python
# tipcrest plan with one placement for each layer: what it costs is said, and the option gives it. The
# client is the example's, invented; figures are earlier results of this project.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/command.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
find_python json
described=$(cd "$TIPCREST_SOURCE/examples/client" && pwd)/client.yaml

run plan "$described" --json placed.json
contains 'what one placement for each layer costs' "$(joined)" \
    ' of it beyond the limits. With one placement for each layer (--same-placement) 0.61 mm, as good. rms:'
run plan "$described" --full
contains 'and --full says which' "$(joined)" \
    'With one placement for each layer (--same-placement; bottom: on top, middle: on top, top: on top) 0.61 mm instead of 0.58, as good.'
run plan "$described" --same-placement --json same.json
contains 'the proof is of these placements' "$(joined)" \
    'Proved for this map, tray, limits and these placements: no choice'
contains 'and what each zone its own would be' "$(joined)" \
    'is nearer on these than 0.612 mm rms.'
contains 'beside the answer' "$(joined)" ' Without --same-placement 0.58 mm, as good. rms:'
equal 'its JSON keeps to it' "$("$python" - <<'END'
import json
placed, same = (json.load(open(name))["plan"] for name in ("placed.json", "same.json"))
cells = [cell for eye in json.load(open("same.json"))["eyes"] for cell in eye["cells"]]
print(all(cell["extension"]["placement"] == same["layer_placement"][cell["layer"]] for cell in cells),
      len(cells) > 20, same["same_placement"], placed["same_placement"],
      placed["by_layer_mm"] == same["expected_rms_mm"] == same["by_layer_mm"],
      placed["by_zone_mm"] == same["by_zone_mm"] < same["by_layer_mm"])
END
)" 'True True True False True True'
run plan "$described" --least max
contains 'of the farthest tips where these are to be near' "$(joined)" \
    'With one placement for each layer (--same-placement) 1.65 mm at most, as good.'
run plan "$described" --placements top
equal 'where all zones of a layer have one placement nothing is said of it' \
    "$(grep -c 'same-placement' out)" 0

cd /
rm -rf "$work"
finish
