#!/usr/bin/env python3
"""Cross spectra, coherence and transfer functions of three channels by scipy.signal, for comparison.

    python3 generate.py        (numpy and scipy; versions are written into expected.json)

The channels need no file: they are made from the same sequence of integers here and in the test (noise() of
tests/filters/signals.h), bit by bit, and a few sums.

    u, v, w = noise of three seeds
    x[n] = u[n] + 3                                 a constant, which is taken away segment by segment
    y[n] = 0.5 u[n] + 0.3 u[n-3] + 0.25 v[n]
    z[n] = -0.2 u[n-1] + 0.4 v[n-2] + 0.5 w[n]      u[n] is 0 before the beginning

scipy's csd(x, y) is the mean of conj(X) Y, as the program's. Its periodic Hann window, half overlap and detrend="constant" are
the conventions of filters/welch.h. An even and an odd length of segments; a rate that is no whole number.
"""
import json
import pathlib
import sys

import numpy as np
import scipy
from scipy import signal

HERE = pathlib.Path(__file__).parent
RATE = 204.8
COUNT = 6000
LENGTHS = (128, 125)
SEEDS = (11, 12, 13)


def noise(count, seed):
    mask = (1 << 64) - 1
    state = (seed * 0x9E3779B97F4A7C15 + 1) & mask
    values = np.empty(count)
    for i in range(count):
        state = (state * 6364136223846793005 + 1442695040888963407) & mask
        values[i] = float(state >> 11) * 2.0**-53 * 2.0 - 1.0
    return values


def later(values, by):
    return np.concatenate([np.zeros(by), values[: len(values) - by]])


def main():
    u, v, w = (noise(COUNT, seed) for seed in SEEDS)
    channels = [u + 3.0, 0.5 * u + 0.3 * later(u, 3) + 0.25 * v, -0.2 * later(u, 1) + 0.4 * later(v, 2) + 0.5 * w]
    sets = []
    for length in LENGTHS:
        options = dict(fs=RATE, window=signal.get_window("hann", length, fftbins=True), nperseg=length,
                       noverlap=length - length // 2, detrend="constant", scaling="density")
        pairs = []
        for i in range(3):
            for j in range(i, 3):
                _, cross = signal.csd(channels[i], channels[j], **options)
                _, coherence = signal.coherence(channels[i], channels[j], fs=RATE, window=options["window"], nperseg=length,
                                                noverlap=options["noverlap"], detrend="constant")
                _, density = signal.welch(channels[i], **options)
                transfer = cross / density
                pairs.append({"from": i, "to": j,
                              "cross_re": cross.real.tolist(), "cross_im": cross.imag.tolist(),
                              "coherence": coherence.tolist(),
                              "h1_re": transfer.real.tolist(), "h1_im": transfer.imag.tolist()})
        sets.append({"length": length, "pairs": pairs})
    document = {"made_by": "generate.py", "python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__,
                "rate_hz": RATE, "count": COUNT, "seeds": SEEDS, "sets": sets}
    (HERE / "expected.json").write_text(json.dumps(document).replace("], ", "],\n") + "\n")


if __name__ == "__main__":
    main()
