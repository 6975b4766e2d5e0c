# SPDX-License-Identifier: GPL-3.0-or-later
"""Lashes: of one eye, as columns by the names of a survey, in the units of files."""

from typing import Any, Iterable, Mapping, Sequence

import numpy as np

from ._core import ffi, lib
from ._native import Array, c_text, dtype_of, text, words_of
from .errors import check, refused


class Lash:
    """A natural lash, and what it wears if that is not what map and rule give.

    All numbers have the units of files. What is None is unknown and takes the default of its place.

    :param u: place along the lid, 0.02 (inner corner) to 0.98 (outer corner)
    :param layer: "bottom", "middle" or "top"
    :param length_mm: 0.3 to 20, along the lash; default 7.5
    :param id: 1 to 255 bytes of UTF-8, once in an eye; default "n001", "n002", ...
    :param height_mm: -2 to 8, of the root above the margin; default 0, 1 or 2 by layer
    :param pitch_deg: above -85 and below 85, up the lid from its normal; default -10
    :param yaw_deg: above -85 and below 85, towards the outer corner; default -10 + 20 u
    :param roll_deg: -90 to 90, turns the plane of the curl about the lash; default 0
    :param final_length_mm: 1 to 20, the full-grown length
    :param turn_deg: -60 to 200, from root to tip; default 60
    :param root_diameter_mm: 0.02 to 0.2; default 0.08
    :param tip_diameter_mm: 0 to that of the root; default 0.015
    :param condition: "suitable" (default), "baby", "stray", "weak" or "shedding"
    :param ext_length_mm: 3 to 30, of the extension that it wears, or "none" to leave it bare
    :param ext_curl: the label of a curl of the set
    :param ext_diameter_mm: 0.02 to 0.3, of one fibre
    :param ext_placement: "top", "underside", "inner-side" or "outer-side"
    :param ext_fan: 1 to 20 fibres of one base
    :param ext_spread_deg: 0 to 120, from the first to the last fibre
    :param ext_from_skin_mm: 0 to 20, start of the bond
    """

    __slots__ = ("given",)

    def __init__(self, u: float, layer: str, length_mm: float | None = None, *,
                 id: str | None = None, height_mm: float | None = None,
                 pitch_deg: float | None = None, yaw_deg: float | None = None,
                 roll_deg: float | None = None, final_length_mm: float | None = None,
                 turn_deg: float | None = None, root_diameter_mm: float | None = None,
                 tip_diameter_mm: float | None = None, condition: str | None = None,
                 ext_length_mm: float | str | None = None, ext_curl: str | None = None,
                 ext_diameter_mm: float | None = None, ext_placement: str | None = None,
                 ext_fan: int | None = None, ext_spread_deg: float | None = None,
                 ext_from_skin_mm: float | None = None) -> None:
        given = dict(locals())
        del given["self"]
        #: what was given, by name
        self.given: dict[str, Any] = {k: v for k, v in given.items() if v is not None}

    def __repr__(self) -> str:
        return f"Lash({', '.join(f'{k}={v!r}' for k, v in self.given.items())})"


class Field:
    """A field of the library's table of fields."""

    def __init__(self, c: Any) -> None:
        self.c = c
        self.key, self.member = text(c.key), text(c.member)
        self.bit, self.kind = int(c.bit), int(c.kind)
        self.note = text(c.note)
        words = c.words != ffi.NULL
        self.words = words_of(c.words, int(c.core.most) + 1) if words else ()


def fields(group: int) -> dict[str, Field]:
    count = ffi.new("size_t *")
    table = lib.tcr_fields(group, count)
    return {field.key: field for field in (Field(table + i) for i in range(count[0]))}


LASH = fields(lib.TCR_GROUP_LASH)
WISH = {"ext_" + key: field for key, field in fields(lib.TCR_GROUP_WISH).items()}
NAMES = ["id", *LASH, *WISH]


def columns_of(lashes: Any, path: str) -> dict[str, Any]:
    """Columns by name, of an array with names, a frame, a mapping of columns, or of single lashes."""
    if isinstance(lashes, np.ndarray) and lashes.dtype.names:
        return {name: lashes[name] for name in lashes.dtype.names}
    if hasattr(lashes, "columns"):
        return {str(name): lashes[name].to_numpy() for name in lashes.columns}
    if isinstance(lashes, Mapping):
        return dict(lashes)
    if not isinstance(lashes, Iterable):
        raise refused("lashes are columns by name, or a list of Lash", path)
    rows = [lash.given if isinstance(lash, Lash) else dict(lash) for lash in lashes]
    names = {name: None for row in rows for name in row}
    return {name: [row.get(name) for row in rows] for name in names}


def _is_absent(value: Any) -> bool:
    return value is None or value == "" or (isinstance(value, float) and value != value)


def _numbers(values: Any, field: Field, n: int, path: str) -> Array:
    """A column as doubles, NaN for what is not there; words become their numbers."""
    given = np.asarray(values)
    if given.dtype.kind in "fiub":
        out = np.ascontiguousarray(given, dtype=np.float64)
    else:
        out = np.array([_number(v, field, f"{path}[{i}]") for i, v in enumerate(given.tolist())],
                       dtype=np.float64)
    if out.shape != (n,):
        raise refused(f"has the shape {out.shape}, but the eye has {n} lashes", path)
    return out


def _number(value: Any, field: Field, path: str) -> float:
    if _is_absent(value):
        return float("nan")
    if isinstance(value, str) and field.words:
        if value in field.words:
            return float(field.words.index(value))
        raise refused(f'"{value}" is none of {", ".join(field.words)}', path)
    if isinstance(value, str):
        raise refused(f'"{value}" is no number', path)
    return float(value)


class Filled:
    """Lashes and wishes in C, as the library takes them."""

    def __init__(self, columns: dict[str, Any], path: str) -> None:
        unknown = [name for name in columns if name not in NAMES]
        if unknown:
            raise refused(f"there is no such column; there are {', '.join(NAMES)}",
                          f"{path}.{unknown[0]}")
        for name in ("u", "layer"):
            if name not in columns:
                raise refused("is missing; every lash needs it", f"{path}.{name}")
        self.n, self.path = len(columns["u"]), path
        self.lashes = self._array("tcr_lash", lib.tcr_lash_unknown(float("nan"), 0))
        self.wishes: Array | None = None
        if any(name in WISH for name in columns):
            self.wishes = self._array("tcr_wish", ffi.new("tcr_wish *")[0])
        for name, values in columns.items():
            if name in LASH:
                self._put(LASH[name], self.lashes, name, values)
            elif name in WISH:
                self._wish(WISH[name], name, values)
        self.ids = self._ids(columns.get("id"))

    def _array(self, ctype: str, first: Any) -> Array:
        one = ffi.new(f"{ctype} *", first)
        out = np.zeros(self.n, dtype_of(ctype))
        raw = out.view(np.uint8).reshape(self.n, out.dtype.itemsize)
        raw[:] = np.frombuffer(ffi.buffer(one), np.uint8)
        return out

    def _put(self, field: Field, into: Array, name: str, values: Any) -> Array:
        """Stores a column; returns which rows have a number."""
        path = f"{self.path}.{name}"
        numbers = _numbers(values, field, self.n, path)
        error = ffi.new("tcr_error *")
        status = lib.tcr_field_put_n(
            field.c, ffi.cast("void *", into.ctypes.data), into.dtype.itemsize, self.n,
            ffi.from_buffer("double[]", numbers), error)
        if status != lib.TCR_OK:
            refusal = refused(text(error.message), f"{path}[{error.lash}]", status)
            refusal.value, refusal.least, refusal.most = error.value, error.least, error.most
            refusal.lash = error.lash
            raise refusal
        there: Array = ~np.isnan(numbers)
        return there

    def _wish(self, field: Field, name: str, values: Any) -> None:
        assert self.wishes is not None
        if field.kind == lib.TCR_KIND_LABEL:
            labels = self._labels(values, f"{self.path}.{name}")
            self.wishes[field.member] = labels
            there = labels != b""
        else:
            if name == "ext_length_mm":
                values = self._bare(values)
            there = self._put(field, self.wishes, name, values)
        self.wishes["fixed"][there] |= field.bit

    def _labels(self, values: Any, path: str) -> Array:
        given = ["" if _is_absent(v) else str(v) for v in np.asarray(values, object).tolist()]
        if len(given) != self.n:
            raise refused(f"has {len(given)} labels, but the eye has {self.n} lashes", path)
        labels = [label.encode() for label in given]
        for i, label in enumerate(labels):
            if len(label) >= lib.TCR_LABEL_SIZE:
                raise refused(f'"{given[i]}" is longer than {lib.TCR_LABEL_SIZE - 1} bytes',
                              f"{path}[{i}]")
        return np.array(labels, f"S{lib.TCR_LABEL_SIZE}")

    def _bare(self, values: Any) -> Any:
        """Lengths without the lashes that are left bare, which it marks."""
        assert self.wishes is not None
        given = np.asarray(values)
        if given.dtype.kind in "fiub":
            return given
        listed = np.asarray(values, object).tolist()
        bare = np.array([value == "none" for value in listed], bool)
        if bare.shape == (self.n,):
            self.wishes["fixed"][bare] |= lib.TCR_FIX_BARE
        return np.array([None if value == "none" else value for value in listed], object)

    def _ids(self, values: Any) -> list[str] | None:
        if values is None:
            return None
        ids: Sequence[Any] = np.asarray(values, object).tolist()
        if len(ids) != self.n:
            raise refused(f"has {len(ids)} ids, but the eye has {self.n} lashes", f"{self.path}.id")
        return [f"l{i + 1:03d}" if _is_absent(v) else str(v) for i, v in enumerate(ids)]

    def add_to(self, native: Any, side: int) -> None:
        """Adds the lashes to an eye of a set."""
        ids = ffi.NULL
        if self.ids is not None:
            kept = [c_text(id, "id") for id in self.ids]
            ids = ffi.new("const char *[]", kept)
        wishes = ffi.NULL
        if self.wishes is not None:
            wishes = ffi.cast("tcr_wish *", self.wishes.ctypes.data)
        lashes = ffi.cast("tcr_lash *", self.lashes.ctypes.data)
        status = lib.tcr_set_add_lashes(native, side, self.n, ids, lashes, wishes)
        check(status, lib.tcr_set_error(native), ids=self._id)

    def _id(self, side: int, i: int) -> str | None:
        return self.ids[i] if self.ids is not None and i < self.n else None
