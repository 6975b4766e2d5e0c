#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints lib/num/number_table.h: 128-bit powers of ten for number.c.

Entry k holds the smallest whole number g >= 10^k 2^(127 - floor(log2 10^k)), 2^127 <= g < 2^128, from
exact arithmetic. Run: build-aux/number-table.py > lib/num/number_table.h
"""
FIRST, LAST = -342, 324


def entry(k):
    """The rounded-up significand of 10^k in 128 bits."""
    top, bottom = (10**k, 1) if k >= 0 else (1, 10**-k)
    exponent = top.bit_length() - bottom.bit_length()
    if (top << max(-exponent, 0)) < (bottom << max(exponent, 0)):
        exponent -= 1
    shift = 127 - exponent
    top, bottom = (top << shift, bottom) if shift >= 0 else (top, bottom << -shift)
    g = -(-top // bottom)
    assert 2**127 <= g < 2**128
    return g


print("""/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/number-table.py; not to be edited. */
#ifndef TCR_NUM_NUMBER_TABLE_H
#define TCR_NUM_NUMBER_TABLE_H

#include <stdint.h>

enum { TCR_TEN_FIRST = %d, TCR_TEN_LAST = %d };

/* 10^k as high and low word of the smallest g >= 10^k 2^(127 - floor(log2 10^k)). */
static const uint64_t TCR_TEN[TCR_TEN_LAST - TCR_TEN_FIRST + 1][2] = {""" % (FIRST, LAST))
for k in range(FIRST, LAST + 1):
    g = entry(k)
    print("    {0x%016xu, 0x%016xu}," % (g >> 64, g & (2**64 - 1)))
print("};\n\n#endif")
