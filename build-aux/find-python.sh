#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# find-python.sh MODULE...: prints the name of a Python, of 3.11 at least, that has these modules: of
# PYTHON in the environment, python3, and Debian's own, which alone has Debian's modules where another
# Python is found first. Where there is none, it says so on standard error and exits with 1.

modules=$(echo "$*" | sed 's/ /, /g')
for python in "${PYTHON-}" python3 /usr/bin/python3; do
    if [ -n "$python" ] &&
        "$python" -c "import sys, $modules; assert sys.version_info >= (3, 11)" >/dev/null 2>&1; then
        echo "$python"
        exit 0
    fi
done
echo "there is no Python 3.11 with $modules" >&2
exit 1
