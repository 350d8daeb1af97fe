#!/usr/bin/env python3
"""Percentiles of sets of block values by the two named rules, from outside the program.

    python3 generate.py        (numpy and scipy; versions and seed are written into expected.json)

linear    numpy.percentile(values, p, method="linear"), and scipy.stats.mstats.mquantiles(values, p, alphap=1, betap=1), which must agree
classes   the cumulative frequency of numpy.histogram over classes 0.01 wide, read off by linear interpolation inside the class in
          which it is reached
"""
import json
import pathlib

import numpy as np
import scipy
from scipy.stats.mstats import mquantiles

HERE = pathlib.Path(__file__).parent
SEED = 20261126
WIDTH = 0.01
PERCENTS = [5.0, 50.0, 90.0, 95.0, 99.0]


def by_classes(values, percent):
    edges = np.arange(0, int(values.max() / WIDTH) + 2) * WIDTH
    counts, _ = np.histogram(values, edges)
    reached = np.cumsum(counts)
    wanted = percent / 100 * len(values)
    k = int(np.argmax(reached >= wanted - 1e-12))
    return edges[k] + WIDTH * (wanted - (reached[k] - counts[k])) / counts[k]


random = np.random.default_rng(SEED)
sets = []
for size in (1, 2, 3, 10, 60, 240):
    # Away from the edges of classes, where rounding decides.
    values = np.round(np.exp(random.normal(-2.0, 0.5, size)), 4)
    values = np.where(np.abs(values / WIDTH - np.round(values / WIDTH)) < 1e-6, values + 0.0005, values)
    linear = [float(np.percentile(values, p, method="linear")) for p in PERCENTS]
    other = mquantiles(values, [p / 100 for p in PERCENTS], alphap=1, betap=1)
    assert np.allclose(linear, other, rtol=1e-12, atol=0)
    sets.append({"values": [float(v) for v in values], "linear": linear,
                 "classes": [float(by_classes(values, p)) for p in PERCENTS]})
document = {"numpy": np.__version__, "scipy": scipy.__version__, "seed": SEED, "class_width": WIDTH, "percents": PERCENTS, "sets": sets}
(HERE / "expected.json").write_text(json.dumps(document, indent=None) + "\n")
