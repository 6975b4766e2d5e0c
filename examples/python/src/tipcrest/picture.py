# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures that show themselves in a notebook, and files that appear whole or not at all."""

import os
from typing import TYPE_CHECKING, Any, Mapping

from ._calls import Progress, Watch, written
from ._core import ffi, lib
from ._native import c_text
from .errors import check, refused

if TYPE_CHECKING:
    from .check import Check

FORMATS = {"png": lib.TCR_PNG, "svg": lib.TCR_SVG, "pdf": lib.TCR_PDF}


def save(path: str | os.PathLike[str], data: bytes) -> None:
    """Writes a file, whole or not at all. Raises FileError."""
    out, error, index = ffi.new("tcr_outputs **"), ffi.new("tcr_error *"), ffi.new("size_t *")
    try:
        check(lib.tcr_outputs_new(ffi.NULL, out), what="save")
        outputs = out[0]
        name = c_text(os.fsdecode(path), "path")
        check(lib.tcr_outputs_add(outputs, name, index, error), error, f"writing {path}")
        check(lib.tcr_outputs_write(outputs, index[0], ffi.from_buffer("char[]", data), len(data)),
              what=f"writing {path}")
        check(lib.tcr_outputs_commit(outputs, error), error, f"writing {path}")
    finally:
        lib.tcr_outputs_free(out[0])


class Picture:
    """A picture. It shows itself in a notebook; ``save`` writes it to a file."""

    def __init__(self, data: bytes, format: str, what: str) -> None:
        #: the bytes of the file
        self.data = data
        #: "png", "svg" or "pdf"
        self.format = format
        self._what = what

    def save(self, path: str | os.PathLike[str]) -> None:
        """Writes it to a file, whole or not at all."""
        save(path, self.data)

    def _repr_png_(self) -> bytes | None:
        return self.data if self.format == "png" else None

    def _repr_svg_(self) -> str | None:
        return self.data.decode() if self.format == "svg" else None

    def __repr__(self) -> str:
        return f"<Picture {self._what}: {self.format}, {len(self.data)} bytes>"


def format_of(format: str) -> int:
    if format not in FORMATS:
        raise refused(f'"{format}" is no format; {", ".join(FORMATS)}', "format")
    return int(FORMATS[format])


class Options:
    """tcr_picture_options with what the caller gives, and what must live as long."""

    def __init__(self, given: Mapping[str, Any]) -> None:
        self.c = ffi.new("tcr_picture_options *")
        lib.tcr_picture_options_init(self.c, ffi.sizeof("tcr_picture_options"))
        self.kept: list[Any] = []
        for name, value in given.items():
            self.put(name, value)

    def put(self, name: str, value: Any) -> None:
        from .sets import SIDES, side_of
        c = self.c
        if name in ("width_mm", "dpi", "at_u"):
            setattr(c, name, float(value))
        elif name in ("lines", "staggered", "companion", "dark", "from_head"):
            setattr(c, name, bool(value))
        elif name in ("frame", "frames"):
            setattr(c, name, int(value))
        elif name == "apart_mm":
            if value is not None:
                c.has_apart, c.apart_mm = True, float(value)
        elif name == "side":
            for i in range(len(SIDES)):
                c.eye[i] = value is None or i == side_of(value)
        elif name == "with_check":
            self.kept.append(value)
            c.__setattr__("with", value._c)
        elif name in ("name", "with_name"):
            self.kept.append(c_text(value, name))
            setattr(c, name, self.kept[-1])
        else:
            raise TypeError(f"{name} is no option of a picture")


def picture_of(of: "Check", view: str, format: str, given: Mapping[str, Any]) -> Picture:
    options, kind, name = Options(given), format_of(format), c_text(view, "view")
    known = [ffi.string(lib.tcr_picture_view_name(i)).decode()
             for i in range(lib.tcr_picture_views())]
    if view not in known:
        raise refused(f'"{view}" is no view; {", ".join(known)}', "view")
    data = written(lambda sink, context: lib.tcr_picture_write(
        name, kind, of._c, options.c, sink, context), f"picture {view}")
    return Picture(data, format, view)


def film(of: "Check", frames: int, progress: Progress, given: Mapping[str, Any]) -> bytes:
    options = Options({**given, "frames": frames})
    c, watch = ffi.new("tcr_progress *"), Watch(progress)
    watch.put_into(c)
    return written(lambda sink, context: lib.tcr_film_write(
        of._c, options.c, c, sink, context), "film", watch)
