#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Weight by the reference: section 9 of the model. How far the tip of each lash sinks, the moment
at its root, its masses, and their ratios to those of the natural lash.

    python3 weight.py SET.yaml [--opening A] [--viewer DEG] [--stiffness UNMM]
                      [--posture sitting|lying|X,Y,Z]

Prints the JSON document on stdout: of the `check` report what bears on loads, so that compare.py
can hold that against it. --stiffness is the rotational stiffness of the clamp in
µN mm/rad, rigid without it.

The linear theory: a stretch turns by its moment over its stiffness, and a tip moves by the sum of
these turns, each times its lever. Both integrals are Gauss's, on panels that end wherever a
curvature, a load or a section changes its law. Lengths in mm, forces in µN, moments in µN mm,
stiffnesses in µN mm².
"""
import argparse
import math
import sys
from dataclasses import replace

import numpy as np

import model
from check import Carried
from report import print_report
from setfile import SetFile

HAIR_E_GPA, HAIR_G_GPA = 3.9, 0.89
PBT_E_GPA, PBT_POISSON = 2.4, 0.4
PBT_G_GPA = PBT_E_GPA / (2 * (1 + PBT_POISSON))
UN_PER_MM2_OF_GPA = 1e9  # 1 GPa is 1e9 N/m2, and 1 N/m2 is 1 µN/mm2
ROOT_SD_MM = 0.01
BLINK_TIMES = 3
WHAT_IF_STIFFNESS = 1000.0
LINEAR_SHARE = 1 / 20
NO_MOMENT_UNMM = 1e-9  # a lash that stands along gravity has none but for rounding
POSTURES = {"sitting": (0.0, -1.0, 0.0), "lying": (0.0, 0.0, -1.0)}

NODES, WEIGHTS = np.polynomial.legendre.leggauss(20)
NODES, WEIGHTS = (NODES + 1) / 2, WEIGHTS / 2  # on 0 to 1
PANELS = 4  # of each piece


def bending(diameter, modulus):
    """E pi d^4/64 in µN mm²."""
    return modulus * UN_PER_MM2_OF_GPA * math.pi * diameter**4 / 64


def torsion(diameter, modulus):
    """G pi d^4/32 in µN mm²."""
    return modulus * UN_PER_MM2_OF_GPA * math.pi * diameter**4 / 32


def stretching(diameter, modulus):
    """E pi d^2/4 in µN."""
    return modulus * UN_PER_MM2_OF_GPA * math.pi * diameter**2 / 4


def weight_per_mm(diameter, density):
    """Of a round fibre, µN/mm."""
    return density * model.MG_PER_MM3 * model.UN_PER_MG * math.pi * diameter**2 / 4


def fibre_diameter(extension, s):
    """Nominal over the first half, then linear to a tenth at the tip."""
    beyond = np.maximum(0.0, 2 * s / extension.length_mm - 1)
    return extension.diameter_mm * (1 - 0.9 * beyond)


def nodes(low, high):
    """Gauss nodes and weights between arc lengths."""
    return low + (high - low) * NODES, (high - low) * WEIGHTS


class Stretch:
    """A plane arc spline from s = start to s = end, in space: p(s) = origin + Re q(s) e1 + Im q(s)
    e2. weight(s) is µN/mm; turn(s, tau, moment) is the turn per length, vectorised over s."""

    def __init__(self, spline, origin, e1, e2, start, end, weight, turn, breaks=()):
        self.spline, self.origin, self.e1, self.e2 = spline, origin, e1, e2
        self.weight, self.turn = weight, turn
        stops = [start, *sorted(s for s in (*spline.joints(), *breaks) if start < s < end), end]
        self.panels = [
            (low + (high - low) * i / PANELS, low + (high - low) * (i + 1) / PANELS)
            for low, high in zip(stops, stops[1:])
            for i in range(PANELS)
        ]

    def in_space(self, q):
        """Complex numbers of the plane as vectors."""
        return q.real[..., None] * self.e1 + q.imag[..., None] * self.e2

    def shape(self, s):
        """Places and tangents at arc lengths, an array within one piece: from the point and the
        angle at the least of them, on the arc of the piece."""
        s = np.asarray(s, float)
        first = float(s.min())
        point, angle = self.spline.at(first)
        half = self.spline.curvature(float(s.mean())) * (s - first) / 2
        chord = (s - first) * np.sinc(half / np.pi) * np.exp(1j * (angle + half))
        tangent = np.exp(1j * (angle + 2 * half))
        return self.origin + self.in_space(point + chord), self.in_space(tangent)

    def load(self, low, high):
        """The weight between two arc lengths, and its first moment about the frame's origin."""
        s, w = nodes(low, high)
        own = w * self.weight(s)
        return own.sum(), own @ self.shape(s)[0]

    def all_load(self):
        """The same of the whole stretch."""
        parts = [self.load(low, high) for low, high in self.panels]
        return sum(p[0] for p in parts), sum(p[1] for p in parts)


def moment_of(load, gravity, about):
    """(p - about) x f of a load: its weight and first moment."""
    return np.cross(load[1] - load[0] * about, gravity)


def tip_shift(stretch, beyond, gravity, tip):
    """How far `tip` moves by the turns of a stretch that carries its own weight and `beyond`: loads
    (weight, first moment) and point forces (force, place) beyond its end."""
    loads, forces = beyond
    shift = np.zeros(3)
    behind = [stretch.load(low, high) for low, high in stretch.panels]
    for index, (low, high) in enumerate(stretch.panels):
        s, w = nodes(low, high)
        place, tangent = stretch.shape(s)
        moment = np.zeros_like(place)
        for load in loads + behind[index + 1 :]:
            moment += np.cross(load[1] - load[0] * place, gravity)
        for force, where in forces:
            moment += np.cross(where - place, force)
        inner, weight = nodes(s[:, None], high)  # what is left of the panel, a row for each place
        levers = stretch.shape(inner)[0] - place[:, None, :]
        weight = weight * stretch.weight(inner)
        moment += np.cross((weight[:, :, None] * levers).sum(axis=1), gravity)
        turn = stretch.turn(s, tangent, moment)
        shift += w @ np.cross(turn, tip - place)
    return shift


def round_section(diameter, modulus, shear):
    """Turn per length of a round section of a diameter that depends on s."""

    def turn(s, tangent, moment):
        d = diameter(s)
        along = (moment * tangent).sum(axis=1)[:, None] * tangent
        return (moment - along) / bending(d, modulus)[:, None] + along / torsion(d, shear)[:, None]

    return turn


def bonded_section(lash, extension, start, r, offset_direction):
    """Turn per length on the bonded stretch: moments about tau x o meet more than the sum."""
    n = extension.fan

    def turn(s, tangent, moment):
        d, f = lash.diameter(s), fibre_diameter(extension, s - start)
        a, b = stretching(d, HAIR_E_GPA), n * stretching(f, PBT_E_GPA)
        plain = bending(d, HAIR_E_GPA) + n * bending(f, PBT_E_GPA)
        stiff = plain + r * r * a * b / (a + b)
        twist = torsion(d, HAIR_G_GPA) + n * torsion(f, PBT_G_GPA)
        axis = np.cross(tangent, offset_direction)
        axis /= np.sqrt((axis * axis).sum(axis=1))[:, None]
        along = (moment * tangent).sum(axis=1)[:, None] * tangent
        first = (moment * axis).sum(axis=1)[:, None] * axis
        rest = moment - along - first
        return first / stiff[:, None] + rest / plain[:, None] + along / twist[:, None]

    return turn


class Hanging:
    """A lash in its pose, clamped at the root, with or without an extension."""

    def __init__(self, lid, opening, lash, attachment=None, bond=None):
        self.root, self.d, self.v, self.w = lash.pose(lid, opening)
        self.lash, self.attachment = lash, attachment
        self.start = bond.offset_mm if attachment else lash.length_mm
        self.end = self.start + attachment.c if attachment else lash.length_mm
        self.trunk = self.natural_stretches()
        self.fibres = self.free_fibres() if attachment else []

    def stretch(self, start, end, extra=None, turn=None, breaks=()):
        """A stretch of the natural lash; extra(s) is the weight of what is bonded to it."""
        lash = self.lash
        turn = turn or round_section(lash.diameter, HAIR_E_GPA, HAIR_G_GPA)

        def weight(s):
            own = weight_per_mm(lash.diameter(s), model.HAIR_KG_M3)
            return own + extra(s) if extra else own

        return Stretch(lash.spline(), self.root, self.d, self.v, start, end, weight, turn, breaks)

    def natural_stretches(self):
        """From the root to the end of the bond, or of the bare lash, and the tip that goes on."""
        lash, attached = self.lash, self.attachment
        if not attached:
            return [self.stretch(0.0, lash.length_mm)]
        extension, start, end = attached.extension, self.start, self.end

        def bonded(s):
            d = fibre_diameter(extension, s - start)
            return extension.fan * weight_per_mm(d, model.PBT_KG_M3)

        natural = lash.spline()
        chord = natural.at(end)[0] - natural.at(start)[0]
        nu = 1j * chord / abs(chord)
        sideways = extension.placement in ("inner-side", "outer-side")
        offset = self.w if sideways else nu.real * self.d + nu.imag * self.v
        turn = bonded_section(lash, extension, start, attached.r, offset)
        breaks = [start + extension.length_mm / 2]
        bare = [self.stretch(0.0, start)] if start > 0 else []
        return bare + [self.stretch(start, end, bonded, turn, breaks)]

    def free_tip(self):
        """The natural tip beyond the bond."""
        if self.attachment and self.end < self.lash.length_mm:
            return self.stretch(self.end, self.lash.length_mm)
        return None

    def free_fibres(self):
        """Each fibre beyond the bond: its stretch and its tip."""
        attached, extension = self.attachment, self.attachment.extension
        knee, angle = attached.plane_point(attached.c)
        start = self.root + knee.real * self.d + knee.imag * self.v + attached.sideways * self.w
        tau = math.cos(angle) * self.d + math.sin(angle) * self.v
        normal = -math.sin(angle) * self.d + math.cos(angle) * self.v
        at_knee, base = attached.fibre.at(attached.c)
        free = []
        for j in range(extension.fan):
            part = j / (extension.fan - 1) - 0.5 if extension.fan > 1 else 0.0
            psi = math.radians(extension.spread_deg) * part
            e1 = math.cos(psi) * tau + math.sin(psi) * self.w
            # The fibre's own plane is turned so that its tangent at the knee is e1.
            first = math.cos(base) * e1 - math.sin(base) * normal
            second = math.sin(base) * e1 + math.cos(base) * normal
            origin = start - at_knee.real * first - at_knee.imag * second
            free.append(Stretch(
                attached.fibre, origin, first, second, attached.c, extension.length_mm,
                lambda s: weight_per_mm(fibre_diameter(extension, s), model.PBT_KG_M3),
                round_section(lambda s: fibre_diameter(extension, s), PBT_E_GPA, PBT_G_GPA),
                [extension.length_mm / 2],
            ))
        return free

    def loads_beyond_the_trunk(self):
        """The natural tip and the free fibres."""
        tip = self.free_tip()
        return [part.all_load() for part in self.fibres + ([tip] if tip else [])]

    def root_moment(self, gravity):
        """The moment that the clamp bears, a vector."""
        parts = self.loads_beyond_the_trunk() + [part.all_load() for part in self.trunk]
        return sum(moment_of(load, gravity, self.root) for load in parts)

    def tips(self):
        """The tips of the fibres, or the bare lash's own."""
        ends = self.fibres or self.trunk[-1:]
        return [end.shape([end.panels[-1][1]])[0][0] for end in ends]

    def shift(self, gravity, stiffness=None):
        """How the tip, the mean of the fibres' tips, moves in space under the weight."""
        tips = self.tips()
        mean = sum(tips) / len(tips)
        moved = np.zeros(3)
        beyond = self.loads_beyond_the_trunk()
        for part in reversed(self.trunk):
            moved += tip_shift(part, (beyond, []), gravity, mean)
            beyond = beyond + [part.all_load()]
        for fibre, tip in zip(self.fibres, tips):
            moved += tip_shift(fibre, ([], []), gravity, tip) / len(tips)
        if stiffness:
            moved += np.cross(self.root_moment(gravity) / stiffness, mean - self.root)
        return moved


def droop(shift, viewer_deg):
    """How far a tip sinks in the view."""
    return -float(model.seen(shift, viewer_deg)[1])


def with_root(lash, change):
    """The lash with its root so much thicker: in proportion for a young one, never thinner than
    its tip."""
    final = lash.final_length_mm or lash.length_mm
    share = min(1.0, lash.length_mm / final)
    diameter = max(lash.tip_diameter_mm, lash.root_diameter_mm + change * share)
    return replace(lash, root_diameter_mm=diameter)


def size(vector):
    """The length of a vector."""
    return math.sqrt(float(vector @ vector))


def moments(hanging, natural):
    """Root moment and its ratio to the natural lash's own, sitting."""
    sitting = np.array(POSTURES["sitting"])
    own = size(natural.root_moment(sitting))
    whole = size(hanging.root_moment(sitting))
    return {
        "root_moment_uNmm": whole,
        "natural_moment_uNmm": own,
        "moment_ratio": whole / own if own > NO_MOMENT_UNMM else None,
    }


def lash_report(settings, eye, one, opening, viewer_deg, gravity, stiffness):
    """One entry of lashes; without a load where a lash carries nothing."""
    lash = one.surveyed.lash
    entry = {"id": one.surveyed.id}
    if one.attachment is None:
        return entry | {"reason": one.reason}
    bond, extension = settings.bond_for(one.surveyed), one.attachment.extension

    def hang(changed):
        attachment = model.Attachment(changed, extension, bond)
        return Hanging(eye.lid, opening, changed, attachment, bond)

    hanging = hang(lash)
    shift = hanging.shift(gravity, stiffness)
    as_it_is = droop(shift, viewer_deg)
    changed = {
        name: droop(hang(with_root(lash, change)).shift(gravity, stiffness), viewer_deg)
        for name, change in (("thicker", ROOT_SD_MM), ("thinner", -ROOT_SD_MM))
    }
    what_if = droop(hanging.shift(gravity, WHAT_IF_STIFFNESS), viewer_deg)
    shown = (as_it_is, BLINK_TIMES * as_it_is, what_if, *changed.values())
    hair, fibre = model.natural_mass_mg(lash), model.extension_mass_mg(extension)
    return entry | {"load": {
        "extension_mass_mg": fibre,
        "natural_mass_mg": hair,
        "mass_ratio": fibre / hair,
        **moments(hanging, Hanging(eye.lid, opening, lash)),
        "droop_mm": as_it_is,
        "shift_mm": size(shift),
        "droop_thicker_mm": changed["thicker"],
        "droop_thinner_mm": changed["thinner"],
        "droop_blink_mm": BLINK_TIMES * as_it_is,
        "droop_what_if_mm": what_if,
        "linear": max(abs(v) for v in shown) < LINEAR_SHARE * extension.length_mm,
    }}


def weigh(path, opening=None, viewer_deg=None, posture="sitting", stiffness=None):
    """The whole report of a set file."""
    settings = SetFile(path)
    opening = settings.opening if opening is None else opening
    viewer_deg = settings.viewer_deg if viewer_deg is None else viewer_deg
    gravity = np.array(POSTURES.get(posture) or [float(v) for v in posture.split(",")])
    gravity = model.unit(gravity)
    report = {"tipcrest": {"format": 1}, "title": settings.title, "eyes": []}
    for eye in settings.eyes:
        carried = [Carried(settings, eye, surveyed) for surveyed in eye.lashes]
        report["eyes"].append({
            "side": eye.side, "opening": opening, "viewer_deg": viewer_deg,
            "lashes": [
                lash_report(settings, eye, one, opening, viewer_deg, gravity, stiffness)
                for one in carried
            ],
        })
    return report


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description="The reference's weights, as JSON.")
    parser.add_argument("set", metavar="SET.yaml")
    parser.add_argument("--opening", type=float)
    parser.add_argument("--viewer", type=float)
    parser.add_argument("--posture", default="sitting")
    parser.add_argument("--stiffness", type=float)
    given = parser.parse_args()
    return print_report(
        "weight.py", given.set,
        lambda: weigh(given.set, given.opening, given.viewer, given.posture, given.stiffness))


if __name__ == "__main__":
    sys.exit(main())
