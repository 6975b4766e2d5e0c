#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""How long the package takes beside C for the same work, in the same process: no test.

    python3 tests/python/bench.py

needs the installed library and package, a C compiler and pkg-config. Results are compared before they
are timed. Python and C take turns; the ratio is that of the least of each.
"""

import os
import pathlib
import platform
import shlex
import subprocess
import sys
import tempfile
import time

import cffi
import numpy as np

import tipcrest
from tipcrest._core import ffi as core

HERE = pathlib.Path(__file__).resolve().parent
ROUNDS = 9


def c_side(folder):
    flags = subprocess.run([*shlex.split(os.environ.get("PKG_CONFIG", "pkg-config")), "--cflags",
                            "--libs", "tipcrest", "tipcrest-study"], check=True,
                           stdout=subprocess.PIPE, text=True).stdout.split()
    library = os.path.join(folder, "bench.so")
    subprocess.run(["cc", "-O2", "-shared", "-fPIC", str(HERE / "bench.c"), "-o", library, *flags],
                   check=True)
    ffi = cffi.FFI()
    ffi.cdef("""
        double bench_checks(void *set, size_t count, int figures_only, double *sum);
        double bench_trials(void *study, const double *value, size_t count, double *sum);
        double bench_sweep(void *set, const double *level, size_t count, size_t threads,
                           double *value);
    """)
    return ffi, ffi.dlopen(library)


def compare(name, python, c, items):
    """Takes turns; python and c return what they found, and c its own seconds."""
    least = [float("inf"), float("inf")]
    for round in range(ROUNDS + 1):
        start = time.perf_counter()
        found = python()
        taken = time.perf_counter() - start
        of_c, expected = c()
        if not np.array_equal(found, expected):
            sys.exit(f"{name}: {found} in Python, {expected} in C")
        if round > 0:  # the first warms up
            least = [min(least[0], taken), min(least[1], of_c)]
    print(f"{name:45} {1e6 * least[0] / items:10.2f} {1e6 * least[1] / items:10.2f} us an item, "
          f"ratio {least[0] / least[1]:.3f}")


def main():
    with tempfile.TemporaryDirectory() as folder:
        ffi, c = c_side(folder)
        head = tipcrest.Set.read(HERE.parent.parent / "examples" / "practice-head" / "layered.yaml")
        head = head.changed({"layering.step_mm": 1})  # no file: tcr_check_new on both sides
        any_length = tipcrest.Set([tipcrest.Eye(
            "left", {name: head.left[name] for name in ("u", "layer", "length_mm", "pitch_deg")},
            [{"to": 1, "length_mm": 12, "curl": "C"}])], tray="any")
        print(platform.processor() or platform.machine(), "Python", platform.python_version(),
              "tipcrest", tipcrest.__version__, f"least of {ROUNDS} rounds")

        def address(pointer):
            return ffi.cast("void *", int(core.cast("uintptr_t", pointer)))

        for figures in (False, True):
            n = 300 if not figures else 2000

            def checks():
                sum = 0.0
                for _ in range(n):
                    sum += head.check(figures_only=figures).left.rms_mm
                return sum

            def checks_in_c():
                sum = ffi.new("double *")
                return c.bench_checks(address(head._c), n, figures, sum), sum[0]
            compare(f"a loop of checks{', figures only' if figures else ''}", checks, checks_in_c, n)

        steps = np.linspace(0, 2, 10000)
        study = tipcrest.Study(any_length, {"layering.step_mm": tipcrest.Uniform(0, 2)},
                               outputs=["fitted.rms_mm"], design="random")

        def trials():
            trial, sum = study.trial(), 0.0
            for step in steps[:2000].tolist():
                sum += trial(step)["fitted.rms_mm"]
            return sum

        def trials_in_c():
            sum = ffi.new("double *")
            return c.bench_trials(address(study._c), ffi.from_buffer("double[]", steps), 2000,
                                  sum), sum[0]
        compare("a loop of trials, lashes laid once", trials, trials_in_c, 2000)

        for threads in (1, 2):
            def sweep():
                return any_length.study({"layering.step_mm": steps}, outputs=["fitted.rms_mm"],
                                        threads=threads)["fitted.rms_mm"]

            def sweep_in_c():
                value = np.empty(len(steps))
                return c.bench_sweep(address(any_length._c), ffi.from_buffer("double[]", steps),
                                     len(steps), threads, ffi.from_buffer("double[]", value)), value
            compare(f"a sweep of {len(steps)}, {threads} threads", sweep, sweep_in_c, len(steps))


if __name__ == "__main__":
    main()
