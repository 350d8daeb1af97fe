#!/usr/bin/env python3
"""What SciPy's Welch says of the record next door, for spectra in rows of time.

    python3 generate.py        (numpy and scipy; versions are written into expected.csv)

Density of ../whole_record/acceleration.wav, 90 s of three axes at 1 kHz: segments of 16 s, half overlap, Hann window, the mean of each segment
taken away. All ten segments together, and the fourth alone (24 s to 40 s). Every seventh bin up to 250 Hz.
"""
import pathlib

import numpy as np
import scipy
from scipy.io import wavfile
from scipy.signal import welch

HERE = pathlib.Path(__file__).parent
LENGTH = 16 * 1000

rate, record = wavfile.read(HERE.parent / "whole_record" / "acceleration.wav")
assert rate == 1000 and record.shape == (90000, 3)
settings = {"fs": rate, "window": "hann", "nperseg": LENGTH, "noverlap": LENGTH // 2, "detrend": "constant", "scaling": "density", "axis": 0}
motion = record.astype(np.float64)
hz, whole = welch(motion, **settings)
fourth = welch(motion[24 * rate:40 * rate], **settings)[1]

with open(HERE / "expected.csv", "w", encoding="utf-8") as out:
    out.write(f"# generate.py with numpy {np.__version__}, scipy {scipy.__version__}; densities in (m/s2)^2/Hz\n")
    out.write("channel,bin,whole,fourth_segment\n")
    for channel in range(3):
        for k in range(0, 4001, 7):
            assert hz[k] == k / 16
            out.write(f"{channel + 1},{k},{whole[k, channel]:.12e},{fourth[k, channel]:.12e}\n")
