# SPDX-License-Identifier: GPL-3.0-or-later
"""A set as nested dicts and lists, written out as JSON for the library's reader of set files.

Each value has a line of its own, so that the line in a message of the reader leads back to its path,
such as eyes[0].map[2].curl.
"""

import json
import math
from typing import Any

import numpy as np

from .errors import refused


def plain(value: Any, path: str) -> Any:
    """A value as JSON has it; refuses what it has not."""
    if isinstance(value, np.ndarray):
        return [plain(item, f"{path}[{i}]") for i, item in enumerate(value.tolist())]
    if isinstance(value, np.generic):
        return plain(value.item(), path)
    if isinstance(value, float) and not math.isfinite(value):
        raise refused(f"{value} is no number of a set; leave out what is unknown", path)
    if value is None or isinstance(value, (bool, int, float, str)):
        return value
    raise refused(f"a {type(value).__name__} has no place in a set", path)


class Writer:
    """Writes JSON and remembers the path of each line."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.paths: list[str] = []

    def put(self, front: str, value: Any, path: str, end: str) -> None:
        if hasattr(value, "items"):
            # What is None is left out; the reader then takes the default.
            there = [(str(k), v) for k, v in value.items() if v is not None]
            inner = [(json.dumps(k, ensure_ascii=False) + ": ", v, f"{path}.{k}" if path else k)
                     for k, v in there]
            brackets = "{}"
        elif isinstance(value, (list, tuple)) or (isinstance(value, np.ndarray) and value.ndim):
            inner = [("", v, f"{path}[{i}]") for i, v in enumerate(value)]
            brackets = "[]"
        else:
            text = json.dumps(plain(value, path), ensure_ascii=False)
            self.line(front + text + end, path)
            return
        self.line(front + brackets[0], path)
        for i, (key, item, where) in enumerate(inner):
            self.put(key, item, where, "," if i + 1 < len(inner) else "")
        self.line(brackets[1] + end, path)

    def line(self, text: str, path: str) -> None:
        self.lines.append(text)
        self.paths.append(path)

    def path_of(self, line: int | None) -> str | None:
        return self.paths[line - 1] or None if line and line <= len(self.paths) else None

    def text(self) -> str:
        return "\n".join(self.lines) + "\n"
