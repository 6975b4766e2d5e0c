#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Holds a report of the program against the reference's for the same set: `check` (check.py), `why`
(why.py), `step` (lesson.py), loads and droops (weight.py).

    python3 compare.py PROGRAM.json REFERENCE.json

Every number of the reference must be there and agree to 1e-9, or to 1e-9 of its size where that is
larger, as model.md asks. A staggered flag may differ only where the lash's deviation lies within
1e-9 mm of the tolerance, and the share within tolerance only by such lashes. Words must be equal,
but a reason only has to be given. What the program reports beyond the reference (assumptions,
digest) is not looked at. Prints the largest difference and its place; exit status 0 when all
agrees, 1 when not, 2 when a report cannot be read.
"""
import json
import math
import sys

TOLERANCE = 1e-9
SHOWN = 20


class Comparison:
    """Walks both documents and remembers what it saw."""

    def __init__(self):
        self.numbers = 0
        self.largest = (-1.0, "", None, None)
        self.faults = []

    def fault(self, place, found, expected):
        self.faults.append(f"{place}: program {found!r}, reference {expected!r}")

    def number(self, place, found, expected, allowed=TOLERANCE):
        """One number; the difference is taken relative to the reference where that is above 1."""
        self.numbers += 1
        if isinstance(found, bool) or not isinstance(found, (int, float)):
            self.fault(place, found, expected)
            return
        difference = abs(found - expected) / max(1.0, abs(expected))
        if not math.isfinite(difference):
            difference = math.inf
        if allowed == TOLERANCE and difference > self.largest[0]:
            self.largest = (difference, place, found, expected)
        if not difference <= allowed:
            self.fault(place, found, expected)

    def value(self, place, found, expected):
        """Anything: objects by the reference's names, lists by length, numbers, words, null."""
        if isinstance(expected, dict):
            if not isinstance(found, dict):
                self.fault(place, found, expected)
                return
            for name, inner in expected.items():
                self.member(f"{place}.{name}".lstrip("."), name, found, inner)
        elif isinstance(expected, list):
            if not isinstance(found, list) or len(found) != len(expected):
                self.fault(place, found, expected)
                return
            for index, (one, other) in enumerate(zip(found, expected)):
                self.value(f"{place}[{index}]", one, other)
        elif isinstance(expected, (int, float)) and not isinstance(expected, bool):
            self.number(place, found, expected)
        elif type(found) is not type(expected) or found != expected:
            self.fault(place, found, expected)

    def member(self, place, name, found, expected):
        """One member of an object."""
        if name not in found:
            self.fault(place, "nothing", expected)
        elif name.endswith("reason") and isinstance(expected, str):
            if not isinstance(found[name], str) or not found[name]:
                self.fault(place, found[name], "a reason")
        else:
            self.value(place, found[name], expected)


def near_the_limit(deviation, tolerance):
    """Whether the flag of a lash may fall either way."""
    return deviation is not None and abs(abs(deviation) - tolerance) <= TOLERANCE


def settle_flags(comparison, found, expected):
    """Takes out of the documents the flags and shares that may differ, where they do."""
    for index, (mine, theirs) in enumerate(zip(found.get("eyes", []), expected.get("eyes", []))):
        against = theirs.get("against")
        line = theirs.get(against)
        if line is None or not isinstance(mine.get(against), dict):
            continue
        near = 0
        for one, other in zip(mine.get("lashes", []), theirs["lashes"]):
            if near_the_limit(other["deviation_mm"], line["tolerance_mm"]):
                near += 1
                del other["staggered"]
        if near:
            place = f"eyes[{index}].{against}.within_tolerance"
            share = line.pop("within_tolerance")
            allowed = near / line["lashes"] + TOLERANCE
            comparison.number(place, mine[against].get("within_tolerance"), share, allowed)
            print(f"eyes[{index}]: {near} deviations within {TOLERANCE} mm of the tolerance")


def compare(found, expected):
    """The whole comparison of two parsed reports."""
    comparison = Comparison()
    if not isinstance(found, dict):
        comparison.fault("", found, "an object")
        return comparison
    settle_flags(comparison, found, expected)
    comparison.value("", found, expected)
    lines = any("fitted" in eye for eye in expected.get("eyes", []))  # weights have none
    if lines and "symmetry" not in expected and found.get("symmetry") is not None:
        comparison.fault("symmetry", found["symmetry"], None)
    return comparison


def main():
    """The command line."""
    if len(sys.argv) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    try:
        documents = []
        for path in sys.argv[1:]:
            with open(path, encoding="utf-8") as stream:
                documents.append(json.load(stream))
        if not documents[1].get("eyes", "lesson" in documents[1]):
            raise ValueError("the reference's report has no eyes and no lesson")
    except (OSError, ValueError, KeyError, TypeError) as problem:
        print(f"compare.py: {problem!r}", file=sys.stderr)
        return 2
    comparison = compare(*documents)
    for fault in comparison.faults[:SHOWN]:
        print(fault)
    if len(comparison.faults) > SHOWN:
        print(f"and {len(comparison.faults) - SHOWN} more")
    difference, place, found, expected = comparison.largest
    print(
        f"{comparison.numbers} numbers, {len(comparison.faults)} faults; largest difference "
        f"{difference:.3g} at {place}: program {found!r}, reference {expected!r}"
    )
    return 1 if comparison.faults else 0


if __name__ == "__main__":
    sys.exit(main())
