# SPDX-License-Identifier: GPL-3.0-or-later
"""Plans: the choice from the tray for each zone and layer, corrections, and the work."""

from typing import TYPE_CHECKING, Any, Mapping

from ._calls import Progress, Watch, written
from ._core import ffi, lib
from ._native import Table, place
from .errors import check, failure, refused
from .picture import Picture
from .step import PLACEMENTS, placement_of

if TYPE_CHECKING:
    from .check import Check
    from .sets import Set

CHOICE = {"choice.": "ext_"}
OBJECTIVES = {"squares": lib.TCR_LEAST_SQUARES, "maximum": lib.TCR_LEAST_MAXIMUM}
#: what a plan does with a lash, by the numbers of the column "use"
USES = ("used", "used by its row", "bare: the line is covered", "bare: its condition",
        "bare: its row", "bare: a baby", "bare: a stray", "bare: too short for the bond",
        "bare: too weak")
ORDERS = ("found", "not found", "crowd", "narrow", "too many")


class PlanEye:
    """A planned eye."""

    def __init__(self, of: "Plan", side: int) -> None:
        self._c = lib.tcr_plan_eye_of(of._c, side)
        if self._c == ffi.NULL:
            raise failure(lib.TCR_E_MISSING, what="the set has no such eye")
        c = self._c
        #: lashes in all, suitable ones, and those that get an extension
        self.lashes, self.suitable, self.used = int(c.lashes), int(c.suitable), int(c.used)
        #: largest gap along the lid of the plan, and of all suitable lashes, mm
        self.gap_mm, self.least_gap_mm = c.gap_mm, c.least_gap_mm
        #: whether only zones and layers are planned, since nobody measured the lashes
        self.zones_only = bool(c.zones_only)
        #: a row for each lash: use (see USES), corrected, ext_length_mm, ext_curl, ..., deviation_mm,
        #: zone_deviation_mm, better_mm and the best correction, better.length_mm, ...
        self.table = Table(of._native, c.lash, self.lashes, "tcr_plan_lash", CHOICE)
        #: over the samples of an eye of zones_only: rms_mm, p95_mm, max_mm, within_tolerance, ...
        self.over = {name: column[0] for name, column in Table(
            of._native, ffi.addressof(c, "over"), 1, "tcr_plan_over").items()
            if column.ndim == 1} if self.zones_only else None

    def __repr__(self) -> str:
        return f"<planned eye: {self.used} of {self.lashes} lashes get an extension>"


class Work:
    """The work of a plan: the order of the lashes, what to lay out, glue and minutes."""

    def __init__(self, of: "Plan", pace: Mapping[str, float]) -> None:
        self.plan = of
        c = ffi.new("tcr_plan_pace *")
        lib.tcr_plan_pace_init(c, ffi.sizeof("tcr_plan_pace"))
        if of.set._source is not None:
            c[0] = lib.tcr_set_file_pace(of.set._source)
        for name, value in pace.items():
            if name == "size" or name not in dict(ffi.typeof("tcr_plan_pace").fields):
                raise TypeError(f"{name} is no number of a pace")
            setattr(c, name, float(value))
        out, self._native = place("tcr_plan_work", "tcr_plan_work_free", of._native)
        with Watch(of._progress):
            check(lib.tcr_plan_work_new(of._c, c, out), what="work")
        self._c = out[0]
        #: a row for each lash in working order: side, lash, row (of ``tray``)
        self.order = Table(self._native, self._c.place, int(self._c.places), "tcr_plan_place")
        #: a row for each row of the tray: length_mm, curl, diameter_mm, lashes, fibres, with_loss
        self.tray = Table(self._native, self._c.row, int(self._c.rows), "tcr_plan_row")
        #: whether there is an order that keeps the distance: one of ORDERS
        self.found = ORDERS[int(self._c.order)]
        self.conflicts, self.changes = int(self._c.conflicts), int(self._c.changes)
        #: minutes for lashes and changes, and in all
        self.placing_min, self.minutes = self._c.placing_min, self._c.minutes
        #: drops of glue
        self.drops = int(self._c.drops)

    def sheet(self, form: str = "full") -> Picture:
        """The work sheet as a PDF to print: "full", or "zones" for zones and layers on one page."""
        if form not in ("full", "zones"):
            raise refused(f'"{form}" is no form of a sheet; full or zones', "form")
        kind = lib.TCR_SHEET_FULL if form == "full" else lib.TCR_SHEET_ZONES
        after = self.plan.check()
        data = written(lambda sink, context: lib.tcr_work_sheet_write(
            self.plan._c, self._c, after._c, kind, sink, context), "work sheet")
        return Picture(data, "pdf", "work sheet")

    def __repr__(self) -> str:
        return f"<Work: {self.order.rows} lashes, {self.minutes:.0f} minutes, order {self.found}>"


class Plan:
    """A plan of a set; Set.plan makes it."""

    def __init__(self, of: "Set", options: Any, progress: Progress) -> None:
        out, self._native = place("tcr_plan", "tcr_plan_free", of._native)
        error = ffi.new("tcr_error *")
        self._progress = progress
        with Watch(progress) as watch:
            watch.put_into(ffi.addressof(options, "progress"))
            check(lib.tcr_plan_new(of._c, options, out, error), error, "plan", of._ids)
        #: the set that was planned
        self.set = of
        self._c = out[0]
        self._result = lib.tcr_plan_result_of(self._c)
        r = self._result
        #: rms and largest distance from the line with the zones' choices, before corrections, mm
        self.rms_mm, self.max_mm = r.rms_mm, r.max_mm
        #: no choice for zones can be better than this, mm
        self.bound_mm = r.bound_mm
        #: whether the choice is proved the best; whether progress stopped the work
        self.proved, self.stopped = bool(r.proved), bool(r.stopped)
        #: how many lashes differ from their zone
        self.corrections = int(r.corrections)
        #: whether at least 95 % of each eye's tips are within the tolerance
        self.enough_within = bool(r.enough_within)
        #: with samples: rms over all of them, mm
        self.expected_rms_mm, self.samples = r.expected_rms_mm, int(r.samples)
        #: of described eyes: the 5th and 95th percentile of one client's rms, mm, and the share of
        #: clients whose tips lie nearer with map and rule as they stand
        self.client_rms_mm = (r.client_rms_mm[0], r.client_rms_mm[1])
        self.clients_nearer_as_mapped = r.clients_nearer_as_mapped
        #: of bottom, middle and top the one placement over all zones that costs the layer least;
        #: what is minimised comes to this with them, and with each zone its own placement, mm
        self.layer_placement = tuple(PLACEMENTS[int(p)] for p in r.layer_placement)
        self.by_layer_mm, self.by_zone_mm = r.by_layer_mm, r.by_zone_mm
        #: a row for each layer of a zone: side, zone, layer, lashes, ext_length_mm, ext_curl
        #: (index into Set.curls), ext_diameter_mm, ext_fan, ext_spread_rad, ext_placement, rms_mm
        self.cells = Table(self._native, r.cell, int(r.cells), "tcr_plan_cell", CHOICE)
        #: a row for each number of corrections: corrections, rms_mm, p95_mm, max_mm, ...
        self.points = Table(self._native, r.point, int(r.points), "tcr_plan_point")
        self._after: Check | None = None

    def eye(self, side: str) -> PlanEye:
        """What the plan does with the lashes of an eye."""
        from .sets import side_of
        return PlanEye(self, side_of(side))

    def apply(self) -> "Set":
        """The planned set: each zone has its choice, and corrected lashes have theirs."""
        from .sets import Set
        out, native = place("tcr_set", "tcr_set_free", self._native)
        check(lib.tcr_plan_apply(self._c, out), what="plan")
        return Set._of(out[0], native, self.set._source)

    def check(self) -> "Check":
        """The check of the planned set against its intended line."""
        if self._after is None:
            self._after = self.apply().check(against="intended")
        return self._after

    def work(self, **pace: float) -> Work:
        """The work of the plan. Paces: setting_s, distance_mm, lash_s, change_s, eye_change_s,
        preparation_min, loss_share, drop_min; others are those of the set file, or defaults, which
        are assumed."""
        return Work(self, pace)

    def report(self, form: str = "table", *, full: bool = False) -> str:
        """The report as the command writes it: "table", "json" or "csv"."""
        if form not in ("table", "json", "csv"):
            raise refused(f'"{form}" is no form of a report; table, json or csv', "form")
        if form == "csv":
            return written(lambda s, c: lib.tcr_report_plan_csv(
                self._c, self.set._c, ffi.NULL, s, c), "csv").decode()
        work, before, after = self.work(), self.set.check(against="intended"), self.check()
        if form == "json":
            return written(lambda s, c: lib.tcr_report_plan_json(
                self._c, work._c, before._c, after._c, self.set._digest, s, c), "json").decode()
        options = ffi.new("tcr_plan_report_options *")
        lib.tcr_plan_report_options_init(options, ffi.sizeof("tcr_plan_report_options"))
        options.full = full
        return written(lambda s, c: lib.tcr_report_plan_table(
            self._c, work._c, before._c, after._c, options, s, c), "table").decode()

    def picture(self, view: str = "front", format: str = "png", **options: Any) -> Picture:
        """A picture of the planned set; see Check.picture."""
        return self.check().picture(view, format, **options)

    def __str__(self) -> str:
        return self.report()

    def __repr__(self) -> str:
        proved = "proved" if self.proved else f"bound {self.bound_mm:.3f}"
        return f"<Plan: {self.rms_mm:.3f} mm rms ({proved}), {self.corrections} corrections>"

    def _repr_png_(self) -> bytes:
        return self.picture().data


def plan(of: "Set", given: Mapping[str, Any], progress: Progress) -> Plan:
    """Options of a plan from arguments by their names in C."""
    c = ffi.new("tcr_plan_options *")
    lib.tcr_plan_options_init(c, ffi.sizeof("tcr_plan_options"))
    if of._source is not None:
        c.limits = lib.tcr_set_file_plan_limits(of._source)
    limits = dict(ffi.typeof("tcr_limits").fields)
    for name, value in given.items():
        if value is None:
            continue
        if name in limits:
            setattr(c.limits, name, float(value))
        elif name == "out_of_fan_deg":
            c.limits.out_of_fan_rad = float(value) * 3.141592653589793 / 180.0
        elif name in ("share", "free_mm", "zone_step_most_mm", "samples_share"):
            setattr(c, name, float(value))
        elif name in ("lengths_most", "corrections", "samples"):
            setattr(c, name, int(value))
        elif name in ("correct_all", "same_placement"):
            setattr(c, name, bool(value))
        elif name == "objective":
            if value not in OBJECTIVES:
                raise refused(f'"{value}" is no objective; squares or maximum', "objective")
            c.objective = OBJECTIVES[value]
        elif name == "placements":
            for i in range(len(PLACEMENTS)):
                c.placement[i] = False
            for placement in value:
                c.placement[placement_of(placement, "placements")] = True
        else:
            _put_list(of, c, name, value)
    return Plan(of, c, progress)


def _put_list(of: "Set", c: Any, name: str, value: Any) -> None:
    lists = {"curls": ("curl", lib.TCR_PLAN_CURLS_MAX),
             "diameters_mm": ("diameter_mm", lib.TCR_PLAN_DIAMETERS_MAX),
             "fans": ("fan", lib.TCR_PLAN_FANS_MAX)}
    if name not in lists:
        raise TypeError(f"{name} is no option of a plan")
    member, most = lists[name]
    if len(value) > most:
        raise refused(f"{len(value)} of them, but at most {most}", name)
    for i, item in enumerate(value):
        if name == "curls" and item not in of.curls:
            raise refused(f'"{item}" is no curl of the set; {", ".join(of.curls)}', "curls",
                          lib.TCR_E_CURL)
        getattr(c, member)[i] = of.curls.index(item) if name == "curls" else item
    setattr(c, {"diameters_mm": "diameters"}.get(name, name), len(value))


__all__ = ["ORDERS", "Plan", "PlanEye", "USES", "Work"]
