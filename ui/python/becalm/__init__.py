"""Becalm in Python: weighted series, ledgers and verdicts of vibration recordings.

    import becalm

    weighed = becalm.weigh("floor.wav", weighting="Wk", axes="z", scale=20.0)
    lane = weighed["z"]
    lane.rms, lane.mtvv_linear, lane.unit           # the numbers of `becalm weigh`
    lane.samples                                    # weighted samples, a NumPy array
    lane.ledger.rows["peak"]                        # second by second

    becalm.weigh(array, "Wk", rate=1000.0)          # of samples you have: (samples,) or (samples, channels)
    for block in becalm.blocks("day.wav", "Wk"):    # of a long recording, in constant memory
        ...

    for verdict in becalm.assess("survey.toml").verdicts:
        print(verdict.space, verdict.criterion, verdict.value, verdict.unit, verdict.band)

Every number is the core's own, the same to the last bit as on the command line; arrays lie over the core's memory and are not copied, so
they are read only where other numbers rest on them (take `.copy()` to change one). Arguments are called as the options of the command
line, attributes as the keys of its JSON. What is wrong is raised as `Problem`. The interpreter's lock is not held meanwhile, Ctrl-C stops
the work, and `progress` takes a callable that is told a fraction from 0 to 1.
"""

from __future__ import annotations

import os as _os
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Union

import numpy as _numpy

from . import _core
from ._core import (Assessment, Band, Blocks, Decision, Finding, Lane, Ledger, Part, ProvenanceStep, RecordedBands, Response, Settling, Spectrum,
                    SpectrumLane, Tally, Term, Uncertainty, UncertaintyComponent, Verdict, Weighed)
from ._problem import Caution, Problem

__version__: str = _core.version

__all__ = ["weigh", "blocks", "ledger", "assess", "spectrum", "response", "Problem", "Caution", "Assessment", "Band", "Blocks", "Decision",
           "Finding", "Lane", "Ledger", "Part", "ProvenanceStep", "RecordedBands", "Response", "Settling", "Spectrum", "SpectrumLane", "Tally",
           "Term", "Uncertainty", "UncertaintyComponent", "Verdict", "Weighed"]

Source = Union[str, "_os.PathLike[str]", "_numpy.ndarray[Any, Any]", Sequence[Any]]
Weighting = Union[str, Iterable[str]]
Axes = Union[str, Iterable[str], Mapping[int, str]]
Progress = Callable[[float], object]


def _names(value: Weighting, what: str) -> list[str]:
    names = value.split(",") if isinstance(value, str) else list(value)
    if not all(isinstance(name, str) for name in names):
        raise TypeError(f"{what} takes names, not {value!r}")
    return [name.strip() for name in names]


def _selection(source: Source, weighting: Weighting, axes: Axes | None, unit: str, scale: float | None, from_s: float | None,
               to_s: float | None, offset: str, threads: int, rate: float | None) -> _core.Selection:
    mapped: list[tuple[int, str]] = []
    if isinstance(axes, Mapping):
        mapped = [(channel, axis) for channel, axis in axes.items()]
    elif axes is not None:
        mapped = list(enumerate(_names(axes, "axes"), 1))
    path, array = "array", None
    if isinstance(source, (str, _os.PathLike)):
        path = _os.fspath(source)
        if not isinstance(path, str):
            raise TypeError("a path of bytes is not read; hand over os.fsdecode(path)")
    elif isinstance(source, bytes) or not (hasattr(source, "__array__") or isinstance(source, Sequence)):
        raise TypeError(f"{type(source).__name__} is neither a path nor an array")
    else:
        array = _numpy.asarray(source)  # an array stays what it is; what can become one (a list, a column of a table) does
        if isinstance(source, _numpy.ma.MaskedArray) and _numpy.ma.is_masked(source):
            raise ValueError("the array has masked samples; hand over a span without gaps")
    return _core.Selection(path=path, array=array, rate=rate, weightings=_names(weighting, "weighting"), axes=mapped, unit=unit,
                           offset=offset, scale=scale, from_s=from_s, to_s=to_s, threads=threads)


def weigh(source: Source, weighting: Weighting = "Wk", axes: Axes | None = None, *, unit: str = "m/s2", scale: float | None = None,
          from_s: float | None = None, to_s: float | None = None, offset: str = "first10s", rate: float | None = None,
          samples: bool = True, bands: bool = False, threads: int = 0, progress: Progress | None = None) -> Weighed:
    """Weighs a recording or an array: quantities, weighted samples and ledger of every axis under every weighting.

    source     path of a recording ("run.mat#deck3" names one of several in a file), or an array (samples,) or (samples, channels) of
               float64 or float32. An array is read where it lies, whatever its strides; leave it alone until the call returns.
    weighting  one or more: "Wk", "Wk,Wd", ["Wk", "none"]
    axes       "z", "x,y,z" (channels 1, 2, 3) or {1: "x", 3: "z"}; without it one channel is z, three are x, y, z, six also rx, ry, rz
    unit       of the stored values: m/s2, mm/s2, g, mg, m/s, mm/s, um/s, m, mm, um, rad/s2, deg/s2, rad/s, deg/s
    scale      a stored 1.0 (full scale of integer recordings) is so many of the unit
    from_s, to_s   seconds that count
    offset     what is taken away first: "first10s", "mean" or "none"
    rate       Hz; for arrays, and only for them
    samples    False: no weighted samples, which take 8 bytes each
    bands      True: one-third octaves of each channel as recorded too
    threads    0: as many as the machine has

    A channel with gaps (samples that are not numbers) and one whose rate is too low for a weighting have no values (None); `findings` say
    why.
    """
    selection = _selection(source, weighting, axes, unit, scale, from_s, to_s, offset, threads, rate)
    return _core.weigh(selection, samples, bands, progress)


def blocks(source: Source, weighting: Weighting = "Wk", axes: Axes | None = None, *, block_s: float = 10.0, unit: str = "m/s2",
           scale: float | None = None, from_s: float | None = None, to_s: float | None = None, offset: str = "first10s",
           rate: float | None = None) -> Blocks:
    """Weighted samples of a recording block by block, in constant memory: iterate, and each block is an array (lanes, samples) of yours.

    block_s    seconds a block; the last one may be shorter. Which lane a row is, says `Blocks.lanes`.
    The others as for weigh(). The samples are those of weigh(), to the last bit. A gap in the recording raises Problem at its end.
    """
    if not 0.0 < block_s < float("inf"):
        raise ValueError("block_s must be more than 0")
    selection = _selection(source, weighting, axes, unit, scale, from_s, to_s, offset, 1, rate)
    return _core.blocks(selection, block_s)


def ledger(source: Source, weighting: Weighting | None = None, axes: Axes | None = None, *, unit: str = "m/s2", scale: float | None = None,
           from_s: float | None = None, to_s: float | None = None, offset: str = "first10s", rate: float | None = None,
           cache: bool = True, threads: int = 0, progress: Progress | None = None) -> list[Ledger]:
    """Ledgers, second by second: of a survey (a path that ends in .toml) every lane that its criteria need, else of one recording.

    `Ledger.rows` is a structured array over the core's memory, `Ledger.fold()` gives the tally of what counts, `Ledger.fold([(10, 70)])`
    that of a span. Arguments of a recording as for weigh(), the weighting "Wk" where none is named; of a survey as for assess(). A
    recording of a survey that cannot be read is told as a Caution.
    """
    if isinstance(source, (str, _os.PathLike)) and _is_survey(_os.fspath(source)):
        if weighting is not None or axes is not None:
            raise TypeError("a survey says weightings and axes itself")
        return _core.assess(_os.fspath(source), [], cache, threads, False, progress).ledgers
    selection = _selection(source, "Wk" if weighting is None else weighting, axes, unit, scale, from_s, to_s, offset, threads, rate)
    return [lane.ledger for lane in _core.weigh(selection, False, False, progress)]


def _is_survey(path: str) -> bool:
    return path.endswith(".toml") and not path.endswith(".recording.toml")


def assess(survey: str | _os.PathLike[str], criteria: str | Iterable[str] | None = None, *, cache: bool = True, threads: int = 0,
           progress: Progress | None = None) -> Assessment:
    """Judges a survey, as `becalm assess` does.

    survey     path of survey.toml
    criteria   ids that replace the survey's own [[judge]] tables
    cache      False: neither use nor write the folder .becalm beside the survey
    threads    0: as many as the machine has

    Recordings that cannot be read are findings, spoil no other verdict, and are told as a Caution. Faults of the survey are raised as
    Problem; its `others` are the rest of them.
    """
    names = [] if criteria is None else _names(criteria, "criteria")
    return _core.assess(_os.fspath(survey), names, cache, threads, True, progress)


def spectrum(source: Source, weighting: Weighting = "none", axes: Axes | None = None, *, resolution: float | None = None,
             as_: str | None = None, above: float | None = None, unit: str = "m/s2", scale: float | None = None, from_s: float | None = None,
             to_s: float | None = None, offset: str = "first10s", rate: float | None = None, threads: int = 0,
             progress: Progress | None = None) -> Spectrum:
    """Spectrum, octave bands and components that stand out, as `becalm spectrum` tells them.

    resolution  spacing of the bins, Hz (0.25 where the recording is long enough)
    as_         convert to "acceleration", "velocity" or "displacement"
    above       report nothing below, Hz
    The others as for weigh().
    """
    selection = _selection(source, weighting, axes, unit, scale, from_s, to_s, offset, threads, rate)
    return _core.spectrum(selection, resolution, as_, above, progress)


def response(weighting: str, frequencies: Iterable[float] | None = None, *, rate: float, input: str = "acceleration") -> Response:
    """Magnitude and phase of the filter that runs at this rate, beside the analytic definition.

    weighting    "Wk", "Wd", ...
    frequencies  Hz, from 0 to half the rate (one-third octave centres where None)
    rate         samples a second
    input        "acceleration", "velocity" or "displacement"
    """
    at_hz = [] if frequencies is None else [float(hz) for hz in frequencies]
    if frequencies is not None and not at_hz:
        raise ValueError("no frequency is named; leave them out for one-third octave centres")
    return _core.response(weighting, at_hz, rate, input)
