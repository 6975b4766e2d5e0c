#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# find-python.sh MODULE...: prints where a Python is, of 3.11 at least, that has these modules: of
# PYTHON in the environment, python3, and Debian's own, which alone has Debian's modules where another
# Python is found first. Where there is none, it says so on standard error and exits with 1.
#
# It prints the interpreter itself: a python3 that chooses among several is a script, which takes ten
# times as long to start.

modules=$(echo "$*" | sed 's/ /, /g')
for python in "${PYTHON-}" python3 /usr/bin/python3; do
    if [ -n "$python" ] &&
        "$python" -c "import sys, $modules; assert sys.version_info >= (3, 11); print(sys.executable)" 2>/dev/null; then
        exit 0
    fi
done
echo "there is no Python 3.11 with $modules" >&2
exit 1
