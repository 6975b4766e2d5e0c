# SPDX-License-Identifier: GPL-3.0-or-later
"""pyproject.toml has the rest; here is what needs code: the C part, and the types of the C part."""

import os
import sys

from setuptools import Extension, setup
from setuptools.command.build_py import build_py

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
import binding  # noqa: E402


class BuildWithStub(build_py):
    def run(self):
        super().run()
        if not self.editable_mode:
            folder = os.path.join(self.build_lib, "tipcrest")
            self.mkpath(folder)
            binding.write_stub(folder, binding.read_api())


setup(
    ext_modules=[Extension("tipcrest._owner", ["owner.c"], py_limited_api=True)],
    cffi_modules=["build_core.py:ffibuilder"],
    cmdclass={"build_py": BuildWithStub},
    options={"bdist_wheel": {"py_limited_api": "cp311"}},
)
