# SPDX-License-Identifier: GPL-3.0-or-later
"""cffi's builder of tipcrest._core, against the installed library that pkg-config finds."""

import os
import sys

import cffi

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import binding  # noqa: E402

NEEDED = ["tipcrest", "tipcrest-file", "tipcrest-draw", "tipcrest-study"]


def flags(option, front):
    return [word[len(front):] for word in binding.pkg_config(option, *NEEDED)]


api = binding.read_api()
ffibuilder = cffi.FFI()
ffibuilder.cdef(binding.declarations(api))
ffibuilder.set_source(
    "tipcrest._core",
    binding.headers(api),
    libraries=flags("--libs-only-l", "-l"),
    library_dirs=flags("--libs-only-L", "-L"),
    include_dirs=flags("--cflags-only-I", "-I"),
    py_limited_api=True,
)
