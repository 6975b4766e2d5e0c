# SPDX-License-Identifier: GPL-3.0-or-later
"""Checks, causes, steps, plans and studies have the numbers of the reports of the library."""

import json

import numpy as np
import pytest

import tipcrest
from tipcrest._core import ffi, lib


def test_options_of_a_check(head):
    front, seat = head.check(), head.check(opening=0, viewer_deg=60)
    offsets = [seat.left.figure(f"fitted.layer_offset_mm.{layer}")
               for layer in ("bottom", "middle", "top")]
    # The artist's seat is the closed eye from 60 degrees: interface.md.
    assert offsets == [front.left.figure(f"views.artist.layer_offset_mm.{layer}")
                       for layer in ("bottom", "middle", "top")]
    assert head.check(against="intended").rms_mm == front.left.intended.rms_mm
    assert head.check(tolerance_mm=5).left.staggered == []
    quick = head.check(figures_only=True)
    assert quick.rms_mm == front.rms_mm and np.isnan(quick.left["tip_x_mm"]).all()
    assert np.isnan(head.check(parts=["fitted"]).left.figure("intended.rms_mm"))
    set = tipcrest.Set([tipcrest.Eye("left", {"describe": {"count": 20}},
                                     [{"to": 1, "length_mm": 12, "curl": "C"}])],
                       tray={"lengths_mm": [12]})
    assert set.check(any_length=True).rms_mm > 0


def test_loads_of_a_check_of_figures(head):
    # To the last bit those of a whole check, which computes loads one by one: check.h.
    whole = head.check().left
    kept = head.check(figures_only=True, parts=["fitted", "loads"]).left
    without = head.check(figures_only=True).left
    names = [name for name in whole if tipcrest.QUANTITIES[name]._c.part == lib.TCR_PART_LOADS]
    assert {"mass_ratio", "moment_ratio"} < set(names)
    for name in names:
        np.testing.assert_array_equal(kept[name], whole[name], name)
        assert np.isfinite(kept[name]).sum() == whole.extended > 0
        assert np.isnan(without[name]).all()
    with pytest.raises(tipcrest.InputError):
        head.check(figures_only=True, parts=["remedies"])


def test_two_eyes_have_a_symmetry_and_a_judgement(client):
    check = client.check()
    report = check.to_dict()
    symmetry = check.symmetry()
    for name in ("rms_mm", "max_mm", "level_rms_mm", "level_max_mm"):
        assert getattr(symmetry, name) == report["symmetry"][name]
    assert symmetry.likeness in ("alike", "alike-but-for-height", "unlike")
    both = check.judge()
    assert both.tips == sum(eye.extended for eye in check.eyes)
    squares = sum(eye.rms_mm ** 2 * eye.extended for eye in check.eyes)
    assert check.rms_mm == pytest.approx(np.sqrt(squares / both.tips), rel=1e-12)


def test_the_line_passes_below_the_tips_by_their_deviation(head):
    eye = head.check().left
    there = ~np.isnan(eye["deviation_mm"])
    line = eye.line_at(eye["seen_x_mm"][there])
    np.testing.assert_allclose(eye["seen_y_mm"][there] - line, eye["deviation_mm"][there],
                               atol=1e-12)


def test_causes_sum_to_the_mean_square(head):
    why = head.why()
    # Shapley values sum to what all causes do together: why.h.
    assert why["shapley_mm2"].sum() == pytest.approx(
        why.whole_rms_mm ** 2 - why.bare_rms_mm ** 2, rel=1e-9)
    assert why.whole_rms_mm == pytest.approx(head.check().left.fitted.rms_mm, rel=1e-12)
    assert why.causes[0] == "root heights" and why.rows == 6
    assert str(why).startswith("The rule (each layer 1 mm shorter) helps: 0.30 mm rms with it")


def test_level_steps_are_level(head):
    step = head.step("C", [10, 12], placement="top")
    assert step.rows == 2 and step["length_mm"].shape == (2, 2)
    assert (step["status"] == 0).all()
    # Step by step from the bottom length: step.h.
    np.testing.assert_allclose(step["step_mm"][:, 0], step.bottom_length_mm - step["length_mm"][:, 0])
    np.testing.assert_allclose(step["step_mm"][:, 1], -np.diff(step["length_mm"], axis=1)[:, 0])
    assert step.sensitivity(1).per_length > 0
    # The level length hardly leaves anything over: a tray of any length has it.
    assert np.abs(head.changed({}).step("C", 12)["left_over_mm"]).max() < 0.5
    assert head.step().rows == 8


def test_a_lesson_has_the_checks_of_its_rule(head):
    lesson = head.lesson()
    assert lesson["lashes"][0] == head.check().left.extended
    assert lesson["one_less_rms_mm"][0] == pytest.approx(head.check().rms_mm, abs=1e-9)
    assert head.lesson([0.4, 1.6])["equal_rms_mm"][1] > head.lesson([0.4])["equal_rms_mm"][0]
    assert 0 < head.pays_from() < 1.6


def test_a_plan_is_that_of_its_report(client):
    plan = client.plan(corrections=3)
    report = json.loads(plan.report("json"))
    assert plan.proved and plan.bound_mm <= plan.rms_mm
    assert plan.cells.rows == len(plan.report("csv").splitlines()) - 1
    assert plan.corrections == 3 == int((sum(
        plan.eye(side).table["corrected"].sum() for side in client.sides)))
    assert report["command"] == "plan"
    after = plan.apply().check(against="intended")
    used = plan.eye("left").table
    worn = after.left["ext_length_mm"]
    np.testing.assert_array_equal(np.isnan(worn), used["use"] > 1)
    np.testing.assert_array_equal(worn[used["use"] <= 1],
                                  used["ext_length_mm"][used["use"] <= 1])
    work = plan.work(lash_s=60, preparation_min=0)
    assert work.order.rows == sum(plan.eye(side).used for side in client.sides)
    assert work.placing_min >= work.order.rows  # a minute a lash
    assert str(plan).splitlines()[0]


def test_options_of_a_plan(client):
    plan = client.plan(objective="maximum", share=0.5, free_mm=1, curls=["C", "D"],
                       diameters_mm=[0.07, 0.1], fans=[1], placements=["top"], out_of_fan_deg=30,
                       mass_ratio=20, lengths_most=4, zone_step_most_mm=3, correct_all=False,
                       corrections=0)
    options = lib.tcr_plan_options_of(plan._c)
    assert (options.curls, options.diameters, options.fans) == (2, 2, 1)
    assert [client.curls[options.curl[i]] for i in range(2)] == ["C", "D"]
    assert list(options.placement) == [True, False, False, False]
    assert options.limits.out_of_fan_rad == pytest.approx(np.pi / 6)
    assert (options.limits.mass_ratio, options.share, options.free_mm) == (20, 0.5, 1)
    assert plan.cells["ext_placement"].max() == 0
    assert len(np.unique(plan.cells["ext_length_mm"])) <= 4


def test_a_study_is_the_checks_of_its_points(head):
    vary = {"layering.step_mm": [0, 1, 2], "curl": ["C", "D"]}
    result = head.study(vary, outputs=["fitted.rms_mm", "load.mass_ratio.max"])
    assert result.points == 6 and result.failed == 0 and result.words("curl") == ["C", "D"] * 3
    for i, step in enumerate(result.factors["layering.step_mm"]):
        check = head.changed({"layering.step_mm": step, "curl": result.words("curl")[i]}).check()
        assert check.rms_mm == result["fitted.rms_mm"][i]
        assert np.nanmax(check.left["mass_ratio"]) == result["load.mass_ratio.max"][i]
    trial = tipcrest.Study(head, vary, outputs=["fitted.rms_mm"]).trial()
    for i in range(6):
        value = [column[i] for column in result.factors.values()]
        assert trial(*value)["fitted.rms_mm"] == result["fitted.rms_mm"][i]


def test_threads_and_parts_give_the_same_bits(head):
    study = tipcrest.Study(head, {"apart_mm": tipcrest.Uniform(0, 2),
                                  "describe.turn_sd_deg": [8]} if False else
                           {"apart_mm": tipcrest.Triangular(0, 1, 2),
                            "mean_lash.turn_deg": tipcrest.Normal(60, 5)},
                           design="sobol", points=32, runs=3, seed=7)
    whole = study.run(threads=1)
    parts = [study.run(threads=3, first=0, count=20), study.run(first=20)]
    for name in study.outputs:
        joined = np.concatenate([part[name] for part in parts])
        np.testing.assert_array_equal(whole[name], joined)


def test_figures_over_runs(head):
    result = head.study({"layering.step_mm": [0, 1, 2]}, outputs=["fitted.rms_mm"], runs=20)
    rms, summary = result["fitted.rms_mm"], result.summary("fitted.rms_mm")
    np.testing.assert_allclose(summary["mean"], rms.mean(axis=1), rtol=1e-12)
    np.testing.assert_allclose(summary["se"], rms.std(axis=1, ddof=1) / np.sqrt(20), rtol=1e-9)
    # NumPy's default is the quantile of type 7, as line.h.
    np.testing.assert_allclose(summary["p95"], np.percentile(rms, 95, axis=1), rtol=1e-12)
    best = result.best("fitted.rms_mm")
    assert list(best["combination"]) == list(np.argsort(rms.mean(axis=1)))
    assert tipcrest.STANDINGS[best["standing"][0]] == "first"


def test_a_study_file_is_that_study(head):
    from conftest import SOURCE
    study = tipcrest.Study.read(SOURCE / "examples" / "studies" / "placement.yaml")
    result = study.run(first=0, count=2)
    assert result.points == 2 and len(study.factors) > 0 and result.failed == 0
    assert study.set.sides


def test_blocks_of_sets_are_their_checks(head, client):
    sets = [head.changed({"layering.step_mm": step}) for step in (0, 1, 2)]
    block = tipcrest.check_sets(sets, ["fitted.rms_mm", "load.mass_ratio.max"], threads=2)
    for i, set in enumerate(sets):
        check = set.check()
        assert block["fitted.rms_mm"][i] == check.rms_mm
        assert block["load.mass_ratio.max"][i] == np.nanmax(check.left["mass_ratio"])
    mixed = tipcrest.check_sets([client, head])
    assert [tipcrest.status_name(s) for s in mixed.status] == ["TCR_OK", "TCR_E_MISSING"]
    assert mixed.failed == 1 and all(np.isnan(column[1]) for column in mixed.values())


def test_enumerations_in_words_are_those_of_c():
    from tipcrest import plan, study
    assert len(plan.USES) == lib.TCR_USES
    assert len(plan.ORDERS) == len(ffi.typeof("tcr_plan_order").elements)
    assert len(study.STANDINGS) == lib.TCR_STANDINGS


def test_limits_and_pace_of_a_set_file_count(columns):
    document = {"eyes": [{"side": "left", "lashes": columns,
                          "map": [{"to": 1, "length_mm": 12, "curl": "C"}]}],
                "plan": {"overlength_mm": 7}, "pace": {"lash_s": 90, "preparation_min": 0}}
    set = tipcrest.Set.from_dict(document)
    text = json.dumps({**document, "tipcrest": 1, "eyes": [
        {**document["eyes"][0], "lashes": {"describe": {"count": 60}}}]})
    for made in (set, set.changed({"layering.step_mm": 1}), tipcrest.Set.parse(text)):
        plan = made.plan(corrections=0)
        assert lib.tcr_plan_options_of(plan._c).limits.overlength_mm == 7
        work = plan.work()
        assert work.placing_min >= 1.5 * work.order.rows
        assert plan.work(lash_s=30).placing_min < work.placing_min
    assert lib.tcr_plan_options_of(set.plan(overlength_mm=6)._c).limits.overlength_mm == 6


def test_levels_as_text_may_be_many(head):
    assert head.study({"line.tolerance_mm": "0.5:4:0.01"}, outputs=["fitted.rms_mm"]).points == 351
