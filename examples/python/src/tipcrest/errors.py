# SPDX-License-Identifier: GPL-3.0-or-later
"""Errors: one exception for each kind of failure, with what was wrong and where."""

import math
import os
from typing import Any

from ._core import ffi, lib
from ._native import text


class Error(Exception):
    """A call of the library failed. ``str(error)`` says where, what was found and what would be right.

    What a failure does not have is None.
    """

    #: the number and the name of the status, such as 2 and "TCR_E_RANGE"
    status: int = 0
    status_name: str = ""
    #: the key or the path of what is wrong, such as "eyes[0].map[2].curl"
    key: str | None = None
    #: the number that was found, and its range
    value: float | None = None
    least: float | None = None
    most: float | None = None
    #: "left" or "right"
    side: str | None = None
    #: the index of the lash in its eye, and its id
    lash: int | None = None
    lash_id: str | None = None
    #: the index of the zone in its map
    zone: int | None = None
    #: "bottom", "middle" or "top"
    layer: str | None = None
    #: the place in a file, from 1
    path: str | None = None
    line: int | None = None
    column: int | None = None


class InputError(Error, ValueError):
    """A number, a word or a file's content is wrong."""


class MissingError(Error, LookupError):
    """An eye, a lash, a curl or a part that is not there."""


class FileError(Error, OSError):
    """A file cannot be opened, read or written."""

    def __str__(self) -> str:
        return Exception.__str__(self)


class OutOfMemory(Error, MemoryError):
    """There is not enough memory."""


class NoSolution(Error):
    """Nothing meets all limits, or an iteration did not reach its accuracy."""


class Stopped(Error):
    """The progress function returned False before there was a result."""


_KINDS: dict[int, type[Error]] = {
    lib.TCR_E_MISSING: MissingError,
    lib.TCR_E_OPEN: FileError,
    lib.TCR_E_WRITE: FileError,
    lib.TCR_E_MEMORY: OutOfMemory,
    lib.TCR_E_NO_CONVERGENCE: NoSolution,
    lib.TCR_E_NO_SOLUTION: NoSolution,
    lib.TCR_E_STOPPED: Stopped,
    lib.TCR_E_FONT: Error,
}
_NAMES = {int(number): name for number, name in ffi.typeof("tcr_status").elements.items()}


def status_name(status: int) -> str:
    """The name of a status in C: "TCR_E_RANGE"."""
    return _NAMES.get(status, "unknown status")


def status_text(status: int) -> str:
    """The library's short text for a status."""
    return text(lib.tcr_status_text(status))


def _given(number: float) -> float | None:
    return None if math.isnan(number) else number


def _fill(error: Error, c: Any, ids: Any) -> None:
    error.key = text(c.member) or None
    error.value, error.least, error.most = _given(c.value), _given(c.least), _given(c.most)
    error.side = text(lib.tcr_side_text(c.side)) if c.side >= 0 else None
    absent = 2 ** (8 * ffi.sizeof("size_t")) - 1
    error.lash = None if c.lash == absent else c.lash
    error.zone = None if c.zone == absent else c.zone
    error.layer = text(lib.tcr_layer_text(c.layer)) if c.layer >= 0 else None
    error.path = os.fsdecode(ffi.string(c.path)) or None
    error.line, error.column = c.line or None, c.column or None
    if error.lash is not None and error.side is not None and ids is not None:
        error.lash_id = ids(c.side, error.lash)


def _where(error: Error) -> str:
    if error.path is not None:
        place = [str(n) for n in (error.line, error.column) if n is not None]
        return ":".join([error.path, *place]) + ": "
    parts = [f"{error.side} eye"] if error.side is not None else []
    if error.lash is not None:
        parts.append(f"lash {error.lash}" + (f" ({error.lash_id})" if error.lash_id else ""))
    elif error.zone is not None:
        parts.append(f"zone {error.zone}")
    if error.layer is not None:
        parts.append(f"{error.layer} layer")
    return ", ".join(parts) + ": " if parts else ""


def failure(status: int, c: Any = None, what: str = "", ids: Any = None) -> Error:
    """The exception for a status, with what a tcr_error says; 'what' was being done."""
    kind = _KINDS.get(status, InputError)
    filled = c is not None and c.status != lib.TCR_OK
    message = text(c.message) if filled else ""
    place = Error()
    if filled:
        _fill(place, c, ids)
    error = kind(_where(place) + (message or (f"{what}: " if what else "") + status_text(status)))
    error.__dict__.update(place.__dict__)
    error.status, error.status_name = status, status_name(status)
    return error


def refused(message: str, key: str | None = None, status: int = lib.TCR_E_ARGUMENT) -> InputError:
    """The exception for what the binding itself refuses."""
    error = InputError(f"{key}: {message}" if key else message)
    error.key, error.status, error.status_name = key, status, status_name(status)
    return error


def check(status: int, c: Any = None, what: str = "", ids: Any = None) -> None:
    """Raises unless the status is TCR_OK."""
    if status != lib.TCR_OK:
        raise failure(status, c, what, ids)
