#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints lib/num/elementary_table.h: the polynomials of the elementary functions.

Each is the minimax polynomial of its function by Remez's exchange (Cheney 1966, Introduction to
Approximation Theory, ch. 3), of the degree at which its error is below a tenth of a double's
last bit. The coefficients are rounded to doubles one after the other, from the lowest on, and those
behind are fitted anew, so that rounding the low ones costs nothing.

Needs mpmath. Run: build-aux/elementary-table.py > lib/num/elementary_table.h
"""
from mpmath import asin, atan, cos, exp, findroot, log, matrix, lu_solve, mp, mpf, pi, sin, sqrt

mp.dps = 45
SMALLEST = mpf(2) ** -50  # stands for 0, where the quotients below are 0/0


def polynomial(coefficients, z):
    total = mpf(0)
    for c in reversed(coefficients):
        total = total * z + c
    return total


def exchange(f, weight, low, high, first, count):
    """z^first times a polynomial of 'count' coefficients, nearest to f in weight x |error|."""
    n = count + 1
    points = [low + (high - low) * (1 - cos(pi * k / (n - 1))) / 2 for k in range(n)]
    for _ in range(30):
        a = matrix(n, n)
        b = matrix(n, 1)
        for i, z in enumerate(points):
            for j in range(count):
                a[i, j] = z ** (first + j)
            a[i, count] = (-1) ** i / weight(z)
            b[i] = f(z)
        solution = lu_solve(a, b)
        c, level = list(solution)[:count], abs(solution[count])

        def error(z):
            return weight(z) * (f(z) - z ** first * polynomial(c, z))

        grid = [low + (high - low) * (1 - cos(pi * k / (40 * n))) / 2 for k in range(40 * n + 1)]
        values = [error(z) for z in grid]
        # The largest error between changes of sign, in turn.
        extremes = []
        for z, v in zip(grid, values):
            if extremes and (extremes[-1][1] > 0) == (v > 0):
                if abs(v) > abs(extremes[-1][1]):
                    extremes[-1] = (z, v)
            else:
                extremes.append((z, v))
        while len(extremes) > n:
            drop = 0 if abs(extremes[0][1]) < abs(extremes[-1][1]) else -1
            del extremes[drop]
        if len(extremes) < n:
            break
        points = [z for z, _ in extremes]
        most = max(abs(v) for v in values)
        if most < level * mpf("1.001"):
            break
    return c, max(abs(v) for v in values)


def rounded(f, weight, low, high, count):
    """Coefficients that are doubles, and what the polynomial's error is with them."""
    done = []
    for first in range(count):
        rest = exchange(lambda z: f(z) - polynomial(done, z), weight, low, high, first,
                        count - first)[0]
        done.append(mpf(float(rest[0])))
    grid = [low + (high - low) * k / 2000 for k in range(2001)]
    return done, max(abs(weight(z) * (f(z) - polynomial(done, z))) for z in grid)


EIGHTH = sqrt(2) - 1  # tan(pi/8)
# Name, comment, function of z, weight that makes errors relative to the result, range of z, count.
TABLE = [
    ("SINE", "sin(r) = r + r z P(z), z = r^2, |r| up to pi/4",
     lambda z: (sin(sqrt(z)) / sqrt(z) - 1) / z, lambda z: z * sqrt(z) / sin(sqrt(z)),
     (pi / 4) ** 2 * mpf("1.0001"), 6),
    ("COSINE", "cos(r) = 1 - z/2 + z^2 P(z), z = r^2, |r| up to pi/4",
     lambda z: (cos(sqrt(z)) - 1 + z / 2) / z ** 2, lambda z: z ** 2 / cos(sqrt(z)),
     (pi / 4) ** 2 * mpf("1.0001"), 6),
    ("SINC", "sin(q)/q = 1 + z P(z), z = q^2, |q| up to pi; its error is absolute",
     lambda z: (sin(sqrt(z)) / sqrt(z) - 1) / z, lambda z: z, pi ** 2 * mpf("1.0001"), 12),
    ("ARCSINE", "asin(x) = x + x z P(z), z = x^2, |x| up to 1/2",
     lambda z: (asin(sqrt(z)) / sqrt(z) - 1) / z, lambda z: z * sqrt(z) / asin(sqrt(z)),
     mpf("0.25"), 13),
    ("ARCTANGENT", "atan(t) = t + t z P(z), z = t^2, |t| up to tan(pi/8)",
     lambda z: (atan(sqrt(z)) / sqrt(z) - 1) / z, lambda z: z * sqrt(z) / atan(sqrt(z)),
     EIGHTH ** 2 * mpf("1.0001"), 11),
    ("LOGARITHM", "log((1 + s)/(1 - s)) = 2 s + s z P(z), z = s^2, |s| up to tan(pi/8)^2",
     lambda z: (2 * mp.atanh(sqrt(z)) / sqrt(z) - 2) / z,
     lambda z: z * sqrt(z) / (2 * mp.atanh(sqrt(z))), EIGHTH ** 4 * mpf("1.0001"), 7),
]


def exponential():
    """exp(r) = 1 + r + r^2 P(r): P is of r itself, on both sides of 0, where powers from the first
    on vanish together. So all its coefficients are rounded at once, and the weight stays above 0.
    """
    most = log(2) / 2 * mpf("1.0001")

    def f(r):
        return mpf("0.5") + r / 6 if abs(r) < SMALLEST else (exp(r) - 1 - r) / r ** 2
    c, _ = exchange(f, lambda r: (r ** 2 + most ** 2 / 16) / exp(r), -most, most, 0, 10)
    c = [mpf(float(x)) for x in c]
    grid = [most * k / 1000 for k in range(-1000, 1001)]
    return c, max(abs(r ** 2 / exp(r) * (f(r) - polynomial(c, r))) for r in grid)


def show(name, comment, coefficients, error):
    print("/* %s; error 2^%.1f. */" % (comment, log(error, 2)))
    values = ", ".join(float(c).hex() for c in coefficients)
    print("static const double TCR_%s_TERM[%d] = {%s};\n" % (name, len(coefficients), values))


print("""/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/elementary-table.py; not to be edited. */
#ifndef TCR_NUM_ELEMENTARY_TABLE_H
#define TCR_NUM_ELEMENTARY_TABLE_H

/* Minimax polynomials P, lowest term first, with the error that they alone leave in the function.
 */

""", end="")
for name, comment, f, weight, most, count in TABLE:
    show(name, comment, *rounded(f, weight, SMALLEST, most, count))
show("EXPONENTIAL", "exp(r) = 1 + r + r^2 P(r), |r| up to log(2)/2", *exponential())


def parts(value, bits, count):
    """A number as a sum of doubles, all but the last with so many bits."""
    out = []
    for i in range(count):
        part = mpf(float(value))
        if i + 1 < count:
            scale = mpf(2) ** (bits - 1 - mp.floor(log(abs(value), 2)))
            part = mp.floor(value * scale) / scale
        out.append(float(part).hex())
        value -= part
    return ", ".join(out)


for name, comment, value, bits, count in [
        ("HALF_PI", "pi/2 as a sum; products of its first two with whole numbers below 2^20 are "
         "exact", pi / 2, 33, 3),
        ("HALF_PI_PAIR", "pi/2 in two", pi / 2, 33, 2),
        ("LOG_2", "log(2) as a sum; the product of its first with any exponent is exact", log(2),
         42, 2)]:
    print("/* %s. */" % comment)
    print("static const double TCR_%s_PART[%d] = {%s};\n"
          % (name, count, parts(value, bits, count)))
print("#endif")
