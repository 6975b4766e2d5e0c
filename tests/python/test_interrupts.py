# SPDX-License-Identifier: GPL-3.0-or-later
"""Ctrl-C while the library computes what cannot be stopped, and while it calls back."""

import _thread
import ctypes
import gc
import signal

import numpy as np
import pytest

import tipcrest
from tipcrest import _calls, _owner, check, picture, plan, sets, study, why

from conftest import HEAD, MAP


class Interrupting:
    """Stands for the library, or for cffi: Ctrl-C comes during a call of one function, so Python
    raises KeyboardInterrupt as soon as that has returned."""

    def __init__(self, real, name):
        self.real, self.name, self.calls = real, name, 0

    def __getattr__(self, name):
        function = getattr(self.real, name)
        if name != self.name:
            return function

        def interrupted(*arguments):
            self.calls += 1
            result = function(*arguments)
            _thread.interrupt_main(signal.SIGINT)
            return result
        return interrupted


class MallInfo(ctypes.Structure):
    """struct mallinfo2 of the GNU C library, mallinfo(3)."""

    _fields_ = [(name, ctypes.c_size_t) for name in (
        "arena", "ordblks", "smblks", "hblks", "hblkhd", "usmblks", "fsmblks", "uordblks", "fordblks",
        "keepcost")]


def taken():
    """Bytes that malloc has handed out; 0 where nobody says."""
    mallinfo2 = getattr(ctypes.CDLL(None), "mallinfo2", None)
    if mallinfo2 is None:
        return 0
    mallinfo2.restype = MallInfo
    info = mallinfo2()
    return info.uordblks + info.hblkhd


def of_columns(n=3000):
    lashes = {"u": np.linspace(0.05, 0.95, n), "layer": np.arange(n) % 3}
    return tipcrest.Set([tipcrest.Eye("left", lashes, MAP)], tray="any")


@pytest.fixture(scope="module")
def large():
    """Many lashes, so that what is made of them takes more than what Python does by the way."""
    return of_columns()


CALLS = {
    "check": (check, "tcr_check_new", lambda set: set.check()),
    "check of a file": (check, "tcr_set_file_check",
                        lambda set: tipcrest.Set.read(HEAD / "layered.yaml").check()),
    "why": (why, "tcr_why_of", lambda set: set.check().why()),
    "a column": (check, "tcr_check_column", lambda set: set.check().left["mass_ratio"]),
    "changed": (study, "tcr_study_set", lambda set: set.changed({"layering.step_mm": 0})),
    "trial": (study, "tcr_trial_new", lambda set: tipcrest.Study(set, {"curl": ["C"]}).trial()),
    "lashes": (sets, "tcr_set_copy", lambda set: of_columns()),
    "apply": (plan, "tcr_plan_apply", lambda set: set.plan(corrections=0).apply()),
}


@pytest.mark.parametrize("name", CALLS)
def test_ctrl_c_comes_out_after_the_call_and_loses_nothing(name, large, head, monkeypatch):
    module, function, call = CALLS[name]
    of = head if name in ("apply", "why") else large
    call(of)  # with what is kept for good
    gc.collect()
    held, before = _owner.count(), taken()
    made = call(of)
    size = taken() - before
    del made
    with monkeypatch.context() as patch:
        library = Interrupting(module.lib, function)
        patch.setattr(module, "lib", library)
        for _ in range(3):
            with pytest.raises(KeyboardInterrupt):
                call(of)
        assert library.calls == 3
    gc.collect()
    assert _owner.count() == held
    # Three times as much would be lost.
    assert taken() - before < max(size, 1)
    assert call(of) is not None


WRITERS = {
    "picture": lambda head: head.check().picture("front", width_mm=60, dpi=60),
    "svg": lambda head: head.check().picture("side", "svg", width_mm=60),
    "film": lambda head: head.check().film(frames=2, width_mm=30, dpi=30),
    "table": lambda head: head.check().report(),
    "plan": lambda head: head.plan(corrections=0).report("csv"),
    "survey": lambda head: tipcrest.Set.parse(
        (HEAD / "layered.yaml").read_text(),
        surveys={"survey.csv": (HEAD / "survey.csv").read_bytes()}),
}


@pytest.mark.parametrize("name", WRITERS)
def test_ctrl_c_in_a_callback_is_no_error_of_a_file(name, head, monkeypatch, capfd):
    # The library takes it for a failed write or a missing survey, and stops.
    call = WRITERS[name]
    call(head)
    with monkeypatch.context() as patch:
        patch.setattr(_calls, "ffi", Interrupting(_calls.ffi, "from_handle"))
        with pytest.raises(KeyboardInterrupt):
            call(head)
    assert capfd.readouterr().err == ""
    assert call(head) is not None


def test_ctrl_c_while_a_file_is_written_leaves_none(head, tmp_path, monkeypatch):
    shown = head.check().picture(width_mm=40, dpi=40)
    for function in ("tcr_outputs_new", "tcr_outputs_add", "tcr_outputs_write"):
        with monkeypatch.context() as patch:
            patch.setattr(picture, "lib", Interrupting(picture.lib, function))
            with pytest.raises(KeyboardInterrupt):
                shown.save(tmp_path / "a.png")
        assert list(tmp_path.iterdir()) == []
    shown.save(tmp_path / "a.png")
    assert (tmp_path / "a.png").read_bytes() == shown.data
