#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What `make bench` does: every bench, the same work in NumPy, commands as they are typed, and a table
# of figures and goals at the end. No test: it fails where a result is wrong, never where it is slow.
#
#     sh bench/run.sh SOURCES PROGRAM...      # in a build folder; PROGRAM as bench/tips
#
# A peer that is missing is named and left out. PYTHON names a Python that has NumPy. Rows for
# programs stay in bench/figures/.

set -u
sources=$1
shift
figures=bench/figures
mkdir -p "$figures" && rm -f "$figures"/*.csv || exit 1

for program; do
    echo "$program"
    "./$program" --csv "$figures/$(basename "$program").csv" || exit 1
done

python=
for with in "${PYTHON:-python3}" /usr/bin/python3; do
    if [ -z "$python" ] && "$with" -c 'import numpy' 2>/dev/null; then python=$with; fi
done
library=.libs/libtipcrest.so
if [ -z "$python" ]; then
    echo 'NumPy was left out: no Python that has it (PYTHON=...)'
elif [ ! -f "$library" ]; then
    echo "NumPy was left out: no $library (built with --disable-shared?)"
else
    echo 'bench/peer.py'
    # One thread, as the benches above have it.
    OPENBLAS_NUM_THREADS=1 "$python" "$sources/bench/peer.py" "$library" "$figures/numpy.csv" || exit 1
    OPENBLAS_NUM_THREADS=1 NPY_DISABLE_CPU_FEATURES="AVX512F AVX512CD AVX512_SKX AVX512_CLX AVX512_CNL AVX512_ICL" \
        "$python" -W ignore "$sources/bench/peer.py" "$library" "$figures/numpy-avx2.csv" 'without AVX-512' || exit 1
fi

if "${PYTHON:-python3}" -c '' 2>/dev/null; then
    "${PYTHON:-python3}" "$sources/bench/table.py" "$sources" "$figures"
else
    echo 'Commands and the table were left out: no Python'
fi
