# SPDX-License-Identifier: GPL-3.0-or-later
"""Every exception says where, what was found and what would be right."""

import math
import os

import numpy as np
import pytest

import tipcrest
from tipcrest import errors
from tipcrest._core import ffi, lib

from conftest import HEAD, MAP


def refused(kind, call):
    with pytest.raises(kind) as caught:
        call()
    return caught.value


def test_every_status_has_an_exception_with_its_name_and_text():
    for number, name in ffi.typeof("tcr_status").elements.items():
        error = errors.failure(number, what="work")
        assert error.status == number and error.status_name == name
        assert str(error) == f"work: {ffi.string(lib.tcr_status_text(number)).decode()}"
    kinds = {"TCR_E_ARGUMENT": ValueError, "TCR_E_RANGE": ValueError, "TCR_E_MISSING": LookupError,
             "TCR_E_OPEN": OSError, "TCR_E_WRITE": OSError, "TCR_E_MEMORY": MemoryError,
             "TCR_E_NO_SOLUTION": tipcrest.NoSolution, "TCR_E_STOPPED": tipcrest.Stopped}
    for name, kind in kinds.items():
        assert isinstance(errors.failure(getattr(lib, name)), (kind, tipcrest.Error))
        assert isinstance(errors.failure(getattr(lib, name)), kind)


def set_with(eye, **changes):
    return lambda: tipcrest.Set([{**eye.__dict__, **changes}])


@pytest.mark.parametrize("changes, key, text", [
    ({"map": [{"to": 1, "length_mm": 12, "curl": "Q"}]}, "eyes[0].map[0].curl",
     'eyes[0].map[0].curl: curl "Q" is not in the catalogue; one of J, B, C, CC, D, DD, L, M, or '
     'define it under curls'),
    ({"map": [{"to": 1, "length_mm": 40, "curl": "C"}]}, "eyes[0].map[0].length_mm",
     "eyes[0].map[0].length_mm: length_mm is 40, but must be from 3 to 30 mm"),
    ({"map": [{"to": 1, "length_mm": float("nan"), "curl": "C"}]}, "eyes[0].map[0].length_mm",
     "eyes[0].map[0].length_mm: nan is no number of a set; leave out what is unknown"),
    ({"map": [{"to": 1, "length_mm": 12 + 0j, "curl": "C"}]}, "eyes[0].map[0].length_mm",
     "eyes[0].map[0].length_mm: a complex has no place in a set"),
    ({"lashes": {"u": [0.1, 2], "layer": [0, 1]}}, "eyes[0].lashes.u[1]",
     "eyes[0].lashes.u[1]: u is 2, but must be from 0.02 to 0.98; it is a share of the eye's width "
     "from the inner corner (0.5 is the middle), not per cent or millimetres"),
    ({"lashes": {"u": [0.1, 0.2], "layer": ["top", "lower"]}}, "eyes[0].lashes.layer[1]",
     'eyes[0].lashes.layer[1]: "lower" is none of bottom, middle, top'),
    ({"lashes": {"u": [0.1], "layer": [0], "lenght_mm": [7]}}, "eyes[0].lashes.lenght_mm",
     "eyes[0].lashes.lenght_mm: there is no such column; there are id, u, "),
    ({"lashes": {"u": [0.1, 0.2]}}, "eyes[0].lashes.layer",
     "eyes[0].lashes.layer: is missing; every lash needs it"),
    ({"lashes": {"u": [0.1, 0.2], "layer": [0]}}, "eyes[0].lashes.layer",
     "eyes[0].lashes.layer: has the shape (1,), but the eye has 2 lashes"),
    ({"lashes": {"u": [0.1, 0.2], "layer": [0, 0], "id": ["a", "a"]}}, "eyes[0].lashes.id[1]",
     'eyes[0].lashes.id[1]: the id "a" is used twice'),
    ({"lashes": {"u": [0.1, 0.2], "layer": [0, 0], "id": ["a"]}}, "eyes[0].lashes.id",
     "eyes[0].lashes.id: has 1 ids, but the eye has 2 lashes"),
    ({"lashes": {"u": [0.1], "layer": [0], "ext_curl": ["far too long a label"]}},
     "eyes[0].lashes.ext_curl[0]",
     'eyes[0].lashes.ext_curl[0]: "far too long a label" is longer than 15 bytes'),
    ({"lashes": {"u": [0.1], "layer": [0], "length_mm": ["seven"]}}, "eyes[0].lashes.length_mm[0]",
     'eyes[0].lashes.length_mm[0]: "seven" is no number'),
    ({"lashes": 7}, "eyes[0].lashes",
     "eyes[0].lashes: lashes are columns by name, or a list of Lash"),
    ({"lid": {"mrd1_mm": 99}}, "eyes[0].lid.mrd1_mm",
     "eyes[0].lid.mrd1_mm: mrd1_mm is 99, but must be from 0 to 8 mm"),
], ids=lambda value: value if isinstance(value, str) and len(value) < 40 else "")
def test_what_is_wrong_with_a_set_is_named_by_its_path(eye, changes, key, text):
    error = refused(tipcrest.InputError, set_with(eye, **changes))
    assert error.key == key
    assert str(error).startswith(text)
    assert error.path is None and error.line is None


def test_an_error_of_a_number_has_the_number_and_its_range(eye):
    error = refused(tipcrest.InputError, set_with(eye, lid={"mrd1_mm": 99}))
    assert (error.value, error.least, error.most) == (99, 0, 8)  # the range of interface.md
    assert error.status_name == "TCR_E_CONTENT"
    error = refused(tipcrest.InputError,
                    set_with(eye, lashes={"u": [0.1, 0.2], "layer": [0, 0], "turn_deg": [1, 999]}))
    assert (error.value, error.least, error.most, error.lash) == (999, -60, 200, 1)


def test_two_eyes_of_one_side(eye):
    error = refused(tipcrest.InputError, lambda: tipcrest.Set([eye, eye]))
    assert str(error) == "eyes[1].side: the set has two left eyes"


def test_a_lash_that_a_curl_of_the_set_lacks_is_named_with_its_id(eye, columns):
    columns["ext_curl"] = ["C"] * 59 + ["Q"]
    columns["id"] = [f"n{i}" for i in range(60)]
    error = refused(tipcrest.InputError, set_with(eye, lashes=columns))
    assert str(error) == "left eye, lash 59 (n59): " + str(error).split(": ", 1)[1]
    assert (error.side, error.lash, error.lash_id) == ("left", 59, "n59")
    assert error.status_name == "TCR_E_CURL"


def test_a_check_that_fails_names_the_eye(eye):
    set = tipcrest.Set([eye], tray={"lengths_mm": [10, 12]})
    error = refused(tipcrest.InputError, set.check)
    assert error.status_name == "TCR_E_TRAY" and error.side == "left" and error.value in (9, 11)
    assert str(error).startswith("left eye, ")


def test_files_name_their_place(tmp_path):
    error = refused(tipcrest.FileError, lambda: tipcrest.Set.read(tmp_path / "none.yaml"))
    assert isinstance(error, OSError) and error.path == str(tmp_path / "none.yaml")
    assert str(error).startswith(f"{tmp_path}/none.yaml: ")
    (tmp_path / "survey.csv").write_bytes((HEAD / "survey.csv").read_bytes())
    lines = (HEAD / "layered.yaml").read_text().splitlines()
    (line,) = [i for i, text in enumerate(lines) if "side: left" in text]
    lines[line] = lines[line].replace("left", "up")
    (tmp_path / "a.yaml").write_text("\n".join(lines) + "\n")
    error = refused(tipcrest.InputError, lambda: tipcrest.Set.read(tmp_path / "a.yaml"))
    assert (error.line, error.column) == (line + 1, lines[line].index("up") + 1)
    assert str(error).startswith(f"{tmp_path}/a.yaml:{error.line}:{error.column}: ")
    error = refused(tipcrest.InputError, lambda: tipcrest.Set.parse("tipcrest: 2", path="x.yaml"))
    assert str(error).startswith("x.yaml:1:11: ")
    text = (HEAD / "layered.yaml").read_text()
    error = refused(tipcrest.Error, lambda: tipcrest.Set.parse(text))
    assert "survey.csv" in str(error)


def test_words_of_options_that_there_are_not(head):
    for call, text in [
        (lambda: head.check(against="map"), 'against: "map" is no line; fitted or intended'),
        (lambda: head.check(parts=["all"]), 'parts: "all" is no part of a check; fitted, intended, '
                                            'views, remedies, assumptions, loads'),
        (lambda: head.eye("both"), 'side: "both" is no side; left or right'),
        (lambda: head.check().picture("back"), 'view: "back" is no view; front, artist, '),
        (lambda: head.check().picture(format="gif"), 'format: "gif" is no format; png, svg, pdf'),
        (lambda: head.check().report("xml"), 'form: "xml" is no form of a report; table, json or '
                                             'csv'),
        (lambda: head.step(placement="above"), 'placement.bottom: "above" is no placement; top, '),
        (lambda: head.plan(objective="best"), 'objective: "best" is no objective; squares or '
                                              'maximum'),
        (lambda: head.plan(curls=["Q"]), 'curls: "Q" is no curl of the set; J, B, '),
        (lambda: head.plan(fans=range(9)), "fans: 9 of them, but at most 8"),
        (lambda: head.plan(corrections=0).report("xml"), 'form: "xml" is no form of a report'),
        (lambda: head.study({}, design="cube"), 'design: "cube" is no design; grid, random, sobol, '
                                                'sensitivity'),
        (lambda: head.study({"curl": ["C"]}).best("fitted.rms_mm", by="eye"),
         'by: "eye" is none of mean, p90, worst'),
        (lambda: tipcrest.check_sets([]), "sets: there is no set to check"),
    ]:
        error = refused(tipcrest.InputError, call)
        assert str(error).startswith(text)
        assert error.status_name in ("TCR_E_ARGUMENT", "TCR_E_CURL")


def test_numbers_of_options_out_of_range(head):
    for call, text in [
        (lambda: head.check(opening=2), "opening is 2, but must be from 0 to 1"),
        (lambda: head.check(tolerance_mm=9), "tolerance_mm is 9, but must be from 0.05 to 5"),
        (lambda: head.study({"layering.step_mm": [9]}),
         "layering.step_mm is 9, but must be from 0 to 3 mm"),
        (lambda: head.study({"layering.stp_mm": [1]}), "the set has no key \"layering.stp_mm\""),
        (lambda: head.study({"curl": ["Q"]}), "curl \"Q\""),
        (lambda: head.study({"curl": "C"}, outputs=["fited.rms_mm"]),
         'there is no output "fited.rms_mm"; did you mean fitted.rms_mm?'),
        (lambda: head.study({}, runs=-1), "can't convert negative"),
        (lambda: head.plan(share=7), "share is 7, but must be from 0.05 to 1"),
    ]:
        with pytest.raises((tipcrest.Error, OverflowError)) as caught:
            call()
        assert text in str(caught.value)


def test_a_wrong_option_of_a_check_is_named_with_and_without_a_file(head):
    for set in (head, head.changed({"layering.step_mm": 1})):  # the second has no file
        error = refused(tipcrest.InputError, lambda: set.check(opening=2))
        assert (error.key, error.value, error.least, error.most) == ("opening", 2, 0, 1)
        assert str(error) == "opening is 2, but must be from 0 to 1"
        assert error.path is None and error.side is None
        error = refused(tipcrest.InputError, lambda: set.check(viewer_deg=999))
        assert error.key == "viewer_rad" and error.value == pytest.approx(math.radians(999))


def test_what_there_is_not(head):
    assert str(refused(tipcrest.MissingError, lambda: head.right)) == \
        "the set has no right eye: " + errors.status_text(lib.TCR_E_MISSING)
    check = head.check()
    refused(tipcrest.MissingError, lambda: check.right)
    refused(tipcrest.MissingError, check.symmetry)
    with pytest.raises(KeyError, match="tip_mm: there is no such column; there are layer, u, "):
        check.left["tip_mm"]
    with pytest.raises(KeyError, match="rms: there is no such figure; there are fitted.lashes, "):
        check.left.figure("rms")
    with pytest.raises(KeyError, match="no such column"):
        head.left["ext_length_mm"]
    with pytest.raises(KeyError, match="there is no such column"):
        check.why()["cause"]
    with pytest.raises(KeyError, match="no such output"):
        head.study({"curl": ["C"]}).summary("verdict")
    with pytest.raises(TypeError, match="colour is no option of a picture"):
        check.picture(colour="red")
    with pytest.raises(TypeError, match="speed is no option of a plan"):
        head.plan(speed=1)
    with pytest.raises(TypeError, match="speed_s is no number of a pace"):
        head.plan(corrections=0).work(speed_s=1)


def test_a_line_that_there_is_not_says_why(eye, columns):
    few = {name: column[:2] for name, column in columns.items()}
    check = tipcrest.Set([tipcrest.Eye("left", few, MAP)]).check()
    assert check.left.fitted is None and math.isnan(check.left.rms_mm)
    assert check.left.no_line() == errors.status_text(lib.TCR_E_FEW)
    error = refused(tipcrest.MissingError, lambda: check.left.line_at(0.0))
    assert str(error) == f"the left eye has no fitted line: {errors.status_text(lib.TCR_E_FEW)}"
    assert check.left.verdict == "not-judged"


def test_a_text_with_a_nul_is_refused(head):
    for call in (lambda: head.check().picture("fr\0nt"), lambda: tipcrest.Set.read("a\0b"),
                 lambda: head.study({"a\0b": [1]})):
        with pytest.raises(ValueError, match="NUL"):
            call()


def test_a_failed_save_leaves_the_old_file(head, tmp_path):
    picture = head.check().picture(width_mm=30, dpi=20)
    (tmp_path / "old.png").write_bytes(b"old")
    error = refused(tipcrest.FileError, lambda: picture.save(tmp_path / "none" / "a.png"))
    assert "none/a.png" in str(error)
    assert os.listdir(tmp_path) == ["old.png"]
    picture.save(tmp_path / "old.png")
    assert (tmp_path / "old.png").read_bytes() == picture.data


def test_points_of_a_study_must_fit_its_factors(head):
    study = tipcrest.Study(head, {"layering.step_mm": [0, 1], "curl": ["C", "D"]})
    for call in (lambda: study.trial()(1.0), lambda: study.written_out([1.0]),
                 lambda: study.written_out({"curl": "C"})):
        assert "factors" in str(refused(tipcrest.InputError, call))
    assert np.isnan(study.run()["fitted.rms_mm"]).sum() == study.run().failed
