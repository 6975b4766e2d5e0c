# SPDX-License-Identifier: GPL-3.0-or-later
"""Sets from arrays, dicts, single lashes and files are the same set."""

import inspect
import json

import numpy as np
import pytest

import tipcrest
from tipcrest import _lashes

from conftest import HEAD, MAP


def same(a, b):
    """Whether two sets have the same lashes and results, to the last bit."""
    for side in a.sides:
        for name in a.eye(side):
            np.testing.assert_array_equal(a.eye(side)[name], b.eye(side)[name], name)
        assert a.eye(side).ids == b.eye(side).ids
    report = [{k: v for k, v in s.check().to_dict().items() if k != "input_digest"} for s in (a, b)]
    assert report[0] == report[1]
    return True


def test_columns_rows_lashes_and_frames_make_the_same_set(columns):
    columns["layer"] = np.array(["bottom", "middle", "top"])[columns["layer"]]
    rows = [{name: column[i] for name, column in columns.items()} for i in range(60)]
    first = tipcrest.Set([tipcrest.Eye("left", columns, MAP)])
    assert same(first, tipcrest.Set([tipcrest.Eye("left", rows, MAP)]))
    lashes = [tipcrest.Lash(**row) for row in rows]
    assert same(first, tipcrest.Set([tipcrest.Eye("left", lashes, MAP)]))
    assert same(first, tipcrest.Set([{"side": "left", "lashes": columns, "map": MAP}]))
    records = np.rec.fromarrays(list(columns.values()), names=list(columns))
    assert same(first, tipcrest.Set([tipcrest.Eye("left", records, MAP)]))
    assert same(first, tipcrest.Set.from_dict(
        {"tipcrest": 1, "eyes": [{"side": "left", "lashes": columns, "map": MAP}]}))


def test_a_frame_makes_the_same_set(columns):
    pandas = pytest.importorskip("pandas")
    assert same(tipcrest.Set([tipcrest.Eye("left", columns, MAP)]),
                tipcrest.Set([tipcrest.Eye("left", pandas.DataFrame(columns), MAP)]))


def survey_columns(path):
    """A survey as columns, read by Python alone."""
    import csv
    with open(path, encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    out = {}
    for name in rows[0]:
        if name in _lashes.NAMES:
            cells = [row[name].strip() for row in rows]
            words = name in ("id", "layer", "condition", "ext_curl", "ext_placement")
            out[name] = cells if words else [
                c if c in ("", "none") else float(c) for c in cells]
    return out


def test_a_survey_as_columns_is_the_set_file_to_the_last_bit(head):
    yaml = pytest.importorskip("yaml")
    with open(HEAD / "layered.yaml", encoding="utf-8") as file:
        document = yaml.safe_load(file)
    document["eyes"][0]["lashes"] = survey_columns(HEAD / "survey.csv")
    assert same(head, tipcrest.Set.from_dict(document))


def test_text_and_surveys_in_memory_are_the_files(head):
    text, survey = (HEAD / "layered.yaml").read_text(), (HEAD / "survey.csv").read_bytes()
    assert same(head, tipcrest.Set.parse(text, surveys={"survey.csv": survey}))


def test_what_a_lash_wears(eye, columns):
    n = 60
    columns.update(ext_length_mm=[None] * n, ext_curl=[None] * n, ext_fan=[float("nan")] * n,
                   ext_placement=[""] * n, ext_from_skin_mm=[None] * n)
    columns["ext_length_mm"][3] = 9
    columns["ext_length_mm"][4] = "none"
    columns["ext_curl"][3], columns["ext_fan"][3] = "L", 2
    columns["ext_placement"][3] = "underside"
    check = tipcrest.Set([tipcrest.Eye("left", columns, MAP)]).check()
    eye = check.left
    assert (eye["ext_length_mm"][3], eye["ext_fan"][3]) == (9, 2)
    assert (eye.words("ext_curl")[3], eye.words("ext_placement")[3]) == ("L", "underside")
    assert np.isnan(eye["ext_length_mm"][4]) and not eye["staggered"][4]
    assert eye.extended == 59
    assert tipcrest.status_name(int(eye["status"][4])) == "TCR_E_BARE_BY_ROW"


def test_a_lash_takes_the_columns_of_a_survey():
    given = list(inspect.signature(tipcrest.Lash).parameters)
    assert sorted(given) == sorted(set(_lashes.NAMES) - {"ext_bare"})
    assert repr(tipcrest.Lash(0.5, "top", id="x")) == "Lash(u=0.5, layer='top', id='x')"


def test_described_lashes_and_the_rest_of_a_set():
    map = [{"to": 1, "length_mm": 12, "curl": "X", "top": {"length_mm": 10}}]
    set = tipcrest.Set(
        [tipcrest.Eye("right", {"describe": {"count": 30, "seed": 4}}, map, intended=map)],
        title="Ünïcode", subject="practice-head", tray="any", curls={"X": [[0.4, 0], [0.6, 70]]},
        layering={"step_mm": np.float32(0.5), "placement": {"top": "underside"}},
        bond={"glue_mm": 0.02}, line={"seen_from_mm": 300}, mean_lash={"turn_deg": 55},
        opening=0.9, viewer_deg=10)
    assert set.title == "Ünïcode" and set.sides == ("right",) and "X" in set.curls
    assert set.tolerance_mm == pytest.approx(300 * np.tan(np.pi / 3600))  # 3': line_rule.h
    assert set.check().opening == 0.9
    assert set.right.lashes == 30 and repr(set) == "<Set 'Ünïcode': right eye with 30 lashes>"


def test_a_changed_set_is_the_set_with_that_key(head):
    text, survey = (HEAD / "layered.yaml").read_text(), (HEAD / "survey.csv").read_bytes()
    assert "step_mm: 1" in text
    other = tipcrest.Set.parse(text.replace("step_mm: 1", "step_mm: 2"),
                               surveys={"survey.csv": survey})
    assert same(other, head.changed({"layering.step_mm": 2}))
    assert head.changed({"curl": "D"}).check().left.words("ext_curl")[0] == "D"
    assert head.check().rms_mm != other.check().rms_mm  # the set itself is as it was


def test_a_hundred_thousand_lashes():
    n = 100_000  # TCR_LASHES_MAX
    eye = tipcrest.Eye("left", {"u": np.linspace(0.02, 0.98, n), "layer": np.arange(n) % 3}, MAP)
    check = tipcrest.Set([eye]).check(figures_only=True)
    assert check.left.lashes == n and check.rms_mm > 0


def test_a_report_as_json_and_table(head):
    check = head.check()
    report = check.to_dict()
    assert report["eyes"][0]["fitted"]["rms_mm"] == check.left.fitted.rms_mm
    assert report["input_digest"].startswith("sha256:")
    assert json.loads(check.report("json")) == report
    assert str(check) == check.report() and len(check.report(full=True)) > len(check.report())
    assert len(check.report("csv").splitlines()) == check.left.lashes + 1
