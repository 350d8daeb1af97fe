"""Types of what becalm gives; the compiled module says what each of them is (help(becalm))."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import numpy
import numpy.typing

Floats = numpy.typing.NDArray[numpy.float64]
Records = numpy.typing.NDArray[numpy.void]
Progress = Callable[[float], object] | None

version: str

class Selection:
    def __init__(self, path: str, array: Any, rate: float | None, weightings: list[str], axes: list[tuple[int, str]], unit: str, offset: str,
                 scale: float | None, from_s: float | None, to_s: float | None, threads: int) -> None: ...

class Finding:
    severity: str
    code: str
    message: str
    recording: str
    channel: int | None
    at_s: float | None
    to_s: float | None

class _Quantities:
    channel: int
    axis: str
    weighting: str
    unit: str
    rms: float | None
    peak: float | None
    crest_factor: float | None
    mtvv_linear: float | None
    mtvv_exponential: float | None
    vdv: float | None
    evdv: float | None
    msdv: float | None

class Lane(_Quantities):
    samples: Floats | None
    times: Floats | None
    ledger: Ledger

class RecordedBands:
    channel: int
    unit: str
    resolution_hz: float
    segments: int
    third_octave: Records

class Weighed:
    lanes: list[Lane]
    file: str
    sha256: str | None
    rate_hz: float
    from_s: float
    duration_s: float
    start: str
    format: str
    total_rms: float | None
    findings: list[Finding]
    recorded: list[RecordedBands] | None
    def to_json(self) -> str: ...
    def __len__(self) -> int: ...
    def __iter__(self) -> Iterator[Lane]: ...
    def __getitem__(self, key: int | str | tuple[str, str]) -> Lane: ...

class Tally(_Quantities):
    samples: int
    duration_s: float
    sum_squares: float
    sum_fourths: float

class Ledger:
    file: str
    sha256: str
    space: str
    position: str
    condition: str
    start: str
    unit: str
    recorded_unit: str
    why_unfit: str
    channel: int
    axis: str
    weighting: str
    rate_hz: float
    first_second: int
    selected: list[tuple[float, float]]
    rows: Records
    def fold(self, spans: list[tuple[float, float]] | None = None) -> Tally: ...
    def __len__(self) -> int: ...

class BlockLane:
    channel: int
    axis: str
    weighting: str
    unit: str

class Blocks:
    rate_hz: float
    start: str
    from_s: float
    duration_s: float
    lanes: list[BlockLane]
    def __iter__(self) -> Blocks: ...
    def __next__(self) -> Floats: ...

class Band:
    name: str
    below: float | None
    inclusive: bool
    from_: float | None
    exceeds: bool

class Decision:
    quantity: str
    value: float | None
    lower: float
    upper: float
    average: float | None
    words: str

class Part:
    condition: str | None
    space: str | None
    rest: bool
    value: float
    exposed_h: float | None
    events: float | None
    duration_s: float

class Term:
    axis: str
    position: str | None
    weighting: str
    factor: float
    value: float | None
    duration_s: float
    recordings: list[str]
    parts: list[Part]

class UncertaintyComponent:
    name: str
    standard: float
    method: str
    dof: float | None

class Settling:
    bound: float
    times: float | None
    more_s: float | None
    more_events: float | None
    more_recordings: float | None
    in_the_way: str | None
    words: str

class Uncertainty:
    standard: float | None
    k: float
    method: str | None
    components: list[UncertaintyComponent]
    not_covered: list[str]
    probability_exceeded: float | None
    probability_of_band: float | None
    settling: Settling | None

class Verdict:
    space: str
    position: str
    condition: str | None
    person: str | None
    criterion: str
    title: str
    edition: str
    clause: str
    confirmed: str
    use: str
    quantity: str
    axis: str | None
    weighting: str | None
    value: float | None
    unit: str
    expanded_uncertainty: float | None
    uncertainty: Uncertainty | None
    judged: bool
    why_not: str | None
    band: str | None
    band_index: int | None
    also_bands: list[str]
    bands: list[Band]
    exceeded: bool
    decision: Decision | None
    terms: list[Term]
    notes: list[str]
    recordings: list[str]

class ProvenanceStep:
    step: str
    of: str

class Assessment:
    title: str
    setting: str
    decision_rule: str
    file: str
    sha256: str
    verdicts: list[Verdict]
    findings: list[Finding]
    provenance: list[ProvenanceStep]
    ledgers: list[Ledger]
    def to_json(self) -> str: ...
    def to_csv(self) -> str: ...
    def as_dict(self) -> dict[str, Any]: ...
    def __len__(self) -> int: ...

class SpectrumLane:
    channel: int
    axis: str
    weighting: str
    unit: str
    resolution_hz: float
    segments: int
    hz: Floats
    psd: Floats
    psd_max: Floats
    psd_min: Floats
    third_octave: Records
    octave: Records
    dominant: Records

class Spectrum:
    lanes: list[SpectrumLane]
    file: str
    rate_hz: float
    duration_s: float
    findings: list[Finding]
    def to_json(self) -> str: ...

class Response:
    weighting: str
    input: str
    output: str
    rate_hz: float
    latency_samples: int
    correction_taps: int
    accurate_to_hz: float
    least_rate_hz: float
    points: Records
    def to_json(self) -> str: ...

def weigh(selection: Selection, samples: bool, bands: bool, progress: Progress) -> Weighed: ...
def blocks(selection: Selection, block_s: float) -> Blocks: ...
def assess(survey: str, criteria: list[str], cache: bool, threads: int, verdicts: bool, progress: Progress) -> Assessment: ...
def spectrum(selection: Selection, resolution: float | None, as_: str | None, above: float | None, progress: Progress) -> Spectrum: ...
def response(weighting: str, frequencies: list[float], rate: float, input: str) -> Response: ...
