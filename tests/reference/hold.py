# SPDX-License-Identifier: GPL-3.0-or-later
"""Claims for verify.py: each prints both numbers, and the failed ones are counted."""

failures = []


def hold(claim, found, expected, tolerance):
    """One claim: found equals expected within tolerance."""
    good = abs(found - expected) <= tolerance
    if not good:
        failures.append(claim)
    print(f"{'ok  ' if good else 'FAIL'} {claim}: found {found!r}, expected {expected!r}")


def hold_true(claim, found):
    """One claim that is true or false."""
    hold(claim, bool(found), True, 0)
