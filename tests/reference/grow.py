#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Growth of the shape, section 3: the turn and the root diameter of a lash that has not reached its
final length, and of the same lash when it is longer. Written from the model's text alone.

    python3 grow.py --length MM --final MM --to MM [--turn DEG] [--root-diameter MM]
                    [--tip-diameter MM]

Prints the grown lash as JSON. A turn or a root diameter that is left out was not measured: it stays
at its default.
"""
import argparse
import dataclasses
import json
import sys

from model import Lash

TURN_RANGE_DEG = (-60.0, 200.0)
DIAMETER_RANGE_MM = (0.02, 0.2)


def within(value, limits):
    """The nearest value of a range."""
    return min(max(value, limits[0]), limits[1])


def tau(q):
    """The share of the turn in the outer share q of the natural profile."""
    if q <= 1 / 3:
        return 2 * q / 3
    return q - 1 / 9 if q <= 2 / 3 else 4 * q / 3 - 1 / 3


def reached(length, final):
    """q, the share of its final length that a lash has reached."""
    return min(1.0, length / final)


def shape_at(turn_full, diameter_full, diameter_tip, q):
    """Turn and root diameter of a lash that has reached q of its final length."""
    return turn_full * tau(q), diameter_tip + (diameter_full - diameter_tip) * q


def full_grown(turn, diameter, diameter_tip, q):
    """T and D of a lash measured at q, kept within their ranges."""
    if q >= 1:
        return turn, diameter
    return (
        within(turn / tau(q), TURN_RANGE_DEG),
        within(diameter_tip + (diameter - diameter_tip) / q, DIAMETER_RANGE_MM),
    )


def grown(lash, final, length, known=("turn_deg", "root_diameter_mm")):
    """The lash when it is `length` long; `known` names what was measured of it. Turn and diameter
    stay within a lash's ranges."""
    q, new = reached(lash.length_mm, final), reached(length, final)
    turn_full, diameter_full = full_grown(
        lash.turn_deg, lash.root_diameter_mm, lash.tip_diameter_mm, q
    )
    changed = {"length_mm": length}
    if "turn_deg" in known:
        turn = lash.turn_deg + turn_full * (tau(new) - tau(q))
        changed["turn_deg"] = within(turn, TURN_RANGE_DEG)
    if "root_diameter_mm" in known:
        slope = diameter_full - lash.tip_diameter_mm
        diameter = lash.root_diameter_mm + slope * (new - q)
        changed["root_diameter_mm"] = within(diameter, DIAMETER_RANGE_MM)
    return dataclasses.replace(lash, **changed)


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description="A lash when it is longer, as JSON.")
    for name in ("length", "final", "to"):
        parser.add_argument("--" + name, type=float, required=True)
    parser.add_argument("--turn", type=float)
    parser.add_argument("--root-diameter", type=float)
    parser.add_argument("--tip-diameter", type=float)
    given = parser.parse_args()
    measured = {
        "turn_deg": given.turn,
        "root_diameter_mm": given.root_diameter,
        "tip_diameter_mm": given.tip_diameter,
    }
    measured = {name: value for name, value in measured.items() if value is not None}
    lash = Lash(u=0.5, length_mm=given.length, **measured)
    after = grown(lash, given.final, given.to, measured)
    names = ("length_mm", "turn_deg", "root_diameter_mm", "tip_diameter_mm")
    json.dump({name: getattr(after, name) for name in names}, sys.stdout)
    print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
