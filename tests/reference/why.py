#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The `why` report by the reference: section 8 of the model, all 64 combinations of six causes,
their Shapley values (Shapley 1953, "A value for n-person games"), and the figures of the layering.

    python3 why.py SET.yaml [--opening A] [--viewer DEG] [--against fitted|intended]

Prints the JSON document on stdout, without the envelope's version and digest and the assumptions.
"""
import argparse
import itertools
import math
import sys
from dataclasses import replace

import line as topline
import model
from check import Carried, intended_lines
from model import LAYERS
from report import print_report
from setfile import SetFile, zone_at

CAUSES = ("root_heights", "layer_shortening", "placement", "zone_steps", "single_choices",
          "natural_variation")
PAIRS = {
    "layering": ("root_heights", "layer_shortening"),
    "lengths_along_lid": ("zone_steps", "single_choices"),
}
WORN = ("curl", "diameter_mm", "fan", "spread_deg", "placement")
SHORTEST_MM = 3.0
SAME_MM = 1e-9
WORN_COLUMNS = tuple("ext_" + name for name in ("length_mm",) + WORN)


# ---------------------------------------------------------------------------------------------
# What is worn, by cell and by lash


def upper_median(values):
    """The median; the longer of the middle two of an even number."""
    return sorted(values)[len(values) // 2]


def most_frequent(values, preferred):
    """The most frequent value; of equally frequent ones the preferred, else the first met."""
    counts = {value: values.count(value) for value in values}
    best = [value for value, count in counts.items() if count == max(counts.values())]
    return preferred if preferred in best else best[0]


def worn_of(extension):
    """What an extension is but for its length."""
    return {"curl": extension.name, "diameter_mm": extension.diameter_mm, "fan": extension.fan,
            "spread_deg": extension.spread_deg, "placement": extension.placement}


class Cell:
    """A zone and layer with the lashes that wear something in it."""

    def __init__(self, settings, eye, index, layer, wearing):
        self.settings, self.eye = settings, eye
        self.zone, self.layer = eye.zones[index], layer
        self.wears = settings.map_gives(eye.zones, self.zone, layer)
        self.beyond_the_rule = 0.0
        if eye.planned or not wearing or not any(
            name in one.surveyed.asked for one in wearing for name in WORN_COLUMNS
        ):
            return
        self.beyond_the_rule = upper_median(
            [one.attachment.extension.length_mm - self.length(one.surveyed.lash.u)
             for one in wearing]
        )
        worn = [worn_of(one.attachment.extension) for one in wearing]
        self.wears = {
            name: most_frequent([each[name] for each in worn], self.wears[name]) for name in WORN
        }

    def length(self, u, rounded=True):
        """What the cell wears at u; it depends on u with `blend` alone."""
        ruled = self.settings.ruled_length(self.eye.zones, self.zone, self.layer, u, rounded)
        return ruled + self.beyond_the_rule


class Cells:
    """All cells of an eye, by zone's index and layer."""

    def __init__(self, settings, eye, wearing):
        self.settings, self.eye = settings, eye
        self.blend = settings.layering["blend"]
        self.centres = [(zone["from"] + zone["to"]) / 2 for zone in eye.zones]
        groups = {}
        for one in wearing:
            groups.setdefault(self.place(one.surveyed), []).append(one)
        self.at = {
            (index, layer): Cell(settings, eye, index, layer, group)
            for (index, layer), group in groups.items()
        }

    def place(self, surveyed):
        """The cell of a lash: index of its zone, layer."""
        zone = zone_at(self.eye.zones, surveyed.lash.u)
        return self.eye.zones.index(zone), surveyed.layer

    def bottom_of(self, index):
        """The bottom cell of a zone, else of the nearest zone by centres, ties inwards, that has
        one; None where none has."""
        have = [i for i in range(len(self.centres)) if (i, "bottom") in self.at]
        if not have:
            return None
        distance = {i: abs(self.centres[i] - self.centres[index]) for i in have}
        near = [i for i in have if distance[i] <= min(distance.values()) + 1e-9]
        return self.at[index if index in near else near[0], "bottom"]

    def source(self, place, shortened):
        """The cell whose length a cell wears: its own, or the bottom one."""
        own = self.at[place]
        return own if shortened else self.bottom_of(place[0]) or own

    def length(self, place, u, shortened, stepped):
        """The length of a cell at u, with or without layer shortening and zone steps."""
        if stepped or self.blend:
            return self.source(place, shortened).length(u, rounded=stepped)
        layer = place[1]
        there = [i for i in range(len(self.centres)) if (i, layer) in self.at]
        points = [(self.centres[i], self.source((i, layer), shortened).length(u)) for i in there]
        if u <= points[0][0]:
            return points[0][1]
        for (x0, y0), (x1, y1) in zip(points, points[1:]):
            if u <= x1:
                return y0 + (y1 - y0) * (u - x0) / (x1 - x0)
        return points[-1][1]


    def worn_at(self, index, layer, u):
        """What a cell wears at u, and what map and rule give where no lash wears anything."""
        cell = self.at.get((index, layer)) or Cell(self.settings, self.eye, index, layer, [])
        return cell.length(u), cell.wears


class Wearer:
    """A wearing lash: what its cell wears, and its own choice beside it."""

    def __init__(self, settings, eye, cells, one):
        self.settings, self.lid = settings, eye.lid
        self.lash, self.layer = one.surveyed.lash, one.surveyed.layer
        self.asked = one.surveyed.asked
        self.mean = eye.mean_lash.at(self.lash.u)
        self.bond = settings.bond_for(one.surveyed)
        self.cells, self.place = cells, cells.place(one.surveyed)
        self.cell = cells.at[self.place]
        extension = one.attachment.extension
        self.own_length = extension.length_mm - self.cell.length(self.lash.u)
        self.own = {name: value for name, value in worn_of(extension).items()
                    if value != self.cell.wears[name]}

    def cell_length(self, shortened=True, stepped=True):
        """The length of its cell, with or without layer shortening and zone steps."""
        return self.cells.length(self.place, self.lash.u, shortened, stepped)

    def ruled_length(self):
        """The length of its cell by the rule."""
        return self.cell_length(False) - self.step() * LAYERS.index(self.layer)

    def step(self):
        """The rule's step; 1 mm where the set has none."""
        return self.settings.layering["step_mm"] or 1.0

    def tip(self, on, opening, ruled=False):
        """The tip with the causes of `on` at work and the others switched off; ruled: in the
        length of its cell by the rule."""
        lash = self.lash if "natural_variation" in on else self.mean
        height = self.lash.height_mm if "root_heights" in on else self.mean.height_mm
        lash = replace(lash, height_mm=height)
        length = self.cell_length("layer_shortening" in on, "zone_steps" in on)
        if ruled:
            length = self.ruled_length()
        wears = dict(self.cell.wears)
        if "placement" not in on:
            wears["placement"] = "top"
        if "single_choices" in on:
            length += self.own_length
            wears |= self.own
        extension = self.settings.extension(length, wears)
        if model.bond_is_too_short(model.bond_length(self.bond, lash, extension)):
            raise NoLine("with some causes levelled out, a lash has less than 1 mm to bond to")
        attachment = model.Attachment(lash, extension, self.bond)
        return model.extension_tip(self.lid, opening, lash, attachment)[1]


class NoLine(Exception):
    """Some combination has no line, so that there are no causes."""


# ---------------------------------------------------------------------------------------------
# Shares


def subsets(players):
    """All subsets, as frozensets."""
    players = list(players)
    return [frozenset(one) for n in range(len(players) + 1)
            for one in itertools.combinations(players, n)]


def shapley(value, players, player):
    """The mean over all orders of what a player adds; players are frozensets of causes."""
    others = [one for one in players if one != player]
    n = len(players)
    total = 0.0
    for group in subsets(others):
        before = frozenset().union(*group)
        weight = 1 / (n * math.comb(n - 1, len(group)))
        total += weight * (value[before | player] - value[before])
    return total


def share(value, players, player):
    """What a cause does: Shapley value, first-in, last-out, and what is left alone and without."""
    everything, nothing = frozenset(CAUSES), frozenset()
    return {
        "shapley_mm2": shapley(value, players, player),
        "first_in_mm2": value[player] - value[nothing],
        "last_out_mm2": value[everything] - value[everything - player],
        "alone_rms_mm": math.sqrt(value[player]),
        "without_rms_mm": math.sqrt(value[everything - player]),
    }


def shares(value):
    """The six causes, and each pair as one player among the other four."""
    single = {cause: frozenset([cause]) for cause in CAUSES}
    players = list(single.values())
    report = {
        "causes": [{"cause": c} | share(value, players, single[c]) for c in CAUSES]
    }
    for name, pair in PAIRS.items():
        joint = frozenset(pair)
        others = [one for one in players if not one <= joint]
        report[name] = share(value, others + [joint], joint)
    return report


# ---------------------------------------------------------------------------------------------
# The report


def mean_square(tips, line, viewer_deg):
    """The mean square deviation from a line, or from the line fitted to these tips."""
    seen = [model.seen(tip, viewer_deg) for tip in tips]
    x, y = [p[0] for p in seen], [p[1] for p in seen]
    if line is None:
        line, reason = topline.fitted_line(x, y)
        if line is None:
            raise NoLine(reason)
    deviation, _ = topline.deviations(line, x, y)
    return math.fsum(float(d) ** 2 for d in deviation) / len(x)


def combinations(wearers, line, opening, viewer_deg):
    """The mean square deviation of each combination, by the causes that are at work."""
    value = {}
    for on in subsets(CAUSES):
        value[on] = mean_square([one.tip(on, opening) for one in wearers], line, viewer_deg)
    return value


# ---------------------------------------------------------------------------------------------
# The layers


def kind_of_lengths(wearers):
    """How the cells' lengths differ from layer to layer."""
    if len({one.layer for one in wearers}) == 1:
        return "one-layer"
    for kind, length in (("equal", lambda one: one.cell_length(False)),
                         ("ruled", Wearer.ruled_length)):
        if all(abs(one.cell_length() - length(one)) <= SAME_MM for one in wearers):
            return kind
    return "other"


def moved_tip(settings, eye, cells, opening, viewer_deg):
    """How far the mean lash's tip rises with a higher root and with a shorter extension."""
    index = eye.zones.index(zone_at(eye.zones, 0.5))
    length, wears = cells.worn_at(index, "bottom", 0.5)
    mean = eye.mean_lash.at(0.5)

    def rise(lash, length):
        extension = settings.extension(length, wears)
        if model.bond_is_too_short(model.bond_length(settings.bond, lash, extension)):
            return None
        attachment = model.Attachment(lash, extension, settings.bond)
        return model.seen(model.extension_tip(eye.lid, opening, lash, attachment)[1],
                          viewer_deg)[1]

    level = rise(mean, length)
    if level is None:
        return None, None
    higher = rise(replace(mean, height_mm=mean.height_mm + 1), length)
    shorter = rise(mean, length - 1) if length - 1 >= SHORTEST_MM else None
    return higher - level, None if shorter is None else shorter - level


def ruled_rms(wearers, line, opening, viewer_deg):
    """The rms by the rule, None where the rule has none."""
    if not any(one.layer == "bottom" for one in wearers):
        return None
    if any(one.ruled_length() + one.own_length < SHORTEST_MM for one in wearers):
        return None
    try:
        tips = [one.tip(frozenset(CAUSES), opening, ruled=True) for one in wearers]
        return math.sqrt(mean_square(tips, line, viewer_deg))
    except NoLine:
        return None


def ruled_lacking(settings, wearers, ruled):
    """Lashes whose length by the rule the tray lacks."""
    if ruled is None or settings.tray is None:
        return 0
    return sum(all(abs(one.ruled_length() + one.own_length - known) > 1e-9
                   for known in settings.tray) for one in wearers)


def layers_report(settings, eye, wearers, line, opening, viewer_deg, value):
    """The figures of the layering."""
    heights = {layer: [one.lash.height_mm for one in wearers if one.layer == layer]
               for layer in LAYERS}
    by_height, by_shorter = moved_tip(settings, eye, wearers[0].cells, opening, viewer_deg)
    ruled = ruled_rms(wearers, line, opening, viewer_deg)
    by_rows = sum("ext_length_mm" in one.asked for one in wearers)
    return {
        "lengths": kind_of_lengths(wearers),
        "worn_by_rows": 2 * by_rows > len(wearers) and not eye.planned,
        "height_mm": {layer: math.fsum(h) / len(h) if h else None for layer, h in heights.items()},
        "tip_by_height_mm": by_height,
        "tip_by_shorter_mm": by_shorter,
        "step_mm": wearers[0].step(),
        "equal_rms_mm": math.sqrt(value[frozenset(CAUSES) - {"layer_shortening"}]),
        "ruled_rms_mm": ruled,
        "ruled_lacking": ruled_lacking(settings, wearers, ruled),
    }


def eye_report(settings, eye, intended, opening, viewer_deg, against):
    """One entry of eyes."""
    count = sum(Carried(settings, eye, one).attachment is not None for one in eye.lashes)
    report = {"side": eye.side, "opening": opening, "viewer_deg": viewer_deg, "against": against,
              "lashes": count}
    line, reason = (None, None) if against == "fitted" else intended
    if not count:
        reason = "no lash carries an extension"
    try:
        if reason:
            raise NoLine(reason)
        wearing = [one for one in (Carried(settings, eye, lash) for lash in eye.lashes)
                   if one.attachment]
        cells = Cells(settings, eye, wearing)
        wearers = [Wearer(settings, eye, cells, one) for one in wearing]
        value = combinations(wearers, line, opening, viewer_deg)
    except NoLine as problem:
        nothing = dict.fromkeys(["whole_rms_mm", "bare_rms_mm", "layers", "causes", *PAIRS])
        return report | nothing | {"reason": str(problem)}
    bare = value[frozenset()]
    report["whole_rms_mm"] = math.sqrt(value[frozenset(CAUSES)])
    report["bare_rms_mm"] = math.sqrt(bare)
    if against == "intended" and len(settings.eyes) == 2 and settings.shared_line:
        report["eyes_differ_mm2"] = bare
    report["layers"] = layers_report(settings, eye, wearers, line, opening, viewer_deg, value)
    return report | shares(value)


def why(path, opening=None, viewer_deg=None, against="fitted"):
    """The whole report of a set file."""
    settings = SetFile(path)
    opening = settings.opening if opening is None else opening
    viewer_deg = settings.viewer_deg if viewer_deg is None else viewer_deg
    intended = intended_lines(settings, opening, viewer_deg)
    return {
        "tipcrest": {"format": 1},
        "command": "why",
        "title": settings.title,
        "eyes": [
            eye_report(settings, eye, intended[eye.side], opening, viewer_deg, against)
            for eye in settings.eyes
        ],
    }


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description="The reference's why report, as JSON.")
    parser.add_argument("set", metavar="SET.yaml")
    parser.add_argument("--opening", type=float)
    parser.add_argument("--viewer", type=float)
    parser.add_argument("--against", choices=("fitted", "intended"), default="fitted")
    given = parser.parse_args()
    return print_report("why.py", given.set,
                        lambda: why(given.set, given.opening, given.viewer, given.against))


if __name__ == "__main__":
    sys.exit(main())
