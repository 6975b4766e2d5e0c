# SPDX-License-Identifier: GPL-3.0-or-later
"""Progress, Ctrl-C and pictures."""

import _thread
import os
import signal
import subprocess
import sys
import threading

import pytest

import tipcrest

BIG = {"design": "random", "points": 3_000_000, "outputs": ["fitted.rms_mm"]}
VARY = {"layering.step_mm": tipcrest.Uniform(0, 2)}


def test_progress_rises_and_names_the_work(head):
    said = []
    head.study(VARY, **{**BIG, "points": 30000},
               progress=lambda phase, share: said.append((phase, share)))
    shares = [share for _, share in said]
    assert {phase for phase, _ in said} == {"study"}
    assert shares == sorted(shares) and 0 <= shares[0] and shares[-1] <= 1


@pytest.mark.parametrize("call", ["study", "sets", "lesson", "film"])
def test_false_stops_the_work(head, call):
    calls = []

    def no(phase, share):
        calls.append(phase)
        return False
    with pytest.raises(tipcrest.Stopped):
        if call == "study":
            head.study(VARY, **BIG, progress=no)
        elif call == "sets":
            tipcrest.check_sets([head] * 300_000, threads=2, progress=no)
        elif call == "lesson":
            head.lesson([0.01 * i for i in range(160)] * 20, progress=no)
        else:
            head.check().film(frames=600, width_mm=60, progress=no)
    assert len(calls) == 1


def test_what_progress_raises_comes_through(head):
    class Mine(Exception):
        pass

    def fail(phase, share):
        raise Mine(phase)
    for call in (lambda: head.study(VARY, **BIG, progress=fail),
                 lambda: head.plan(samples=100000, progress=fail)):
        with pytest.raises(Mine):
            call()
    assert head.check().rms_mm > 0  # and nothing of it stays


def test_a_stopped_plan_is_the_best_so_far(client):
    count = []

    def later(phase, share):
        count.append(phase)
        return "zones" not in phase and "samples" not in phase
    try:
        plan = client.plan(samples=20000, lengths_most=3, progress=later)
        assert plan.stopped and plan.cells.rows > 0 and not plan.proved
    except tipcrest.Stopped:
        pass  # before there was a choice: plan.h
    assert count


def test_a_call_within_progress(head):
    seen = []

    def inner(phase, share):
        seen.append(head.study(VARY, **{**BIG, "points": 3000},
                               progress=lambda p, s: True).points)
        return len(seen) < 2
    with pytest.raises(tipcrest.Stopped):
        head.study(VARY, **BIG, progress=inner)
    assert seen == [3000, 3000]


def test_ctrl_c_stops_a_study(head):
    # The signal handler runs in the main thread, when the library next reports there.
    started = threading.Event()

    def interrupt():
        started.wait()
        _thread.interrupt_main(signal.SIGINT)
    thread = threading.Thread(target=interrupt)
    thread.start()
    with pytest.raises(KeyboardInterrupt):
        started.set()
        head.study(VARY, **{**BIG, "points": 200_000_000 // 16}, threads=2)
    thread.join()
    assert head.check().rms_mm > 0


def test_ctrl_c_at_a_program_ends_it_with_the_usual_words():
    program = ("import tipcrest, os, signal, threading\n"
               "s = tipcrest.Set.read(os.environ['TIPCREST_SOURCE'] + "
               "'/examples/practice-head/layered.yaml')\n"
               "print('begun', flush=True)\n"
               "s.study({'layering.step_mm': tipcrest.Uniform(0, 2)}, design='random',"
               " points=12000000, outputs=['fitted.rms_mm'])\n"
               "print('done')\n")
    child = subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE,
                             stderr=subprocess.PIPE, text=True)
    assert child.stdout.readline() == "begun\n"
    child.send_signal(signal.SIGINT)
    out, err = child.communicate()
    assert "done" not in out and err.endswith("KeyboardInterrupt\n")
    assert child.returncode == -signal.SIGINT


def test_pictures_show_themselves(head, client):
    png = b"\x89PNG\r\n\x1a\n"  # the PNG specification, 5.2
    small = {"width_mm": 40, "dpi": 40}
    check = head.check()
    picture = check.picture("front", **small)
    assert picture._repr_png_() == picture.data and picture.data.startswith(png)
    assert picture._repr_svg_() is None
    svg = check.picture("side", "svg", at_u=0.4, apart_mm=1.0, **small)
    assert svg._repr_svg_().lstrip().startswith("<?xml") and svg._repr_png_() is None
    assert check.picture("why", "pdf", **small).data.startswith(b"%PDF-")
    for thing in (check, check.why(), head.step()):
        assert thing._repr_png_().startswith(png)
    other = head.changed({"layering.step_mm": 0}).check()
    assert check.picture("compare", with_check=other, name="a", with_name="b",
                         **small).data.startswith(png)
    one = client.check().picture("front", side="left", dark=True, lines=False, **small)
    assert one.data != client.check().picture("front", dark=True, lines=False, **small).data
    assert head.step().picture("svg", width_mm=60)._repr_svg_()
    assert check.film(frames=2, width_mm=30, dpi=30).startswith(b"GIF89a")
    sheet = client.plan(corrections=0).work().sheet("zones")
    assert sheet.data.startswith(b"%PDF-") and repr(sheet).startswith("<Picture work sheet: pdf, ")


def test_pictures_are_those_of_the_command(head, tmp_path):
    # The same check, options and fonts give the same bytes: draw.h.
    command = os.environ.get("TIPCREST")
    if command is None:
        pytest.skip("TIPCREST names no command")
    from conftest import HEAD
    drawn = tmp_path / "front.png"
    subprocess.run([command, "draw", str(HEAD / "layered.yaml"), "--view", "front", "-o", str(drawn),
                    "--width", "60", "--dpi", "60"], check=True)
    assert drawn.read_bytes() == head.check().picture("front", width_mm=60, dpi=60).data


def test_versions_agree():
    from tipcrest._core import ffi, lib
    assert tipcrest.__version__ == ffi.string(lib.TCR_VERSION).decode()
    from importlib import metadata
    try:
        assert metadata.version("tipcrest") == tipcrest.__version__
    except metadata.PackageNotFoundError:
        pytest.skip("the package is used from where it was built")
