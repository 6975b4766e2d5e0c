# SPDX-License-Identifier: GPL-3.0-or-later
"""Objects of the library, and arrays over their memory."""

from typing import Any, Mapping, cast

import numpy as np
import numpy.typing as npt

from . import _owner
from ._core import ffi, lib

Array = npt.NDArray[Any]
#: what owns an object of the library: see owner.c
Native = object


def place(kind: str, free: str, *needs: object) -> tuple[Any, Native]:
    """A place for the library to put an object of a kind, and what owns the object from then on.

    free is the name of the function that frees it; what it needs lives at least as long. The owner is
    made before the call, so nothing is lost where Ctrl-C or an error comes after it.
    """
    out, release = ffi.new(f"{kind} **"), ffi.addressof(lib, free)
    return out, _owner.own(address(out), address(release), (out, *needs))


def address(pointer: Any) -> int:
    return int(ffi.cast("uintptr_t", pointer))


# ---- Arrays ------------------------------------------------------------------------------------

class Memory:
    """Exports memory of the library for reading; it keeps what owns the memory."""

    __slots__ = ("__array_interface__", "owner")

    def __init__(self, owner: object, at: int, dtype: np.dtype[Any], shape: tuple[int, ...],
                 strides: tuple[int, ...] | None) -> None:
        self.owner = owner
        self.__array_interface__ = {
            "version": 3, "data": (at, True), "typestr": dtype.str, "shape": shape,
            "strides": strides}


_EMPTY = ffi.new("char[16]")


def view(owner: object, at: int, dtype: Any, shape: tuple[int, ...],
         strides: tuple[int, ...] | None = None) -> Array:
    """A read-only array over memory that owner keeps; nothing is copied."""
    if 0 in shape:  # NumPy refuses no address
        owner, at, strides = _EMPTY, address(_EMPTY), None
    return np.asarray(Memory(owner, at, np.dtype(dtype), shape, strides))


def frozen(values: Array) -> Array:
    """A read-only array over one that nobody else has."""
    return view(values, values.ctypes.data, values.dtype, values.shape)


_make = ffi.new_allocator(should_clear_after_alloc=False)


def numbers(count: int, ctype: str = "double") -> Any:
    """Room for numbers, of any value."""
    return _make(f"{ctype}[]", max(count, 1))


_TYPES = {"double": np.float64, "float": np.float32, "_Bool": np.bool_, "bool": np.bool_}


def _dtype_of(ctype: Any) -> np.dtype[Any] | None:
    """NumPy's type of a number in C; None for anything else."""
    if ctype.kind == "enum":
        return np.dtype(np.int32)
    if ctype.kind != "primitive" or ctype.cname == "char":
        return None
    size = ffi.sizeof(ctype)
    kind = _TYPES.get(ctype.cname)
    if kind is not None:
        return np.dtype(kind)
    return np.dtype(f"{'u' if int(ffi.cast(ctype, -1)) > 0 else 'i'}{size}")


def members(ctype: Any, prefix: str = "", at: int = 0) -> dict[str, tuple[int, np.dtype[Any], Any]]:
    """Numbers of a struct by name: the offset in bytes, the type, and the length of an array or 0."""
    out: dict[str, tuple[int, np.dtype[Any], Any]] = {}
    for name, field in ctype.fields:
        dtype, length, kind = _dtype_of(field.type), 0, field.type
        if kind.kind == "array":
            dtype, length = _dtype_of(kind.item), kind.length
        if dtype is not None:
            out[prefix + name] = (at + field.offset, dtype, length)
        elif kind.kind == "struct":
            out.update(members(kind, f"{prefix}{name}.", at + field.offset))
    return out


class Table(Mapping[str, Array]):
    """Rows of numbers, as columns: read-only arrays over the library's own memory.

    ``table["name"]`` is a column, ``list(table)`` the names, ``table.rows`` how many rows there are.
    Names carry the unit: ``_mm``, ``_rad``, ``_deg``, ``_mg``.
    """

    def __init__(self, owner: object, pointer: Any, rows: int, ctype: str,
                 rename: Mapping[str, str] | None = None, without: tuple[str, ...] = ()) -> None:
        self._owner, self._pointer, self.rows = owner, pointer, rows
        kind = ffi.typeof(ctype)
        self._size = ffi.sizeof(kind)
        self._members = {}
        for name, member in members(kind).items():
            if name in without:
                continue
            for old, new in (rename or {}).items():
                if name.startswith(old):
                    name = new + name[len(old):]
                    break
            self._members[name] = member
        self._columns: dict[str, Array] = {}

    def __getitem__(self, name: str) -> Array:
        """A column by its name."""
        if name not in self._columns:
            if name not in self._members:
                raise KeyError(f"{name}: there is no such column; there are {', '.join(self)}")
            offset, dtype, length = self._members[name]
            shape: tuple[int, ...] = (self.rows,)
            strides: tuple[int, ...] = (self._size,)
            if length:
                shape, strides = (self.rows, length), (self._size, dtype.itemsize)
            at = address(self._pointer) + offset if self.rows else 0
            self._columns[name] = view(self._owner, at, dtype, shape, strides)
        return self._columns[name]

    def __iter__(self) -> Any:
        return iter(self._members)

    def __len__(self) -> int:
        return len(self._members)

    def __repr__(self) -> str:
        return f"<{self.rows} rows of {', '.join(self)}>"

    def to_pandas(self) -> Any:
        """The table as a DataFrame. Needs pandas."""
        return frame({name: column for name, column in self.items() if column.ndim == 1})


def frame(columns: Mapping[str, Any]) -> Any:
    """A DataFrame of columns."""
    try:
        import pandas
    except ImportError as missing:
        raise ImportError("to_pandas() needs pandas, which is not installed") from missing
    return pandas.DataFrame(dict(columns))


def text(pointer: Any) -> str:
    """A text of the library; it is UTF-8, or bytes of a file's name."""
    return ffi.string(pointer).decode("utf-8", "surrogateescape") if pointer != ffi.NULL else ""


def words_of(pointer: Any, count: int) -> tuple[str, ...]:
    return tuple(text(pointer[i]) for i in range(count))


def dtype_of(ctype: str) -> np.dtype[Any]:
    """A structured type with the numbers, and the texts, of a struct where C has them."""
    kind = ffi.typeof(ctype)
    names, formats, offsets = [], [], []
    for name, field in kind.fields:
        one = _dtype_of(field.type)
        if one is None and field.type.kind == "array" and field.type.item.cname == "char":
            one = np.dtype(f"S{field.type.length}")
        if one is not None:
            names.append(name)
            formats.append(one)
            offsets.append(field.offset)
    return np.dtype(cast(Any, {"names": names, "formats": formats, "offsets": offsets,
                               "itemsize": ffi.sizeof(kind)}))


def c_text(value: str, what: str = "text") -> Any:
    """A text for C."""
    if "\0" in value:
        raise ValueError(f"{what}: a text for the library has no NUL")
    return ffi.new("char[]", value.encode("utf-8", "surrogateescape"))


VERSION = text(lib.tcr_version())
