# SPDX-License-Identifier: GPL-3.0-or-later
"""Studies: a set with other numbers, hundreds or millions of them, on all processors, in one call."""

import os
from typing import TYPE_CHECKING, Any, Iterable, Iterator, Mapping, NamedTuple, Sequence, Union

import numpy as np

from ._calls import Progress, Watch
from ._core import ffi, lib
from ._native import Array, address, c_text, frame, numbers, place, text, view
from ._native import Table
from .check import against_of
from .errors import check, failure, refused
from .sets import Set

DESIGNS = tuple(text(lib.tcr_design_text(i)) for i in range(lib.TCR_DESIGNS))
STANDINGS = ("first", "alike", "open", "worse", "none")
BEST_BY = tuple(text(lib.tcr_best_by_text(i)) for i in range(lib.TCR_BEST_BYS))


class Uniform(NamedTuple):
    """Any value from least to most, equally likely, in the unit of the key."""

    least: float
    most: float


class Normal(NamedTuple):
    """A normal distribution, cut at three sd and to the range of the key."""

    mean: float
    sd: float


class Triangular(NamedTuple):
    """From least by mode to most."""

    least: float
    mode: float
    most: float


Values = Union[Uniform, Normal, Triangular, str, float, Sequence[Any], Array]


def _levels(of: Set, key: Any, values: Any) -> list[float]:
    """The values of a key: numbers, words, labels of curls, or a text such as "0:2:0.5"."""
    out, error = ffi.new("double *"), ffi.new("tcr_error *")
    if isinstance(values, str):
        said, count, size = c_text(values, "vary"), ffi.new("size_t *"), 64
        while True:
            room = ffi.new("double[]", size)
            check(lib.tcr_key_parse_levels(of._c, key, said, room, size, count, error), error, values)
            if count[0] <= size:
                return list(room[0:count[0]])
            size = count[0]
    levels = []
    for value in np.atleast_1d(np.asarray(values)).tolist():
        if isinstance(value, bool):
            value = "true" if value else "false"
        if isinstance(value, str):
            data = value.encode()
            check(lib.tcr_key_parse(of._c, key, data, len(data), out, error), error, value)
            value = out[0]
        levels.append(float(value))
    return levels


class Study:
    """A set, what varies in it, and what is computed. Set.study runs one at once.

    :param set: the set
    :param vary: values by key, a path in the set file such as "layering.step_mm", "lid.mrd1_mm",
        "curl", "longest_mm" or "apart_mm": numbers, words or labels; a text such as "0:2:0.5" or
        "C,D"; or Uniform, Normal, Triangular
    :param outputs: names such as "fitted.rms_mm", "load.mass_ratio.max", "left.largest_gap_mm";
        default: the usual ones
    :param design: "grid" (default), "random", "sobol" or "sensitivity"
    :param points: of a design that is no grid; default 1024
    :param scramblings: of a sensitivity design; default 16
    :param runs: number of drawn clients at each point; default 0: the lashes of the set
    :param seed: of runs and points; default 1
    :param against: the line of staggered lashes, "fitted" (default) or "intended"
    """

    def __init__(self, set: Set, vary: Mapping[str, Values] | None = None, *,
                 outputs: Iterable[str] | None = None, design: str = "grid", points: int = 1024,
                 scramblings: int = 16, runs: int = 0, seed: int = 1,
                 against: str = "fitted") -> None:
        options = ffi.new("tcr_study_options *")
        lib.tcr_study_options_init(options, ffi.sizeof("tcr_study_options"))
        if design not in DESIGNS:
            raise refused(f'"{design}" is no design; {", ".join(DESIGNS)}', "design")
        options.design, options.points = DESIGNS.index(design), points
        options.scramblings, options.runs, options.seed = scramblings, runs, seed
        options.against = against_of(against)
        out, self._native = place("tcr_study", "tcr_study_free")
        error = ffi.new("tcr_error *")
        check(lib.tcr_study_new(ffi.NULL, set._c, options, out, error), error, "study")
        self.set, self._c = set, out[0]
        for name, values in (vary or {}).items():
            self._add(name, values)
        for name in outputs or ():
            check(lib.tcr_study_add_output(self._c, c_text(name, "output"), error), error, name)
        self._finish()

    def _finish(self) -> None:
        c = self._c
        #: the keys that vary
        self.factors = tuple(text(lib.tcr_study_factor_at(c, i).key.name)
                             for i in range(lib.tcr_study_factor_count(c)))
        #: what is computed
        self.outputs = tuple(text(ffi.addressof(lib.tcr_study_output_at(c, i), "name")[0])
                             for i in range(lib.tcr_study_output_count(c)))
        #: drawn clients at each point, 0: none
        self.runs = int(lib.tcr_study_runs(c))
        count, error = ffi.new("uint64_t *"), ffi.new("tcr_error *")
        check(lib.tcr_study_count(c, count, error), error, "study")
        #: the number of points
        self.points = int(count[0])

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> "Study":
        """Reads a study file, with the set file that it names."""
        out, native = place("tcr_study_file", "tcr_study_file_free")
        error = ffi.new("tcr_error *")
        name = c_text(os.fsdecode(path), "path")
        check(lib.tcr_study_file_read(name, ffi.NULL, ffi.NULL, out, error), error,
              f"reading {path}")
        made = cls.__new__(cls)
        made._c = lib.tcr_study_file_study(out[0])
        made._native = native
        file = lib.tcr_study_file_set_file(out[0])
        made.set = Set._of(lib.tcr_set_file_set(file), made._native, file, file)
        made._finish()
        return made

    def _add(self, name: str, values: Any) -> None:
        error, key = ffi.new("tcr_error *"), ffi.new("tcr_key *")
        label = c_text(name, "vary")
        check(lib.tcr_key_find(self.set._c, label, key, error), error, name)
        factor = ffi.new("tcr_factor *")
        factor.key = label
        if isinstance(values, Uniform):
            factor.distribution = lib.TCR_UNIFORM
            factor.least, factor.most = values
        elif isinstance(values, Normal):
            factor.distribution = lib.TCR_NORMAL
            factor.mean, factor.sd = values
        elif isinstance(values, Triangular):
            factor.distribution = lib.TCR_TRIANGULAR
            factor.least, factor.mode, factor.most = values
        else:
            levels = _levels(self.set, key, values)
            kept = ffi.new("double[]", levels)
            factor.distribution, factor.level, factor.levels = lib.TCR_LEVELS, kept, len(levels)
        check(lib.tcr_study_add_factor(self._c, factor, error), error, name)

    def run(self, *, threads: int = 0, progress: Progress = None, first: int = 0,
            count: int | None = None) -> "StudyResult":
        """Evaluates points of the study, all by default, in one call of the library.

        :param threads: 1 to 256; 0: one for each processor
        :param progress: called with the phase and the share that is done; False stops it
        """
        return StudyResult(self, first, self.points - first if count is None else count, threads,
                           progress)

    def trial(self) -> "Trial":
        """Evaluates one point after another, at any values: for an optimiser or a loop."""
        return Trial(self)

    def written_out(self, values: Mapping[str, Any] | Sequence[float], run: int = 0) -> Set:
        """The set with these values of the factors and the lashes of a run."""
        out, native = place("tcr_set", "tcr_set_free", self.set._native)
        error = ffi.new("tcr_error *")
        c = ffi.new("double[]", self._point(values))
        check(lib.tcr_study_set(self._c, c, run, out, error), error, "study")
        return Set._of(out[0], native, self.set._source)

    def _point(self, values: Mapping[str, Any] | Sequence[float]) -> list[float]:
        if not isinstance(values, Mapping):
            point = [float(v) for v in values]
            if len(point) != len(self.factors):
                raise refused(f"{len(point)} values, but there are {len(self.factors)} factors")
            return point
        known = {}
        for name, value in values.items():
            key, error = ffi.new("tcr_key *"), ffi.new("tcr_error *")
            check(lib.tcr_key_find(self.set._c, c_text(name, "key"), key, error), error, name)
            (known[text(key.name)],) = _levels(self.set, key, [value])
        if set(known) != set(self.factors):
            raise refused(f"values of {', '.join(known)}, but the factors are "
                          f"{', '.join(self.factors)}")
        return [known[name] for name in self.factors]

    def __repr__(self) -> str:
        return f"<Study of {', '.join(self.factors)}: {self.points} points, {self.runs} runs>"


class Trial:
    """One evaluation after another. It belongs to one thread at a time."""

    def __init__(self, of: Study) -> None:
        out, self._native = place("tcr_trial", "tcr_trial_free", of._native)
        check(lib.tcr_trial_new(of._c, out), what="trial")
        self.study, self._c = of, out[0]
        self._output = ffi.new("double[]", max(len(of.outputs), 1))
        self._value = ffi.new("double[]", max(len(of.factors), 1))
        self._error = ffi.new("tcr_error *")

    def __call__(self, *values: float, run: int = 0) -> dict[str, float]:
        """The outputs at these values of the factors, in their order, and the lashes of a run."""
        if len(values) != len(self.study.factors):
            raise refused(f"{len(values)} values, but there are {len(self.study.factors)} factors")
        c = self._value
        for i, value in enumerate(values):
            c[i] = value
        status = lib.tcr_trial_evaluate(self._c, c, run, self._output, self._error)
        if status != lib.TCR_OK:
            raise failure(status, self._error, "trial")
        return dict(zip(self.study.outputs, self._output))


class _Results(Mapping[str, Array]):
    """Outputs by name, over the memory that the library filled."""

    def __init__(self, names: Sequence[str], evaluations: int) -> None:
        self.outputs = tuple(names)
        self._value = numbers(evaluations * len(names))
        self._status = numbers(evaluations, "tcr_status")

    def _columns(self, shape: tuple[int, ...]) -> None:
        size, n = 8, len(self.outputs)
        strides = tuple(size * n * int(np.prod(shape[i + 1:])) for i in range(len(shape)))
        self._column = {
            name: view(self._value, address(self._value) + size * o, np.float64, shape, strides)
            for o, name in enumerate(self.outputs)}
        #: 0, or the status of the library that says why an evaluation failed
        self.status = view(self._status, address(self._status), np.int32, shape)

    @property
    def failed(self) -> int:
        """How many evaluations failed; their outputs are NaN."""
        return int(np.count_nonzero(self.status))

    def __getitem__(self, name: str) -> Array:
        """An output by its name."""
        return self._column[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.outputs)

    def __len__(self) -> int:
        return len(self.outputs)


def _run_options(threads: int, watch: Watch) -> Any:
    options = ffi.new("tcr_study_run_options *")
    lib.tcr_study_run_options_init(options, ffi.sizeof("tcr_study_run_options"))
    options.threads = threads
    watch.put_into(ffi.addressof(options, "progress"))
    return options


class StudyResult(_Results):
    """The results of a study. ``result["fitted.rms_mm"]`` has a number for each point, and with runs
    a row for each point with a number for each run. Read-only, over the library's memory.
    """

    def __init__(self, of: Study, first: int, count: int, threads: int, progress: Progress) -> None:
        runs = max(of.runs, 1)
        super().__init__(of.outputs, count * runs)
        with Watch(progress) as watch:
            status = lib.tcr_study_evaluate(of._c, first, count, _run_options(threads, watch),
                                            self._value, self._status)
            check(status, what="study")
        self.study, self.points, self.runs, self.first = of, count, of.runs, first
        self._columns((count, of.runs) if of.runs else (count,))
        n = len(of.factors)
        self._factor = numbers(count * n)
        check(lib.tcr_study_points(of._c, first, count, self._factor), what="study")
        #: the values of the factors by key, a number for each point; of words and curls their index
        self.factors = {
            name: view(self._factor, address(self._factor) + 8 * i, np.float64, (count,), (8 * n,))
            for i, name in enumerate(of.factors)}

    def words(self, factor: str) -> list[str]:
        """The values of a factor as a set file has them, such as labels of curls."""
        key = lib.tcr_study_factor_at(self.study._c, self.study.factors.index(factor))
        room = ffi.new("char[]", lib.TCR_KEY_VALUE_SIZE)
        said = []
        for value in self.factors[factor]:
            lib.tcr_key_value_text(self.study.set._c, ffi.addressof(key, "key"), value, room)
            said.append(text(room))
        return said

    def _at(self, output: str) -> Any:
        if output not in self.outputs:
            raise KeyError(f"{output}: no such output; there are {', '.join(self.outputs)}")
        return self._value + self.outputs.index(output)

    def summary(self, output: str) -> Table:
        """Over the runs of each point: runs, mean, se, p5 and p95, a row for each point."""
        stride, runs = len(self.outputs), max(self.runs, 1)
        room, scratch = ffi.new("tcr_summary[]", max(self.points, 1)), numbers(runs)
        first = self._at(output)
        for i in range(self.points):
            check(lib.tcr_summarise(first + i * runs * stride, runs, stride, scratch, room + i))
        return Table(room, room, self.points, "tcr_summary")

    def best(self, output: str, *, by: str = "mean", most: bool = False, level: float = 0.95,
             alike: float = 0.05) -> Table:
        """Points ranked by an output, best first: combination (index of the point), value,
        difference.estimate, .low and .high from the first, standing (see STANDINGS), missing.

        :param by: "mean", "p90" or "worst" over the runs
        :param most: the largest is best
        :param level: probability that all standings hold together, 0.5 to 0.9999
        :param alike: a difference that does not matter, in the output's unit
        """
        options = ffi.new("tcr_best_options *")
        lib.tcr_best_options_init(options, ffi.sizeof("tcr_best_options"))
        if by not in BEST_BY:
            raise refused(f'"{by}" is none of {", ".join(BEST_BY)}', "by")
        options.by, options.most, options.level = BEST_BY.index(by), most, level
        options.alike, options.exact = alike, self.runs == 0
        room = ffi.new("tcr_ranked[]", max(self.points, 1))
        check(lib.tcr_best_of(ffi.NULL, self._at(output), len(self.outputs), self.points,
                              max(self.runs, 1), options, room), what="best")
        return Table(room, room, self.points, "tcr_ranked")

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each evaluation. Needs pandas."""
        runs = max(self.runs, 1)
        columns: dict[str, Any] = {}
        for name in self.factors:
            kind = lib.tcr_study_factor_at(self.study._c, self.study.factors.index(name)).key.kind
            in_words = kind in (lib.TCR_KIND_ENUM, lib.TCR_KIND_LABEL, lib.TCR_KIND_BOOL)
            values = np.array(self.words(name)) if in_words else self.factors[name]
            columns[name] = np.repeat(values, runs)
        if self.runs:
            columns["run"] = np.tile(np.arange(self.runs), self.points)
        columns.update({name: column.ravel() for name, column in self.items()})
        columns["status"] = self.status.ravel()
        return frame(columns)

    def __repr__(self) -> str:
        runs = f" by {self.runs} runs" if self.runs else ""
        return f"<StudyResult: {self.points} points{runs}, {self.failed} failed>"


class Block(_Results):
    """The outputs of many sets. ``block["fitted.rms_mm"]`` has a number for each set."""

    def __init__(self, sets: Sequence[Set], outputs: Iterable[str] | None, against: str,
                 threads: int, progress: Progress) -> None:
        self.sets = tuple(sets)
        if not self.sets:
            raise refused("there is no set to check", "sets")
        study = Study(self.sets[0], outputs=outputs, against=against)
        super().__init__(study.outputs, len(self.sets))
        pointers = ffi.new("const tcr_set *[]", [s._c for s in self.sets])
        with Watch(progress) as watch:
            check(lib.tcr_study_evaluate_sets(
                study._c, pointers, len(self.sets), _run_options(threads, watch), self._value,
                self._status), what="sets")
        self._columns((len(self.sets),))

    def to_pandas(self) -> Any:
        """A DataFrame with a row for each set. Needs pandas."""
        return frame({"title": [s.title for s in self.sets], **self, "status": self.status})

    def __repr__(self) -> str:
        return f"<Block of {len(self.sets)} sets, {self.failed} failed>"


def check_sets(sets: Iterable[Set], outputs: Iterable[str] | None = None, *,
               against: str = "fitted", threads: int = 0, progress: Progress = None) -> Block:
    """Checks many sets in one call, on all processors.

    :param sets: sets with the eyes of the first
    :param outputs: names as for Study; default: the usual ones
    :param threads: 1 to 256; 0: one for each processor
    """
    return Block(tuple(sets), outputs, against, threads, progress)
