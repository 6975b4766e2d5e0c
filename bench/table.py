#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Commands as they are typed, and the figures of all benches beside their goals.

    table.py SOURCES FIGURES        # in a build folder; called by bench/run.sh

Commands are timed by the clock and by processor time. On a machine with other work the clock says how
busy it was; the table then names both.
"""
import csv
import os
import pathlib
import shutil
import sys
import tempfile
import time

SOURCES, FIGURES = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
SET = SOURCES / "examples" / "studies" / "one-eye.yaml"
GRID = ["--vary", "layering.step_mm=0:1.9:0.1", "--vary", "apart_mm=0.5:1.45:0.05"]  # 400 points
OUT = "OUT"  # stands in a command for a file or folder that goes again
ROUNDS = 2
COMMAND = "./tipcrest"


def run(command):
    """Seconds by the clock, of the processor, and MB, of a command that writes into an empty folder."""
    with tempfile.TemporaryDirectory() as folder:
        child = os.fork()
        if child == 0:
            silent = os.open(os.devnull, os.O_WRONLY)
            os.dup2(silent, 1)
            os.dup2(silent, 2)
            try:
                os.execvp(command[0], [f"{folder}/out" if word == OUT else word for word in command])
            finally:
                os._exit(127)
        start = time.perf_counter()
        _, status, usage = os.wait4(child, 0)
        if status != 0:
            return None
        return (time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def least(*commands):
    """The least of each by the clock, taking turns."""
    best = [None] * len(commands)
    for _ in range(ROUNDS):
        for i, command in enumerate(commands):
            found = run(command)
            if found is not None and (best[i] is None or found[0] < best[i][0]):
                best[i] = found
    return best


def rows_of(name):
    path = FIGURES / f"{name}.csv"
    if not path.exists():
        return {}
    with open(path, newline="", encoding="utf-8") as file:
        return {(row["name"], int(row["items"])): row for row in csv.DictReader(file)}


def each(rows, name, items):
    """ns an item, or None where there is no such row."""
    row = rows.get((name, items))
    return float(row["min_ns_per_item"]) if row else None


TABLE = []


def add(what, figure, unit, goal, reached):
    """A line of the table; figure None: a peer is missing."""
    if figure is None:
        TABLE.append((what, "not measured", goal, "-"))
    else:
        TABLE.append((what, f"{figure:.3g}{unit}", goal, "yes" if reached(figure) else "NO"))


def divided(a, b):
    return None if a is None or b is None or b == 0 else a / b


def add_kernels():
    elementary, tips, line = rows_of("elementary"), rows_of("tips"), rows_of("line")
    evaluation, numpy, avx2 = rows_of("evaluation"), rows_of("numpy"), rows_of("numpy-avx2")
    items = next((n for _, n in elementary), 0)
    for which in ("AVX2", "AVX-512"):
        ratio = divided(each(elementary, f"sines and cosines, own, {which}", items),
                        each(elementary, f"sines and cosines, SLEEF, {which}", items))
        add(f"own sine and cosine against SLEEF, {which}", ratio, " of it", "at most 1", lambda f: f <= 1.0)
    for n, goals in ((1000, (12, 8)), (100_000, (15, 15)), (1_000_000, (15, 15))):
        for rows, words, goal in ((numpy, "", goals[0]), (avx2, ", NumPy without AVX-512", goals[1])):
            for how in ("", " whole") if n > 1000 else ("",):
                row = rows.get((f"tips {n}{how}", n))
                ratio = row and divided(float(row["numpy_ns_per_item"]), float(row["ours_ns_per_item"]))
                cut = ", in whole columns" if how else ", in pieces" if n > 1000 else ""
                add(f"tips, all different, {n}{words}{cut}", ratio, " times NumPy", f"{goal} times",
                    lambda f, goal=goal: f >= goal)
    add("tips, lid and curl shared, on top", each(tips, "blocks, lid and C on top shared", 1000), " ns",
        "under 20 ns with AVX-512, 40 with AVX2", lambda f: f < 20.0)
    robust, plain = each(line, "tcr_line_fit robust", 96), each(line, "gsl_multifit_linear", 96)
    add("robust line of 96 tips", robust and 96e-3 * robust, " us", "under 4 us", lambda f: f < 4.0)
    add("robust line of 96 tips", divided(robust, plain), " of GSL's plain fit", "0.09", lambda f: f <= 0.09)
    whole = each(evaluation, "all: drawn, put, figures", 96)
    add("one evaluation, 96 lashes varied", whole and 96e-3 * whole, " us", "under 12 us", lambda f: f < 12.0)
    loads = each(evaluation, "all, loads too", 96)
    add("the same with loads", loads and 96e-3 * loads, " us", "under 25 us", lambda f: f < 25.0)
    for rows, words in ((numpy, ""), (avx2, ", NumPy without AVX-512")):
        row = next((r for (name, _), r in rows.items() if name == "evaluations"), None)
        ratio = divided(row and float(row["numpy_ns_per_item"]), whole and 96 * whole)
        add(f"one evaluation{words}", ratio, " times NumPy", "15 times", lambda f: f >= 15.0)


def add_lesson():
    step, = least([COMMAND, "step", "--json", OUT])  # 8 curls, 8 lengths, 17 placements
    add("a whole report of step from the command, by the clock", step and step[0], " s", "under 1 s", lambda f: f < 1.0)


def add_studies():
    mpi = "./tipcrest-study-mpi"
    million = ["-o", OUT, str(SET), *GRID, "--runs", "2500", "--output", "fitted.rms_mm", "--no-chart"]
    calls = [[COMMAND, "study", *million, "--threads", "1"], [COMMAND, "study", *million, "--threads", "2"]]
    ranks = shutil.which("mpirun") is not None and os.path.exists(mpi)
    if ranks:
        as_root = ["--allow-run-as-root"] if os.geteuid() == 0 else []
        of_two = ["mpirun", *as_root, "--oversubscribe", "-n", "2", mpi]
        calls.append([*of_two, *million, "--threads", "1"])
        calls.append([*of_two, "-o", OUT, str(SET), "--vary", "apart_mm=1", "--no-chart"])  # one evaluation
    else:
        print("Ranks were left out: no mpirun, or no tipcrest-study-mpi in the build folder")
    one, two, *of_ranks = least(*calls)
    by_ranks, start = (of_ranks[0] and of_ranks[0][0], of_ranks[1] and of_ranks[1][0]) if ranks else (None, None)
    add("two threads against one, by the clock", divided(one and one[0], two and two[0]), " times", "1.9 times",
        lambda f: f >= 1.9)
    add("the same, processor time of one over two", divided(one and one[1], two and two[1]), "", "", lambda f: True)
    add("2 ranks against 2 threads, by the clock", divided(two and two[0], by_ranks), "", "0.95", lambda f: f >= 0.95)
    add("the same without the start of MPI", divided(two and two[0], by_ranks and start and by_ranks - start), "", "",
        lambda f: True)
    add("the start of MPI", start, " s", "", lambda f: True)
    million = run([COMMAND, "study", *million[:-1]])
    usual = run([COMMAND, "study", "-o", OUT, str(SET), *GRID, "--runs", "250", "--no-chart", "--threads", "1"])
    add("1e6 evaluations from the command, by the clock", million and million[0], " s", "under 10 s",
        lambda f: f < 10.0)
    add("the same, half of the processor time", million and million[1] / 2, " s", "under 10 s", lambda f: f < 10.0)
    add("the same, memory", million and million[2], " MB", "under 500 MB", lambda f: f < 500.0)
    add("usual outputs, an evaluation, processor time", usual and 1e6 * usual[1] / 1e5, " us", "under 25 us",
        lambda f: f < 25.0)


def main():
    add_kernels()
    if os.path.exists(COMMAND):
        add_lesson()
        add_studies()
    else:
        print(f"Commands were left out: no {COMMAND} in the build folder")
    wide = [max(len(line[i]) for line in TABLE) for i in range(3)]
    print(f"\n{'what':{wide[0]}}  {'figure':{wide[1]}}  {'goal':{wide[2]}}  reached")
    for what, figure, goal, reached in TABLE:
        print(f"{what:{wide[0]}}  {figure:{wide[1]}}  {goal:{wide[2]}}  {reached if goal else ''}")


if __name__ == "__main__":
    main()
