# SPDX-License-Identifier: GPL-3.0-or-later
"""npy.py CSV NPY: holds a .npy file, as NumPy reads it, against a CSV file with the same columns and prints
what differs, then how many numbers and words were compared."""

import csv
import sys

import numpy

table = numpy.load(sys.argv[2])
with open(sys.argv[1], newline="", encoding="utf-8") as file:
    rows = list(csv.reader(file))
names, rows = rows[0], rows[1:]
columns = [name for name in names if name in table.dtype.names]
if sys.argv[1].endswith("results.csv") and columns != list(table.dtype.names):
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
print(count)
