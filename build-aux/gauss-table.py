#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints lib/rod/gauss_table.h: an 8-point Gauss-Legendre rule and integrals from its nodes to 1.

Needs mpmath. Run: build-aux/gauss-table.py > lib/rod/gauss_table.h
"""
from mpmath import legendre, mp, mpf, nstr, polyroots, taylor

mp.dps = 50
N = 8

nodes = sorted(polyroots(taylor(lambda x: legendre(N, x), 0, N)[::-1], maxsteps=200, extraprec=200))
slope = [N * legendre(N - 1, x) / (1 - x * x) for x in nodes]
weights = [2 / ((1 - x * x) * d * d) for x, d in zip(nodes, slope)]


def to_end(i, j):
    """The integral from node i to 1 of the polynomial that is 1 at node j, 0 at the others.

    That polynomial is w_j sum of (k + 1/2) P_k(x_j) P_k, and (2k + 1) P_k = P_(k+1)' - P_(k-1)'.
    """
    x, y = nodes[i], nodes[j]
    total = (1 - x) / 2
    for k in range(1, N):
        total += legendre(k, y) * (legendre(k - 1, x) - legendre(k + 1, x)) / 2
    return weights[j] * total


def row(values):
    return ", ".join(nstr(v, 17) for v in values)


HALF = N // 2  # the nodes above 0; the others are their negatives


def of_parity(sign):
    """From node i > 0 to 1, of functions with f(-x) = sign f(x), from their values at nodes > 0."""
    return ",\n".join("    {" + row([to_end(i, j) + sign * to_end(i, N - 1 - j)
                                      for j in range(HALF, N)]) + "}" for i in range(HALF, N))


print("""/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/gauss-table.py; not to be edited. */
#ifndef TCR_ROD_GAUSS_TABLE_H
#define TCR_ROD_GAUSS_TABLE_H

enum { TCR_GAUSS = %d, TCR_GAUSS_HALF = TCR_GAUSS / 2 };

/* Gauss-Legendre on [-1, 1]: nodes in rising order, and their weights. */
static const double TCR_GAUSS_NODE[TCR_GAUSS] =
    {%s};
static const double TCR_GAUSS_WEIGHT[TCR_GAUSS] =
    {%s};

/*
 * Row i: weights of the integral from node HALF + i to 1, of an even and of an odd function, by its
 * values at the nodes from HALF on. Together they are exact for polynomials of degree %d.
 */
static const double TCR_GAUSS_EVEN_TO_END[TCR_GAUSS_HALF][TCR_GAUSS_HALF] = {
%s};
static const double TCR_GAUSS_ODD_TO_END[TCR_GAUSS_HALF][TCR_GAUSS_HALF] = {
%s};

#endif""" % (N, row(nodes), row(weights), N - 1, of_parity(1), of_parity(-1)))
