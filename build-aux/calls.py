#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""calls.py [--table]: the public functions that no test or no fuzz target calls, a line each.

The functions are those that a header marks TCR_API. Each needs a call in a test. One that takes a
number, an array, a text or a struct of the caller's also needs a call in a fuzz target, unless
build-aux/calls.txt gives the reason why none calls it. A call by an inline function of a header, such
as tcr_X_default, counts for what it calls. --table prints all of them with the files that call.
"""

import pathlib
import re
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
# Objects that only calls of the library make; a pointer to one says nothing that could be fuzzed.
OBJECTS = ["tcr_set", "tcr_check", "tcr_plan", "tcr_set_file", "tcr_outputs", "tcr_error",
           "tcr_allocator", "cairo_t"]


def read(path):
    """The text of a C file without comments and strings."""
    text = path.read_text(encoding="utf-8")
    text = re.sub(r"/\*.*?\*/", " ", text, flags=re.S)
    return re.sub(r'"(\\.|[^"\\\n])*"', '""', text)


def functions(headers):
    """Name -> (header, parameters) of all that is marked, and name -> names that an inline calls."""
    marked, inline = {}, {}
    for header in headers:
        text = read(header)
        for name, arguments in re.findall(r"\bTCR_API\s[^;{}]*?\b(tcr_\w+)\(([^;]*?)\);", text):
            marked[name] = (header.name, arguments)
        for name, body in re.findall(r"static inline \w+ (tcr_\w+)\([^)]*\) {(.*?)\n}", text, re.S):
            inline[name] = re.findall(r"\b(tcr_\w+)\(", body)
    return marked, inline


def takes_input(parameters):
    """Whether a caller's number, text, array or struct is among the parameters."""
    for parameter in parameters.split(","):
        words = parameter.replace("*", " * ").replace("[", " [ ").split()
        kind = [word for word in words if word not in ("const", "struct", "*", "void")]
        pointer = "*" in words or "[" in words
        if not kind or (kind[0] in OBJECTS and pointer) or kind[0] in ("tcr_sink", "tcr_survey_note"):
            continue
        if pointer and "const" not in words and kind[0] != "tcr_begin_options":
            continue  # an output, or the context of a sink
        if "context" in parameter:
            continue
        return True
    return False


def callers(files, names, inline):
    """Name -> the files that call it."""
    found = {name: [] for name in names}
    for path in files:
        called = set(re.findall(r"\b(tcr_\w+)\b", read(path)))
        for name in list(called):
            called.update(inline.get(name, []))
        for name in called & set(names):
            found[name].append(path.relative_to(ROOT / "tests").as_posix())
    return found


def exceptions():
    """Pattern -> reason, from build-aux/calls.txt."""
    given = {}
    for line in (ROOT / "build-aux/calls.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            pattern, reason = line.split(None, 1)
            given[pattern] = reason
    return given


def main():
    marked, inline = functions(sorted((ROOT / "include/tipcrest").glob("*.h")))
    sources = sorted((ROOT / "tests").rglob("*.c"))
    lines = re.findall(r"^tests_fuzz_\w+_SOURCES = .*(?:\\\n.*)*", (ROOT / "Makefile.am").read_text(),
                       re.M)
    fuzz = [path for path in sources if path.parent.name == "fuzz" or
            f"{path.relative_to(ROOT)}" in " ".join(lines).split()]
    tested = callers([path for path in sources if path.parent.name != "fuzz"], marked, inline)
    fuzzed = callers(fuzz, marked, inline)
    allowed, used, problems = exceptions(), set(), []
    for name, (header, parameters) in sorted(marked.items()):
        reason = next((p for p in allowed if re.fullmatch(p.replace("*", ".*"), name)), None)
        needs = takes_input(parameters)
        if "--table" in sys.argv:
            print(f"{header:14} {name:34} {', '.join(tested[name][:3]) or 'NO TEST':60} "
                  f"{', '.join(fuzzed[name][:2]) or (allowed.get(reason) if needs else 'no input')}")
        if not tested[name]:
            problems.append(f"{name} ({header}): no test calls it")
        if needs and not fuzzed[name] and reason is None:
            problems.append(f"{name} ({header}): no fuzz target calls it")
        if needs and not fuzzed[name] and reason is not None:
            used.add(reason)
    for pattern in allowed.keys() - used:
        problems.append(f"calls.txt: {pattern} excuses nothing")
    for problem in problems:
        print(problem)
    return 1 if problems else 0


sys.exit(main())
