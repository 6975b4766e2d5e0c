#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""sobol-table.py: prints lib/study/sobol_table.h, the direction numbers of the Sobol points.

Dimension 0 is van der Corput's sequence. Each further dimension has the next primitive polynomial over
GF(2), in order of degree and then of its bits (Sobol 1967, 10.1016/0041-5553(67)90144-9), and as many
free first numbers m_1, m_2, ... (odd, m_i < 2^i) as its degree. These are chosen one dimension after
the other, from CANDIDATES drawn at random: those with the best projections on two dimensions. The
measure is that of a digital net: t of the pair with each dimension before, for 2^m points. The one
with the least sum of 2^t over the pairs and MS is kept. Format what it prints with clang-format. For the first A_DIMENSIONS dimensions only
candidates count with Sobol's property A (1976, 10.1016/0041-5553(76)90154-3): of the first 2^d points
in d dimensions there is one in each of the 2^d halves of halves. Takes some minutes.
"""

import random

DIMENSIONS = 128
BITS = 53
CANDIDATES = 64
A_DIMENSIONS = 32
MS = (4, 6, 8, 10, 12)


def multiply(a, b, modulus, degree):
    """The product of two polynomials over GF(2), modulo a third."""
    product = 0
    while b:
        if b & 1:
            product ^= a
        b >>= 1
        a <<= 1
        if a >> degree & 1:
            a ^= modulus
    return product


def power_of_x(exponent, modulus, degree):
    result, base = 1, 2 if degree > 1 else 2 ^ modulus
    while exponent:
        if exponent & 1:
            result = multiply(result, base, modulus, degree)
        base = multiply(base, base, modulus, degree)
        exponent >>= 1
    return result


def prime_factors(n):
    found, p = set(), 2
    while p * p <= n:
        while n % p == 0:
            found.add(p)
            n //= p
        p += 1
    return found | ({n} if n > 1 else set())


def primitive_polynomials(count):
    """The first 'count' in order, as numbers whose bits are the coefficients."""
    found, degree = [], 1
    while True:
        order = (1 << degree) - 1
        for polynomial in range(1 << degree | 1, 2 << degree, 2):
            if power_of_x(order, polynomial, degree) == 1 and all(
                    power_of_x(order // p, polynomial, degree) != 1 for p in prime_factors(order)):
                found.append((polynomial, degree))
                if len(found) == count:
                    return found
        degree += 1


def numbers_of(polynomial, degree, first):
    """m_1 to m_BITS by Sobol's recurrence."""
    m = list(first)
    for i in range(degree, BITS):
        new = m[i - degree] ^ m[i - degree] << degree
        for k in range(1, degree):
            if polynomial >> (degree - k) & 1:
                new ^= m[i - k] << k
        m.append(new)
    return m


def rows_of(m):
    """The generator matrix, of the most significant digit first; bit k of a row is column k."""
    return [sum((m[k] >> (k - i) & 1) << k for k in range(i, BITS)) for i in range(BITS)]


def joins(basis, row):
    """Adds a row to a basis by its leading bit; False where it depends on it."""
    while row:
        lead = row.bit_length()
        if lead not in basis:
            basis[lead] = row
            return True
        row ^= basis[lead]
    return False


def t_of(rows_a, rows_b, m):
    """t of the net of 2^m points on two dimensions."""
    mask, least, basis = (1 << m) - 1, m, {}
    for a in range(m + 1):
        both, b = dict(basis), 0
        while a + b < least and joins(both, rows_b[b] & mask):
            b += 1
        least = min(least, a + b)
        if a == least or not joins(basis, rows_a[a] & mask):
            break
    return m - least


def is_regular(matrix, size):
    basis, mask = {}, (1 << size) - 1
    return all(joins(basis, row & mask) for row in matrix[:size])


def search():
    draw = random.Random(1967)
    first, rows, halves = [[1] * 1], [rows_of([1] * BITS)], [rows_of([1] * BITS)[0]]
    for polynomial, degree in primitive_polynomials(DIMENSIONS - 1):
        best, least, tried = None, None, 0
        while tried < CANDIDATES:
            start = [2 * draw.randrange(1 << i) + 1 for i in range(degree)]
            new = rows_of(numbers_of(polynomial, degree, start))
            if len(rows) < A_DIMENSIONS and not is_regular([*halves, new[0]], len(rows) + 1):
                tried += 1 / 8  # where there are few candidates, none may be left
                continue
            tried += 1
            sum_of_t = sum(2**t_of(old, new, m) for old in rows for m in MS)
            if least is None or sum_of_t < least:
                best, least = (start, new), sum_of_t
        if best is None:
            raise SystemExit(f"no numbers with property A in dimension {len(rows)}")
        first.append(best[0])
        rows.append(best[1])
        halves.append(best[1][0])
    return first


def main():
    polynomials = [(1, 0), *primitive_polynomials(DIMENSIONS - 1)]
    print("/* SPDX-License-Identifier: GPL-3.0-or-later */")
    print("/* Made by build-aux/sobol-table.py, which says how the numbers were found: the degree and the")
    print(" * bits of each dimension's polynomial, and its first numbers. */")
    for (polynomial, degree), start in zip(polynomials, search()):
        numbers = ", ".join(str(m) for m in start[:max(degree, 1)])
        print(f"    {{{degree}, {polynomial}, {{{numbers}}}}},")


main()
