# SPDX-License-Identifier: GPL-3.0-or-later
"""Level steps: how much shorter the upper layers must be; and what the layering rule gains."""

from typing import TYPE_CHECKING, Any, Mapping, NamedTuple, Sequence

import numpy as np

from ._calls import Progress, Watch, written
from ._core import ffi, lib
from ._native import Array, Table, c_text, frame, frozen, text
from .errors import check, refused
from .picture import Options, Picture, format_of

if TYPE_CHECKING:
    from .sets import Set

PLACEMENTS = tuple(text(lib.tcr_placement_text(i)) for i in range(lib.TCR_PLACEMENTS))
LAYERS = ("bottom", "middle", "top")


def placement_of(placement: str, key: str) -> int:
    if placement not in PLACEMENTS:
        raise refused(f'"{placement}" is no placement; {", ".join(PLACEMENTS)}', key)
    return PLACEMENTS.index(placement)


class Sensitivity(NamedTuple):
    """How far the mean lash's tip rises in the open front view, per unit of one input."""

    #: mm per mm of root height, natural length and extension length
    per_height: float
    per_natural: float
    per_length: float
    #: mm per degree of growth angle up the lid, and of the natural turn
    per_pitch_deg: float
    per_turn_deg: float


class Step(Table):
    """Level steps, a row for each length on the bottom layer in ``bottom_length_mm``.

    Columns have two numbers a row, for the middle and the top layer: length_mm (the level length),
    step_mm (how much shorter than the layer below), tray_mm (the nearest length of the tray),
    left_over_mm (height of its tip above the bottom layer's), shows_from_mm (the distance at which
    that spans 3 minutes of arc) and status (0, or why there is no level length).
    """

    def __init__(self, of: "Set", question: Any, lengths: Array, curl: str) -> None:
        self.set, self._question, self.curl = of, question, curl
        self.side = "left" if question.side == lib.TCR_LEFT else "right"
        #: length on the bottom layer of each row, mm
        self.bottom_length_mm = frozen(lengths)
        room = ffi.new("tcr_step[]", max(len(lengths), 1))
        for i, length in enumerate(lengths):
            question.bottom_length_mm = float(length)
            check(lib.tcr_step_of(of._c, question, room + i), what=f"step of {length:g} mm")
        super().__init__(room, room, len(lengths), "tcr_step")

    def sensitivity(self, row: int = 0) -> Sensitivity:
        """What a tip of the bottom layer gains per unit of each input, for the length of a row."""
        c, question = ffi.new("tcr_sensitivity *"), ffi.new("tcr_step_question *", self._question[0])
        question.bottom_length_mm = float(self.bottom_length_mm[row])
        check(lib.tcr_step_sensitivity(self.set._c, question, c), what="sensitivity")
        degree = np.pi / 180.0
        return Sensitivity(c.per_height, c.per_natural, c.per_length, c.per_pitch * degree,
                           c.per_turn * degree)

    def picture(self, format: str = "png", **options: Any) -> Picture:
        """The level steps over the bottom length; options width_mm, dpi and dark."""
        step, kind = ffi.new("tcr_step_picture *"), format_of(format)
        lib.tcr_step_picture_init(step, ffi.sizeof("tcr_step_picture"))
        label = c_text(self.curl, "curl")
        step.side, step.curl = self._question.side, label
        step.has_apart, step.apart_mm = self._question.has_apart, self._question.apart_mm
        drawn = Options(options)
        data = written(lambda sink, context: lib.tcr_step_picture_write(
            kind, self.set._c, step, drawn.c, sink, context), "picture of steps")
        return Picture(data, format, "step")

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each bottom length. Needs pandas."""
        columns: dict[str, Any] = {"bottom_length_mm": self.bottom_length_mm}
        for name, column in self.items():
            for i, layer in enumerate(LAYERS[1:]):
                columns[f"{layer}_{name}"] = column[:, i]
        return frame(columns)

    def __repr__(self) -> str:
        return f"<Step {self.side} eye, curl {self.curl}: {self.rows} lengths>"

    def _repr_png_(self) -> bytes:
        return self.picture().data


def step(of: "Set", side: int, curl: str | None, bottom_length_mm: Any,
         placement: Mapping[str, str] | str | None, apart_mm: float | None) -> Step:
    question = ffi.new("tcr_step_question *")
    question.side = side
    label = curl if curl is not None else _curl_at_pupil(of, side)
    index = ffi.new("size_t *")
    check(lib.tcr_set_find_curl(of._c, c_text(label, "curl"), index), what=f"curl {label}")
    question.curl = index[0]
    own = lib.tcr_set_layering(of._c).placement
    for i, layer in enumerate(LAYERS):
        chosen = placement.get(layer) if isinstance(placement, Mapping) else placement
        setattr(question, layer,
                placement_of(chosen, f"placement.{layer}") if chosen is not None else own[i])
    if apart_mm is not None:
        question.has_apart, question.apart_mm = True, float(apart_mm)
    lengths = np.arange(8.0, 16.0) if bottom_length_mm is None \
        else np.array(bottom_length_mm, np.float64, ndmin=1)
    return Step(of, question, lengths, label)


def _curl_at_pupil(of: "Set", side: int) -> str:
    zone = lib.tcr_set_zone_at(of._c, side, 0.5)
    map = lib.tcr_set_map(of._c, side, ffi.NULL)
    return text(map[zone].curl) if map != ffi.NULL else of.curls[0]


# ---- What the rule gains -------------------------------------------------------------------------

CHOICES = ("equal", "one_less", "two_less", "best")


class Lesson(Mapping[str, Array]):
    """What layering gains, a row for each place in ``apart_mm``; NaN: as the lashes root.

    Columns: equal_rms_mm, one_less_rms_mm, two_less_rms_mm and best_rms_mm (rms of the tips off the
    line fitted to them, with equal lengths, with 1 or 2 mm less a layer, and with the best sizes of
    the tray), middle_less_mm and top_less_mm (how much shorter the best sizes are), and lashes.
    """

    def __init__(self, of: "Set", side: int, apart_mm: Any, alike: bool, opening: float,
                 viewer_deg: float, progress: Progress) -> None:
        given = np.array([np.nan] if apart_mm is None else apart_mm, np.float64, ndmin=1)
        places = ffi.new("tcr_lesson_place[]", max(len(given), 1))
        for i, apart in enumerate(given):
            places[i] = lib.tcr_lesson_place_default()
            places[i].has_apart, places[i].apart_mm = bool(apart == apart), float(apart)
            places[i].alike = alike
            places[i].view.opening = opening
            places[i].view.viewer_rad = viewer_deg * np.pi / 180.0
        room, c = ffi.new("tcr_lesson[]", max(len(given), 1)), ffi.new("tcr_progress *")
        with Watch(progress) as watch:
            watch.put_into(c)
            check(lib.tcr_lesson_of(of._c, side, places, len(given), c, room), what="lesson")
        self.rows = len(given)
        self.apart_mm = frozen(given)
        table = Table(room, room, self.rows, "tcr_lesson")
        self._columns = {f"{name}_rms_mm": table["rms_mm"][:, i] for i, name in enumerate(CHOICES)}
        self._columns["middle_less_mm"] = table["best_less_mm"][:, 0]
        self._columns["top_less_mm"] = table["best_less_mm"][:, 1]
        self._columns["lashes"] = table["lashes"]

    def __getitem__(self, name: str) -> Array:
        """A column by its name."""
        return self._columns[name]

    def __iter__(self) -> Any:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each place. Needs pandas."""
        return frame({"apart_mm": self.apart_mm, **self._columns})


def pays_from(of: "Set", side: int, less: int, alike: bool) -> float:
    out = ffi.new("double *")
    check(lib.tcr_lesson_pays_from(of._c, side, less, alike, out), what="lesson")
    return float(out[0])


__all__: Sequence[str] = ["Lesson", "Sensitivity", "Step"]
