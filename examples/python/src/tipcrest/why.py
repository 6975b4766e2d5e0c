# SPDX-License-Identifier: GPL-3.0-or-later
"""The causes of unevenness: how much each adds to the mean square deviation from the line."""

from typing import TYPE_CHECKING, Any

from ._core import ffi, lib
from ._native import Table, text
from .errors import check

if TYPE_CHECKING:
    from .check import Check
    from .picture import Picture

CAUSES = tuple(text(lib.tcr_cause_text(i)) for i in range(lib.TCR_CAUSES))


class Why(Table):
    """The causes of one eye, a row for each name in ``causes``.

    Columns: shapley_mm2 (the mean contribution to the mean square deviation, mm2; negative: it evens
    the line), first_in_mm2, last_out_mm2, alone_rms_mm (rms if it were the only cause) and
    without_rms_mm (rms if it alone were switched off). Read-only, over the library's memory.
    """

    #: names of the causes, in the order of rows
    causes = CAUSES

    def __init__(self, of: "Check", side: int) -> None:
        from .sets import SIDES
        self._c = ffi.new("tcr_why *")
        check(lib.tcr_why_of(of._c, side, self._c), what="why")
        super().__init__(self._c, ffi.addressof(self._c, "cause"), lib.TCR_CAUSES, "tcr_share")
        self._check = of
        #: "left" or "right"
        self.side = SIDES[side]
        #: lashes that carry an extension
        self.lashes = int(self._c.lashes)
        #: rms with all causes, and without any, mm
        self.whole_rms_mm, self.bare_rms_mm = self._c.whole_rms_mm, self._c.bare_rms_mm
        #: rms with the bottom cell's length on every layer, and by the rule, mm
        self.equal_rms_mm, self.ruled_rms_mm = (self._c.layers.equal_rms_mm,
                                                self._c.layers.ruled_rms_mm)
        #: lashes whose extension by the rule the tray lacks
        self.ruled_lacking = int(self._c.layers.ruled_lacking)
        #: rise of the mean lash's tip with a root 1 mm higher, and an extension 1 mm shorter, mm
        self.tip_by_height_mm, self.tip_by_shorter_mm = (self._c.layers.tip_by_height_mm,
                                                         self._c.layers.tip_by_shorter_mm)

    @property
    def sentences(self) -> list[str]:
        """The answer in sentences, the verdict first."""
        room = ffi.new("char[]", lib.TCR_WHY_TEXT)
        said = []
        for i in range(lib.TCR_WHY_SENTENCES):
            lib.tcr_why_say(self._c, i, room)
            if text(room):
                said.append(text(room))
        return said

    def picture(self, format: str = "png", **options: Any) -> "Picture":
        """The causes as a picture; options as for Check.picture."""
        return self._check.picture("why", format, side=self.side, **options)

    def to_pandas(self) -> Any:
        """The causes as a DataFrame, by their names. Needs pandas."""
        return super().to_pandas().set_axis(list(self.causes))

    def __str__(self) -> str:
        return "\n".join(self.sentences)

    def __repr__(self) -> str:
        return f"<Why {self.side} eye: {self.whole_rms_mm:.3f} mm rms>"

    def _repr_png_(self) -> bytes:
        return self.picture().data


def why_of(of: "Check", side: int) -> Why:
    return Why(of, side)
