# SPDX-License-Identifier: GPL-3.0-or-later
"""A check: where every tip of a set lies with the eye open, and how even their line is."""

import json
from typing import Any, Iterable, Iterator, Mapping, NamedTuple

import numpy as np

from ._calls import Progress, written
from ._core import ffi, lib
from ._native import Array, frame, frozen, place, text, view
from ._quantities import OF_EYE, OF_LASH
from .errors import MissingError, check, failure, refused, status_text
from .picture import Picture, film, picture_of
from .sets import SIDES, Set, side_of
from .why import Why, why_of

PARTS = {"fitted": lib.TCR_PART_FITTED, "intended": lib.TCR_PART_INTENDED,
         "views": lib.TCR_PART_VIEWS, "remedies": lib.TCR_PART_REMEDIES,
         "assumptions": lib.TCR_PART_ASSUMPTIONS, "loads": lib.TCR_PART_LOADS}
AGAINST = {"fitted": lib.TCR_FITTED, "intended": lib.TCR_INTENDED}


def against_of(against: str) -> int:
    if against not in AGAINST:
        raise refused(f'"{against}" is no line; {" or ".join(AGAINST)}', "against")
    return int(AGAINST[against])


def parts_of(parts: Iterable[str]) -> int:
    bits = 0
    for part in parts:
        if part not in PARTS:
            raise refused(f'"{part}" is no part of a check; {", ".join(PARTS)}', "parts")
        bits |= PARTS[part]
    return bits


class Evenness(NamedTuple):
    """How tips lie about a line. All in mm but lashes and within_tolerance, a share from 0 to 1."""

    lashes: int
    rms_mm: float
    mean_abs_mm: float
    p95_abs_mm: float
    max_abs_mm: float
    tolerance_mm: float
    within_tolerance: float
    #: mean deviation of each layer, bottom to top; NaN for an empty one
    layer_offset_mm: tuple[float, float, float]


class Judgement(NamedTuple):
    """How even eyes are together."""

    #: "even", "mostly-even", "uneven" or "not-judged"
    verdict: str
    lashes: int
    tips: int
    staggered: int
    rms_mm: float
    within_tolerance: float


class Symmetry(NamedTuple):
    """How far the lines of two eyes differ, mm; level: without the mean difference in height."""

    rms_mm: float
    max_mm: float
    level_rms_mm: float
    level_max_mm: float
    #: "alike", "alike-but-for-height" or "unlike"
    likeness: str


class CheckEye(Mapping[str, Array]):
    """A checked eye. ``eye["deviation_mm"]`` is a column: a number for each lash.

    Columns are read-only and lie in the check where it has them; loads, droops and angles are
    computed when they are first asked for. A number that does not exist is NaN. ``tipcrest.QUANTITIES``
    says what each is and its unit. ``eye.figure("fitted.rms_mm")`` is a number of the whole eye.
    """

    def __init__(self, of: "Check", side: int) -> None:
        # Not the check itself, which keeps its eyes: a cycle would keep the memory of both.
        self._check, self._native, self._side = of._c, of._native, side
        self.set, self.against = of.set, of.against
        #: "left" or "right"
        self.side = SIDES[side]
        self._c = lib.tcr_check_eye(of._c, side)
        if self._c == ffi.NULL:
            raise failure(lib.TCR_E_MISSING, what=f"the set has no {self.side} eye")
        #: the number of lashes, and of those that carry an extension
        self.lashes, self.extended = int(self._c.lashes), int(self._c.extended)
        self._columns: dict[str, Array] = {}

    def __getitem__(self, name: str) -> Array:
        """A column of the lashes by its name."""
        column = self._columns.get(name)
        if column is None:
            column = self._columns[name] = self._column(name)
        return column

    def _column(self, name: str) -> Array:
        quantity = OF_LASH.get(name)
        if quantity is None:
            raise KeyError(f"{name}: there is no such column; there are {', '.join(OF_LASH)}")
        first, stride = ffi.new("const void **"), ffi.new("size_t *")
        status = lib.tcr_check_column_in_place(self._check, self._side, quantity._c, first, stride)
        if status == lib.TCR_OK:
            return view(self._native, int(ffi.cast("uintptr_t", first[0])), quantity.dtype,
                        (self.lashes,), (stride[0],))
        values = np.empty(self.lashes)
        check(lib.tcr_check_column(self._check, self._side, quantity._c,
                                   ffi.from_buffer("double[]", values), self.lashes), what=name)
        return frozen(values)

    def __iter__(self) -> Iterator[str]:
        return iter(OF_LASH)

    def __len__(self) -> int:
        return len(OF_LASH)

    def figure(self, name: str) -> float:
        """A number of the eye by its name, such as "largest_gap_mm"; NaN if there is none."""
        quantity = OF_EYE.get(name)
        if quantity is None:
            raise KeyError(f"{name}: there is no such figure; there are {', '.join(OF_EYE)}")
        value = ffi.new("double *")
        check(lib.tcr_check_row(self._check, self._side, 0, quantity._c, value, 1), what=name)
        return float(value[0])

    def words(self, name: str) -> Array:
        """A column in words: layer, condition, ext_placement, staggered, ext_curl."""
        column = self[name]
        if name == "ext_curl":
            known = np.array([*self.set.curls, ""])
        elif name in OF_LASH and OF_LASH[name].words:
            known = np.array([*OF_LASH[name].words, ""])
        else:
            raise KeyError(f"{name}: a column of numbers has no words")
        index = np.where(np.isnan(column), len(known) - 1, column) if column.dtype.kind == "f" \
            else column
        return known[index.astype(np.intp)]

    @property
    def ids(self) -> list[str]:
        """The ids of the lashes."""
        return [self.set._ids(self._side, i) for i in range(self.lashes)]

    def _evenness(self, status: int, c: Any) -> Evenness | None:
        if status != lib.TCR_OK:
            return None
        u = c.upright
        return Evenness(int(c.lashes), u.rms_mm, u.mean_abs_mm, u.p95_abs_mm, u.max_abs_mm,
                        c.tolerance_mm, c.within_tolerance,
                        (c.layer_offset_mm[0], c.layer_offset_mm[1], c.layer_offset_mm[2]))

    @property
    def fitted(self) -> Evenness | None:
        """From the line fitted to the tips; None if there is no line."""
        return self._evenness(self._c.fitted_status, self._c.fitted)

    @property
    def intended(self) -> Evenness | None:
        """From the line that the map intends; None if there is no line."""
        return self._evenness(self._c.intended_status, self._c.intended)

    def no_line(self, line: str = "fitted") -> str | None:
        """Why there is no "fitted" or "intended" line; None if there is one."""
        status = self._c.fitted_status if against_of(line) == lib.TCR_FITTED \
            else self._c.intended_status
        return None if status == lib.TCR_OK else status_text(status)

    @property
    def rms_mm(self) -> float:
        """Root mean square deviation from the line of the check, mm; NaN without a line."""
        return self.figure(f"{self.against}.rms_mm")

    @property
    def verdict(self) -> str:
        """ "even", "mostly-even", "uneven" or "not-judged"."""
        return text(lib.tcr_verdict_text(self._c.verdict))

    @property
    def staggered(self) -> list[str]:
        """The ids of the lashes that lie farther from the line than the tolerance."""
        return [self.set._ids(self._side, int(i)) for i in np.flatnonzero(self["staggered"])]

    def line_at(self, x_mm: Any, line: str = "fitted") -> Array:
        """Height of the fitted or the intended line, mm, at places X in mm as seen."""
        reason = self.no_line(line)
        if reason is not None:
            raise MissingError(f"the {self.side} eye has no {line} line: {reason}")
        c = self._c.fitted_line if line == "fitted" else self._c.intended_line
        at = lib.tcr_line_at
        x = np.asarray(x_mm, np.float64)
        pointer = ffi.addressof(self._c, f"{line}_line")
        return np.array([at(pointer, v) for v in x.ravel()]).reshape(x.shape) if c else x

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each lash, words in place of their numbers. Needs pandas."""
        columns: dict[str, Any] = {"side": [self.side] * self.lashes, "id": self.ids}
        for name, quantity in OF_LASH.items():
            in_words = name == "ext_curl" or (quantity.words and quantity.kind == lib.TCR_KIND_ENUM)
            columns[name] = self.words(name) if in_words else self[name]
        return frame(columns)

    def __repr__(self) -> str:
        return (f"<{self.side} eye: {self.verdict}, {self.rms_mm:.3f} mm rms, "
                f"{int(self._c.staggered)} of {self.extended} tips staggered>")


class Check:
    """A checked set; Set.check makes it. It shows itself as the picture of the open eye."""

    def __init__(self, of: Set, options: Any) -> None:
        out, self._native = place("tcr_check", "tcr_check_free", of._native)
        error = ffi.new("tcr_error *")
        if of._file is not None:
            status = lib.tcr_set_file_check(of._file, options, out, error)
        else:
            status = lib.tcr_check_new(of._c, options, out, error)
        check(status, error, "check", of._ids)
        #: the set
        self.set = of
        self._c = out[0]
        self._eyes: dict[int, CheckEye] = {}

    def eye(self, side: str) -> CheckEye:
        """The results of an eye. Raises MissingError."""
        number = side_of(side)
        if number not in self._eyes:
            self._eyes[number] = CheckEye(self, number)
        return self._eyes[number]

    @property
    def left(self) -> CheckEye:
        """The left eye."""
        return self.eye("left")

    @property
    def right(self) -> CheckEye:
        """The right eye."""
        return self.eye("right")

    @property
    def eyes(self) -> tuple[CheckEye, ...]:
        """The eyes in the order of the set."""
        return tuple(self.eye(side) for side in self.set.sides)

    @property
    def against(self) -> str:
        """The line from which deviations are measured: "fitted" or "intended"."""
        return "fitted" if lib.tcr_check_against(self._c) == lib.TCR_FITTED else "intended"

    @property
    def tolerance_mm(self) -> float:
        """How far a tip may lie off the line, mm."""
        return float(lib.tcr_check_tolerance(self._c))

    @property
    def opening(self) -> float:
        """How far the eye is open, 0 to 1."""
        return float(lib.tcr_check_view(self._c).opening)

    def judge(self) -> Judgement:
        """How even all eyes are together."""
        c = ffi.new("tcr_judgement *")
        check(lib.tcr_check_judge(self._c, 3, c))
        return Judgement(text(lib.tcr_verdict_text(c.verdict)), int(c.lashes), int(c.tips),
                         int(c.staggered), c.rms_mm, c.within_tolerance)

    @property
    def rms_mm(self) -> float:
        """Root mean square deviation of all tips from the line of the check, mm."""
        return self.judge().rms_mm

    def symmetry(self) -> Symmetry:
        """How far the lines of two eyes differ. Raises MissingError for one eye, InputError without
        lines."""
        c, like = ffi.new("tcr_symmetry *"), ffi.new("tcr_likeness *")
        check(lib.tcr_check_symmetry(self._c, c), what="symmetry")
        status = lib.tcr_check_likeness(self._c, like)
        likeness = text(lib.tcr_likeness_text(like[0])) if status == lib.TCR_OK else "not-judged"
        return Symmetry(c.rms_mm, c.max_mm, c.level_rms_mm, c.level_max_mm, likeness)

    # ---- What comes of it ----------------------------------------------------------------------

    def why(self, side: str | None = None) -> Why:
        """What makes the line of an eye uneven, cause by cause; of the first eye by default."""
        return why_of(self, self.set._first_side(side))

    def picture(self, view: str = "front", format: str = "png", **options: Any) -> Picture:
        """A picture: front, artist, side, deviations, layers, compare, film, why or lesson.

        :param format: "png", "svg" or "pdf"
        :param options: width_mm (20 to 2000, default 254), dpi (10 to 1200, default 160), dark,
            lines, staggered, companion, side ("left" or "right"), at_u (0.02 to 0.98), apart_mm
            (0 to 3), from_head, frame, frames, with_check (a Check, for compare), name, with_name
        """
        return picture_of(self, view, format, options)

    def film(self, frames: int = 24, progress: Progress = None, **options: Any) -> bytes:
        """A GIF of the opening eye, of 1 to 600 frames. Options as for picture."""
        return film(self, frames, progress, options)

    def report(self, form: str = "table", *, full: bool = False, digits: int = 6) -> str:
        """The report as the command writes it: "table", "json" or "csv"."""
        none = ffi.NULL
        if form == "json":
            data = written(lambda s, c: lib.tcr_report_json(self._c, self.set._digest, s, c), "json")
        elif form == "csv":
            csv = ffi.new("tcr_csv_options *")
            lib.tcr_csv_options_init(csv, ffi.sizeof("tcr_csv_options"))
            csv.digits = digits
            data = written(lambda s, c: lib.tcr_report_csv(self._c, csv, s, c), "csv")
        elif form == "table":
            table = ffi.new("tcr_table_options *")
            lib.tcr_table_options_init(table, ffi.sizeof("tcr_table_options"))
            table.full, table.limits = full, none
            data = written(lambda s, c: lib.tcr_report_table(self._c, table, s, c), "table")
        else:
            raise refused(f'"{form}" is no form of a report; table, json or csv', "form")
        return data.decode()

    def to_dict(self) -> dict[str, Any]:
        """The JSON report as a dict."""
        return dict(json.loads(self.report("json")))

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each lash of each eye. Needs pandas."""
        frames = [eye.to_pandas() for eye in self.eyes]
        from pandas import concat
        return concat(frames, ignore_index=True)

    def __str__(self) -> str:
        return self.report()

    def __repr__(self) -> str:
        return f"<Check: {', '.join(repr(eye) for eye in self.eyes)}>"

    def _repr_png_(self) -> bytes:
        return self.picture().data
