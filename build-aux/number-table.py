#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints lib/num/number_table.h: powers of ten in 128 bits, for numbers as text and back.

From exact arithmetic. Run: build-aux/number-table.py > lib/num/number_table.h
"""
# Reading: below 10^-342 the 19 digits of a word stay under half of the least double. Writing: the
# least double is 5e-324, for which the table must reach 10^324.
FIRST, LAST = -342, 324


def entry(k):
    """The smallest whole number g >= 10^k 2^(127 - floor(log2 10^k)), as high and low word."""
    top, bottom = (10**k, 1) if k >= 0 else (1, 10**-k)
    exponent = top.bit_length() - bottom.bit_length()
    if (top << max(-exponent, 0)) < (bottom << max(exponent, 0)):
        exponent -= 1
    shift = 127 - exponent
    top, bottom = (top << shift, bottom) if shift >= 0 else (top, bottom << -shift)
    g = -(-top // bottom)
    assert 2**127 <= g < 2**128
    return "{0x%016xu, 0x%016xu}" % (g >> 64, g & (2**64 - 1))


entries = [entry(k) for k in range(FIRST, LAST + 1)]
lines = [", ".join(entries[i:i + 2]) for i in range(0, len(entries), 2)]
print("""/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Made by build-aux/number-table.py; not to be edited. */
#ifndef TCR_NUM_NUMBER_TABLE_H
#define TCR_NUM_NUMBER_TABLE_H

#include <stdint.h>

enum { TCR_TEN_FIRST = %d, TCR_TEN_LAST = %d };

/* 10^k as high and low word of the smallest g >= 10^k 2^(127 - floor(log2 10^k)). */
static const uint64_t TCR_TEN[TCR_TEN_LAST - TCR_TEN_FIRST + 1][2] = {
    %s,
};

#endif""" % (FIRST, LAST, ",\n    ".join(lines)))
