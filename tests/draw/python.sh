#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck disable=SC2154 # python comes from find_python
# python.sh TEST.py: runs a test of pictures with a Python that has what it needs, and with poppler's
# tools, which read PDFs. Where they lack the test is skipped.

: "${TIPCREST_SOURCE:=${srcdir:-.}}"
. "$TIPCREST_SOURCE/tests/tap.sh"
. "$TIPCREST_SOURCE/tests/cli/python.sh"
if ! command -v pdftotext >/dev/null; then
    skip "$1" 'there is no pdftotext'
    finish
fi
lacking=$(no_pictures)
if [ -n "$lacking" ]; then
    skip "$1" "$lacking"
    finish
fi
find_python numpy yaml
export PYTHONDONTWRITEBYTECODE=1
trap - EXIT
exec "$python" "$1"
