# SPDX-License-Identifier: GPL-3.0-or-later
"""Objects of the library live as long as anything that can be reached needs them, and no longer."""

import ctypes
import gc
import threading
import weakref

import numpy as np
import pytest

import tipcrest
from tipcrest import _owner
from tipcrest._core import ffi, lib

from conftest import HEAD


def make():
    return tipcrest.Set.read(HEAD / "layered.yaml")


def churn():
    """Takes and frees memory, so that what was freed too early has other bytes."""
    gc.collect()
    for _ in range(3):
        make().changed({"layering.step_mm": 0}).check()
    gc.collect()


def held():
    return _owner.count()


def read_by_library(column):
    """The numbers of a column of doubles, read by the library, which a sanitizer watches."""
    field = lib.tcr_fields(lib.TCR_GROUP_PIECE, ffi.NULL)
    at = column.__array_interface__["data"][0] - field.offset
    values = np.empty(len(column))
    assert lib.tcr_field_value_n(field, ffi.cast("void *", at), column.strides[0], len(column),
                                 ffi.from_buffer("double[]", values)) == lib.TCR_OK
    return values


@pytest.mark.parametrize("name", ["deviation_mm", "u"])  # in the check, and in the set
def test_a_column_outlives_its_set_and_check(name):
    column = make().check().left[name]
    expected = make().check().left[name].copy()
    churn()
    np.testing.assert_array_equal(column, expected)
    field = lib.tcr_fields(lib.TCR_GROUP_PIECE, ffi.NULL)
    assert field.kind == lib.TCR_KIND_DOUBLE and field.unit != lib.TCR_UNIT_DEGREES
    np.testing.assert_array_equal(read_by_library(column), expected)
    part = column[3:9]
    del column
    churn()
    np.testing.assert_array_equal(part, expected[3:9])


def test_all_is_freed_when_the_last_view_goes():
    churn()
    before = held()
    column = make().check().left["deviation_mm"]
    assert held() == before + 2  # the set and its check
    del column
    assert held() == before
    plan = make().plan(corrections=0)
    cells = plan.cells["rms_mm"]
    del plan
    assert held() == before + 2
    del cells
    assert held() == before


def test_what_needs_an_object_is_freed_before_it():
    # The objects are numbers, and a function of this test notes them in place of freeing them.
    freed = []
    note = ctypes.CFUNCTYPE(None, ctypes.c_void_p)(freed.append)
    at = ctypes.cast(note, ctypes.c_void_p).value
    places = ffi.new("uintptr_t[]", 4)
    first = int(ffi.cast("uintptr_t", places))
    before = held()
    set = _owner.own(first + 8, at, ())
    check = _owner.own(first + 16, at, (set,))
    column = [_owner.own(first + 24, at, (check, set))]
    for number in (1, 2, 3):
        places[number] = number
    del set, check
    assert freed == [] and held() == before + 3
    column.append(column)  # a cycle: the collector frees it
    del column
    gc.collect()
    assert freed == [3, 2, 1] and held() == before


class Holder:
    """In a cycle, with a finalizer that reads a column: the collector calls it when all is garbage."""

    seen = None

    def __init__(self, column, check):
        self.column, self.check, self.me = column, check, self

    def __del__(self):
        Holder.seen = read_by_library(self.column).copy()


def test_a_finalizer_in_a_cycle_still_reads_the_column():
    gc.collect()
    before = held()
    check = make().check()
    expected = check.left["deviation_mm"].copy()
    gone = weakref.ref(check)
    Holder(check.left["deviation_mm"], check)
    del check
    assert held() == before + 2
    gc.collect()
    assert gone() is None and held() == before
    np.testing.assert_array_equal(Holder.seen, expected)


def test_the_collector_does_not_know_what_owns_memory():
    # So no collection can free it while an array over it can be reached.
    check, study = make().check(), tipcrest.Study(make(), {"curl": ["C"]})
    for owner in (check._native, check.set._native, study._native, study.run()._value):
        assert not gc.is_tracked(owner)


def test_nothing_is_lost_when_a_call_fails():
    set = make()
    gc.collect()
    before = held()
    for call in (lambda: set.check(opening=7), lambda: set.plan(share=9), lambda: set.changed({"x": 1}),
                 lambda: tipcrest.Study(set, {"curl": ["Q"]}), lambda: tipcrest.Set.parse("{}")):
        with pytest.raises(tipcrest.Error):
            call()
    gc.collect()
    assert held() == before


def test_threads_share_a_set_and_drop_it_in_any_order():
    set = make()
    expected = set.check().rms_mm
    wrong = []

    def work():
        for _ in range(30):
            if set.check(figures_only=True).rms_mm != expected:
                wrong.append(1)
    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong


def test_other_threads_run_while_a_call_computes():
    set = make()
    ticks, done = [], threading.Event()

    def tick():
        while not done.wait(0.001):
            ticks.append(1)
    thread = threading.Thread(target=tick)
    thread.start()
    # With one thread all work is done in this one; the other can only run if the lock is free.
    set.study({"layering.step_mm": tipcrest.Uniform(0, 2)}, design="random", points=20000,
              outputs=["fitted.rms_mm"], threads=1)
    done.set()
    thread.join()
    assert len(ticks) > 3


def test_a_work_outlives_its_plan():
    work = make().plan(corrections=0).work()
    churn()
    assert work.order.rows == len(work.order["lash"]) == int(lib.tcr_plan_result_of(
        work.plan._c).planned)
