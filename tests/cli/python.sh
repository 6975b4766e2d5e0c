# SPDX-License-Identifier: GPL-3.0-or-later
# shellcheck shell=sh
# For tests that need Python: source it, then call find_python with the modules that it must have. It
# sets python; where there is none it ends the script, as skipped.

find_python() {
    if ! python=$(sh "$TIPCREST_SOURCE/build-aux/find-python.sh" "$@" 2>&1); then
        skip "$0" "$python"
        finish
    fi
}

# has_terminal: whether a command can be given a terminal of its own here; python must be set.
has_terminal() { "$python" -c 'import os, pty; [os.close(end) for end in pty.openpty()]' 2>/dev/null; }
# shellcheck disable=SC2034 # for the scripts that source this
no_terminal='this machine gives no terminal' # for a skip
