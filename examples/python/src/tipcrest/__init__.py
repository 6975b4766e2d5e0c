# SPDX-License-Identifier: GPL-3.0-or-later
"""tipcrest: how a set of eyelash extensions looks with the eye open.

    import numpy as np, tipcrest
    eye = tipcrest.Eye("left", {"u": np.linspace(0.1, 0.9, 60), "layer": np.arange(60) % 3},
                       [{"to": 1, "length_mm": 12, "curl": "C"}])
    check = tipcrest.Set([eye]).check()
    check.rms_mm, check.left["deviation_mm"], check.picture("front")

Numbers have the names, units and ranges of set files: millimetres, degrees, shares from 0 to 1.
Objects never change and may be shared by threads; a call lets other threads run while it computes.
Arrays over the library's memory are read-only and keep what they lie in. Errors are exceptions that
say where, what was found and what would be right.
"""

from ._calls import Progress
from ._lashes import Lash
from ._native import VERSION, Table
from ._quantities import QUANTITIES, Quantity
from .check import Check, CheckEye, Evenness, Judgement, Symmetry
from .errors import (Error, FileError, InputError, MissingError, NoSolution, OutOfMemory, Stopped,
                     status_name, status_text)
from .picture import Picture
from .plan import ORDERS, USES, Plan, PlanEye, Work
from .sets import Eye, Set, SetEye
from .step import Lesson, Sensitivity, Step
from .study import (STANDINGS, Block, Normal, Study, StudyResult, Trial, Triangular, Uniform,
                    check_sets)
from .why import Why

__version__ = VERSION

__all__ = [
    "Block", "Check", "CheckEye", "Error", "Evenness", "Eye", "FileError", "InputError",
    "Judgement", "Lash", "Lesson", "MissingError", "NoSolution", "Normal", "ORDERS", "OutOfMemory",
    "Picture", "Plan", "PlanEye", "Progress", "QUANTITIES", "Quantity", "STANDINGS", "Sensitivity",
    "Set", "SetEye", "Step", "Stopped", "Study", "StudyResult", "Symmetry", "Table", "Trial",
    "Triangular", "USES", "Uniform", "Why", "Work", "check_sets", "status_name", "status_text",
]
