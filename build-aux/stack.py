#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""stack.py [--table]: the stack that each public call may take, held against what the headers say.

Compiles the libraries by gcc -O2 -fcallgraph-info=su and adds up the frames along the deepest way from
each function that a header marks TCR_API. A call by a pointer may reach every function of the same
floor that nobody calls by name; callbacks of the caller's and other libraries are left out. A call
that takes more than 16 kB needs "Stack: below N kB" in its own comment, or at the top of its header
for all of them, and N must hold. Prints what does not, and exits 1. --table prints all above 8 kB.
"""

import concurrent.futures
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
FREE_BYTES = 16 * 1024  # that need no word
CORE = ("num", "geom", "model", "line", "rod", "plan")
MODULES = ["pangocairo", "libpng", "yaml-0.1", "gsl"]
# They call what the caller gives: an allocator, a sink, progress.
FOREIGN = {"tcr_resize", "tcr_release", "tcr_grow", "tcr_writer_end"}


def compile_all(folder):
    """The call graph of every source, from gcc."""
    flags = subprocess.run(["pkg-config", "--cflags", *MODULES], capture_output=True, text=True,
                           check=True).stdout.split()
    (folder / "config.h").write_text("", encoding="utf-8")

    def graph(source):
        name = f"{source.parent.name}-{source.stem}"
        subprocess.run(["gcc", "-O2", "-std=c11", "-ffp-contract=off", "-D_XOPEN_SOURCE=700",
                        "-D_POSIX_C_SOURCE=200809L", "-D_DEFAULT_SOURCE", f"-I{ROOT}/include", f"-I{ROOT}/lib",
                        f"-I{folder}", *flags, "-fcallgraph-info=su", "-c", source, "-o", folder / f"{name}.o"],
                       check=True)
        return source, (folder / f"{name}.ci").read_text(encoding="utf-8")

    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as workers:
        yield from workers.map(graph, sorted((ROOT / "lib").glob("*/*.c")))


def graph_of(folder):
    """Function -> its frame in bytes, its floor, and whom it calls."""
    frame, floor, calls = {}, {}, {}
    for source, text in compile_all(folder):
        for title, label in re.findall(r'node: \{ title: "([^"]+)" label: "([^"]*)"', text):
            size = re.search(r"(\d+) bytes", label)
            if size:
                frame[title] = int(size[1]) + 8  # the return address
                floor[title] = source.parent.name
        for caller, called in re.findall(r'sourcename: "([^"]+)" targetname: "([^"]+)"', text):
            calls.setdefault(caller, set()).add(called)
    return frame, floor, calls


def by_pointer(frame, floor, calls, public):
    """Adds the calls by a pointer: to what no one calls by name."""
    named = {called for callees in calls.values() for called in callees}
    unnamed = [f for f in frame if f not in named and f not in public]
    for caller, callees in calls.items():
        if "__indirect_call" not in callees or caller in FOREIGN or caller not in floor:
            continue
        home = CORE if floor[caller] in CORE else (floor[caller],)
        callees.update(f for f in unnamed if floor[f] in home)


def deepest(name, frame, calls, known, way=()):
    """Bytes along the deepest way from a function; a function on its own way counts once."""
    if name in known:
        return known[name]
    below = max((deepest(c, frame, calls, known, (*way, name)) for c in calls.get(name, ())
                 if c not in way and c != name), default=0)
    known[name] = frame.get(name, 0) + below
    return known[name]


def promises():
    """Public function -> (header, the bytes that its comment or its header allows, or None)."""
    found = {}
    for header in sorted((ROOT / "include/tipcrest").glob("*.h")):
        text = header.read_text(encoding="utf-8")
        top = re.search(r"Stack: below (\d+) kB", text[:text.find("TCR_API")])
        last = 0
        for call in re.finditer(r"\bTCR_API\s[^;{}]*?\b(tcr_\w+)\(", text):
            own = re.findall(r"Stack: below (\d+)\s+(?:\* )?kB", text[last:call.start()]) if last else []
            said = own[-1] if own else top[1] if top else None
            found[call[1]] = (header.name, int(said) * 1024 if said else None)
            last = call.end()
    return found


def main():
    with tempfile.TemporaryDirectory() as folder:
        frame, floor, calls = graph_of(pathlib.Path(folder))
    said, known, broken = promises(), {}, 0
    by_pointer(frame, floor, calls, said)
    sys.setrecursionlimit(10000)
    for name, (header, allowed) in sorted(said.items()):
        needs = deepest(name, frame, calls, known)
        if "--table" in sys.argv and needs > FREE_BYTES // 2:
            print(f"{needs:7} bytes  {name} ({header})")
        if needs > (allowed or FREE_BYTES):
            broken += 1
            print(f"{name} ({header}) may take {needs} bytes of stack; "
                  f"{'its comment says ' + str(allowed) if allowed else 'no comment says so'}")
    return 1 if broken else 0


sys.exit(main())
