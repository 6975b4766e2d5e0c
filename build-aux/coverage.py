# SPDX-License-Identifier: GPL-3.0-or-later
"""coverage.py SUMMARY COUNTS: judges gcovr's summary by the thresholds below.

COUNTS is the closing line of the tests, 'N passed, N failed'; the thresholds are added to it.
"""
import json
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


def main(summary, counts):
    floors = {}
    files = []
    with open(summary, encoding="utf-8") as stream:
        for entry in json.load(stream)["files"]:
            path = entry["filename"].split("/")
            floor = path[0] if path[0] == "cli" else path[1]
            figures = [entry[name] for name in ("line_covered", "line_total", "branch_covered", "branch_total")]
            files.append((entry["filename"], floor, figures))
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
