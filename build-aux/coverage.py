# SPDX-License-Identifier: GPL-3.0-or-later
"""coverage.py EXPORT COUNTS: judges what llvm-cov exports by the thresholds below.

COUNTS is the closing line of the tests, 'N passed, N failed'; the thresholds are added to it.
"""
import json
import os
import re
import sys

# Per cent of lines and of branches that must be reached; what is reached stands in DEVELOPERS.md. The floors
# that stand apart have parts that few tests can afford to go through; the others of the library are counted as
# one. Raise these as tests come.
THRESHOLDS = {
    "lib but draw and plan": (99.0, 95.0),
    "draw": (99.0, 95.0),
    "plan": (99.0, 95.0),
    "cli": (99.0, 95.0),
}
APART = ("draw", "plan", "cli")


def share(covered, total):
    return 100.0 * covered / total if total else 100.0


def group_of(floor):
    return floor if floor in APART else "lib but draw and plan"


def figures_of(entry, path):
    """Lines covered and in all, branches covered and in all, of one file.

    A place in a header has an entry for each source that includes it, which are one.
    """
    with open(path, encoding="utf-8") as stream:
        without = {number for number, line in enumerate(stream, 1) if "NO_BRANCH" in line}
    outcomes = {}
    for line, column, end_line, end_column, *taken in entry["branches"]:
        for way in (0, 1):
            place = (line, column, end_line, end_column, way)
            outcomes[place] = outcomes.get(place, False) or taken[way] > 0
    counted = [taken for place, taken in outcomes.items() if taken or place[0] not in without]
    lines = entry["summary"]["lines"]
    return lines["covered"], lines["count"], sum(counted), len(counted)


def main(export, counts):
    floors = {}
    files = []
    with open(export, encoding="utf-8") as stream:
        entries = json.load(stream)["data"][0]["files"]
    for entry in entries:
        path = os.path.relpath(os.path.realpath(entry["filename"]))
        top, floor, *_ = path.split("/")
        if top not in ("lib", "cli"):
            continue
        if top == "cli":
            floor = top
        figures = figures_of(entry, path)
        files.append((path, floor, figures))
        for group in {floor, group_of(floor)}:
            kept = floors.setdefault(group, [0, 0, 0, 0])
            for i, figure in enumerate(figures):
                kept[i] += figure
    print("  lines  branches")
    for name, figures in sorted(floors.items()):
        print(f"{share(*figures[:2]):7.2f} {share(*figures[2:]):8.2f}   {name}"
              f"  ({figures[1] - figures[0]} lines and {figures[3] - figures[2]} branches missed)")

    print("\nfiles that fall short:")
    for name, floor, figures in sorted(files):
        lines, branches = THRESHOLDS[group_of(floor)]
        if share(*figures[:2]) < lines or share(*figures[2:]) < branches:
            print(f"{share(*figures[:2]):7.2f} {share(*figures[2:]):8.2f}   {name}"
                  f"  ({figures[1] - figures[0]} of {figures[1]} lines,"
                  f" {figures[3] - figures[2]} of {figures[3]} branches missed)")

    print()
    passed, failed, *skipped = [int(number) for number in re.findall(r"\d+", counts)] or [0, 1]
    for name, limits in THRESHOLDS.items():
        figures = floors.get(name, [0, 1, 0, 1])
        for what, found, limit in (("lines", share(*figures[:2]), limits[0]),
                                   ("branches", share(*figures[2:]), limits[1])):
            holds = found >= limit
            passed += holds
            failed += not holds
            print(f"{'ok' if holds else 'not ok'} - {name}: {found:.2f} % of {what}, at least {limit} % wanted")
    print(f"{passed} passed, {failed} failed" + (f", {skipped[0]} skipped" if skipped and skipped[0] else ""))
    return failed != 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
