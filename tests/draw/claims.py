# SPDX-License-Identifier: GPL-3.0-or-later
"""Claims as TAP (test anything protocol) lines, which tests/run.sh counts, for tests in Python; and
the command under test. A script that ends before finish() has failed, whatever it printed.

    with claims.claim("the page is as wide as asked"):
        claims.near(found, 254, 1e-6, "rounding")
    claims.finish()
"""

import contextlib
import os
import subprocess
import sys
import traceback

COUNT = {"claims": 0, "failed": 0}
SOURCE = os.environ.get("TIPCREST_SOURCE", os.path.join(os.path.dirname(__file__), "..", ".."))
EXAMPLES = os.path.join(SOURCE, "examples")
sys.path.insert(0, os.path.join(SOURCE, "tests", "reference"))


class Broken(Exception):
    """A claim that does not hold."""


@contextlib.contextmanager
def claim(words):
    """Holds if nothing in its block is raised; then a failure says what was found."""
    COUNT["claims"] += 1
    try:
        yield
        print(f"ok {COUNT['claims']} - {words}")
    except Exception as problem:  # whatever goes wrong, the claim fails and the others are tried
        COUNT["failed"] += 1
        print(f"not ok {COUNT['claims']} - {words}")
        text = str(problem) if isinstance(problem, Broken) else traceback.format_exc()
        for line in text.splitlines()[-12:]:
            print("#   " + line)
    sys.stdout.flush()


def skip(words, reason):
    """A claim that cannot be tested here."""
    COUNT["claims"] += 1
    print(f"ok {COUNT['claims']} - {words} # SKIP {reason}")


def near(found, expected, tolerance, why):
    """Within the tolerance, which why gives the reason of; never for NaN."""
    if not abs(found - expected) <= tolerance:
        raise Broken(f"found:    {found!r}\nexpected: {expected!r}, within {tolerance!r} ({why})")


def within(found, low, high, why):
    """low <= found <= high; never for NaN."""
    if not low <= found <= high:
        raise Broken(f"found:    {found!r}\nexpected: {low!r} to {high!r} ({why})")


def equal(found, expected, about=""):
    """The same."""
    if found != expected:
        raise Broken(f"found:    {str(found)[:600]} {about}\nexpected: {str(expected)[:600]}")


def true(holds, otherwise):
    """It holds; otherwise this is said."""
    if not holds:
        raise Broken(otherwise)


def run(*words, expect=0):
    """tipcrest with these arguments; its standard error. Another exit status is a broken claim."""
    done = subprocess.run([os.environ.get("TIPCREST", "tipcrest"), *map(str, words)],
                          capture_output=True, stdin=subprocess.DEVNULL, check=False,
                          encoding="utf-8", errors="replace")
    if done.returncode != expect:
        raise Broken(f"found:    exit status {done.returncode}: {done.stderr[-600:]}\n"
                     f"expected: {expect}, of {' '.join(map(str, words))}")
    return done.stderr


def draw(set_file, view, output, *words):
    """tipcrest draw, which has to work and say nothing; the output's name."""
    said = run("draw", set_file, "--view", view, "-o", output, *words)
    if said:
        raise Broken(f"found:    {said[:600]}\nexpected: nothing said by draw --view {view}")
    return output


def finish():
    """Ends the script, with 0 if every claim held."""
    print(f"1..{COUNT['claims']}")
    sys.exit(0 if COUNT["claims"] > 0 and COUNT["failed"] == 0 else 1)
