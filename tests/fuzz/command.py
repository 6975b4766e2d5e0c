#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""command.py COMMAND SECONDS [SEED]: the command with drawn arguments on drawn files.

COMMAND is tipcrest, best built with sanitizers. Each run takes a command, options of its help page
with right and wrong values, and files made of the examples by changes of some bytes. It claims that
the exit status is 0, 1 or 2, that a failure says why in one line or more that a terminal may be
given, that standard error has nothing of a sanitizer, that inputs stay as they are and that no
temporary file is left over. A run that breaks a claim is shown with its seed: give it as SEED, with 0
seconds, to see it again. Prints how the runs ended, and exits 1 if one broke a claim.
"""

import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent.parent
COMMANDS = ["begin", "check", "draw", "why", "step", "plan", "study"]
# A run this long hangs; a plan of a drawn set on a slow machine does not take so long.
HANGS_S = 600
NUMBERS = ["0", "1", "-1", "0.5", "12", "1e9", "-0", "nan", "inf", "1e-400", "1,5", "0x10", "",
           " 7", "99999999999999999999", "12mm"]
WORDS = ["fitted", "intended", "max", "point", "comma", "left", "right", "natural", "C", "front",
         "artist", "film", "lesson", "8-12", "8,9,10", "top", "\xe9", "\x1b[2J", "=1+1", "-", "--",
         "--full", "a" * 3000, "../up", "."]
FILES = ["out.json", "out.csv", "out.svg", "out.yaml", "reports", "no/such/out.json", "set.yaml",
         "survey.csv", "-", "/dev/null", "/dev/full", "out dir/"]
# What -o may be called.
NEEDED = {"begin": ["out.yaml"], "plan": ["out.yaml"], "draw": ["out.svg", "out.pdf", "out.png"],
          "study": ["results", "results", "."]}
# What a study varies.
VARIED = ["layering.step_mm=0:2:0.5", "curl=C,D", "longest_mm=9,10", "apart_mm=0.5,1", "opening=0.5,1",
          "placement.top=top,underside", "lid.mrd1_mm=2:5:1", "map.2.length_mm=9,11", "curl=Q",
          "layering.step_mm=0:1:0", "layering.step_mm=0:1e9:1e-9", "lid=3", "apart_mm", "=1", "step=1"]
# Counts of a study, so that none takes long.
COUNTED = {"--points": ["1", "5", "16"], "--runs": ["0", "2", "33"], "--scramblings": ["16", "17"],
           "--seed": ["0", "9"], "--part": ["1/2", "2/2", "3/2", "1"], "--threads": ["1", "3"]}
STUDY = b"""tipcrest-study: 1
set: client.yaml
vary:
  layering.step_mm: 0:2:1
  curl: [C, D]
runs: 2
outputs: [fitted.rms_mm]
"""


def right_values(value, text):
    """Values that the text of an option names: the ends of a range, words, or files."""
    span = re.search(r"\((-?[\d.]+) to (-?[\d.]+)", text)
    words = re.search(r"\(([a-z-]+(?:, [a-z-]+)* or [a-z-]+)", text)
    if span:
        low, high = float(span[1]), float(span[2])
        return [span[1], span[2], f"{low + 0.3 * (high - low):g}", f"{round((low + high) / 2)}"]
    if words:
        return re.split(", | or ", words[1])
    return ["out.json", "out.csv", "out.svg", "out.yaml"] if "FILE" in value else []


def options_of(tipcrest):
    """Command -> its options as (name, takes a value, right values), from the help pages."""
    found = {}
    for command in COMMANDS:
        page = subprocess.run([tipcrest, command, "--help"], capture_output=True, text=True,
                              check=True)
        parts = re.split(r"^  (--[a-z0-9-]+)((?: |\[?=)[A-Z]\w*)?", page.stdout, flags=re.M)[1:]
        found[command] = [(name, bool(value), right_values(value or "", text))
                          for name, value, text in zip(parts[0::3], parts[1::3], parts[2::3])]
        if len(found[command]) < 3:
            sys.exit(f"the help page of {command} has no options")
    return found


def changed(rng, text, kinds=5):
    """The bytes of a text with a few of them changed, left out or doubled; without kinds=3, words put in too."""
    data = bytearray(text)
    for _ in range(rng.choice([0] * 8 + [1, 1, 2, 8])):
        at = rng.randrange(len(data) + 1)
        length = rng.choice([1, 1, 3, 40])
        kind = rng.randrange(kinds)
        if kind == 0:
            data[at:at + length] = bytes(rng.randrange(256) for _ in range(length))
        elif kind == 1:
            del data[at:at + length]
        elif kind == 2:
            data[at:at] = data[at:at + length]
        elif kind == 3:
            data[at:at] = rng.choice(NUMBERS).encode()
        else:
            data[at:at] = rng.choice([b"\n", b"{", b": ", b"- ", b"#", b",", b"\"", b"\xff", b"\0"])
    return bytes(data)


def make_files(rng, folder):
    """Set files and a survey with few lashes, so that a plan takes no time."""
    survey = (ROOT / "examples/practice-head/survey.csv").read_bytes().splitlines(keepends=True)
    (folder / "survey.csv").write_bytes(changed(rng, b"".join(survey[:rng.choice([12, 30, 60])])))
    layered = (ROOT / "examples/practice-head/layered.yaml").read_bytes()
    (folder / "set.yaml").write_bytes(changed(rng, layered))
    client = (ROOT / "examples/client/client.yaml").read_bytes()
    client = re.sub(rb"count: \d+", b"count: %d" % rng.choice([1, 12, 30]), client)
    (folder / "client.yaml").write_bytes(changed(rng, client))
    (folder / "study.yaml").write_bytes(changed(rng, STUDY, kinds=3))


def arguments(rng, options):
    """A call; mostly one that could be meant."""
    command = rng.choice(COMMANDS)
    words = [] if rng.random() < 0.02 else [command]
    for _ in range(rng.choice([1] * 12 + [0, 2]) if command != "begin" else 0):
        words.append(rng.choice(["set.yaml", "client.yaml"] * 6 + ["survey.csv", "none.yaml", "."] +
                                ["study.yaml"] * (6 if command == "study" else 1)))
    if command == "study" and words[1:2] != ["study.yaml"]:
        for _ in range(rng.choice([0, 1, 1, 1, 2])):
            words += ["--vary", rng.choice(VARIED)]
    if command in ("begin", "draw", "plan", "study") and rng.random() < 0.9:
        words += ["-o", rng.choice(NEEDED[command] if rng.random() < 0.9 else FILES)]
    if command == "draw" and rng.random() < 0.9:
        words += ["--view", rng.choice(["front", "artist", "side", "deviations", "why", "film"])]
    known = options[rng.choice(COMMANDS) if rng.random() < 0.03 else command]
    for name, takes, right in rng.sample(known, rng.choice([0, 1, 1, 2, 2, 4])):
        value = rng.choice(rng.choice([NUMBERS, WORDS, FILES]))
        if right and rng.random() < 0.9:
            value = rng.choice(right)
        if command == "study" and name in COUNTED:
            value = rng.choice(COUNTED[name])
        if rng.random() < 0.03:
            name = name[:rng.randrange(1, len(name) + 1)]
        if takes or rng.random() < 0.03:
            words += rng.choice([[f"{name}={value}"], [name, value]])
        else:
            words.append(name)
    if command == "plan" and rng.random() < 0.9:
        words.append("--samples=0")  # the default of hundreds of samples takes long
    return words


def contents(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes()
            for path in folder.rglob("*") if path.is_file()}


def problem_of(run, before, after, words):
    """What is wrong with a run; None if nothing."""
    errors = run.stderr.decode("utf-8", "replace")
    if run.returncode not in (0, 1, 2):
        return f"exit status {run.returncode}"
    if "Sanitizer" in errors or "runtime error" in errors:
        return "a sanitizer has something to say"
    if run.returncode != 0 and not errors.strip():
        return "a failure without a word"
    if any(ord(c) < 32 and c not in "\n\t\r" or 127 <= ord(c) < 160 for c in errors):
        return "standard error has control characters"
    left = [name for name in after.keys() - before.keys() if ".tipcrest-" in name or "tmp" in name]
    if left:
        return f"left over: {left}"
    spoilt = [name for name in ("survey.csv", "client.yaml", "set.yaml", "study.yaml")
              if after.get(name) != before[name] and name not in " ".join(words[2:])]
    return f"changed: {spoilt}" if spoilt else None


def one(tipcrest, options, seed):
    """Runs one call; its exit status, and what is wrong with it or None."""
    rng = random.Random(seed)
    folder = pathlib.Path(tempfile.mkdtemp(prefix="command-"))
    try:
        make_files(rng, folder)
        words = arguments(rng, options)
        before = contents(folder)
        run = subprocess.run([tipcrest, *words], cwd=folder, stdin=subprocess.DEVNULL,
                             capture_output=True, timeout=HANGS_S, check=False)
        problem = problem_of(run, before, contents(folder), words)
        if problem:
            said = run.stderr.decode("utf-8", "replace")[-3000:]
            problem = f"seed {seed}: {words}: {problem}\n{said}"
        return run.returncode, problem
    except subprocess.TimeoutExpired:
        return None, f"seed {seed}: {words}: hangs"
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def main(tipcrest, seconds, first=None):
    options = options_of(tipcrest)
    begin, broken, ended = time.monotonic(), 0, []
    seed = int(first) if first is not None else 1
    while not ended or time.monotonic() - begin < float(seconds):
        status, problem = one(tipcrest, options, seed)
        ended.append(status)
        seed += 1
        if problem:
            broken += 1
            print(problem)
    print(f"{len(ended)} calls of the command: {ended.count(0)} done, {ended.count(1)} failed, "
          f"{ended.count(2)} refused; {broken} broke a claim")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(str(pathlib.Path(sys.argv[1]).resolve()), *sys.argv[2:]))
