#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The same work in NumPy, over whole columns: tips of lashes that are all different, and a batch of
evaluations (lashes varied, tips, robust line, statistics). The library is called from the same
process on the same numbers, results are compared before anything is timed, and NumPy and C take turns.

    peer.py LIBRARY FILE.csv [LABEL]

NumPy picks its sine by processor; NPY_DISABLE_CPU_FEATURES switches instruction sets off. It has whole
columns, as one writes it, and columns cut into pieces that stay in the cache.
"""
import csv
import ctypes
import math
import os
import sys
import time

import numpy as np

PIECE = 4096  # lashes at a time
ROUNDS = 7
RUN_S = 0.02
BATCH, LASHES, K = 200, 96, 12

CURLS = [[(0.50, 0), (0.50, 35)], [(0.35, 0), (0.65, 60)], [(0.20, 0), (0.80, 90)],
         [(0.15, 0), (0.85, 110)], [(0.10, 0), (0.90, 130)], [(0.05, 0), (0.95, 150)],
         [(0.30, 0), (0.10, 45), (0.60, 15)], [(0.35, 0), (0.10, 60), (0.55, 20)]]
NAMES = ["u", "height", "pitch", "yaw", "roll", "length", "turn", "root", "tip", "ext_length",
         "ext_diameter", "ext_spread"]


# ---- The model in columns (model.md, sections 2 to 4) --------------------------------------------

def seat(u):
    """Roots and axes of the open lid with its defaults."""
    width, tilt, inner, mrd1, peak, power, radius, a = 27.0, math.radians(5), -1.5, 3.5, -0.938, 1.6, 12.0, 16.0
    slope = width * math.tan(tilt)
    p = 0.5 + peak / width
    x = width * (u - 0.5)
    q = 1.0 - (x / a) ** 2
    rho = radius * np.sqrt(q)
    rho_u = -radius * radius * x * width / (a * a) / rho
    log_half = p * math.log(0.5 / p) + (1 - p) * math.log(0.5 / (1 - p))
    s = np.exp(power * (p * np.log(u / p) + (1 - p) * np.log((1 - u) / (1 - p))))
    rise = (mrd1 - (inner + slope / 2)) / math.exp(power * log_half)
    y = inner + slope * u + s * rise
    y_u = slope + rise * s * power * (p / u - (1 - p) / (1 - u))
    z = np.sqrt(rho * rho - y * y)
    z_u = (rho * rho_u - y * y_u) / z
    root = np.stack([x, y, z])
    t = np.stack([np.full_like(u, width), y_u, z_u])
    t /= np.sqrt((t * t).sum(0))
    n = np.stack([x / a ** 2, y / radius ** 2, z / radius ** 2])
    n /= np.sqrt((n * n).sum(0))
    b = np.stack([n[1] * t[2] - n[2] * t[1], n[2] * t[0] - n[0] * t[2], n[0] * t[1] - n[1] * t[0]])
    return root, t, n, b


def arc(at, to, length, curvature):
    """Where an arc ends, and its direction there, both complex: half a turn twice, one sine and one
    cosine."""
    half = 0.5 * curvature * length
    by = np.empty(half.shape, complex)
    by.real, by.imag = np.cos(half), np.sin(half)
    sinc = np.divide(by.imag, half, out=np.ones_like(half), where=half != 0)
    middle = to * by
    return at + (length * sinc) * middle, middle * by


def tips(c, shares, turns, unit_tip):
    """Tips of lashes whose bond is 3 mm from 0.7 mm on, or as long as both allow, as the library
    takes the usual ones: directions as unit vectors, the curl's own tip scaled from a length of 1,
    contact where the tangents' difference of angles goes from below zero to above."""
    offset, glue = 0.7, 0.03
    length, ext = c["length"], c["ext_length"]
    bond = np.minimum(np.minimum(3.0, length - offset), ext)
    mean = c["turn"] / length
    k = [mean * (4 / 3), mean, mean * (2 / 3)]
    joint = [np.clip(length / 3 - offset, 0, bond), np.clip(length * (2 / 3) - offset, 0, bond)]
    start, to = arc(0j, 1 + 0j, np.full_like(length, offset), k[0])
    first, first_to = arc(0j, to, joint[0], k[0])
    second, second_to = arc(first, first_to, joint[1] - joint[0], k[1])
    chord, _ = arc(second, second_to, bond - joint[1], k[2])
    along = chord / np.abs(chord)
    # The extension, of which a bond covers no more than two pieces.
    curve = turns[:2] / (shares[:2] * ext)
    own = np.minimum(shares[0] * ext, bond)
    e_joint, e_joint_to = arc(0j, 1 + 0j, own, curve[0])
    e, _ = arc(e_joint, e_joint_to, bond - own, curve[1])
    e_along = e / np.abs(e)
    # Contact: the difference of angles at the joints, in order, and where it rises through 0.
    place = c["placement"]
    sign = np.where(place == 0, 1.0, np.where(place == 1, -1.0, 0.0))
    apart = np.conj(e_along) * along * np.conj(to)
    begin = np.arctan2(apart.imag, apart.real)

    def difference(s):
        in_e = np.minimum(s, own)
        x, y = np.minimum(s, joint[0]), np.clip(s - joint[0], 0, joint[1] - joint[0])
        return sign * (begin + curve[0] * in_e + curve[1] * (s - in_e)
                       - (k[0] * x + k[1] * y + k[2] * (s - x - y)))
    low, high = np.minimum(joint[0], own), np.maximum(joint[1], own)
    middle = np.maximum(joint[0], np.minimum(joint[1], own))
    at, before, where = np.zeros_like(length), sign * begin, np.zeros_like(length)
    for s in (low, middle, high, bond):
        after = difference(s)
        rises = (before < 0) & (after >= 0)
        where = np.where(rises, at - before * (s - at) / np.where(rises, after - before, 1.0), where)
        at, before = s, after
    in_first, in_second = where <= joint[0], where <= joint[1]
    on, _ = arc(np.where(in_first, 0j, np.where(in_second, first, second)),
                np.where(in_first, to, np.where(in_second, first_to, second_to)),
                where - np.where(in_first, 0.0, np.where(in_second, joint[0], joint[1])),
                np.where(in_first, k[0], np.where(in_second, k[1], k[2])))
    in_own = where <= own
    over, _ = arc(np.where(in_own, 0j, e_joint), np.where(in_own, 1 + 0j, e_joint_to),
                  np.where(in_own, where, where - own), np.where(in_own, curve[0], curve[1]))
    least = np.minimum(sign * ((over * np.conj(e_along)).imag - (on * np.conj(along)).imag), 0.0)
    r = (c["root"] + (c["tip"] - c["root"]) / length * (offset + bond / 2)) / 2 + c["ext_diameter"] / 2 + glue
    out = np.where(place == 2, -r, np.where(place == 3, r, 0.0))
    tip = start + along * (1j * sign * (r - least) + ext * unit_tip * np.conj(e_along))
    # On the lid: plane turns by roll, pitch and yaw.
    root, t, n, b = c["seat"] if "seat" in c else seat(c["u"])
    cr, sr, cp, sp = np.cos(c["roll"]), np.sin(c["roll"]), np.cos(c["pitch"]), np.sin(c["pitch"])
    cy, sy = np.cos(c["yaw"]), np.sin(c["yaw"])
    v, w = tip.imag * cr - out * sr, tip.imag * sr + out * cr
    forward, above = tip.real * cp - v * sp, tip.real * sp + v * cp + c["height"]
    return root + (forward * cy - w * sy) * n + (forward * sy + w * cy) * t + above * b


def tips_in_pieces(columns, shares, turns, unit_tip, out, size=PIECE):
    n = columns["u"].size
    for i in range(0, n, size):
        piece = slice(i, min(i + size, n))
        out[:, piece] = tips({k: v[piece] for k, v in columns.items()}, shares[:, piece], turns[:, piece],
                             unit_tip[piece])
    return out


# ---- The library beside it -----------------------------------------------------------------------

class Lid(ctypes.Structure):
    _fields_ = [(f"f{i}", ctypes.c_double) for i in range(9)]


class Bond(ctypes.Structure):
    _fields_ = [(f"f{i}", ctypes.c_double) for i in range(3)]


class Profile(ctypes.Structure):
    _fields_ = [("pieces", ctypes.c_int), ("share", ctypes.c_double * 8), ("turn", ctypes.c_double * 8)]


class Columns(ctypes.Structure):
    _fields_ = [(f"f{i}", ctypes.c_void_p) for i in range(15)]


class Tips(ctypes.Structure):
    _fields_ = [(f"f{i}", ctypes.c_void_p) for i in range(4)]


class Line(ctypes.Structure):
    _fields_ = [("low", ctypes.c_double), ("high", ctypes.c_double),
                ("coefficient", ctypes.c_double * K), ("sigma", ctypes.c_double)]


class Library:
    def __init__(self, path):
        self.lib = ctypes.CDLL(path)
        self.lib.tcr_lid_default.restype = Lid
        self.lib.tcr_bond_default.restype = Bond
        self.lid, self.bond = self.lib.tcr_lid_default(), self.lib.tcr_bond_default()
        self.profiles = (Profile * len(CURLS))()
        for profile, curl in zip(self.profiles, CURLS):
            profile.pieces = len(curl)
            for i, (share, turn) in enumerate(curl):
                profile.share[i], profile.turn[i] = share, math.radians(turn)

    def tips(self, columns, out):
        words = {"fan": np.ones(columns["u"].size, np.int32), "placement": columns["placement"],
                 "profile": columns["profile"]}
        arrays = [columns[k] for k in NAMES] + list(words.values())
        given = Columns(*[a.ctypes.data for a in arrays])
        into = Tips(*[row.ctypes.data for row in out], None)

        def call():
            status = self.lib.tcr_tips_n(ctypes.byref(self.lid), ctypes.c_double(1.0), ctypes.byref(self.bond),
                                         self.profiles, ctypes.c_size_t(len(CURLS)),
                                         ctypes.c_size_t(columns["u"].size), ctypes.byref(given),
                                         ctypes.byref(into))
            if status != 0:
                sys.exit(f"tcr_tips_n: status {status}")
            return out
        call.keeps = arrays
        return call

    def line(self, x, y):
        line, scratch = Line(), np.empty(x.size)
        x, y = np.ascontiguousarray(x), np.ascontiguousarray(y)
        status = self.lib.tcr_line_fit(ctypes.c_void_p(x.ctypes.data), ctypes.c_void_p(y.ctypes.data),
                                       ctypes.c_size_t(x.size), None, ctypes.c_void_p(scratch.ctypes.data),
                                       ctypes.byref(line))
        if status != 0:
            sys.exit(f"tcr_line_fit: status {status}")
        return np.array(line.coefficient)


# ---- What is measured ----------------------------------------------------------------------------

def draw(n, seed):
    rng = np.random.default_rng(seed)
    u = rng.uniform(0.05, 0.95, n)
    c = {"u": u, "height": rng.uniform(0, 2.5, n), "pitch": np.radians(rng.normal(-10, 4, n)),
         "yaw": np.radians(-10 + 20 * u + rng.normal(0, 4, n)), "roll": np.radians(rng.normal(0, 2, n)),
         "length": rng.uniform(6, 9, n), "turn": np.radians(rng.normal(60, 8, n)),
         "root": np.full(n, 0.08), "tip": np.full(n, 0.015), "ext_length": rng.uniform(8, 14, n),
         "ext_diameter": np.full(n, 0.15), "ext_spread": np.zeros(n),
         "placement": rng.integers(0, 4, n, dtype=np.int32), "profile": rng.integers(0, 8, n, dtype=np.int32)}
    return c


def profiles_of(c):
    table = np.zeros((2, 8, 3))
    for i, curl in enumerate(CURLS):
        for j, (share, turn) in enumerate(curl):
            table[:, i, j] = share, math.radians(turn)
    shares, turns = (np.ascontiguousarray(table[i][c["profile"]].T) for i in range(2))
    at, to = np.zeros(8, complex), np.ones(8, complex)
    for j in range(3):
        length = table[0, :, j]
        at, to = arc(at, to, length, table[1, :, j] / np.where(length > 0, length, 1))
    return shares, turns, at[c["profile"]]


def cubic(t):
    r = np.abs(t)
    return np.where(r < 1, 2 / 3 - r * r + r ** 3 / 2, np.where(r < 2, (2 - r) ** 3 / 6, 0.0))


def lines(x, y):
    """Robust lines of many eyes at once (model.md, section 6), by reweighting."""
    low, high = x.min(1, keepdims=True), x.max(1, keepdims=True)
    place = (x - low) / (high - low) * (K - 3)
    basis = cubic(place[:, :, None] - (np.arange(K) - 1.0))
    second = np.diff(np.eye(K), 2, axis=0)
    penalty = 1e-4 * x.shape[1] * second.T @ second

    def solve(weight):
        weighted = basis * weight[:, :, None]
        matrix = np.matmul(weighted.transpose(0, 2, 1), basis) + penalty
        return np.linalg.solve(matrix, np.matmul(weighted.transpose(0, 2, 1), y[:, :, None]))[:, :, 0]
    c = solve(np.ones_like(y))
    r = np.abs(y - np.matmul(basis, c[:, :, None])[:, :, 0])
    limit = 1.345 * np.maximum(1.4826 * np.median(r, axis=1, keepdims=True), 0.1)
    for _ in range(200):
        r = np.abs(y - np.matmul(basis, c[:, :, None])[:, :, 0])
        new = solve(np.minimum(1.0, limit / np.maximum(r, 1e-300)))
        moved = np.abs(new - c).max()
        c = new
        if moved < 1e-8:  # the library comes within 1e-10; reweighting stops sooner, in its favour
            break
    return c, y - np.matmul(basis, c[:, :, None])[:, :, 0]


def evaluations(rng, about, worn, layer):
    """Lashes of a batch of eyes varied, their tips, lines and statistics; nothing is kept."""
    normal = rng.standard_normal((4, BATCH * LASHES))
    c = dict(about)
    c["height"] = about["height"] + 0.1 * normal[0]
    for key, sd, z in (("pitch", 4, normal[1]), ("yaw", 4, normal[2]), ("turn", 8, normal[3])):
        c[key] = about[key] + math.radians(sd) * z
    out = np.empty((3, BATCH * LASHES))
    for i in range(0, BATCH * LASHES, PIECE):
        piece = slice(i, min(i + PIECE, BATCH * LASHES))
        part = {k: v[piece] for k, v in c.items() if k != "seat"}
        part["seat"] = [v[:, piece] for v in about["seat"]]
        out[:, piece] = tips(part, *(w[..., piece] for w in worn))
    x, y = out[0].reshape(BATCH, LASHES), out[1].reshape(BATCH, LASHES)
    c, deviation = lines(x, y)
    size = np.abs(deviation)
    figures = [np.sqrt((deviation ** 2).mean(1)), size.mean(1), size.max(1),
               np.quantile(size, 0.95, axis=1), (size <= 0.5).mean(1)]
    figures += [deviation[:, layer == i].mean(1) for i in range(3)]
    return figures, x, y, c


def least_of(*calls):
    """The least seconds of each, taking turns: processor time, which other work on the machine
    disturbs less than the clock. Neither side has threads."""
    least, repeat = [math.inf] * len(calls), [1] * len(calls)
    for turn in range(ROUNDS + 1):
        for i, call in enumerate(calls):
            start = time.process_time()
            for _ in range(repeat[i]):
                call()
            taken = (time.process_time() - start) / repeat[i]
            if turn == 0:  # warms up, and says how many calls make a run
                repeat[i] = max(1, math.ceil(RUN_S / max(taken, 1e-6)))
            else:
                least[i] = min(least[i], taken)
    return least


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    library, label = Library(sys.argv[1]), sys.argv[3] if len(sys.argv) == 4 else ""
    rows = []
    print(f"NumPy {np.__version__}{', ' + label if label else ''}; "
          f"switched off: {os.environ.get('NPY_DISABLE_CPU_FEATURES', 'nothing')}")
    for n in (1000, 100_000, 1_000_000):
        c = draw(n, 3)
        worn = profiles_of(c)
        mine, theirs = np.empty((3, n)), np.empty((3, n))
        call = library.tips(c, mine)
        call()
        tips_in_pieces(c, *worn, theirs)
        worst = np.abs(mine - theirs).max()
        if not worst <= 1e-9:  # the contract
            sys.exit(f"tips differ by {worst} mm")
        ours, numpy, whole = least_of(call, lambda: tips_in_pieces(c, *worn, theirs),
                                      lambda: tips_in_pieces(c, *worn, theirs, n))
        rows.append((f"tips {n}", n, numpy, ours))
        rows.append((f"tips {n} whole", n, whole, ours))
        print(f"  tips, {n:8}: NumPy {1e9 * numpy / n:7.1f} ns in pieces, {1e9 * whole / n:7.1f} in whole "
              f"columns, tcr_tips_n {1e9 * ours / n:6.1f} ns a tip, ratios {numpy / ours:.1f}, {whole / ours:.1f}")
    about = draw(BATCH * LASHES, 5)
    places = 0.05 + 0.9 * (np.arange(LASHES) + 0.5) / LASHES
    about["u"] = np.tile(places, BATCH)
    about["yaw"] = np.radians(-10 + 20 * about["u"])
    layer = np.arange(LASHES) % 3
    about["height"] = np.tile(layer * 1.0 + 0.25, BATCH)
    about["placement"] = np.zeros(BATCH * LASHES, np.int32)
    about["profile"] = np.full(BATCH * LASHES, 2, np.int32)
    about["ext_length"] = np.tile(12.0 - layer, BATCH)
    about["seat"] = seat(about["u"])
    worn = profiles_of(about)
    rng = np.random.default_rng(7)
    _, x, y, c = evaluations(rng, about, worn, layer)
    for i in range(0, BATCH, 10):
        worst = np.abs(c[i] - library.line(x[i], y[i])).max()
        if not worst <= 1e-6:  # where reweighting stops
            sys.exit(f"lines differ by {worst} mm")
    (numpy,) = least_of(lambda: evaluations(rng, about, worn, layer))
    rows.append(("evaluations", BATCH, numpy, math.nan))
    print(f"  evaluations of {LASHES} lashes, {BATCH} at a time: NumPy {1e6 * numpy / BATCH:.1f} us each")
    with open(sys.argv[2], "w", newline="") as file:
        out = csv.writer(file)
        out.writerow(["name", "items", "numpy_ns_per_item", "ours_ns_per_item"])
        for name, n, numpy, ours in rows:
            out.writerow([name, n, 1e9 * numpy / n, 1e9 * ours / n])


if __name__ == "__main__":
    main()
