# SPDX-License-Identifier: GPL-3.0-or-later
"""Sets: eyes with their lids, lashes and maps, the tray, the curls and the layering rule."""

import os
from typing import TYPE_CHECKING, Any, Iterable, Iterator, Mapping, Sequence

import numpy as np

from ._calls import Progress, Surveys, Watch
from ._core import ffi, lib
from ._document import Writer
from ._lashes import LASH, Filled, columns_of
from ._native import Array, Native, address, c_text, frame, frozen, place, text, view
from .errors import check, failure, refused

if TYPE_CHECKING:
    from .check import Check
    from .plan import Plan
    from .step import Lesson, Step
    from .study import StudyResult
    from .why import Why

_CHECK_OPTIONS = ffi.sizeof("tcr_check_options")
_DEGREE = np.pi / 180.0
SIDES = ("left", "right")
LAYERS = ("bottom", "middle", "top")


def side_of(side: str) -> int:
    if side not in SIDES:
        raise refused(f'"{side}" is no side; left or right', "side")
    return SIDES.index(side)


class Eye:
    """An eye to make a Set of: its side, lashes and map, and what is known of its lid.

    :param side: the client's "left" or "right"
    :param lashes: columns by name (a dict of arrays or lists, a structured array, a DataFrame), or a
        list of Lash or dicts; see Lash for the names. {"describe": {...}} draws lashes from
        distributions by the keys of a set file; {"survey": NAME} is for Set.parse.
    :param map: zones from the inner corner, each a dict with to (0 to 1, the last is 1), length_mm
        (3 to 30) and curl, and bottom, middle, top for what a layer of the zone fixes
    :param lid: measures by name, in mm and degrees, such as {"fissure_width_mm": 27.0}
    :param intended: the map that is meant, where it differs from the working map
    """

    def __init__(self, side: str, lashes: Any, map: Sequence[Mapping[str, Any]], *,
                 lid: Mapping[str, float] | None = None,
                 intended: Sequence[Mapping[str, Any]] | None = None) -> None:
        self.side, self.lashes, self.map = side, lashes, map
        self.lid, self.intended = lid, intended

    def __repr__(self) -> str:
        return f"<Eye {self.side}: a map of {len(self.map)} zones>"


class SetEye(Mapping[str, Array]):
    """An eye of a set. ``eye["length_mm"]`` is a column: a number for each lash, with defaults for
    unknown ones. Columns are read-only; those in degrees are converted, all others lie in the set.
    """

    def __init__(self, of: "Set", side: int) -> None:
        self.set, self._side = of, side
        #: "left" or "right"
        self.side = SIDES[side]
        #: the number of lashes
        self.lashes = int(lib.tcr_set_lash_count(of._c, side))
        self._columns: dict[str, Array] = {}

    def __getitem__(self, name: str) -> Array:
        """A column of the lashes by its name in a survey."""
        if name not in LASH:
            raise KeyError(f"{name}: there is no such column; there are {', '.join(LASH)}")
        if name not in self._columns:
            self._columns[name] = self._column(LASH[name].c)
        return self._columns[name]

    def _column(self, field: Any) -> Array:
        stride = ffi.new("size_t *")
        first = lib.tcr_set_lashes(self.set._c, self._side, stride)
        if field.unit == lib.TCR_UNIT_DEGREES:
            values = np.empty(self.lashes)
            if self.lashes:
                check(lib.tcr_field_value_n(field, first, stride[0], self.lashes,
                                            ffi.from_buffer("double[]", values)))
            return frozen(values)
        kind = np.float64 if field.kind == lib.TCR_KIND_DOUBLE else np.int32
        at = address(first) + field.offset if self.lashes else 0
        return view(self.set._native, at, kind, (self.lashes,), (stride[0],))

    def __iter__(self) -> Iterator[str]:
        return iter(LASH)

    def __len__(self) -> int:
        return len(LASH)

    @property
    def ids(self) -> list[str]:
        """The ids of the lashes."""
        return [text(lib.tcr_set_id(self.set._c, self._side, i)) for i in range(self.lashes)]

    def to_pandas(self) -> Any:
        """The lashes as a DataFrame; needs pandas."""
        columns: dict[str, Any] = {"id": self.ids}
        for name, column in self.items():
            words = LASH[name].words
            columns[name] = np.array(words)[column] if words else column
        return frame(columns)

    def __repr__(self) -> str:
        return f"<{self.side} eye: {self.lashes} lashes>"


def _document(eyes: Iterable[Eye | Mapping[str, Any]],
              rest: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, tuple[str, Any]]]:
    """The document of a set, and lashes to add behind it: by side, their path and columns."""
    document: dict[str, Any] = {"tipcrest": 1, **{k: v for k, v in rest.items() if v is not None}}
    document["eyes"], columns = [], {}
    for i, eye in enumerate(eyes):
        given = dict(eye.__dict__ if isinstance(eye, Eye) else eye)
        lashes, path = given.get("lashes"), f"eyes[{i}].lashes"
        described = isinstance(lashes, Mapping) and ("describe" in lashes or "survey" in lashes)
        if lashes is not None and not described:
            if given.get("side") in columns:
                raise refused(f"the set has two {given['side']} eyes", f"eyes[{i}].side",
                              lib.TCR_E_DUPLICATE)
            columns[str(given.get("side"))] = (path, columns_of(lashes, path))
            given["lashes"] = {"describe": {"count": 1}}
        document["eyes"].append(given)
    return document, columns


def _parse(source: bytes, path: str, surveys: Mapping[str, str | bytes]) -> tuple[Any, Native]:
    """A set file in memory, and what owns it."""
    texts = {name: data.encode() if isinstance(data, str) else bytes(data)
             for name, data in surveys.items()}
    known, error = Surveys(texts), ffi.new("tcr_error *")
    out, native = place("tcr_set_file", "tcr_set_file_free")
    with Watch():
        status = lib.tcr_set_file_parse(ffi.from_buffer("char[]", source), len(source),
                                        c_text(path, "path"), lib.tipcrest_survey, known.handle,
                                        ffi.NULL, out, error)
        check(status, error, f"reading {path}")
    return out[0], native


class Set:
    """A set of extensions on one or two eyes. It never changes; ``changed()`` makes another.

    Threads may share it.

    :param eyes: one or two of Eye, or dicts with its arguments
    :param title: up to 1023 bytes
    :param subject: "client" (default) or "practice-head"
    :param layering: step_mm (0 to 3, default 1), diameter_mm (0.15), fan, spread_deg, blend, and
        placement: {"bottom": ..., "middle": ..., "top": ...}
    :param tray: {"lengths_mm": [...]} or "any"
    :param bond: offset_mm (0.7), length_mm (3), glue_mm (0.03)
    :param curls: pieces (share, degrees) by label, such as {"X": [[0.4, 0], [0.6, 70]]}
    :param line: tolerance_mm (0.5) or seen_from_mm, shared
    :param mean_lash: numbers of the mean lash, by the names of Lash
    :param opening: 0 closed to 1 open (default)
    :param viewer_deg: -80 to 80, how far the viewer is raised; default 0

    Raises InputError, whose key is the path of what is wrong.
    """

    def __init__(self, eyes: Iterable[Eye | Mapping[str, Any]], *, title: str | None = None,
                 subject: str | None = None, layering: Mapping[str, Any] | None = None,
                 tray: Mapping[str, Any] | str | None = None,
                 bond: Mapping[str, float] | None = None,
                 curls: Mapping[str, Any] | None = None, line: Mapping[str, Any] | None = None,
                 mean_lash: Mapping[str, float] | None = None, opening: float | None = None,
                 viewer_deg: float | None = None) -> None:
        rest = {"title": title, "subject": subject, "layering": layering, "tray": tray,
                "bond": bond, "curls": curls, "line": line, "mean_lash": mean_lash,
                "opening": opening, "viewer_deg": viewer_deg}
        self._take(*_document(eyes, rest), {})

    def _take(self, document: Mapping[str, Any], columns: Mapping[str, tuple[str, Any]],
              surveys: Mapping[str, str | bytes]) -> None:
        writer = Writer()
        writer.put("", document, "", "")
        filled = {side: Filled(given, path) for side, (path, given) in columns.items()}
        try:
            source, native = _parse(writer.text().encode(), "set", surveys)
        except Exception as error:
            raise _by_path(error, writer)
        c = lib.tcr_set_file_set(source)
        if filled:
            out, native = place("tcr_set", "tcr_set_free", native)
            check(lib.tcr_set_copy(ffi.NULL, c, out))
            c = out[0]
            for side, lashes in filled.items():
                check(lib.tcr_set_remove_lashes(c, side_of(side)))
                lashes.add_to(c, side_of(side))
                self._refuse_repeats(c, side_of(side), lashes)
        # Lines of a document that nobody wrote say nothing, so checks name lashes and not places.
        self._hold(c, native, source)

    def _refuse_repeats(self, c: Any, side: int, lashes: Filled) -> None:
        again = ffi.new("size_t *")
        status = lib.tcr_set_find_duplicate(c, side, again)
        if status == lib.TCR_E_DUPLICATE:
            id = text(lib.tcr_set_id(c, side, again[0]))
            raise refused(f'the id "{id}" is used twice', f"{lashes.path}.id[{again[0]}]", status)
        check(status)

    def _hold(self, c: Any, native: Native, source: Any = None, file: Any = None) -> None:
        """The set; what owns it; the set file that has its limits and its pace; and that whose set
        it is, so that a check names places in it."""
        self._c, self._native, self._source, self._file = c, native, source, file

    @classmethod
    def _of(cls, c: Any, native: Native, source: Any = None, file: Any = None) -> "Set":
        made = cls.__new__(cls)
        made._hold(c, native, source, file)
        return made

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> "Set":
        """Reads a set file and its surveys. Raises FileError or InputError with the place."""
        out, native = place("tcr_set_file", "tcr_set_file_free")
        error = ffi.new("tcr_error *")
        name = os.fsencode(path)
        if b"\0" in name:
            raise ValueError("path: a file's name has no NUL")
        check(lib.tcr_set_file_read(name, ffi.NULL, out, error), error, f"reading {path}")
        return cls._of(lib.tcr_set_file_set(out[0]), native, out[0], out[0])

    @classmethod
    def parse(cls, source: str | bytes, *, path: str = "set",
              surveys: Mapping[str, str | bytes] | None = None) -> "Set":
        """Reads the text of a set file. surveys has those that it names; path is its name in
        messages."""
        data = source.encode() if isinstance(source, str) else bytes(source)
        file, native = _parse(data, path, surveys or {})
        return cls._of(lib.tcr_set_file_set(file), native, file, file)

    @classmethod
    def from_dict(cls, document: Mapping[str, Any],
                  surveys: Mapping[str, str | bytes] | None = None) -> "Set":
        """A set of the same keys as a set file; 'lashes' of an eye may also be as for Eye."""
        rest = {k: v for k, v in document.items() if k not in ("eyes", "tipcrest")}
        made = cls.__new__(cls)
        made._take(*_document(document.get("eyes", ()), rest), surveys or {})
        return made

    # ---- What it has ---------------------------------------------------------------------------

    @property
    def title(self) -> str:
        """The title; "" if there is none."""
        return text(lib.tcr_set_title(self._c))

    @property
    def sides(self) -> tuple[str, ...]:
        """The sides of its eyes, in their order."""
        sides = ffi.new("tcr_side[]", len(SIDES))
        return tuple(SIDES[sides[i]] for i in range(lib.tcr_set_eyes(self._c, sides)))

    def eye(self, side: str) -> SetEye:
        """An eye. Raises MissingError."""
        if side_of(side) not in [side_of(s) for s in self.sides]:
            raise failure(lib.TCR_E_MISSING, what=f"the set has no {side} eye")
        return SetEye(self, side_of(side))

    @property
    def left(self) -> SetEye:
        """The left eye."""
        return self.eye("left")

    @property
    def right(self) -> SetEye:
        """The right eye."""
        return self.eye("right")

    @property
    def curls(self) -> tuple[str, ...]:
        """The labels of its curls; a column of curls has their indices."""
        return tuple(text(lib.tcr_set_curl(self._c, i).label)
                     for i in range(lib.tcr_set_curl_count(self._c)))

    @property
    def tolerance_mm(self) -> float:
        """How far a tip may lie off the line, mm."""
        return float(lib.tcr_set_tolerance(self._c))

    def _first_side(self, side: str | None) -> int:
        return side_of(side if side is not None else self.sides[0])

    def _ids(self, side: int, lash: int) -> str:
        return text(lib.tcr_set_id(self._c, side, lash))

    # ---- What is asked of it -------------------------------------------------------------------

    @property
    def _digest(self) -> Any:
        return lib.tcr_set_file_digest(self._file) if self._file is not None else ffi.NULL

    def check(self, *, against: str = "fitted", opening: float | None = None,
              viewer_deg: float | None = None, parts: Iterable[str] | None = None,
              tolerance_mm: float | None = None, any_length: bool = False,
              figures_only: bool = False) -> "Check":
        """Evaluates the set: every tip, the lines, deviations and remedies.

        :param against: the line of deviations, "fitted" or "intended"
        :param opening: 0 closed to 1 open; default that of the set
        :param viewer_deg: -80 to 80, how far the viewer is raised; default that of the set
        :param parts: of "fitted", "intended", "views", "remedies", "assumptions" and "loads"; default
            all
        :param tolerance_mm: 0.05 to 5; default that of the set
        :param any_length: lashes wear what the rule gives, also where the tray lacks it
        :param figures_only: the figures of eyes alone, several times as fast; parts are then of
            "fitted", "intended" and "loads", by default the lines alone. With "loads" the columns of
            loads, such as "mass_ratio", have their numbers
        """
        from .check import Check, against_of, parts_of
        options = ffi.new("tcr_check_options *")
        lib.tcr_check_options_init(options, _CHECK_OPTIONS)
        options.against = against_of(against)
        if opening is not None or viewer_deg is not None:
            own_view = lib.tcr_set_view(self._c)
            options.has_view, options.view = True, own_view[0]
            if opening is not None:
                options.view.opening = float(opening)
            if viewer_deg is not None:
                options.view.viewer_rad = float(viewer_deg) * _DEGREE
        if parts is not None or figures_only:
            options.parts = parts_of(parts if parts is not None else ("fitted", "intended"))
        if tolerance_mm is not None:
            options.tolerance_mm = float(tolerance_mm)
        options.any_length, options.figures_only = any_length, figures_only
        return Check(self, options)

    def why(self, side: str | None = None) -> "Why":
        """What makes the line of an eye uneven, cause by cause; of the first eye by default."""
        return self.check().why(side)

    def step(self, curl: str | None = None, bottom_length_mm: Any = None, *,
             placement: Mapping[str, str] | str | None = None, apart_mm: float | None = None,
             side: str | None = None) -> "Step":
        """How much shorter the upper layers must be for level tips.

        :param curl: a label; default that of the map at the pupil
        :param bottom_length_mm: one or more lengths, 3 to 30; default 8 to 15 in steps of 1
        :param placement: of all layers, or by layer; default that of the layering
        :param apart_mm: 0 to 3, from layer to layer; default the heights of the eye's own layers
        """
        from .step import step
        return step(self, self._first_side(side), curl, bottom_length_mm, placement, apart_mm)

    def lesson(self, apart_mm: Any = None, *, alike: bool = False, opening: float = 1.0,
               viewer_deg: float = 0.0, side: str | None = None,
               progress: Progress = None) -> "Lesson":
        """What the layering rule gains, wherever the layers root.

        :param apart_mm: one or more distances from layer to layer, 0 to 3; default: as they root
        :param alike: each lash is the mean lash of its layer
        """
        from .step import Lesson
        return Lesson(self, self._first_side(side), apart_mm, alike, opening, viewer_deg, progress)

    def pays_from(self, less: int = 1, *, alike: bool = False, side: str | None = None) -> float:
        """How far apart layers must root, mm, for 'less' (1 or 2) mm a layer to lie nearer to one
        line than a millimetre more: 0 to 1.6; NaN if that is not so up to 1.6 mm."""
        from .step import pays_from
        return pays_from(self, self._first_side(side), less, alike)

    def plan(self, *, share: float | None = None, objective: str | None = None,
             free_mm: float | None = None, corrections: int | None = None,
             samples: int | None = None, curls: Sequence[str] | None = None,
             diameters_mm: Sequence[float] | None = None, fans: Sequence[int] | None = None,
             placements: Sequence[str] | None = None, progress: Progress = None,
             **more: Any) -> "Plan":
        """Which lashes get an extension, and which.

        :param share: 0.05 to 1, share of an eye's lashes to use; default 0.7
        :param objective: "squares" (default) or "maximum"
        :param free_mm: 0 to 10, how far the line may move at either end; default 0
        :param corrections: most lashes that differ from their zone; default: the fewest that do
        :param samples: 0 to 100000 random samples; default 0
        :param curls, diameters_mm, fans, placements: to choose from
        :param progress: called with the phase and its share; False stops it: the best so far
        :param more: lengths_most, zone_step_most_mm, same_placement, correct_all, samples_share, and
            limits: baby_below_mm, thin_below_mm, stray_above_mm, out_of_fan_deg, overlength_mm,
            mass_ratio, moment_ratio
        """
        from .plan import plan
        given = {"share": share, "objective": objective, "free_mm": free_mm,
                 "corrections": corrections, "samples": samples, "curls": curls,
                 "diameters_mm": diameters_mm, "fans": fans, "placements": placements, **more}
        return plan(self, given, progress)

    def study(self, vary: Mapping[str, Any], *, outputs: Iterable[str] | None = None,
              design: str = "grid", points: int = 1024, scramblings: int = 16, runs: int = 0,
              seed: int = 1, against: str = "fitted", threads: int = 0,
              progress: Progress = None) -> "StudyResult":
        """Tries the set with other numbers, all in one call on all processors; see Study."""
        from .study import Study
        made = Study(self, vary, outputs=outputs, design=design, points=points,
                     scramblings=scramblings, runs=runs, seed=seed, against=against)
        return made.run(threads=threads, progress=progress)

    def changed(self, values: Mapping[str, Any]) -> "Set":
        """Another set, with other values by key (see Study): {"layering.step_mm": 0, "curl": "D"}."""
        from .study import Study
        made = Study(self, {key: [value] for key, value in values.items()})
        return made.written_out(values)

    def __repr__(self) -> str:
        lashes = ", ".join(f"{side} eye with {self.eye(side).lashes} lashes" for side in self.sides)
        return f"<Set {self.title!r}: {lashes}>"


def _by_path(error: Exception, writer: Writer) -> Exception:
    """The same error with the path in the document in place of a line."""
    line, path = getattr(error, "line", None), getattr(error, "path", None)
    if path != "set" or line is None:
        return error
    where = writer.path_of(line)
    message = str(error).split(": ", 1)[1]
    same = type(error)(f"{where}: {message}" if where else message)
    same.__dict__.update(error.__dict__)
    same.__dict__.update(key=where, path=None, line=None, column=None)
    return same
