#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Invents the survey of the practice head:  python3 invent.py > survey.csv

No head was measured. This script draws lashes as a good practice head might have them, three rows of
plastic lashes a millimetre apart, and rounds every number as somebody with a ruler and a loupe would
write it down. All means and spreads below are our assumptions; most spreads are about half of
what tipcrest assumes of a person's lashes, because plastic ones are more alike. The seed makes the
numbers the same everywhere. Of the seeds 1 to 16 it is one in the middle: layered.yaml comes out
even to 0.25 to 0.36 mm rms with them, to 0.30 mm with this one.
"""
import random
import statistics

SEED = 16

# Layer, letter of its ids, number of lashes, where along the lid it begins and ends, height in mm.
ROWS = (
    ("bottom", "a", 36, 0.05, 0.95, 0.1),
    ("middle", "b", 30, 0.09, 0.92, 1.1),
    ("top", "c", 24, 0.16, 0.86, 2.1),
)
HEIGHT_SD_MM = 0.1
PITCH_DEG, PITCH_SD_DEG = -10, 2.0
YAW_SD_DEG = 3.0  # about the fan of a lid's lashes, 10 degrees inwards to 10 degrees outwards
LENGTH_MM, LENGTH_SD_MM = 7.8, 0.4
TURN_DEG, TURN_SD_DEG = 55, 4.0

# Lashes that are to stay bare.
BABIES = ("a02", "a09", "a21", "a33", "b17", "b28")
STRAYS = ("c06", "c19")
WEAK = ("b05",)

draws = random.Random(SEED)


def normal(mean, sd):
    """Normal, cut at two and a half sd. By the inverse of a uniform number, since of Python's
    random numbers only the uniform ones are promised to stay the same."""
    share = 0.0062 + 0.9876 * draws.random()
    return mean + sd * statistics.NormalDist().inv_cdf(share)


def rounded(value, step, digits):
    """To the nearest mark of the ruler, as text, and never -0."""
    return f"{round(value / step) * step + 0.0:.{digits}f}"


def lash(name, layer, u, row_height):
    """One row of the survey."""
    height = normal(row_height, HEIGHT_SD_MM)
    pitch = normal(PITCH_DEG, PITCH_SD_DEG)
    yaw = normal(-10 + 20 * u, YAW_SD_DEG)
    # Shorter towards the inner corner, a little shorter towards the outer one.
    length = normal(LENGTH_MM - 2.5 * max(0.0, 0.4 - u) - 1.5 * max(0.0, u - 0.75), LENGTH_SD_MM)
    turn = normal(TURN_DEG, TURN_SD_DEG)
    condition = "suitable"
    if name in BABIES:
        condition, length, pitch = "baby", length - 3.6, pitch - 12
    elif name in STRAYS:
        condition, height = "stray", height + 1.0
    elif name in WEAK:
        condition = "weak"
    return (
        name,
        rounded(u, 0.005, 3),
        layer,
        rounded(length, 0.1, 1),
        rounded(max(height, 0.0), 0.05, 2),
        rounded(pitch, 1, 0),
        rounded(yaw, 1, 0),
        rounded(turn, 1, 0),
        condition,
    )


def main():
    """The whole survey, on stdout."""
    print("# INVENTED: no head and no person was measured; invent.py beside this file made it up.")
    print("# The left eye of a practice head with three rows of plastic lashes.")
    print("# u: place along the lid, from 0 at the inner corner to 1 at the outer one.")
    print("# height: of the root above the edge of the lid. length: of the lash, along its curl.")
    print("# pitch: how far it grows upwards from straight out of the lid; yaw: towards the outer")
    print("# corner; turn: how far it curls from root to tip.")
    print("id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg,turn_deg,condition")
    for layer, letter, count, first, last, row_height in ROWS:
        spacing = (last - first) / (count - 1)
        for k in range(count):
            u = first + spacing * (k + 0.5 * (draws.random() - 0.5))
            print(",".join(lash(f"{letter}{k + 1:02d}", layer, u, row_height)))


main()
