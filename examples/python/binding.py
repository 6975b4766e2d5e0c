# SPDX-License-Identifier: GPL-3.0-or-later
"""The low-level binding, made from tipcrest-api.json, which describes the headers of the library.

    declarations(api)   the text for cffi's cdef
    headers(api)        the includes for its compiler
    stub(api)           the text of src/tipcrest/_core.pyi, the types of what cffi makes

    python3 binding.py [API.json]   writes src/tipcrest/_core.pyi, for type checkers

Nothing here names a function, a struct or a constant of the library, so a new header needs no change.
"""

import json
import os
import re
import shlex
import subprocess
import sys

LIBRARIES = ["core", "file", "draw", "study"]

# What Python hands to C: one function for each kind of callback.
CALLBACKS = """
extern "Python" bool tipcrest_report(void *, const char *, double);
extern "Python" int tipcrest_sink(void *, const void *, size_t);
extern "Python" const char *tipcrest_survey(void *, const char *, size_t *);
"""


def pkg_config(*arguments):
    command = [*shlex.split(os.environ.get("PKG_CONFIG", "pkg-config")), *arguments]
    return subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout.split()


def read_api(path=None):
    """The description of the installed library, or that of TIPCREST_API or a path."""
    path = path or os.environ.get("TIPCREST_API")
    if not path:
        (prefix,) = pkg_config("--variable=prefix", "tipcrest")
        path = os.path.join(prefix, "share", "tipcrest", "tipcrest-api.json")
    with open(path, encoding="utf-8") as file:
        api = json.load(file)
    if api["format"] != 1:
        sys.exit(f"{path}: format {api['format']}, but this needs 1")
    return api


def is_foreign(entry):
    """Whether a declaration needs another library's types."""
    return "cairo_t" in entry["declaration"]


def items(api):
    """What the headers declare, each after what it needs."""
    tables = {"constant": "constants", "enum": "enums", "struct": "structs", "opaque": "objects",
              "callback": "callbacks", "function": "functions"}
    for item in api["order"]:
        entry = api[tables[item["kind"]]][item["name"]]
        if entry["library"] not in LIBRARIES:
            continue
        if item["kind"] == "constant" or not is_foreign(entry):
            yield item["kind"], item["name"], entry


def headers(api):
    names = {entry["header"] for _, _, entry in items(api)}
    return "".join(f"#include <{h['name']}>\n" for h in api["headers"] if h["name"] in names)


def constant(name, entry):
    value = entry["value"]
    if isinstance(value, str):
        return f"static char *const {name};"
    if isinstance(value, float):
        return f"static const double {name};"
    return f"#define {name} {value}" if isinstance(value, int) else ""


def declarations(api):
    lines = []
    for kind, name, entry in items(api):
        if kind == "constant":
            lines.append(constant(name, entry))
        elif kind == "enum":
            values = ", ".join(f"{v['name']} = {v['value']}" for v in entry["values"])
            lines.append(f"typedef enum {name} {{ {values} }} {name};")
        else:
            lines.append(entry["declaration"])
    return "\n".join(lines) + CALLBACKS


# ---- Types for type checkers -------------------------------------------------------------------

STUB = '''# Made by binding.py from tipcrest-api.json.
from typing import Any, Callable

CData = Any
CType = Any


class _FFI:
    NULL: CData
    error: type[Exception]
    def new(self, cdecl: str | CType, init: Any = ...) -> CData: ...
    def new_allocator(self, alloc: Any = ..., free: Any = ...,
                      should_clear_after_alloc: bool = ...) -> Callable[..., CData]: ...
    def cast(self, cdecl: str | CType, value: Any) -> CData: ...
    def typeof(self, cdecl: str | CData) -> CType: ...
    def sizeof(self, cdecl: str | CType | CData) -> int: ...
    def addressof(self, cdata: CData, *fields: str | int) -> CData: ...
    def string(self, cdata: CData, maxlen: int = ...) -> bytes: ...
    def buffer(self, cdata: CData, size: int = ...) -> Any: ...
    def from_buffer(self, cdecl: str, data: Any, require_writable: bool = ...) -> CData: ...
    def new_handle(self, value: Any) -> CData: ...
    def from_handle(self, handle: CData) -> Any: ...
    def def_extern(self, name: str = ..., error: Any = ...,
                   onerror: Any = ...) -> Callable[[Any], Any]: ...


class _Lib:
'''


def python_type(base, pointers):
    if pointers == 0 and base in ("float", "double"):
        return "float"
    if pointers == 0 and base == "bool":
        return "bool"
    if pointers == 0 and (base in ("int", "unsigned", "size_t", "unsigned long")
                          or re.fullmatch(r"u?int\d+_t", base)):
        return "int"
    return "CData"


def result_type(api, returns):
    if returns["type"] == "void":
        return "None"
    if returns["base"] in api["enums"] and returns["pointers"] == 0:
        return "int"
    return python_type(returns["base"], returns["pointers"])


def parameter_type(api, parameter):
    if parameter["base"] in api["enums"] and parameter["pointers"] == 0:
        return "int"
    pointers = parameter["pointers"] + len(parameter.get("dimensions", []))
    return python_type(parameter["base"], pointers)


def stub(api):
    lines = []
    for kind, name, entry in items(api):
        if kind == "constant":
            value = {str: "CData", float: "float", int: "int"}.get(type(entry["value"]))
            lines += [f"    {name}: {value}"] if value else []
        elif kind == "enum":
            lines += [f"    {v['name']}: int" for v in entry["values"]]
        elif kind == "function":
            given = ", ".join(f"{p['name']}_: {parameter_type(api, p)}" for p in entry["parameters"])
            given = f"self, {given}, /" if given else "self"
            lines.append(f"    def {name}({given}) -> {result_type(api, entry['returns'])}: ...")
    for name in re.findall(r"\b(tipcrest_\w+)\(", CALLBACKS):
        lines.append(f"    {name}: CData")
    return STUB + "\n".join(lines) + "\n\n\nffi: _FFI\nlib: _Lib\n"


def write_stub(folder, api):
    with open(os.path.join(folder, "_core.pyi"), "w", encoding="utf-8") as file:
        file.write(stub(api))


if __name__ == "__main__":
    here = os.path.dirname(os.path.abspath(__file__))
    write_stub(os.path.join(here, "src", "tipcrest"), read_api(*sys.argv[1:2]))
