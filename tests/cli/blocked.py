# SPDX-License-Identifier: GPL-3.0-or-later
"""blocked.py SIGNAL HOW PIPE COMMAND...: runs a command that has a temporary file in this folder and
then waits for a reader of PIPE, and sends it SIGNAL there. HOW is 'ends', or 'ignored' where the
command is started with the signal ignored; PIPE is then read. Prints what became of it, and what is
in the folder."""

import glob
import os
import resource
import signal
import subprocess
import sys
import time

number = getattr(signal, "SIG" + sys.argv[1])
ignored, pipe, command = sys.argv[2] == "ignored", sys.argv[3], sys.argv[4:]


def prepare():
    signal.signal(number, signal.SIG_IGN if ignored else signal.SIG_DFL)
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


run = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                       preexec_fn=prepare)
while not glob.glob(f".tipcrest-{run.pid}-*.tmp") and run.poll() is None:
    time.sleep(0.01)
run.send_signal(number)
if ignored:
    # Without blocking, so that a command that has ended all the same leaves nobody waiting.
    stream = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    while run.poll() is None:
        try:
            if not os.read(stream, 65536):
                time.sleep(0.01)
        except BlockingIOError:
            time.sleep(0.01)
status = run.wait()
became = f"ended by {signal.Signals(-status).name}" if status < 0 else f"exit status {status}"
print(became + ":", *sorted(os.listdir(".")))
