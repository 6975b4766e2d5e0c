# SPDX-License-Identifier: GPL-3.0-or-later
"""each.py FOLDER KEY...: the best row of results.csv for each combination of the keys, found anew, against
'for_each' in study.json. Prints how many rows agree, or what differs."""

import csv
import json
import math
import sys

folder, given = sys.argv[1], sys.argv[2:]
with open(f"{folder}/results.csv", newline="", encoding="utf-8") as file:
    rows = list(csv.DictReader(file))
with open(f"{folder}/study.json", encoding="utf-8") as file:
    answer = json.load(file)["answer"]
column = "fitted.rms_mm.mean" if "fitted.rms_mm.mean" in rows[0] else "fitted.rms_mm"
values = [float(row[column]) if row[column] else math.nan for row in rows]

groups = {}  # in the order of the study
for i, row in enumerate(rows):
    groups.setdefault(tuple(row[key] for key in given), []).append(i)

each = answer["for_each"]
assert each["given"] == given, each["given"]
assert len(each["best"]) == len(groups), (len(each["best"]), len(groups))
for found, (name, group) in zip(each["best"], groups.items()):
    valued = [i for i in group if not math.isnan(values[i])]
    if not valued:
        assert found["value"] is None, (name, found)
        continue
    best = min(valued, key=lambda i: values[i])
    assert found["point"] == best + 1, (name, found, best + 1)
    assert math.isclose(found["value"], values[best], rel_tol=1e-14), (name, found, values[best])
    missing = len(group) - len(valued)
    assert found["others_not_ranked"] == missing, (name, found, missing)
    if column == "fitted.rms_mm":  # without runs a difference is known as it is
        alike = sum(values[i] - values[best] <= answer["alike"] for i in valued) - 1
        assert (found["others_alike"], found["others_open"]) == (alike, 0), (name, found, alike)
print(f"{len(groups)} rows agree")
