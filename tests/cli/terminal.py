# SPDX-License-Identifier: GPL-3.0-or-later
"""What a command shows on a terminal of its own, for scripts that answer it or interrupt it."""

import os

PATIENCE_BYTES = 1 << 16  # of a terminal on which what is waited for is not shown


def pieces(terminal):
    """Each piece as it is shown, until the last who writes there has ended."""
    shown = 0
    while shown < PATIENCE_BYTES:
        try:
            piece = os.read(terminal, 4096)
        except OSError:
            return
        if not piece:
            return
        shown += len(piece)
        yield piece
