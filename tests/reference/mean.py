# SPDX-License-Identifier: GPL-3.0-or-later
"""The mean lash of an eye, section 7: what `mean_lash` of the set file gives, then the means of the
eye's own suitable lashes, then the defaults of section 3. Written from the model's text alone.
"""
import math

import numpy as np

from model import Lash

KNOTS = (0.0, 0.5, 1.0)
NEAR_A_KNOT = 0.25
FEWEST_FOR_A_BROKEN_LINE = 12
PLAIN_MEANS = ("pitch_deg", "roll_deg", "turn_deg", "root_diameter_mm", "tip_diameter_mm")


def mean(values):
    """The mean, or None of nothing."""
    return math.fsum(values) / len(values) if values else None


def default_yaw(u):
    """Section 3: -10 + 20u degrees."""
    return -10 + 20 * u


def hats(u):
    """The broken line's basis at places u: 1 at one knot, 0 at the others, linear between."""
    u = np.atleast_1d(np.asarray(u, float))
    return np.column_stack(
        [np.interp(u, KNOTS, [float(i == k) for i in range(len(KNOTS))]) for k in range(len(KNOTS))]
    )


def tied_knots(has):
    """The values at the knots from those that are free: a matrix with a column for each free knot.
    An outer knot without a lash takes its neighbour's value, the middle one the straight line
    between its neighbours."""
    ties = np.zeros((3, 3))
    for k in range(3):
        if has[k]:
            ties[k, k] = 1.0
        elif k == 1:
            ties[k, 0] = ties[k, 2] = 0.5
        else:
            ties[k, 1] = 1.0
    return ties[:, [k for k in range(3) if has[k]]]


def broken_line(u, lengths):
    """The values at the three knots of the least-squares broken line, or None where the mean has to
    do."""
    has = [min(abs(place - knot) for place in u) < NEAR_A_KNOT for knot in KNOTS]
    if sum(has) < 2 or max(u) == min(u):
        return None
    ties = tied_knots(has)
    free = np.linalg.lstsq(hats(u) @ ties, np.asarray(lengths, float), rcond=None)[0]
    return ties @ free


class MeanLash:
    """The mean lash; at(u) is the one at a place."""

    def __init__(self, given, lashes):
        """given: numbers of mean_lash by key; lashes: SurveyedLash, all of the eye."""
        self.given = given
        suitable = [one for one in lashes if one.condition == "suitable"]
        self.numbers = {}
        for name in PLAIN_MEANS:
            value = mean([getattr(one.lash, name) for one in suitable if name in one.known])
            if value is not None:
                self.numbers[name] = value
        bottom = [one for one in suitable if one.layer == "bottom" and "height_mm" in one.known]
        if bottom:
            self.numbers["height_mm"] = mean([one.lash.height_mm for one in bottom])
        self.yaw_beyond = mean(
            [one.lash.yaw_deg - default_yaw(one.lash.u)
             for one in suitable if "yaw_deg" in one.known]
        )
        u = [one.lash.u for one in suitable]
        lengths = [one.lash.length_mm for one in suitable]
        self.knots = broken_line(u, lengths) if len(u) >= FEWEST_FOR_A_BROKEN_LINE else None
        if lengths:
            self.numbers["length_mm"] = mean(lengths)

    def at(self, u):
        """The mean lash at u. A mean tip thicker than the mean root is taken as thick as it."""
        numbers = dict(self.numbers)
        if self.yaw_beyond is not None:
            numbers["yaw_deg"] = default_yaw(u) + self.yaw_beyond
        if self.knots is not None:
            numbers["length_mm"] = float((hats(u) @ self.knots)[0])
        lash = Lash(u=u, **(numbers | self.given))
        lash.tip_diameter_mm = min(lash.tip_diameter_mm, lash.root_diameter_mm)
        return lash
