# SPDX-License-Identifier: GPL-3.0-or-later
"""The library's table of quantities: every number that a check gives for a lash or an eye."""

from typing import Any

import numpy as np

from ._core import ffi, lib
from ._native import text, words_of

_UNITS = {lib.TCR_UNIT_NONE: "", lib.TCR_UNIT_MM: "mm", lib.TCR_UNIT_DEGREES: "degrees",
          lib.TCR_UNIT_PLACE: "place", lib.TCR_UNIT_SHARE: "share", lib.TCR_UNIT_RATIO: "ratio",
          lib.TCR_UNIT_COUNT: "count", lib.TCR_UNIT_SECONDS: "s", lib.TCR_UNIT_MINUTES: "min",
          lib.TCR_UNIT_MG: "mg", lib.TCR_UNIT_UNMM: "uN mm"}
_TYPES = {lib.TCR_KIND_DOUBLE: np.float64, lib.TCR_KIND_INT: np.int32,
          lib.TCR_KIND_ENUM: np.int32, lib.TCR_KIND_BOOL: np.bool_, lib.TCR_KIND_SIZE: np.uintp,
          lib.TCR_KIND_LABEL: np.uintp}


class Quantity:
    """A quantity: its name, its unit, the words of its numbers, and a line that explains it."""

    def __init__(self, c: Any) -> None:
        self._c = c
        self.name, self.note, self.kind = text(c.name), text(c.note), int(c.kind)
        #: "mm", "degrees", "mg", "uN mm", "share", "ratio", "count", "place" or ""
        self.unit = _UNITS[int(c.unit)]
        self.of_lash = int(c.owner) == lib.TCR_OWNER_LASH
        self.dtype = np.dtype(_TYPES[self.kind])
        #: the words of an enumeration, by its numbers
        self.words = _WORDS.get(self.name, ()) or (
            words_of(c.words, 2) if self.kind == lib.TCR_KIND_BOOL else ())

    def __repr__(self) -> str:
        return f"<Quantity {self.name}{', ' + self.unit if self.unit else ''}: {self.note}>"


def _named(name: Any, count: int) -> tuple[str, ...]:
    return tuple(text(name(i)) for i in range(count))


_WORDS = {
    "layer": _named(lib.tcr_layer_text, lib.TCR_LAYERS),
    "ext_placement": _named(lib.tcr_placement_text, lib.TCR_PLACEMENTS),
    "verdict": _named(lib.tcr_verdict_text, lib.TCR_VERDICTS),
}


def _table() -> dict[str, Quantity]:
    count = ffi.new("size_t *")
    first = lib.tcr_quantities(count)
    for i in range(count[0]):
        if text(first[i].name) == "condition":
            _WORDS["condition"] = words_of(first[i].words, lib.TCR_CONDITIONS)
    return {q.name: q for q in (Quantity(first + i) for i in range(count[0]))}


#: all quantities by name, those of a lash first
QUANTITIES = _table()
OF_LASH = {name: q for name, q in QUANTITIES.items() if q.of_lash}
OF_EYE = {name: q for name, q in QUANTITIES.items() if not q.of_lash}
