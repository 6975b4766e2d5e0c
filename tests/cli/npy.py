# SPDX-License-Identifier: GPL-3.0-or-later
"""npy.py CSV NPY: holds a .npy file, as NumPy reads it, against a CSV file with the same columns and prints
what differs, then how many numbers and words were compared.

npy.py --figures RUNS RESULTS: holds the figures of a results.csv against those that NumPy makes of the
runs.csv beside it, likewise."""

import csv
import sys

import numpy


def rows_of(path):
    """The names of a CSV file, and its rows."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file))
    return rows[0], rows[1:]


def compare(csv_path, npy_path):
    """Prints where two tables differ; how many values were compared."""
    table = numpy.load(npy_path)
    names, rows = rows_of(csv_path)
    columns = [name for name in names if name in table.dtype.names]
    if csv_path.endswith("results.csv") and columns != list(table.dtype.names):
        print("the columns differ:", columns, table.dtype.names)
    if len(rows) != len(table):
        print(len(rows), "rows and", len(table))
    count = 0
    for name in columns:
        at = names.index(name)
        for row, value in zip(rows, table[name]):
            count += 1
            if isinstance(value, str):
                same = row[at] == value
            elif row[at] == "":
                same = bool(numpy.isnan(value))
            else:
                same = float(row[at]) == value
            if not same:
                print(name, row[at], value)
    return count


FIGURES = {
    ".mean": numpy.mean,
    ".se": lambda y: numpy.std(y, ddof=1) / numpy.sqrt(len(y)),
    ".p5": lambda y: numpy.percentile(y, 5),  # NumPy's default is type 7 too
    ".p95": lambda y: numpy.percentile(y, 95),
}


def figures(runs_path, results_path):
    """Prints which figures of a point are not those of its runs; how many were compared."""
    names, runs = rows_of(runs_path)
    result_names, results = rows_of(results_path)
    count = 0
    for point, row in enumerate(results, 1):
        own = [run for run in runs if run[names.index("point")] == str(point)]
        for at, name in enumerate(result_names):
            for end, figure in FIGURES.items():
                if not name.endswith(end):
                    continue
                y = [float(run[names.index(name[: -len(end)])]) for run in own]
                count += 1
                # The sums are in another order: 1e-12 of the size is thousands of roundings.
                if abs(figure(y) - float(row[at])) > 1e-12 * max(1, max(map(abs, y))):
                    print(point, name, row[at], figure(y))
    return count


if sys.argv[1] == "--figures":
    print(figures(*sys.argv[2:]))
else:
    print(compare(*sys.argv[1:]))
