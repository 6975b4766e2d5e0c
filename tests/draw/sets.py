# SPDX-License-Identifier: GPL-3.0-or-later
"""Set files for the tests of pictures. All data is INVENTED, drawn from seeds."""

import os
import random

LAYERS = ("bottom", "middle", "top")
PLACEMENTS = ("top", "underside", "inner-side", "outer-side")
MAP = "[{to: 0.3, length_mm: 9, curl: C}, {to: 0.7, length_mm: 12, curl: D}, {to: 1, length_mm: 10, curl: C}]"


def write(folder, name, eyes, title="", rest=()):
    """A set file of eyes, side: (rows, map, lid); rows are lines of a survey with their header."""
    lines = ["tipcrest: 1"]
    if title:
        lines.append("title: '" + title.replace("'", "''") + "'")
    lines.append("eyes:")
    for side, (rows, zones, lid) in eyes.items():
        survey = f"{name}-{side}.csv"
        with open(os.path.join(folder, survey), "w", encoding="utf-8") as file:
            file.write("\n".join(rows) + "\n")
        lines += [f"  - side: {side}", f"    lashes: {{survey: {survey}}}", f"    map: {zones}"]
        if lid:
            lines.append("    lid: {" + ", ".join(f"{k}: {v}" for k, v in lid.items()) + "}")
    path = os.path.join(folder, name + ".yaml")
    with open(path, "w", encoding="utf-8") as file:
        file.write("\n".join(lines + list(rest)) + "\n")
    return path


def rows_of(rng, count, bare=0.1, spread=1.0):
    """A survey of lashes in all layers; a share of them weak, so bare."""
    rows = ["id,u,layer,length_mm,height_mm,pitch_deg,yaw_deg,roll_deg,turn_deg,condition"]
    for i in range(count):
        u = 0.03 + 0.94 * (i + 0.5) / count
        layer = rng.randrange(3)
        rows.append(
            f"n{i},{u:.4f},{LAYERS[layer]},{rng.gauss(7.5, 0.7 * spread):.3f},"
            f"{layer + rng.gauss(0, 0.15 * spread):.3f},{rng.gauss(-10, 4 * spread):.2f},"
            f"{rng.gauss(-10 + 20 * u, 4 * spread):.2f},{rng.gauss(0, 5 * spread):.2f},"
            f"{rng.gauss(60, 8 * spread):.2f},{'weak' if rng.random() < bare else 'suitable'}"
        )
    return rows


def wild_map(rng):
    """One to eight zones of any lengths and curls."""
    count = rng.randint(1, 8)
    ends = sorted(rng.sample(range(1, 20), count - 1)) + [20]
    zones = [
        f"{{to: {end / 20:g}, length_mm: {rng.randint(9, 15)}, curl: {rng.choice(['J', 'B', 'C', 'CC', 'D', 'DD', 'L', 'M'])}}}"
        for end in ends
    ]
    return "[" + ", ".join(zones) + "]"


def wild(folder, seed):
    """A set with one or two eyes, of any number of lashes, fans, placements, lids and views."""
    rng = random.Random(seed)
    sides = [("left",), ("right",), ("left", "right"), ("right", "left")][seed % 4]
    eyes = {}
    for side in sides:
        lid = {"fissure_width_mm": round(rng.uniform(24, 30), 2),
               "canthal_tilt_deg": round(rng.uniform(-3, 8), 2),
               "mrd1_mm": round(rng.uniform(2.5, 4.5), 2)}
        rows = rows_of(rng, rng.choice([5, 20, 60, 110]), rng.choice([0, 0.1, 0.5]),
                       rng.choice([0.3, 1, 1.6]))
        eyes[side] = (rows, wild_map(rng), lid)
    fan = rng.choice([1, 1, 2, 5])
    rest = [
        "layering:", f"  step_mm: {rng.choice([0, 1, 1, 2])}", f"  fan: {fan}",
        f"  spread_deg: {rng.choice([0, 20, 50]) if fan > 1 else 0}",
        f"  diameter_mm: {rng.choice([0.05, 0.15, 0.25])}",
        "  placement: {" + ", ".join(f"{layer}: {rng.choice(PLACEMENTS)}" for layer in LAYERS) + "}",
        f"line: {{tolerance_mm: {rng.choice([0.2, 0.5, 1])}}}",
        f"opening: {rng.choice([1, 1, 0.6])}",
        f"viewer_deg: {rng.choice([0, 0, 25])}",
    ]
    return write(folder, f"wild-{seed}", eyes, f"Set {seed} (invented)", rest)


def two_eyes(folder, count=60):
    """Both eyes, the usual rule."""
    rng = random.Random(4)
    eyes = {side: (rows_of(rng, count), MAP, None) for side in ("left", "right")}
    return write(folder, f"two-{count}", eyes, "Two eyes (invented)",
                 ["layering: {placement: {bottom: top, middle: outer-side, top: underside}}"])


def fans(folder):
    """A right eye with fans of three."""
    rng = random.Random(5)
    return write(folder, "fans", {"right": (rows_of(rng, 40), MAP, {"canthal_tilt_deg": 2})},
                 "Fans (invented)", ["layering: {fan: 3, spread_deg: 40, diameter_mm: 0.07}"])


def few(folder, name, which, count=24):
    """A left eye on which only some lashes carry an extension: those for which which(i) is true."""
    rows = ["id,u,layer,length_mm,condition"]
    for i in range(count):
        rows.append(f"n{i},{0.05 + 0.9 * (i + 0.5) / count:.4f},{LAYERS[i % 3]},8,"
                    f"{'suitable' if which(i) else 'weak'}")
    return write(folder, name, {"left": (rows, MAP, None)}, f"{name} (invented)")


def titled(folder, name, title):
    """A left eye under a title."""
    rows = ["id,u,layer,length_mm"]
    rows += [f"n{i},{0.1 + 0.025 * i:.3f},{LAYERS[i % 3]},8" for i in range(32)]
    return write(folder, name, {"left": (rows, MAP, None)}, title)
