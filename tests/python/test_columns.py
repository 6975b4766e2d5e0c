# SPDX-License-Identifier: GPL-3.0-or-later
"""Columns are read-only arrays over the library's own memory."""

import numpy as np
import pytest

import tipcrest
from tipcrest import QUANTITIES
from tipcrest._core import ffi, lib


def address(array):
    return array.__array_interface__["data"][0]


def test_a_column_of_a_check_is_the_memory_of_the_result(head):
    check = head.check()
    eye = check.left
    result = lib.tcr_check_eye(check._c, lib.TCR_LEFT)
    size = ffi.sizeof("tcr_lash_result")
    for name, member in [("deviation_mm", ("deviation_mm",)), ("tip_x_mm", ("tip", "x")),
                         ("seen_y_mm", ("seen", "y")), ("staggered", ("staggered",))]:
        at = ffi.addressof(result.lash[0], *member)
        assert address(eye[name]) == int(ffi.cast("uintptr_t", at))
        assert eye[name].strides == (size,)
        assert eye[name].base is not None and not eye[name].flags.owndata


def test_every_column_has_the_numbers_of_the_library(head):
    check = head.check()
    eye = check.left
    for name, quantity in QUANTITIES.items():
        if not quantity.of_lash:
            continue
        values = ffi.new("double[]", eye.lashes)
        assert lib.tcr_check_column(check._c, 0, quantity._c, values, eye.lashes) == 0
        np.testing.assert_array_equal(np.asarray(eye[name], float), list(values), name)


def test_every_figure_has_the_number_of_the_library(client):
    check = client.check()
    for eye in check.eyes:
        for name, quantity in QUANTITIES.items():
            if not quantity.of_lash:
                value = ffi.new("double *")
                assert lib.tcr_check_column(check._c, eye._side, quantity._c, value, 1) == 0
                np.testing.assert_equal(eye.figure(name), value[0])
        assert eye.rms_mm == eye.fitted.rms_mm == eye.figure("fitted.rms_mm")


def all_arrays(head, client):
    """An array of each object that has columns."""
    eye = head.check().left
    yield from (eye[name] for name in eye)
    yield from (head.left[name] for name in head.left)
    why, step, lesson = head.why(), head.step(), head.lesson([0.5, 1.0])
    for table in (why, step, lesson):
        yield from table.values()
    yield from (step.bottom_length_mm, lesson.apart_mm)
    plan = client.plan(corrections=2)
    work = plan.work()
    for table in (plan.cells, plan.points, plan.eye("left").table, work.order, work.tray):
        yield from table.values()
    study = head.study({"layering.step_mm": [0, 1]}, outputs=["fitted.rms_mm"], runs=4)
    yield from (*study.values(), study.status, *study.factors.values())
    yield from (*study.summary("fitted.rms_mm").values(), *study.best("fitted.rms_mm").values())
    yield from tipcrest.check_sets([head, head]).values()


def test_no_column_can_be_written(head, client):
    seen = 0
    for array in all_arrays(head, client):
        seen += 1
        assert not array.flags.writeable
        with pytest.raises(ValueError, match="WRITEABLE"):
            array.flags.writeable = True
        with pytest.raises(ValueError, match="read-only"):
            array[...] = 0
    assert seen > 100  # 39 of a check's lashes, 12 of a set's, and those of seven tables


def test_a_million_rows_are_seen_without_a_copy():
    # Twelve lashes are the fewest that are judged; only the figures of the eye are computed.
    eye = tipcrest.Eye("left", {"u": np.linspace(0.1, 0.9, 12), "layer": np.arange(12) % 3},
                       [{"to": 1, "length_mm": 12, "curl": "C"}])
    set = tipcrest.Set([eye], tray="any")
    rows = 1_000_000
    result = set.study({"layering.step_mm": tipcrest.Uniform(0, 2)}, design="random", points=rows,
                       outputs=["fitted.rms_mm", "fitted.max_abs_mm"])
    column = result["fitted.max_abs_mm"]
    assert column.shape == (rows,) and column.strides == (16,)
    assert address(column) == int(ffi.cast("uintptr_t", result._value)) + 8
    assert np.shares_memory(column, result["fitted.max_abs_mm"])
    # A row of the library, by its address.
    assert result._value[2 * (rows - 1) + 1] == column[-1]
    step = result.factors["layering.step_mm"]
    assert address(step) == int(ffi.cast("uintptr_t", result._factor)) and step.shape == (rows,)
    assert result.failed == 0 and np.isfinite(column).all()


def test_a_study_shares_one_array_of_points_runs_and_outputs(head):
    result = head.study({"apart_mm": [0.5, 1.0]}, runs=5,
                        outputs=["fitted.rms_mm", "largest_gap_mm"])
    rms = result["fitted.rms_mm"]
    assert rms.shape == (2, 5) and rms.strides == (5 * 2 * 8, 2 * 8)
    assert result["largest_gap_mm"][1, 3] == result._value[(1 * 5 + 3) * 2 + 1]
    assert result.status.shape == (2, 5)


def test_words_of_a_column(head):
    eye = head.check().left
    assert set(eye.words("layer")) == {"bottom", "middle", "top"}
    assert eye.words("ext_curl")[1] == ""  # a bare lash
    assert eye.ids[0] == "a01"
    assert eye.words("staggered")[eye.ids.index("a04")] == "true"
    assert eye.staggered == [i for i, off in zip(eye.ids, eye["staggered"]) if off]
    with pytest.raises(KeyError, match="no words"):
        eye.words("u")


def test_columns_of_a_set_are_its_lashes(columns, eye):
    set = tipcrest.Set([eye])
    for name in ("u", "length_mm", "pitch_deg"):
        np.testing.assert_allclose(set.left[name], columns[name], rtol=1e-15)  # a rounding or two
    np.testing.assert_array_equal(set.left["layer"], columns["layer"])
    np.testing.assert_array_equal(set.left["turn_deg"], 60)  # the default, lash.h
    assert address(set.left["u"]) == int(ffi.cast("uintptr_t", lib.tcr_set_lash(set._c, 0, 0)))


def test_an_empty_table_has_empty_columns(head):
    plan = head.plan(corrections=0)
    row = plan.points["rms_mm"]
    assert len(row) == plan.points.rows
    empty = tipcrest.Table(None, ffi.NULL, 0, "tcr_plan_row")
    assert empty["length_mm"].shape == (0,) and not empty["length_mm"].flags.writeable


def test_pandas_has_the_columns(head, client):
    pandas = pytest.importorskip("pandas")
    frame = client.check().to_pandas()
    assert isinstance(frame, pandas.DataFrame)
    assert len(frame) == sum(eye.lashes for eye in client.check().eyes)
    assert set(frame["layer"]) == {"bottom", "middle", "top"}
    assert len(head.study({"curl": ["C", "D"]}).to_pandas()) == 2
    assert head.left.to_pandas()["id"][0] == "a01"


def test_without_pandas_the_error_says_so(head, monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "pandas", None)
    with pytest.raises(ImportError, match=r"to_pandas\(\) needs pandas, which is not installed"):
        head.check().left.to_pandas()
