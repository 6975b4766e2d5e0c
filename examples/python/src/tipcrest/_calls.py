# SPDX-License-Identifier: GPL-3.0-or-later
"""What the library calls back: progress, and sinks of reports and pictures."""

import threading
from typing import Any, Callable, Optional

from ._core import ffi, lib
from ._native import text
from .errors import check

#: called with the phase of the work and the share of it that is done, 0 to 1 or NaN; False stops it
Progress = Optional[Callable[[str, float], object]]

_current = threading.local()


class Watch:
    """Watches a call that calls back. What Python raises there, such as KeyboardInterrupt, stops the
    call and comes out of it in place of the call's own error.

    The library calls back on the caller's thread, so the watch of a call is the current one of its
    thread.
    """

    def __init__(self, progress: Progress = None) -> None:
        self.progress = progress
        self.raised: BaseException | None = None

    def put_into(self, options: Any) -> None:
        """Fills a tcr_progress."""
        options.report, options.context = lib.tipcrest_report, ffi.NULL

    def __enter__(self) -> "Watch":
        self.before = getattr(_current, "watch", None)
        _current.watch = self
        return self

    def __exit__(self, *_: object) -> None:
        _current.watch = self.before
        if self.raised is not None:
            raise self.raised


def _keep(kind: Any, error: BaseException, _: Any) -> None:
    watch = getattr(_current, "watch", None)
    if watch is not None and watch.raised is None:
        watch.raised = error


@ffi.def_extern(error=False, onerror=_keep)
def tipcrest_report(context: Any, phase: Any, share: float) -> bool:
    progress = _current.watch.progress
    return progress is None or progress(text(phase), share) is not False


class Sink:
    """Gathers the bytes that a writer of the library hands on."""

    def __init__(self) -> None:
        self.bytes = bytearray()
        self.handle = ffi.new_handle(self)


@ffi.def_extern(error=1, onerror=_keep)
def tipcrest_sink(context: Any, data: Any, count: int) -> int:
    ffi.from_handle(context).bytes.extend(ffi.buffer(data, count))
    return 0


def written(write: Callable[[Any, Any], int], what: str, watch: Watch | None = None) -> bytes:
    """What a writer hands to a sink; write takes the sink and its context."""
    sink = Sink()
    with watch or Watch():
        check(write(lib.tipcrest_sink, sink.handle), what=what)
    return bytes(sink.bytes)


class Surveys:
    """Surveys in memory, by the names that a set file gives them."""

    def __init__(self, texts: dict[str, bytes]) -> None:
        self.kept = {name: ffi.from_buffer("char[]", data) for name, data in texts.items()}
        self.handle = ffi.new_handle(self)


@ffi.def_extern(error=ffi.NULL, onerror=_keep)
def tipcrest_survey(context: Any, name: Any, size: Any) -> Any:
    data = ffi.from_handle(context).kept.get(text(name))
    if data is None:
        return ffi.NULL
    size[0] = len(data)
    return data
