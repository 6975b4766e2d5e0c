# SPDX-License-Identifier: GPL-3.0-or-later
"""Fixtures, and a TAP line for each test in the file that TIPCREST_TAP names."""

import os
import pathlib
import signal

import numpy as np
import pytest

import tipcrest

SOURCE = pathlib.Path(os.environ["TIPCREST_SOURCE"])
HEAD = SOURCE / "examples" / "practice-head"

# Who runs the tests in the background hands down an ignored SIGINT; a program at a terminal has this.
signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_runtest_logreport(report):
    if "TIPCREST_TAP" not in os.environ:
        return
    if report.when != "call" and not report.failed and not report.skipped:
        return
    claim = report.nodeid.split("/")[-1].replace("#", " ")
    # The file begins with the number of the lines before this test's.
    with open(os.environ["TIPCREST_TAP"], "a", encoding="utf-8") as file:
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else ""
        file.write(f"{'not ok' if report.failed else 'ok'} - {claim}"
                   f"{' # SKIP ' + reason if report.skipped else ''}\n")


@pytest.fixture(scope="session")
def head():
    """The practice head with the 12/11/10 rule."""
    return tipcrest.Set.read(HEAD / "layered.yaml")


@pytest.fixture(scope="session")
def client():
    """A client's two eyes."""
    return tipcrest.Set.read(SOURCE / "examples" / "client" / "client.yaml")


MAP = [{"to": 0.5, "length_mm": 10, "curl": "C"}, {"to": 1, "length_mm": 12, "curl": "D"}]


@pytest.fixture
def columns():
    """Sixty lashes in three layers, as columns."""
    return {"u": np.linspace(0.1, 0.9, 60), "layer": np.arange(60) % 3,
            "length_mm": np.linspace(6.5, 8.5, 60), "pitch_deg": np.linspace(-14, -6, 60)}


@pytest.fixture
def eye(columns):
    return tipcrest.Eye("left", columns, MAP)
