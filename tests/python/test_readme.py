# SPDX-License-Identifier: GPL-3.0-or-later
"""What the README of the package shows, and the script that repeats the project's README."""

import re
import subprocess
import sys

import tipcrest

from conftest import SOURCE

PACKAGE = SOURCE / "examples" / "python"


def run(code, folder, *arguments):
    done = subprocess.run([sys.executable, *code, *arguments], cwd=folder, stdout=subprocess.PIPE,
                          stderr=subprocess.PIPE, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_snippet_of_the_readme_runs_as_it_stands(tmp_path):
    text = (PACKAGE / "README.md").read_text(encoding="utf-8")
    snippet, printed = re.search(r"```python\n(.*?)```\n\nprints\n\n```\n(.*?)```", text, re.S).groups()
    lines = [line for line in snippet.splitlines() if line and not line.startswith("import")]
    assert len(lines) <= 10
    assert run(["-c", snippet], tmp_path) == printed
    assert (tmp_path / "front.png").read_bytes().startswith(b"\x89PNG")


def test_the_readme_names_what_there_is():
    text = (PACKAGE / "README.md").read_text(encoding="utf-8")
    for name in re.findall(r"`(?:tipcrest\.)?(Set|Eye|Lash|Study|check_sets|QUANTITIES)\b", text):
        assert hasattr(tipcrest, name)
    more = int(re.search(r"and (\d+) more columns", text).group(1))
    assert more == sum(q.of_lash for q in tipcrest.QUANTITIES.values()) - 1


def numbers(line):
    return re.findall(r"[-+−]?\d+\.\d+|\d+", line.replace("−", "-"))


def test_the_script_repeats_the_figures_of_the_projects_readme(tmp_path):
    out = run([PACKAGE / "twelve_eleven_ten.py"], tmp_path, SOURCE / "examples" / "practice-head",
              tmp_path)
    readme = (SOURCE / "README.md").read_text(encoding="utf-8")

    def row(label):
        (line,) = [line for line in readme.splitlines() if line.startswith(f"| {label}")]
        return numbers(line.split("|", 2)[2])

    def said(label):
        return [n for line in out.splitlines() if line.startswith(label)
                for n in numbers(line[len(label):])]
    assert said("rms, mm") == row("evenness, rms")
    assert said("within half a millimetre") == row("within half a millimetre")
    assert said("tips that stick out") == row("tips of 81 that stick out")
    for label in ("equal lengths", "12/11/10", "the best sizes"):
        assert said(label) == row(label)
    for view, label in [("open_front", "bottom, middle, top layer off the line, eye open"),
                        ("artist", "the same from the artist's seat")]:
        pairs = [said(f"{view}, {layer}, mm") for layer in ("bottom", "middle", "top")]
        assert [p[0] for p in pairs] + [p[1] for p in pairs] == row(label)
    (sentence,) = [line for line in out.splitlines() if line.startswith("The rule beats")]
    assert sentence.rstrip(".") in readme
    assert len(list(tmp_path.glob("*.png"))) == 4
