#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What the layering rule gains, sections 7 and 8 of the model: how far off one line the tips lie with
equal lengths, with one and two millimetres less a layer and with the best sizes, over how far the
layers are apart, over the viewer's angle and with a spread of pitch. And the level step, by
bisection. Written from the model's text alone.

    python3 lesson.py SET.yaml [--apart MM] [--eye left|right]

Prints the part of the `step` report that it answers for, as JSON on stdout. The best sizes, 49 lines
for each place, are left out at most places unless --all asks for them.
"""
import argparse
import dataclasses
import math
import sys

import line as topline
import model
from describe import Draws
from model import LAYERS
from report import print_report
from setfile import SetFile, number, zone_at

APART_MM = [k / 10 for k in range(17)]
BEST_AT_MM = (0.6, 1.4)
VIEWER_DEG = range(0, 71, 10)
PITCH_SD_DEG = (0.0, 4.0, 8.0, 11.0)
SEEDS = range(1, 11)
USE_OF_THE_LESSON = 3
PITCH_LIMIT_DEG = 84.9
MOST_LESS_MM = 6.0
FINEST_SIZE_MM = 0.5
CHOICES = ("equal", "one_less", "two_less")


def layer_heights(eye):
    """Section 7: the mean root height of each layer's suitable lashes. A layer without one lies a gap
    above the nearest lower one that has any, else a gap for each layer below the lowest that has."""
    means = [None, None, None]
    for k, name in enumerate(LAYERS):
        own = [s.lash.height_mm for s in eye.lashes
               if s.layer == name and s.condition == "suitable"]
        if own:
            means[k] = math.fsum(own) / len(own)
    known = [k for k in range(3) if means[k] is not None]
    if not known:
        return [0.0, model.LAYER_GAP_MM, 2 * model.LAYER_GAP_MM]
    for k in range(known[0] - 1, -1, -1):
        means[k] = means[k + 1] - model.LAYER_GAP_MM
    for k in range(known[0] + 1, 3):
        if means[k] is None:
            means[k] = means[k - 1] + model.LAYER_GAP_MM
    return means


class Lesson:
    """One eye of a set under the choices of the lesson."""

    def __init__(self, settings, eye):
        self.settings, self.eye = settings, eye
        self.own = layer_heights(eye)
        self.kept = {}
        self.members = [s for s in eye.lashes if s.condition == "suitable"
                        and s.asked.get("ext_length_mm") != "none" and self.bonds(s.lash)]
        self.mean_bonds = all(self.bonds(eye.mean_lash.at(s.lash.u)) for s in self.members)

    def bonds(self, lash):
        """Whether 1 mm of bond is left on the lash; every length of the lesson leaves it."""
        c = min(self.settings.bond.length_mm, lash.length_mm - self.settings.bond.offset_mm)
        return not model.bond_is_too_short(c)

    def heights(self, apart):
        """The layers' heights: the set's own, or apart from the bottom one up."""
        if apart is None:
            return self.own
        return [self.own[0] + k * apart for k in range(3)]

    def lash(self, surveyed, index, heights, alike, sd_deg, seed):
        """The natural lash of a member."""
        layer = LAYERS.index(surveyed.layer)
        if not alike:
            return dataclasses.replace(
                surveyed.lash,
                height_mm=heights[layer] + surveyed.lash.height_mm - self.own[layer])
        lash = dataclasses.replace(self.eye.mean_lash.at(surveyed.lash.u), height_mm=heights[layer])
        if sd_deg > 0:
            side = ("left", "right").index(self.eye.side)
            z = Draws(seed, side, index, USE_OF_THE_LESSON).normal("pitch")
            pitch = lash.pitch_deg + sd_deg * z
            lash.pitch_deg = min(max(pitch, -PITCH_LIMIT_DEG), PITCH_LIMIT_DEG)
        return lash

    def bottom_length(self, surveyed):
        """What map and rule give the bottom layer at the lash's place."""
        zones = self.eye.intended
        zone = zone_at(zones, surveyed.lash.u)
        return self.settings.ruled_length(zones, zone, "bottom", surveyed.lash.u)

    def attachment(self, surveyed, lash, less, alike):
        """How a member's extension lies, with its bottom length less so many millimetres. It does not
        depend on the lash's place and direction, so it is kept."""
        key = (surveyed.id, less, alike)
        if key not in self.kept:
            zones = self.eye.intended
            wears = self.settings.map_gives(zones, zone_at(zones, surveyed.lash.u), surveyed.layer)
            extension = self.settings.extension(self.bottom_length(surveyed) - less, wears)
            self.kept[key] = model.Attachment(lash, extension, self.settings.bond)
        return self.kept[key]

    def tip(self, surveyed, lash, less, opening, alike, moved):
        """A member's tip in space. The height of the root moves it along b (section 3), so the tip of
        a root at 0 is kept; moved: the pitch is not the member's usual one."""
        attachment = self.attachment(surveyed, lash, less, alike)
        if moved:
            return model.extension_tip(self.eye.lid, opening, lash, attachment)[1]
        key = (surveyed.id, less, alike, opening)
        if key not in self.kept:
            low = dataclasses.replace(lash, height_mm=0.0)
            self.kept[key] = (model.extension_tip(self.eye.lid, opening, low, attachment)[1],
                              self.eye.lid.frame(lash.u, opening)[3])
        tip, up = self.kept[key]
        return tip + lash.height_mm * up

    def possible(self, layer, less):
        """Whether a size for each of the layer's lashes is left, from 3 mm on."""
        return all(self.bottom_length(s) - less > 3 - 1e-9
                   for s in self.members if s.layer == layer)

    def in_tray(self, layer, less):
        """And whether the tray has it."""
        tray = self.settings.tray
        return self.possible(layer, less) and (tray is None or all(
            any(abs(self.bottom_length(s) - less - known) <= 1e-9 for known in tray)
            for s in self.members if s.layer == layer))

    def sizes(self):
        """What a layer can be shorter by: whole steps of the tray, 0 to 6 mm."""
        tray = self.settings.tray
        steps = [b - a for a, b in zip(tray, tray[1:])] if tray else []
        step = max(min(steps), FINEST_SIZE_MM) if steps else 1.0
        return [k * step for k in range(int(MOST_LESS_MM / step + 1e-9) + 1)]

    def columns(self, apart, alike, opening, viewer_deg, sd_deg=0.0, seed=1):
        """Tips of every member at each size that a layer may be shorter by: less -> list."""
        heights = self.heights(apart)
        lashes = [self.lash(s, self.eye.lashes.index(s), heights, alike, sd_deg, seed)
                  for s in self.members]

        def tips(layer, less):
            return {i: model.seen(self.tip(s, lashes[i], less, opening, alike, sd_deg > 0),
                                  viewer_deg)
                    for i, s in enumerate(self.members) if s.layer == layer}
        return tips

    def mean_square(self, layers):
        """Of the deviations from the line fitted to the tips of the three layers."""
        tips = [layers[k][i] for i, s in enumerate(self.members)
                for k in range(3) if LAYERS[k] == s.layer]
        x, y = [p[0] for p in tips], [p[1] for p in tips]
        fitted, _ = topline.fitted_line(x, y)
        if fitted is None:
            return None
        deviation, _ = topline.deviations(fitted, x, y)
        return math.fsum(d * d for d in deviation) / len(tips)

    def rms(self, apart, alike, opening=1.0, viewer_deg=0.0, sd_deg=0.0, best=True):
        """The report of one point."""
        if alike and not self.mean_bonds:
            none = {"best_mm": None, "best_less_mm": {"middle": None, "top": None}} if best else {}
            return dict.fromkeys((name + "_mm" for name in CHOICES), None) | none
        seeds = SEEDS if sd_deg > 0 else (1,)
        drawn = [self.columns(apart, alike, opening, viewer_deg, sd_deg, seed) for seed in seeds]
        report = {}
        for less, name in enumerate(CHOICES):
            report[name + "_mm"] = None
            if all(self.possible(layer, k * less) for k, layer in enumerate(LAYERS)):
                squares = [self.mean_square([tips(layer, float(k * less))
                                             for k, layer in enumerate(LAYERS)])
                           for tips in drawn]
                if None not in squares:
                    report[name + "_mm"] = math.sqrt(math.fsum(squares) / len(squares))
        if best:
            report |= self.best(drawn[0])
        return report

    def best(self, tips):
        """The sizes of the middle and the top layer that come nearest to one line."""
        shorter = [[less for less in self.sizes() if self.in_tray(layer, less)]
                   for layer in LAYERS[1:]]
        bottom = tips("bottom", 0.0)
        layers = [{less: tips(layer, less) for less in own}
                  for layer, own in zip(LAYERS[1:], shorter)]
        found = None
        for middle in shorter[0]:
            for top in shorter[1]:
                square = self.mean_square([bottom, layers[0][middle], layers[1][top]])
                if square is not None and (found is None or square < found[0]):
                    found = (square, middle, top)
        if found is None:
            return {"best_mm": None, "best_less_mm": {"middle": None, "top": None}}
        return {"best_mm": math.sqrt(found[0]),
                "best_less_mm": {"middle": found[1], "top": found[2]}}

    def pays_from(self, alike, less):
        """The least distance of the layers at which less mm a layer beats a millimetre more."""
        def gain(apart):
            report = self.rms(apart, alike, best=False)
            pair = [report[CHOICES[k] + "_mm"] for k in (less - 1, less)]
            return None if None in pair else pair[0] - pair[1]
        before = gain(0.0)
        if before is None:
            return None
        if before > 0:
            return 0.0
        for k in range(1, 17):
            after = gain(k / 10)
            if after > 0:
                return bisect(gain, (k - 1) / 10, k / 10)
            before = after
        return None


def turns_at(one, apart):
    """The least angle from which on equal lengths look more even than one less, eye closed."""
    def gain(deg):
        report = one.rms(apart, False, 0.0, deg, best=False)
        pair = [report[name + "_mm"] for name in ("one_less", "equal")]
        return 0.0 if None in pair else pair[0] - pair[1]
    if not gain(70) > 0:
        return None
    for deg in range(65, -1, -5):
        if not gain(deg) > 0:
            return bisect(gain, deg, deg + 5)
    return 0.0


def bisect(f, low, high):
    """f(low) <= 0 < f(high); low may be the greater of the two."""
    while abs(high - low) > 1e-11 * max(1.0, abs(high)):
        middle = (low + high) / 2
        if f(middle) > 0:
            high = middle
        else:
            low = middle
    return (low + high) / 2


def level_length(lesson, wears_of, length, layer, apart):
    """The length on a layer that brings the mean lash's tip at the pupil level with the bottom one's:
    the first change of sign outward from the bottom length by steps of 0.05 mm, then bisection."""
    mean = lesson.eye.mean_lash.at(0.5)
    heights = lesson.heights(apart)

    def height(k, mm):
        lash = dataclasses.replace(mean, height_mm=mean.height_mm + heights[k] - heights[0])
        extension = lesson.settings.extension(mm, wears_of[k])
        attachment = model.Attachment(lash, extension, lesson.settings.bond)
        return model.extension_tip(lesson.eye.lid, 1.0, lash, attachment)[1][1]

    level = height(0, length)
    for k in range(1, 600):
        for way in (1, -1):
            near, far = (length + way * 0.05 * j for j in (k - 1, k))
            if not 3 <= far <= 30:
                continue
            a, b = height(layer, near) - level, height(layer, far) - level
            if (a > 0) != (b > 0):
                sign = 1 if b > 0 else -1
                return bisect(lambda mm: sign * (height(layer, mm) - level), near, far)
    return None


def pupil(one, apart):
    """The level step of what map and rule give at u = 1/2."""
    eye, settings = one.eye, one.settings
    zone = zone_at(eye.intended, 0.5)
    length = number(zone.get("bottom", {}).get("length_mm", zone["length_mm"]))
    curl = settings.map_gives(eye.intended, zone, "bottom")["curl"]
    rule = settings.layering
    wears = [settings.map_gives(eye.intended, zone, layer)
             | {"curl": curl} | {key: rule[key] for key in ("diameter_mm", "fan", "spread_deg")}
             for layer in LAYERS]
    try:
        middle, top = (level_length(one, wears, length, k, apart) for k in (1, 2))
    except ValueError:  # no bond
        middle = top = None
    return {"curl": curl, "length_mm": length,
            "placement": {layer: w["placement"] for layer, w in zip(LAYERS, wears)},
            "step_mm": {"middle": None if middle is None else length - middle,
                        "top": None if None in (middle, top) else middle - top}}


def lesson(path, apart=None, side=None, all_best=False):
    """The report."""
    settings = SetFile(path)
    eye = next(e for e in settings.eyes if side in (None, e.side))
    one = Lesson(settings, eye)
    kinds = (("own", False), ("alike", True))
    return {
        "side": eye.side,
        "layer_height_mm": dict(zip(LAYERS, one.heights(apart))),
        "lesson": None if not one.members else {
            "lashes": len(one.members),
            "here": one.rms(apart, False),
            "apart": {name: [{"apart_mm": d} | one.rms(d, alike, best=all_best or d in BEST_AT_MM)
                             for d in APART_MM]
                      for name, alike in kinds},
            "pays_from_mm": {name: {"one_less": one.pays_from(alike, 1),
                                    "two_less": one.pays_from(alike, 2)}
                             for name, alike in kinds},
            "viewer": {name: [{"viewer_deg": float(deg)}
                              | one.rms(apart, False, opening, deg, best=all_best)
                              for deg in VIEWER_DEG]
                       for name, opening in (("open", 1.0), ("closed", 0.0))},
            "turns_at_deg": turns_at(one, apart),
            "pitch_spread": [{"pitch_sd_deg": sd} | one.rms(apart, True, sd_deg=sd, best=False)
                             for sd in PITCH_SD_DEG],
        },
        "pupil": pupil(one, apart),
    }


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description="What the layering rule gains, as JSON.")
    parser.add_argument("set", metavar="SET.yaml")
    parser.add_argument("--apart", type=float)
    parser.add_argument("--eye", choices=("left", "right"))
    parser.add_argument("--all", action="store_true", help="the best sizes at every place")
    given = parser.parse_args()
    return print_report("lesson.py", given.set,
                        lambda: lesson(given.set, given.apart, given.eye, given.all))


if __name__ == "__main__":
    sys.exit(main())
