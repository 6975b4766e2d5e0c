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
    return ",\n     ".join(", ".join(nstr(v, 17) for v in values[k:k + 4]) for k in (0, 4))


print("""/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/gauss-table.py; not to be edited. */
#ifndef TCR_ROD_GAUSS_TABLE_H
#define TCR_ROD_GAUSS_TABLE_H

enum { TCR_GAUSS = %d };

/* Gauss-Legendre on [-1, 1]: nodes in rising order, and their weights. */
static const double TCR_GAUSS_NODE[TCR_GAUSS] =
    {%s};
static const double TCR_GAUSS_WEIGHT[TCR_GAUSS] =
    {%s};

/* [j][i]: weight of node j in the integral from node i to 1, exact for polynomials of degree %d. */
static const double TCR_GAUSS_TO_END[TCR_GAUSS][TCR_GAUSS] = {
%s};

#endif""" % (N, row(nodes), row(weights), N - 1,
             ",\n".join("    {" + row([to_end(i, j) for i in range(N)]) + "}" for j in range(N))))
