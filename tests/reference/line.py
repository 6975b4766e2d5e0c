# SPDX-License-Identifier: GPL-3.0-or-later
"""The top line, section 6: the penalised cubic B-spline of Eilers & Marx (Statistical Science
11:89, 1996) with Huber's loss, deviations from it and their summary, the largest gap, the symmetry
of two eyes. Written from the model's text alone. The plain line comes from numpy's lstsq on the
augmented matrix, never from normal equations; the Huber minimiser is reweighted least squares run
to rest, then Newton steps on the set of tips within the bend.
"""
import math

import numpy as np

from model import LAYERS

COEFFICIENTS = 12
INTERVALS = COEFFICIENTS - 3
PENALTY_PER_TIP = 0.0001
HUBER_BEND = 1.345
MEDIAN_TO_SIGMA = 1.4826
SMALLEST_SIGMA_MM = 0.1
FEWEST_TIPS = 3
FEWEST_TO_JUDGE = 12
SAME_X_MM = 1e-9
TOLERATED_DEG = 3 / 60  # 3 minutes of arc
SYMMETRY_POINTS = 201


class Line:
    """A cubic B-spline on uniform knots, three of them beyond each end of [low, high]."""

    def __init__(self, low, high, coefficients=None):
        self.low, self.high = low, high
        self.spacing = (high - low) / INTERVALS
        self.coefficients = coefficients

    def basis(self, x, degree=3):
        """B of the given degree at x by Cox and de Boor's recursion, one row a place. In units of
        the spacing the knots are the whole numbers from -3 to 12; the last interval is closed."""
        p = (np.atleast_1d(np.asarray(x, float)) - self.low) / self.spacing
        interval = np.clip(np.floor(p), 0, INTERVALS - 1)
        knots = np.arange(-3, INTERVALS + 4)
        b = (interval[:, None] == knots[None, :-1]).astype(float)
        for k in range(1, degree + 1):
            rising = (p[:, None] - knots[None, : -k - 1]) / k * b[:, :-1]
            falling = (knots[None, k + 1 :] - p[:, None]) / k * b[:, 1:]
            b = rising + falling
        return b

    def value(self, x):
        """The line at x; beyond its ends it goes on straight, with the slope it has there."""
        x = np.atleast_1d(np.asarray(x, float))
        inside = np.clip(x, self.low, self.high)
        return self.basis(inside) @ self.coefficients + (x - inside) * self.slope(inside)

    def slope(self, x):
        """dY/dX at x, constant beyond the ends."""
        inside = np.clip(np.atleast_1d(np.asarray(x, float)), self.low, self.high)
        # Of the 13 parabolas on these knots the outermost two are 0 on [low, high].
        return self.basis(inside, 2)[:, 1:-1] @ np.diff(self.coefficients) / self.spacing


def second_differences():
    """D of section 6, 10 x 12."""
    return np.diff(np.eye(COEFFICIENTS), 2, axis=0)


def augmented_least_squares(b, y, penalty, weights=None):
    """The minimiser of sum w (y - Bc)^2 + penalty |Dc|^2."""
    root = np.ones(len(y)) if weights is None else np.sqrt(weights)
    d = math.sqrt(penalty) * second_differences()
    a = np.vstack([root[:, None] * b, d])
    return np.linalg.lstsq(a, np.concatenate([root * y, np.zeros(len(d))]), rcond=None)[0]


def huber_minimiser(b, y, penalty, bend, start):
    """The minimiser of sum h(y - Bc) + penalty |Dc|^2, h bent at |r| = bend: near it by weights that
    follow the residuals, and the rest of the way by Newton's method, which needs no more than that."""
    c = start
    for _ in range(300):
        weights = bend / np.maximum(np.abs(y - b @ c), bend)
        new = augmented_least_squares(b, y, penalty, weights)
        change = np.max(np.abs(new - c))
        c = new
        if change < 1e-4:
            break
    return newton_on_the_active_set(b, y, penalty, bend, c)


def huber_objective(b, y, penalty, bend, c):
    """What section 6 says the line minimises."""
    r = np.abs(y - b @ c)
    h = np.where(r <= bend, r * r, 2 * bend * r - bend * bend)
    d = second_differences() @ c
    return math.fsum(h) + penalty * (d @ d)


def newton_on_the_active_set(b, y, penalty, bend, c):
    """Newton's method: the objective is a quadratic as long as the same tips are within the bend,
    so that a full step that keeps this set lands on the minimiser; further ones only refine it."""
    d = math.sqrt(penalty) * second_differences()
    kept = 0
    for _ in range(200):
        r = y - b @ c
        within = np.abs(r) <= bend
        downhill = b.T @ np.clip(r, -bend, bend) - d.T @ (d @ c)
        _, singular, vt = np.linalg.svd(np.vstack([b[within], d]), full_matrices=False)
        step = vt.T @ ((vt @ downhill) / singular**2)
        limit, size = huber_objective(b, y, penalty, bend, c) * (1 + 1e-13) + 1e-28, 1.0
        while huber_objective(b, y, penalty, bend, c + size * step) > limit:
            size /= 2
        c = c + size * step
        same = np.array_equal(within, np.abs(y - b @ c) <= bend)
        kept = kept + 1 if same and size == 1.0 else 0
        moved = np.max(np.abs(step))
        if moved < 1e-12 or (kept >= 4 and moved < 1e-10):
            return c
    raise ArithmeticError("the Huber minimiser was not reached")


def tolerance_from(distance_mm):
    """Section 6: S tan 3'."""
    return distance_mm * math.tan(math.radians(TOLERATED_DEG))


def plain_line(x, y):
    """The line of c0: not robust. Returns the line, its basis at x and the penalty."""
    x, y = np.asarray(x, float), np.asarray(y, float)
    line = Line(x.min(), x.max())
    b = line.basis(x)
    penalty = PENALTY_PER_TIP * len(x)
    line.coefficients = augmented_least_squares(b, y, penalty)
    return line, b, penalty


def fitted_line(x, y):
    """The robust line through tips, or None and the reason why there is none."""
    if len(x) < FEWEST_TIPS:
        return None, "fewer than 3 tips"
    if max(x) - min(x) <= SAME_X_MM:
        return None, "all tips at one X"
    line, b, penalty = plain_line(x, y)
    y = np.asarray(y, float)
    sigma = MEDIAN_TO_SIGMA * float(np.median(np.abs(y - b @ line.coefficients)))
    bend = HUBER_BEND * max(sigma, SMALLEST_SIGMA_MM)
    line.coefficients = huber_minimiser(b, y, penalty, bend, line.coefficients)
    return line, None


def quantile_7(values, share):
    """Type 7 of Hyndman & Fan: linear between order statistics at (n - 1) share."""
    ordered = sorted(values)
    place = (len(ordered) - 1) * share
    k = min(int(place), len(ordered) - 1)
    above = ordered[min(k + 1, len(ordered) - 1)]
    return ordered[k] + (place - k) * (above - ordered[k])


def deviations(line, x, y):
    """Y minus the line, and the same across the line."""
    along = np.asarray(y, float) - line.value(x)
    return along, along * np.cos(np.arctan(line.slope(x)))


def layer_offsets(deviation, layers):
    """The mean deviation of each layer; None for an empty one."""
    offsets = {}
    for layer in LAYERS:
        own = [dev for dev, name in zip(deviation, layers) if name == layer]
        offsets[layer] = math.fsum(own) / len(own) if own else None
    return offsets


def summary(deviation, layers, tolerance):
    """The numbers of section 6 for one line."""
    size = [abs(float(dev)) for dev in deviation]
    n = len(size)
    return {
        "lashes": n,
        "rms_mm": math.sqrt(math.fsum(a * a for a in size) / n),
        "mean_abs_mm": math.fsum(size) / n,
        "p95_abs_mm": quantile_7(size, 0.95),
        "max_abs_mm": max(size),
        "tolerance_mm": tolerance,
        "within_tolerance": sum(a <= tolerance for a in size) / n,
        "layer_offset_mm": layer_offsets(deviation, layers),
    }


def largest_gap(x):
    """The largest step in X between neighbours; None where nothing has a neighbour."""
    return float(max(np.diff(sorted(x)))) if len(x) > 1 else None


def symmetry(left, right):
    """Right minus left over the common range of two fitted lines, None without one."""
    if left is None or right is None:
        return None
    low, high = max(left.low, right.low), min(left.high, right.high)
    if not low < high:
        return None
    x = np.linspace(low, high, SYMMETRY_POINTS)
    difference = right.value(x) - left.value(x)
    level = difference - math.fsum(difference) / SYMMETRY_POINTS
    rms = [math.sqrt(math.fsum(v * v) / SYMMETRY_POINTS) for v in (difference, level)]
    return {
        "rms_mm": rms[0],
        "max_mm": float(np.max(np.abs(difference))),
        "level_rms_mm": rms[1],
        "level_max_mm": float(np.max(np.abs(level))),
    }
