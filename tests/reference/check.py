#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The `check` report of interface.md by the reference: sections 1 to 7 of the model put together.

    python3 check.py SET.yaml [--opening A] [--viewer DEG] [--seen-from MM]
                     [--against fitted|intended] [--masses]

Prints the JSON document on stdout. Left out, since the reference has nothing to say on them: the
envelope's version and digest, and the assumptions. --masses adds to each lash natural_mass_mg and
extension_mass_mg of section 9.
"""
import argparse
import sys

import numpy as np

import line as topline
import model
from report import print_report
from setfile import SetFile

INTENDED_PLACES = 201


class Carried:
    """A surveyed lash with what it carries: an attachment, or None and the reason."""

    def __init__(self, settings, eye, surveyed):
        self.surveyed = surveyed
        self.attachment = None
        extension, self.reason = settings.extension_for(eye, surveyed)
        if extension is None:
            return
        bond = settings.bond_for(surveyed)
        if model.bond_is_too_short(model.bond_length(bond, surveyed.lash, extension)):
            if "ext_length_mm" in surveyed.asked:
                raise ValueError(f"lash {surveyed.id}: too short for the extension its row gives")
            self.reason = "less than 1 mm of bond"
            return
        self.attachment = model.Attachment(surveyed.lash, extension, bond)

    def root_and_tip(self, lid, opening):
        """In the eye's own frame."""
        if self.attachment is None:
            return self.surveyed.lash.tip(lid, opening)
        return model.extension_tip(lid, opening, self.surveyed.lash, self.attachment)


def tips_seen(lid, carried, opening, viewer_deg):
    """X and Y of the tips of lashes that carry an extension."""
    seen = [
        model.seen(one.root_and_tip(lid, opening)[1], viewer_deg)
        for one in carried
        if one.attachment
    ]
    return [p[0] for p in seen], [p[1] for p in seen]


def intended_tips(settings, eye, opening, viewer_deg):
    """Section 7: the tips of the mean lash at 201 places; None where it cannot bond."""
    xs, ys = [], []
    # 0.05 to 0.95, each nearest to its decimal: linspace falls short of some zones' borders.
    for u in (100 + 9 * np.arange(INTENDED_PLACES)) / 2000:
        lash, extension = settings.intended_lash(eye, float(u))
        if model.bond_is_too_short(model.bond_length(settings.bond, lash, extension)):
            return None
        attachment = model.Attachment(lash, extension, settings.bond)
        x, y = model.seen(model.extension_tip(eye.lid, opening, lash, attachment)[1], viewer_deg)
        xs.append(x)
        ys.append(y)
    return xs, ys


def line_through(tips):
    """The plain line through the tips of one eye or more, or None and the reason."""
    if any(one is None for one in tips):
        return None, "the mean lash is too short for a bond"
    x, y = (sum((one[axis] for one in tips), []) for axis in (0, 1))
    if max(x) - min(x) <= topline.SAME_X_MM:
        return None, "all tips at one X"
    return topline.plain_line(x, y)[0], None


def intended_lines(settings, opening, viewer_deg):
    """Section 7: by side the intended line and the reason why there is none. Two eyes share one,
    through the 402 places of both, unless the set asks for each its own."""
    tips = {eye.side: intended_tips(settings, eye, opening, viewer_deg) for eye in settings.eyes}
    if settings.shared_line:
        shared = line_through(list(tips.values()))
        return {side: shared for side in tips}
    return {side: line_through([own]) for side, own in tips.items()}


def view_offsets(eye, carried, opening, viewer_deg):
    """Section 6: layer offsets from the line fitted in one view."""
    x, y = tips_seen(eye.lid, carried, opening, viewer_deg)
    line, _ = topline.fitted_line(x, y)
    if line is None:
        return {"layer_offset_mm": None, "shows_from_mm": None}
    layers = [one.surveyed.layer for one in carried if one.attachment]
    offsets = topline.layer_offsets(topline.deviations(line, x, y)[0], layers)
    return {
        "layer_offset_mm": offsets,
        "shows_from_mm": {
            layer: None if offset is None else abs(offset) / topline.tolerance_from(1.0)
            for layer, offset in offsets.items()
        },
    }


def lash_report(one, lid, opening, viewer_deg, line, tolerance, masses):
    """One entry of lashes."""
    root, tip = one.root_and_tip(lid, opening)
    entry = {
        "id": one.surveyed.id,
        "layer": one.surveyed.layer,
        "u": one.surveyed.lash.u,
        "condition": one.surveyed.condition,
        "extension": None,
        "root_mm": [float(v) for v in root],
        "tip_mm": [float(v) for v in tip],
        "line_mm": None,
        "deviation_mm": None,
        "across_mm": None,
        "staggered": False,
    }
    if masses:
        entry["natural_mass_mg"] = model.natural_mass_mg(one.surveyed.lash)
    if one.attachment is None:
        return entry | {"reason": one.reason}
    extension = one.attachment.extension
    if masses:
        entry["extension_mass_mg"] = model.extension_mass_mg(extension)
    entry["extension"] = {
        "length_mm": extension.length_mm,
        "curl": extension.name,
        "diameter_mm": extension.diameter_mm,
        "placement": extension.placement,
        "fan": extension.fan,
        "spread_deg": extension.spread_deg,
    }
    if line is None:
        return entry
    x, y = model.seen(tip, viewer_deg)
    deviation, across = (float(v[0]) for v in topline.deviations(line, [x], [y]))
    return entry | {
        "line_mm": float(line.value(x)[0]),
        "deviation_mm": deviation,
        "across_mm": across,
        "staggered": abs(deviation) > tolerance,
    }


def verdict(tips, off):
    """Section 6: how even in a word, of so many tips and those off by more than the tolerance."""
    return "even" if 20 * off <= tips else "mostly-even" if 5 * off <= tips else "uneven"


def eye_report(settings, eye, intended, opening, viewer_deg, against, masses):
    """One entry of eyes, and the fitted line for the symmetry."""
    carried = [Carried(settings, eye, surveyed) for surveyed in eye.lashes]
    x, y = tips_seen(eye.lid, carried, opening, viewer_deg)
    layers = [one.surveyed.layer for one in carried if one.attachment]
    fitted, fitted_reason = topline.fitted_line(x, y)
    intended, intended_reason = intended
    if not x:
        intended_reason = "no lash carries an extension"
    report = {
        "side": eye.side,
        "opening": opening,
        "viewer_deg": viewer_deg,
        "against": against,
        "lashes": [
            lash_report(
                one, eye.lid, opening, viewer_deg,
                fitted if against == "fitted" else intended, settings.tolerance_mm, masses,
            )
            for one in carried
        ],
        "fitted": None,
        "intended": None,
        "largest_gap_mm": topline.largest_gap(x),
        "too_few": len(x) < topline.FEWEST_TO_JUDGE,
        "views": {
            "open_front": view_offsets(eye, carried, opening, viewer_deg),
            "closed_front": view_offsets(eye, carried, 0.0, 0.0),
            "artist": view_offsets(eye, carried, 0.0, model.ARTIST_VIEWER_DEG),
        },
    }
    judged = x and (fitted is not None and not report["too_few"] if against == "fitted"
                    else intended is not None)
    off = sum(one["staggered"] for one in report["lashes"])
    report["verdict"] = verdict(len(x), off) if judged else "not-judged"
    for name, line, reason in (
        ("fitted", fitted, fitted_reason),
        ("intended", intended, intended_reason),
    ):
        if line is None or not x:
            report[name + "_reason"] = reason
        else:
            deviation, _ = topline.deviations(line, x, y)
            report[name] = topline.summary(deviation, layers, settings.tolerance_mm)
    return report, fitted


def check(path, opening=None, viewer_deg=None, against="fitted", masses=False, seen_from=None):
    """The whole report of a set file."""
    settings = SetFile(path)
    if seen_from is not None:
        settings.tolerance_mm = topline.tolerance_from(seen_from)
    opening = settings.opening if opening is None else opening
    viewer_deg = settings.viewer_deg if viewer_deg is None else viewer_deg
    report = {"tipcrest": {"format": 1}, "command": "check", "title": settings.title, "eyes": []}
    lines = {}
    intended = intended_lines(settings, opening, viewer_deg)
    for eye in settings.eyes:
        entry, lines[eye.side] = eye_report(
            settings, eye, intended[eye.side], opening, viewer_deg, against, masses
        )
        report["eyes"].append(entry)
    if len(lines) == 2:
        report["symmetry"] = symmetry = topline.symmetry(lines["left"], lines["right"])
        if symmetry is not None:
            symmetry["verdict"] = (
                None if any(eye["too_few"] for eye in report["eyes"])
                else "alike" if symmetry["max_mm"] <= settings.tolerance_mm
                else "alike-but-for-height" if symmetry["level_max_mm"] <= settings.tolerance_mm
                else "unlike")
    return report


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description="The reference's check report, as JSON.")
    parser.add_argument("set", metavar="SET.yaml")
    parser.add_argument("--opening", type=float)
    parser.add_argument("--viewer", type=float)
    parser.add_argument("--seen-from", type=float)
    parser.add_argument("--against", choices=("fitted", "intended"), default="fitted")
    parser.add_argument("--masses", action="store_true")
    given = parser.parse_args()
    return print_report(
        "check.py", given.set,
        lambda: check(given.set, given.opening, given.viewer, given.against, given.masses,
                      given.seen_from))


if __name__ == "__main__":
    sys.exit(main())
