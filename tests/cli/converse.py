# SPDX-License-Identifier: GPL-3.0-or-later
"""converse.py COMMAND... <ANSWERS: runs the command on a terminal of its own and answers each question
with the next line of ANSWERS; \\x03 is Ctrl-C, \\x04 the end of input. Prints what the terminal
showed, without an echo of the answers, and the exit status."""

import os
import pty
import signal
import subprocess
import sys
import termios

from terminal import pieces

answers = sys.stdin.read().splitlines()
terminal, line = pty.openpty()
modes = termios.tcgetattr(line)
modes[3] &= ~termios.ECHO
termios.tcsetattr(line, termios.TCSANOW, modes)


def own_terminal():
    """Ctrl-C reaches whom the terminal controls."""
    signal.signal(signal.SIGINT, signal.default_int_handler)
    os.setsid()
    import fcntl
    fcntl.ioctl(line, termios.TIOCSCTTY, 0)


run = subprocess.Popen(sys.argv[1:], stdin=line, stdout=line, stderr=line, preexec_fn=own_terminal)
os.close(line)
shown, new = b"", b""
for piece in pieces(terminal):
    shown += piece
    new += piece
    if new.endswith(b"]: "):
        answer = (answers.pop(0) if answers else "\\x04").replace("\\x03", "\x03").replace("\\x04", "\x04")
        os.write(terminal, answer.encode() + (b"" if answer.endswith(("\x03", "\x04")) else b"\n"))
        shown += b"\n"
        new = b""
print(shown.decode().replace("\r", ""), end="")
print(f"exit status {run.wait()}, {len(answers)} answers left")
