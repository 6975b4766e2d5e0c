#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes awkward but valid set files with their surveys into a folder, the same ones every time,
for the program and the reference to be held against each other. All data is invented.

    python3 awkward.py FOLDER        prints the path of each set file, one a line

They stay clear of the few places where rounding alone decides what is right: lengths within 1e-6
of a tie between two tray lengths (exact ties, in binary fractions, are there), bonds within 1e-6 of
1 mm, lids that only just touch the globe.
"""
import json
import os
import random
import sys

import yaml

from model import CATALOGUE, LAYERS, PLACEMENTS, Lid
from setfile import CONDITIONS

CURLS = list(CATALOGUE)
LID_RANGES = {
    "fissure_width_mm": (15, 40),
    "canthal_tilt_deg": (-20, 20),
    "inner_corner_height_mm": (-5, 5),
    "mrd1_mm": (0, 8),
    "mrd2_mm": (2, 10),
    "peak_offset_mm": (-6, 6),
    "fullness": (0.8, 4),
    "globe_radius_mm": (8, 16),
    "lateral_semiaxis_mm": (8, 40),
}
LASH_RANGES = {
    "height_mm": (-2, 8),
    "pitch_deg": (-84.9, 84.9),
    "yaw_deg": (-84.9, 84.9),
    "roll_deg": (-90, 90),
    "length_mm": (0.3, 20),
    "turn_deg": (-60, 200),
    "root_diameter_mm": (0.02, 0.2),
}
CALM_RANGES = {
    "height_mm": (-0.3, 2.8),
    "pitch_deg": (-20, 5),
    "yaw_deg": (-25, 25),
    "roll_deg": (-20, 20),
    "length_mm": (5, 11),
    "turn_deg": (20, 100),
    "root_diameter_mm": (0.04, 0.12),
}
HALVES = [length / 2 for length in range(6, 61)]


class Plain(yaml.SafeDumper):
    """No anchors, whatever is shared: the set file does not allow them."""

    def ignore_aliases(self, data):
        return True


class Dice(random.Random):
    """Seeded draws; numbers are rounded, so that files stay readable and both readers agree."""

    def between(self, low, high, digits=4):
        return round(self.uniform(low, high), digits)

    def edge(self, low, high):
        """Often an end of the range."""
        return self.choice((low, high, self.between(low, high), self.between(low, high)))


def lid(dice):
    """A lid somewhere in the ranges, often at their edges, that lies on the globe."""
    while True:
        values = {name: dice.edge(*limits) for name, limits in LID_RANGES.items()}
        if values["lateral_semiaxis_mm"] <= 0.51 * values["fissure_width_mm"]:
            continue
        drawn = Lid(**values)
        heights = (drawn.mrd1_mm, -drawn.mrd2_mm)
        if all(drawn.worst_share(height) < 0.99 for height in heights):
            return values


def shares(dice, pieces):
    """Thousandths that sum to 1."""
    ends = [0] + sorted(dice.sample(range(1, 1000), pieces - 1)) + [1000]
    return [round((b - a) / 1000, 3) for a, b in zip(ends, ends[1:])]


def own_curl(dice, pieces):
    """A curl of so many pieces with turns of either sign, some straight."""
    turns = [dice.choice((0, dice.between(-90, 270, 1), dice.between(-90, 90, 1)))
             for _ in range(pieces)]
    return [list(piece) for piece in zip(shares(dice, pieces), turns)]


def measured_curl(dice, lengths, pieces):
    """A curl by length: other shares at every length, turns that grow a little."""
    turns = [turn for _, turn in own_curl(dice, pieces)]
    return {
        length: [[share, round(turn * (1 - 0.05 * i), 2)]
                 for share, turn in zip(shares(dice, pieces), turns)]
        for i, length in enumerate(lengths)
    }


def zones(dice, count, lengths, curls):
    """A map of so many zones."""
    ends = sorted(dice.sample(range(5, 98), count - 1))
    return [
        {"to": end / 100, "length_mm": dice.choice(lengths), "curl": dice.choice(curls)}
        for end in ends + [100]
    ]


def natural(dice, ranges, shortest=0.0):
    """The columns of a natural lash."""
    row = {name: dice.edge(*limits) for name, limits in ranges.items()}
    row["length_mm"] = max(row["length_mm"], shortest)
    root = row["root_diameter_mm"]
    row["tip_diameter_mm"] = dice.choice((0, root, round(root * dice.random(), 6)))
    row["final_length_mm"] = min(20, max(1, round(row["length_mm"] + dice.choice((0, 1.5)), 4)))
    return row


def worn(dice, curls, fan=20, spread=120):
    """The ext_ columns of a row."""
    return {
        "ext_length_mm": dice.edge(3, 30) if dice.random() < 0.3 else dice.between(6, 15, 2),
        "ext_curl": dice.choice(curls),
        "ext_diameter_mm": dice.edge(0.02, 0.3),
        "ext_placement": dice.choice(PLACEMENTS),
        "ext_fan": dice.randint(1, fan),
        "ext_spread_deg": dice.edge(0, spread),
    }


def lashes(count, low=0.02, high=0.98):
    """Rows spread evenly, layers in turn; ids are invented."""
    step = (high - low) / max(1, count - 1)
    return [
        {"id": f"n{i:03d}", "u": round(low + i * step, 6), "layer": LAYERS[i % 3],
         "length_mm": 8}
        for i in range(count)
    ]


def thin(dice, row, keep):
    """Leaves out optional cells, so that defaults come in; the diameters go together, since the
    tip's must not exceed the root's."""
    required = ("id", "u", "layer", "length_mm")
    kept = {k: v for k, v in row.items() if k in required or dice.random() < keep}
    if "root_diameter_mm" not in kept:
        kept.pop("tip_diameter_mm", None)
    return kept


def quoted(text, always):
    """A cell by RFC 4180."""
    return '"' + text.replace('"', '""') + '"' if always or '"' in text or ";" in text else text


def csv_text(rows, semicolon=False):
    """A survey, either plain or with semicolons, decimal commas, a byte order mark, CRLF, quotes,
    padded cells, comments and blank lines."""
    columns = list(dict.fromkeys(name for row in rows for name in row))
    if not semicolon:
        lines = [columns] + [[str(row.get(name, "")) for name in columns] for row in rows]
        return "".join(",".join(cells) + "\n" for cells in lines)
    lines = ["; ".join(columns)]
    for index, row in enumerate(rows):
        cells = []
        for name in columns:
            value = row.get(name, "")
            text = str(value).replace(".", ",") if isinstance(value, float) else str(value)
            cells.append(f" {text} " if len(text) < 4 else quoted(text, name == "id" and index % 5))
        if index % 7 == 0:
            lines += ["# a remark; with a separator, and a comma", "", "  "]
        lines.append(";".join(cells))
    return "\ufeff" + "\r\n".join(lines) + "\r\n"


class Folder:
    """Where the sets go."""

    def __init__(self, path):
        self.path = path
        self.sets = []
        os.makedirs(path, exist_ok=True)

    def write(self, name, tree, surveys, semicolon=False, as_json=False):
        """A set file with a survey an eye, or a description; an eye of the tree lacks tipcrest and
        lashes only."""
        for eye, rows in zip(tree["eyes"], surveys):
            if isinstance(rows, dict):
                eye["lashes"] = {"describe": rows}
                continue
            survey = f"{name}-{eye['side']}.csv"
            eye["lashes"] = {"survey": survey}
            with open(os.path.join(self.path, survey), "w", encoding="utf-8", newline="") as out:
                out.write(csv_text(rows, semicolon))
        tree = {"tipcrest": 1, "title": f"Awkward set {name} (invented)"} | tree
        path = os.path.join(self.path, name + (".json" if as_json else ".yaml"))
        with open(path, "w", encoding="utf-8") as out:
            if as_json:
                json.dump(tree, out, indent=1)
            else:
                yaml.dump(tree, out, Plain, sort_keys=False, default_flow_style=None)
        self.sets.append(path)


FLAT = [{"to": 0.3, "length_mm": 10, "curl": "C"}, {"to": 0.7, "length_mm": 12, "curl": "C"},
        {"to": 1, "length_mm": 11, "curl": "C"}]


def eye(side, zones_=None, lid_=None):
    """An eye of a tree."""
    made = {"side": side}
    if lid_:
        made["lid"] = lid_
    made["map"] = [dict(zone) for zone in (zones_ or FLAT)]
    return made


def curls_and_placements(folder):
    """Every curl of the catalogue, then measured ones, then own ones of up to eight pieces."""
    dice = Dice(101)
    by_zone = [{"to": (i + 1) / 8, "length_mm": 12, "curl": c} for i, c in enumerate(CURLS)]
    rows = [row | {"ext_placement": PLACEMENTS[i % 4]} for i, row in enumerate(lashes(96))]
    folder.write("every-curl", {"eyes": [eye("left", by_zone)]}, [rows])

    measured = {"X": measured_curl(dice, (6, 9, 12.5), 4), "C": measured_curl(dice, (8, 12), 2),
                "Y1": measured_curl(dice, (10,), 8)}
    mine = zones(dice, 6, list(range(8, 15)), ["X", "C", "Y1"])
    rows = lashes(60)
    for row in rows[::4]:
        row |= {"ext_length_mm": dice.edge(3, 30), "ext_curl": dice.choice(("X", "C", "Y1"))}
    tree = {"eyes": [eye("right", mine)], "curls": measured, "tray": {"lengths_mm": HALVES},
            "layering": {"blend": True, "step_mm": 0.5}}
    folder.write("measured-curls", tree, [rows])

    own = {f"own{n}": own_curl(dice, n) for n in range(1, 9)} | {"D": own_curl(dice, 8)}
    rows = [row | {"ext_placement": dice.choice(PLACEMENTS)} for row in lashes(80)]
    tree = {"eyes": [eye("left", zones(dice, 9, [8, 9, 10, 11, 12], list(own)))], "curls": own}
    folder.write("own-curls", tree, [rows])


def fans_and_wild_lashes(folder):
    """Fans with spread on rolled lashes; then natural lashes all over their ranges, in every
    condition, many too short for a bond."""
    dice = Dice(202)
    rows = [row | natural(dice, CALM_RANGES, 5) | worn(dice, CURLS) for row in lashes(70)]
    for row in rows:
        row["roll_deg"] = dice.edge(-90, 90)
    folder.write("fans", {"eyes": [eye("left")]}, [rows])

    for name, opening in (("wild-lashes", 1), ("wild-lashes-half-open", 0.37)):
        rows = []
        for row in lashes(90):
            row |= natural(dice, LASH_RANGES) | {"condition": dice.choice(CONDITIONS + ("",) * 5)}
            if row["length_mm"] > 1.75 and dice.random() < 0.4:
                row |= worn(dice, CURLS)
            elif dice.random() < 0.1:
                row["ext_length_mm"] = "none"
            rows.append(thin(dice, row, 0.85) if "ext_length_mm" not in row else row)
        tree = {"eyes": [eye("right")], "viewer_deg": -25, "opening": opening}
        folder.write(name, tree, [rows])


def lids_at_the_edges(folder):
    """Two lids a set, drawn at the edges of the ranges; openings and viewers likewise."""
    views = ((0, 80), (1, -80), (0.25, 45.5), (0.999, 0), (0, 0), (1, 80))
    for index, (opening, viewer) in enumerate(views):
        dice = Dice(300 + index)
        eyes = [eye("left", lid_=lid(dice)), eye("right", lid_=lid(dice))]
        surveys = [[thin(dice, row | natural(dice, CALM_RANGES, 3), 0.7) for row in lashes(n)]
                   for n in (51, 64)]
        tree = {"eyes": eyes, "opening": opening, "viewer_deg": viewer}
        folder.write(f"edge-lids-{index + 1}", tree, surveys)


def few_tips(folder):
    """Sets with 0 to 12 tips; the others of their lashes are bare."""
    for first, second in ((2, 3), (11, 12), (0, 1), (4, 5)):
        surveys = []
        for count in (first, second):
            rows = lashes(14, 0.1, 0.9)
            for index, row in enumerate(rows):
                row["condition"] = "suitable" if index % 7 * 2 + index // 7 < count else "baby"
            surveys.append(rows)
        tree = {"eyes": [eye("left"), eye("right")]}
        folder.write(f"tips-{first}-{second}", tree, surveys)
    rows = [row | {"u": 0.4, "layer": "bottom"} for row in lashes(5)]
    folder.write("one-x", {"eyes": [eye("left")]}, [rows])
    surveys = [lashes(20, 0.02, 0.3), lashes(20, 0.75, 0.98)]
    folder.write("no-common-range", {"eyes": [eye("right"), eye("left")]}, surveys)


def survey_styles(folder):
    """Semicolons with decimal commas; all digits; JSON as set file."""
    dice = Dice(505)
    surveys = []
    for count in (45, 52):
        rows = []
        for index, row in enumerate(lashes(count)):
            row |= natural(dice, CALM_RANGES, 4) | {"note_artist": 'soft; or "fluffy", rather'}
            row["id"] = ("=1+1", "é à ü", "-x", "@b")[index] if index < 4 else row["id"]
            rows.append(thin(dice, row, 0.6))
        surveys.append(rows)
    tree = {"eyes": [eye("left"), eye("right")]}
    folder.write("semicolon", tree, surveys, semicolon=True)

    rows = lashes(77)
    for row in rows:
        row |= {"u": min(0.98, row["u"] + dice.random() / 1000), "pitch_deg": dice.gauss(-10, 4),
                "length_mm": abs(dice.gauss(7.5, 1)), "turn_deg": dice.gauss(60, 8)}
    folder.write("all-digits", {"eyes": [eye("left")]}, [rows])

    curls = {"K": {"8": own_curl(dice, 3), "12": own_curl(dice, 3)}}
    mine = zones(dice, 4, [8, 9, 10, 11, 12], ["K", "C"])
    tree = {"eyes": [eye("left", mine)], "curls": curls}
    folder.write("as-json", tree, [lashes(30)], as_json=True)


def maps_and_rules(folder):
    """Layers of a zone that fix anything, blended half-millimetre trays, exact ties, lashes that
    root on a zone's end."""
    dice = Dice(606)
    mine = zones(dice, 7, [9, 9.5, 10, 10.5, 11, 12, 12.5], ["C", "D", "L"])
    for zone in mine[::2]:
        zone["top"] = {"length_mm": dice.choice(HALVES[4:30]), "curl": "M", "fan": 3,
                       "spread_deg": 25.5, "placement": "underside", "diameter_mm": 0.07}
        zone["bottom"] = {"length_mm": dice.choice(HALVES[10:20]), "diameter_mm": 0.2}
    mine[1]["bottom"] = {"curl": "DD", "placement": "inner-side"}
    mine[3]["middle"] = {"placement": "outer-side", "spread_deg": 90, "fan": 2}
    rule = {"blend": True, "step_mm": 1.5, "diameter_mm": 0.1, "fan": 4, "spread_deg": 30,
            "placement": {"middle": "outer-side", "top": "underside"}}
    for blend in (True, False):
        tree = {"eyes": [eye("left", mine), eye("right", mine[:-1] + [mine[-1] | {"curl": "B"}])],
                "layering": rule | {"blend": blend}, "tray": {"lengths_mm": HALVES}}
        folder.write(f"layer-overrides-{'blend' if blend else 'steps'}", tree,
                     [lashes(84), lashes(71)])

    meant = zones(dice, 5, [9, 10, 11, 12, 13], ["C", "D", "L"])
    meant[2]["bottom"] = {"length_mm": 11, "curl": "B", "diameter_mm": 0.2}
    for blend in (True, False):
        both = [eye("left", mine) | {"intended": meant}, eye("right", mine)]
        tree = {"eyes": both, "layering": rule | {"blend": blend}, "tray": {"lengths_mm": HALVES}}
        folder.write(f"intended-{'blend' if blend else 'steps'}", tree, [lashes(84), lashes(71)])

    ties = [{"to": (i + 1) / 4, "length_mm": length, "curl": "C"}
            for i, length in enumerate((9, 10, 12, 11))]
    rows = lashes(60)
    for row, u in zip(rows, (0.25, 0.5, 0.75, 0.625, 0.125, 0.875, 0.3125, 0.02, 0.98, 0.4375)):
        row["u"] = u
    tree = {"eyes": [eye("left", ties)], "layering": {"blend": True, "step_mm": 0}}
    folder.write("ties", tree, [rows])
    folder.write("zone-ends", {"eyes": [eye("left", ties)]}, [rows])


def mean_lashes_and_bonds(folder):
    """The intended line of other mean lashes, one too short for it; bonds at their limits."""
    means = ({"length_mm": 9.3, "turn_deg": -20, "pitch_deg": 12.5, "yaw_deg": 8, "roll_deg": -15,
              "height_mm": 1.25, "root_diameter_mm": 0.11, "tip_diameter_mm": 0},
             {"length_mm": 1.5}, {"turn_deg": 200, "length_mm": 20})
    for index, mean in enumerate(means):
        tree = {"eyes": [eye("left")], "mean_lash": mean, "line": {"tolerance_mm": 0.05 + index}}
        folder.write(f"mean-lash-{index + 1}", tree, [lashes(60)])
    bonds = ({"offset_mm": 0, "length_mm": 8, "glue_mm": 0}, {"offset_mm": 3, "length_mm": 1},
             {"offset_mm": 1.25, "length_mm": 4.5, "glue_mm": 0.2})
    for index, bond in enumerate(bonds):
        dice = Dice(700 + index)
        rows = [row | natural(dice, CALM_RANGES, 4.5) | worn(dice, CURLS, 3, 40)
                for row in lashes(66)]
        rows[7]["ext_length_mm"] = 3
        folder.write(f"bond-{index + 1}", {"eyes": [eye("right")], "bond": bond}, [rows])


def strays(folder):
    """Many tips far off, so that Huber's bend decides; a set without any scatter."""
    dice = Dice(808)
    for share in (0.05, 0.2, 0.45):
        rows = lashes(100)
        for row in rows:
            if dice.random() < share:
                row |= {"condition": "stray", "ext_length_mm": dice.between(5, 20, 1),
                        "pitch_deg": dice.between(-50, 50, 1)}
        folder.write(f"strays-{round(100 * share)}", {"eyes": [eye("left")]}, [rows])
    rows = [row | {"layer": "bottom"} for row in lashes(96)]
    whole = [{"to": 1, "length_mm": 12, "curl": "C"}]
    folder.write("even", {"eyes": [eye("left", whole), eye("right", whole)]}, [rows, rows])


def everything_at_once(folder):
    """All of it, two eyes, at random."""
    for seed in range(6):
        dice = Dice(900 + seed)
        curls = {"own": own_curl(dice, 8), "by": measured_curl(dice, (7, 11, 15), 2)}
        names = CURLS + list(curls)
        eyes, surveys = [], []
        for side in ("left", "right"):
            mine = zones(dice, dice.randint(1, 12), HALVES[10:24], names)
            for zone in mine:
                if dice.random() < 0.4:
                    zone[dice.choice(LAYERS)] = {"curl": dice.choice(names),
                                                 "length_mm": dice.choice(HALVES),
                                                 "placement": dice.choice(PLACEMENTS)}
            eyes.append(eye(side, mine, lid(dice)))
            rows = []
            for row in lashes(dice.randint(12, 140)):
                row |= natural(dice, dice.choice((CALM_RANGES, CALM_RANGES, LASH_RANGES)))
                row |= {"condition": dice.choice(CONDITIONS + ("suitable",) * 9)}
                asks = row["length_mm"] > 2.5 and dice.random() < 0.3
                rows.append(thin(dice, row, 0.8) | (worn(dice, names) if asks else {}))
            surveys.append(rows)
        tree = {"eyes": eyes, "curls": curls, "tray": {"lengths_mm": HALVES},
                "layering": {"blend": dice.random() < 0.5, "step_mm": dice.choice((0, 0.5, 1)),
                             "fan": dice.randint(1, 6), "spread_deg": dice.between(0, 60, 1)},
                "bond": {"offset_mm": 0.65, "length_mm": dice.between(1, 6, 2)},
                "opening": dice.between(0, 1), "viewer_deg": dice.between(-80, 80, 2)}
        folder.write(f"everything-{seed + 1}", tree, surveys,
                     semicolon=seed % 2 == 1)


PARTS = {
    "inner": [(0.02, 0.24)],
    "outer": [(0.76, 0.98)],
    "middle": [(0.26, 0.74)],
    "inner-half": [(0.02, 0.7)],
    "outer-half": [(0.3, 0.98)],
    "corners": [(0.02, 0.24), (0.76, 0.98)],
}


def own_lashes(dice, count, low=0.02, high=0.98, keep=0.5):
    """Lashes of which some numbers are known, most of them suitable."""
    rows = []
    for row in lashes(count, low, high):
        row |= natural(dice, CALM_RANGES, 4.5) | {"condition": dice.choice(CONDITIONS + ("",) * 12)}
        row["length_mm"] = round(5.5 + 3 * row["u"] + dice.random(), 4)
        rows.append(thin(dice, row, keep))
    return rows


def mean_lashes_of_the_eye(folder):
    """Intended lines of the lashes' own means: partly known surveys, few lashes, lashes in one part
    of the lid so that knots of their length are tied, a mean tip thicker than the mean root."""
    dice = Dice(1001)
    for name, parts in PARTS.items():
        surveys = [sum((own_lashes(dice, n, *part) for part in parts), []) for n in (20, 33)]
        for rows in surveys:
            for i, row in enumerate(rows):
                row["id"] = f"p{i}"
        tree = {"eyes": [eye("left"), eye("right", lid_=lid(dice))], "line": {"shared": False}}
        folder.write(f"part-{name}", tree, surveys)
    for first, second in ((11, 12), (1, 2), (13, 40)):
        surveys = []
        for count in (first, second):
            rows = own_lashes(dice, 42)
            for i, row in enumerate(rows):
                row["condition"] = "" if i * 5 % 42 < count else dice.choice(("baby", "weak"))
            surveys.append(rows)
        tree = {"eyes": [eye("left"), eye("right")], "line": {"shared": False}}
        folder.write(f"suitable-{first}-{second}", tree, surveys)
    rows = own_lashes(dice, 40, keep=0)
    for i, row in enumerate(rows):
        row |= {"condition": "", "height_mm": 0.3 + i / 100}
        if i % 2:
            row |= {"root_diameter_mm": 0.18, "tip_diameter_mm": 0.17}
        else:
            row["root_diameter_mm"] = 0.03
    folder.write("thick-tips", {"eyes": [eye("left")]}, [rows])
    folder.write("mean-half-given", {"eyes": [eye("left"), eye("right")],
                                     "mean_lash": {"pitch_deg": -5, "length_mm": 7}},
                 [own_lashes(dice, 50), own_lashes(dice, 30)])


def lines_of_two_eyes(folder):
    """Two eyes that differ in lid, map and lashes, held against one line or each its own; a
    tolerance from a distance; one eye whose mean lash cannot bond."""
    dice = Dice(1102)
    other = zones(dice, 5, [9, 10, 11, 12, 13], ["C", "D"])
    surveys = [own_lashes(dice, 70), own_lashes(dice, 55)]
    for name, line in (("shared", {}), ("own", {"shared": False, "tolerance_mm": 0.3}),
                       ("seen", {"shared": True, "seen_from_mm": 400})):
        tree = {"eyes": [eye("right", other, lid(Dice(7))), eye("left")]}
        folder.write(f"two-eyes-{name}", tree | ({"line": line} if line else {}), surveys)
    short = [row | {"length_mm": 1.5, "condition": ""} for row in lashes(30)]
    worn_ = [row | {"id": f"w{i}", "ext_length_mm": 9, "length_mm": 7, "condition": "stray"}
             for i, row in enumerate(lashes(15))]
    for shared in (True, False):
        tree = {"eyes": [eye("left"), eye("right")], "line": {"shared": shared}}
        folder.write(f"one-cannot-bond-{'shared' if shared else 'own'}", tree,
                     [short + worn_, own_lashes(dice, 40)])


def worn_rows(dice, count, settings, share):
    """Rows of which a share give some of what they wear."""
    rows = own_lashes(dice, count, keep=0.7)
    for row in rows:
        if dice.random() < share:
            row["ext_length_mm"] = dice.choice(settings["lengths"])
        for name in ("curl", "diameter_mm", "placement", "fan", "spread_deg"):
            if dice.random() < share / 3:
                row["ext_" + name] = dice.choice(settings[name])
        if dice.random() < share / 4:
            row["ext_from_skin_mm"] = dice.between(0, 2, 2)
    return rows


def cells_and_choices(folder):
    """Worn lengths by rows, in all cells or few, by sizes and by no size; with an intended map;
    with blend; cells that lack a bottom layer; ties between what is most frequent."""
    dice = Dice(1203)
    worn_by = {"lengths": [9, 9.5, 10, 11, 11, 12, 13.25], "curl": ["C", "C", "D", "L"],
               "diameter_mm": [0.1, 0.15, 0.15], "placement": list(PLACEMENTS), "fan": [1, 3],
               "spread_deg": [0, 20]}
    mine = zones(dice, 6, [9, 10, 11, 12, 13], ["C", "D"])
    mine[2]["top"] = {"length_mm": 8, "placement": "underside"}
    mine[3]["bottom"] = {"length_mm": 12, "curl": "D"}
    rule = {"placement": {"middle": "outer-side", "top": "underside"}}
    for name, share, blend, extra in (
        ("all", 1, False, {}), ("some", 0.3, False, {}), ("all-blend", 1, True, {}),
        ("some-blend", 0.3, True, {}), ("none-blend", 0, True, {}), ("all-planned", 1, False, True),
        ("some-planned-blend", 0.4, True, True),
    ):
        both = [eye("left", mine), eye("right", mine)]
        if extra:
            both[0]["intended"] = zones(dice, 4, [10, 11, 12], ["C"])
        surveys = [worn_rows(dice, n, worn_by, share) for n in (90, 61)]
        for row in surveys[1]:
            if 0.2 < row["u"] < 0.6 and row["layer"] == "bottom":
                row["layer"] = "top"
        tree = {"eyes": both, "layering": rule | {"blend": blend, "step_mm": 0.5}}
        folder.write(f"worn-{name}", tree | {"tray": {"lengths_mm": HALVES}}, surveys)
    no_bottom = [row for row in lashes(50) if row["layer"] != "bottom"]
    folder.write("no-bottom", {"eyes": [eye("left", mine)], "layering": rule}, [no_bottom])
    pairs = [row | {"ext_length_mm": 10 + i % 2, "ext_curl": "CD"[i // 3 % 2]}
             for i, row in enumerate(lashes(60))]
    folder.write("ties-in-cells", {"eyes": [eye("right", mine)]}, [pairs])


def without_a_tray(folder):
    """No tray: lengths and steps as they come, blended without rounding."""
    dice = Dice(1304)
    mine = zones(dice, 5, [9.13, 10.27, 11.401, 12.05], ["C", "CC"])
    for blend in (True, False):
        tree = {"eyes": [eye("left", mine)], "tray": "any",
                "layering": {"blend": blend, "step_mm": 0.73}}
        folder.write(f"no-tray-{'blend' if blend else 'steps'}", tree, [own_lashes(dice, 60)])


def described_eyes(folder):
    """Lashes drawn from distributions: the three laws of length, other means, two eyes."""
    folder.write("described", {"eyes": [eye("left"), eye("right")]},
                 [{"seed": 3}, {"count": 60, "seed": 3}])
    folder.write("described-full", {"eyes": [eye("right")]}, [{"phases": "none", "count": 150,
                                                                "seed": 12345678901}])
    other = {"count": 80, "seed": 9, "phases": "B", "gap_mm": 0.6, "height_sd_mm": 0.3,
             "pitch_deg": -20, "pitch_sd_deg": 10, "yaw_deg": -5, "yaw_fan_deg": 8, "yaw_sd_deg": 1,
             "roll_deg": 5, "roll_sd_deg": 6, "length_mm": 9, "length_sd_mm": 2,
             "length_inner_share": 0.5, "length_outer_share": 1.2, "turn_deg": 90,
             "turn_sd_deg": 25, "root_diameter_mm": 0.07, "root_diameter_sd_mm": 0.02,
             "tip_diameter_mm": 0.01, "stray_share": 0.2, "stray_rise_mm": 0.5, "baby_below_mm": 6,
             "weak_below_mm": 0.05}
    folder.write("described-other", {"eyes": [eye("left"), eye("right")]},
                 [other, own_lashes(Dice(1405), 40)])


def main():
    """The command line."""
    if len(sys.argv) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    folder = Folder(sys.argv[1])
    for make in (curls_and_placements, fans_and_wild_lashes, lids_at_the_edges, few_tips,
                 survey_styles, maps_and_rules, mean_lashes_and_bonds, strays, everything_at_once,
                 mean_lashes_of_the_eye, lines_of_two_eyes, cells_and_choices, without_a_tray,
                 described_eyes):
        make(folder)
    print("\n".join(folder.sets))
    return 0


if __name__ == "__main__":
    sys.exit(main())
