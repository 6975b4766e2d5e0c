# SPDX-License-Identifier: GPL-3.0-or-later
"""interrupt.py SIGNAL COMMAND...: runs it with standard error on a terminal, waits until it shows there
how long it takes, sends it the signal, INT as Ctrl-C does, and prints its exit status and what the terminal
showed, numbers left out. Standard output is the command's own."""

import os
import pty
import re
import signal
import subprocess
import sys

from terminal import pieces

terminal, line = pty.openpty()
# What starts this script may have the signal ignored; the command would leave it so.
number = getattr(signal, "SIG" + sys.argv[1])
run = subprocess.Popen(sys.argv[2:], stdin=subprocess.DEVNULL, stderr=line,
                       preexec_fn=lambda: signal.signal(number, signal.SIG_DFL))
os.close(line)
shown, sent = b"", False
for piece in pieces(terminal):
    shown += piece
    if not sent and b"; Ctrl-C " in shown:
        run.send_signal(number)
        sent = True
words = " ".join(re.sub(r"[0-9]+", "N", shown.decode().replace("\r", "\n")).split("\n")[:2]).strip()
print(f"exit status {run.wait()}; terminal: {words}", file=sys.stderr)
