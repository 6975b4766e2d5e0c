# SPDX-License-Identifier: GPL-3.0-or-later
"""Claims for verify.py on the intended line (section 7) and on causes (section 8)."""
import csv
import itertools
import math
import os
import random
import tempfile

import numpy as np
import yaml

import check
import why
from hold import hold, hold_true
from model import LAYERS
from setfile import SetFile

MAP = [{"to": 0.3, "length_mm": 10, "curl": "C"}, {"to": 0.7, "length_mm": 12, "curl": "C"},
       {"to": 1, "length_mm": 11, "curl": "C"}]


def rows(count, layers=LAYERS, **more):
    """Rows of a survey, spread evenly."""
    return [{"id": f"r{i}", "u": round(0.04 + 0.92 * i / (count - 1), 4),
             "layer": layers[i % len(layers)], "length_mm": 8} | more for i in range(count)]


class Written:
    """A set in a folder of its own, as SetFile reads it."""

    def __init__(self, surveys, maps=(MAP, MAP), **tree):
        self.folder = tempfile.TemporaryDirectory()
        eyes = []
        for side, zones, lashes in zip(("left", "right"), maps, surveys):
            eye = {"side": side, "map": [dict(zone) for zone in zones]}
            eye["lashes"] = lashes if isinstance(lashes, dict) else {"survey": side + ".csv"}
            if isinstance(lashes, list):
                self.survey(side, lashes)
            eyes.append(eye | tree.pop(side, {}))
        self.path = os.path.join(self.folder.name, "set.yaml")
        with open(self.path, "w", encoding="utf-8") as out:
            yaml.safe_dump({"tipcrest": 1, "eyes": eyes} | tree, out)

    def survey(self, side, lashes):
        """Writes a survey."""
        names = list(dict.fromkeys(name for row in lashes for name in row))
        with open(os.path.join(self.folder.name, side + ".csv"), "w", encoding="utf-8") as out:
            writer = csv.DictWriter(out, names)
            writer.writeheader()
            writer.writerows(lashes)

    def lines(self):
        """Its intended lines by side."""
        found = check.intended_lines(SetFile(self.path), 1.0, 0.0)
        return {side: line for side, (line, _) in found.items()}

    def why(self, against="intended"):
        """The first eye's causes, by name, pairs too."""
        eye = why.why(self.path, against=against)["eyes"][0]
        causes = {one["cause"]: one for one in eye["causes"]}
        return eye, causes | {name: eye[name] for name in why.PAIRS}


# ---------------------------------------------------------------------------------------------
# The intended line


def apart(one, other):
    """The largest distance of two lines where both are."""
    x = np.linspace(max(one.low, other.low), min(one.high, other.high), 300)
    return float(np.abs(one.value(x) - other.value(x)).max())


def a_described_eye_and_its_survey_have_one_line():
    """Source: model.md section 7. Tolerance: rounding; the survey has all digits."""
    given = {"describe": {"count": 80, "seed": 5}}
    drawn = Written([given])
    lashes = SetFile(drawn.path).eyes[0].lashes
    names = ("height_mm", "pitch_deg", "yaw_deg", "roll_deg", "length_mm", "turn_deg",
             "root_diameter_mm", "tip_diameter_mm")
    survey = [
        {"id": one.id, "u": repr(one.lash.u), "layer": one.layer, "condition": one.condition}
        | {name: repr(getattr(one.lash, name)) for name in names} for one in lashes
    ]
    hold("described and surveyed, mm",
         apart(drawn.lines()["left"], Written([survey]).lines()["left"]), 0, 1e-12)


def two_eyes_share_a_line_when_they_may():
    """Source: model.md section 7: two eyes that are alike have the line of each, since twice the
    places with twice the penalty have the same minimiser; eyes that differ lie on either side of
    the shared line. Tolerance: rounding."""
    alike = Written([rows(30), rows(30)]).lines()
    alone = Written([rows(30)]).lines()["left"]
    hold("alike: shared line and own, mm", apart(alike["left"], alone), 0, 1e-11)
    surveys = [rows(30), rows(30, length_mm=6.5)]
    shared = Written(surveys).lines()
    own = Written(surveys, line={"shared": False}).lines()
    hold_true("one line for both", shared["left"] is shared["right"])
    middle = [float(line.value(1.0)[0]) for line in (own["left"], shared["left"], own["right"])]
    hold_true(f"between its eyes' own: {middle}", middle[0] < middle[1] < middle[2])


# ---------------------------------------------------------------------------------------------
# Shapley's value


def shapley_by_orders(value, players, player):
    """The mean over all orders of the players, one by one."""
    total, orders = 0.0, 0
    for order in itertools.permutations(players):
        before = frozenset().union(*order[: order.index(player)])
        total += value[before | player] - value[before]
        orders += 1
    return total / orders


def shares_are_shapleys():
    """Source: the definition, over all 720 and 120 orders; efficiency. Tolerance: rounding."""
    rng = random.Random(12)
    value = {group: rng.random() for group in why.subsets(why.CAUSES)}
    report = why.shares(value)
    players = [frozenset([cause]) for cause in why.CAUSES]
    worst = max(
        abs(one["shapley_mm2"] - shapley_by_orders(value, players, frozenset([one["cause"]])))
        for one in report["causes"]
    )
    hold("six causes over all orders", worst, 0, 1e-14)
    whole = value[frozenset(why.CAUSES)] - value[frozenset()]
    hold("they sum to the whole", math.fsum(c["shapley_mm2"] for c in report["causes"]), whole,
         1e-14)
    for name, pair in why.PAIRS.items():
        joint = frozenset(pair)
        others = [one for one in players if not one <= joint]
        hold(f"{name} over all orders", report[name]["shapley_mm2"],
             shapley_by_orders(value, others + [joint], joint), 1e-14)
        rest = [why.shapley(value, others + [joint], one) for one in others]
        hold(f"{name} and the other four sum to it",
             math.fsum(rest) + report[name]["shapley_mm2"], whole, 1e-14)


# ---------------------------------------------------------------------------------------------
# What each cause is


def only(causes, active, name):
    """All but the active ones do nothing in any order."""
    worst = max(
        (abs(one[key]) for cause, one in causes.items()
         if cause not in active and cause not in why.PAIRS
         for key in ("shapley_mm2", "first_in_mm2", "last_out_mm2")), default=0.0)
    hold(f"{name}: the others do nothing, mm²", worst, 0, 1e-14)


def each_cause_is_seen_alone():
    """Source: sets in which one thing alone differs from the bare set: by definition the others add
    nothing in any order, and its share is first-in and last-out in one. Tolerance: rounding."""
    whole = [{"to": 1, "length_mm": 11, "curl": "C"}]
    low = ("bottom",)
    flat = rows(40, low)
    cases = (
        ("none", [flat], whole, {}, ()),
        ("root_heights", [[r | {"height_mm": 0.3 * (i % 2)} for i, r in enumerate(flat)]], whole,
         {}, ("root_heights",)),
        ("layer_shortening", [[r | {"height_mm": 0} for r in rows(40)]], whole, {},
         ("layer_shortening",)),
        ("placement", [[r | {"height_mm": 0} for r in rows(40)]], whole,
         {"layering": {"step_mm": 0, "placement": {"middle": "underside"}}}, ("placement",)),
        ("zone_steps", [flat], MAP, {}, ("zone_steps",)),
        ("zone_steps of a blend", [flat], MAP, {"layering": {"blend": True}}, ("zone_steps",)),
        ("nothing: a blend without a tray", [flat], MAP,
         {"layering": {"blend": True}, "tray": "any"}, ()),
        ("single_choices",
         [[r | ({"ext_length_mm": 13} if i == 9 else {}) for i, r in enumerate(flat)]], whole, {},
         ("single_choices",)),
        ("single_choices of placement",
         [[r | ({"ext_placement": "underside"} if i == 9 else {}) for i, r in enumerate(flat)]],
         whole, {}, ("single_choices",)),
        ("natural_variation", [[r | {"pitch_deg": -10 + i % 3} for i, r in enumerate(flat)]], whole,
         {}, ("natural_variation",)),
    )
    for name, surveys, zones, tree, active in cases:
        for against in ("intended", "fitted"):
            _, causes = Written(surveys, (zones,), **tree).why(against)
            only(causes, active, f"{name}, {against}")
            for cause in active:
                one = causes[cause]
                first = one["first_in_mm2"]
                hold(f"{name}, {against}: share", one["shapley_mm2"], first, 1e-14)
                hold(f"{name}, {against}: last-out", one["last_out_mm2"], first, 1e-14)
                hold_true(f"{name}, {against}: {first:.3g} mm²", first > 1e-6)


def worn_lengths_have_the_causes_of_a_map():
    """Source: model.md section 8: a finished set of which only the worn lengths are known has the
    causes that its map would give. Tolerance: 1e-12, lengths go through a median."""
    mapped = Written([rows(60)])
    worn = SetFile(mapped.path)
    lengths = [worn.extension_for(worn.eyes[0], one)[0].length_mm for one in worn.eyes[0].lashes]
    given = [row | {"ext_length_mm": length} for row, length in zip(rows(60), lengths)]
    level = [{"to": z["to"], "length_mm": 9, "curl": "C"} for z in MAP]
    # The map is level and its intended line too, so the fitted line is the one to compare.
    by_rows = Written([given], (level,)).why("fitted")[1]
    by_map = mapped.why("fitted")[1]
    worst = max(abs(by_rows[c][k] - by_map[c][k]) for c in by_map
                for k in ("shapley_mm2", "first_in_mm2", "last_out_mm2"))
    hold("causes from worn lengths against those of the map, mm²", worst, 0, 1e-12)
    _, planned = Written([given], (level,), left={"intended": MAP}).why("fitted")
    hold("with an intended map its cells wear the map, which is level", abs(
        planned["zone_steps"]["first_in_mm2"]), 0, 1e-15)
    hold_true("and the worn lengths are single choices",
              planned["single_choices"]["first_in_mm2"] > 0.01)


def cells_are_worn_as_section_8_says():
    """Source: the rules of section 8, by hand."""
    hold("the longer of the middle two", why.upper_median([9, 12, 10, 11]), 11, 0)
    hold("the median of three", why.upper_median([9, 12, 10]), 10, 0)
    hold_true("ties: the map's", why.most_frequent(["D", "C", "D", "C"], "C") == "C")
    hold_true("ties: the first in the file", why.most_frequent(["D", "C", "D", "C"], "B") == "D")
    zones = [{"to": 0.25, "length_mm": 8, "curl": "C"}, {"to": 0.5, "length_mm": 10, "curl": "C"},
             {"to": 0.75, "length_mm": 9, "curl": "C"}, {"to": 1, "length_mm": 12, "curl": "C"}]
    lashes = [row for row in rows(80) if row["layer"] != "bottom" or not 0.25 <= row["u"] < 0.5]
    written = Written([lashes], (zones,))
    settings = SetFile(written.path)
    eye = settings.eyes[0]
    wearing = [one for one in (check.Carried(settings, eye, s) for s in eye.lashes)
               if one.attachment]
    cells = why.Cells(settings, eye, wearing)
    hold("a zone without a bottom cell takes the inner of two as near",
         cells.length((1, "top"), 0.4, False, True), 8, 0)
    hold("its own where shortening is at work", cells.length((1, "top"), 0.4, True, True), 8, 0)
    hold("middle layer, blended", cells.length((1, "middle"), 0.5, True, False), 8.5, 1e-12)
    hold("bottom layer, blended over the cells there are",
         cells.length((2, "bottom"), 0.5, True, False), 8 + 0.75, 1e-12)
    hold("shortening first, then steps", cells.length((1, "top"), 0.5, False, False), 8.5, 1e-12)


def the_rule_and_equal_lengths_are_sets_of_their_own():
    """Source: model.md section 8: a set of equal lengths is as far off by the rule as the ruled set
    is as it is, and the other way round; a root 1 mm higher lifts the tip by the layers' offset of
    section 5. Tolerance: rounding; half a unit of the printed digit."""
    heights = {"bottom": 0, "middle": 1, "top": 2}
    lashes = [row | {"height_mm": heights[row["layer"]] + 0.2 * (i % 3)}
              for i, row in enumerate(rows(60))]
    ruled = Written([lashes], (MAP,)).why()[0]
    equal = Written([lashes], (MAP,), layering={"step_mm": 0}).why()[0]
    hold("the rule on equal lengths", equal["layers"]["ruled_rms_mm"], ruled["whole_rms_mm"], 1e-12)
    hold("the rule on itself", ruled["layers"]["ruled_rms_mm"], ruled["whole_rms_mm"], 1e-12)
    hold("equal lengths", ruled["layers"]["equal_rms_mm"], equal["whole_rms_mm"], 1e-12)
    hold_true("kinds of lengths", [one["layers"]["lengths"] for one in (ruled, equal)]
              == ["ruled", "equal"])
    hold("a root 1 mm higher", ruled["layers"]["tip_by_height_mm"], 0.9549, 5e-5)


def main():
    """All claims on the intended line and on causes."""
    a_described_eye_and_its_survey_have_one_line()
    two_eyes_share_a_line_when_they_may()
    shares_are_shapleys()
    each_cause_is_seen_alone()
    worn_lengths_have_the_causes_of_a_map()
    cells_are_worn_as_section_8_says()
    the_rule_and_equal_lengths_are_sets_of_their_own()
    the_rule_and_equal_lengths_are_sets_of_their_own()
