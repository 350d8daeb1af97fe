#!/usr/bin/env python3
"""What SciPy and numpy say of the third-octave values of the record next door.

    python3 generate.py        (numpy and scipy; versions are written into expected.csv)

r.m.s. of ../whole_record/acceleration.wav (90 s of three axes at 1 kHz) in the base-ten third-octave bands of 1 Hz to 80 Hz, as acceleration and as velocity,
from scipy.signal.welch (segments of 16 s, half overlap, Hann, the mean of each segment taken away): bins, times (2 pi f)^-2 for the velocity, summed
over the band; a bin on an edge counts by the part that lies inside.
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
motion = record.astype(np.float64)
motion -= motion[:10 * rate].mean(axis=0)
hz, density = welch(motion, fs=rate, window="hann", nperseg=LENGTH, noverlap=LENGTH // 2, detrend="constant", scaling="density", axis=0)
density[0] = 0.0
as_velocity = np.zeros_like(density)
as_velocity[1:] = density[1:] / (2 * np.pi * hz[1:, None]) ** 2
step = hz[1]


def band(values, low, high):
    inside = np.clip(np.minimum(hz + step / 2, high) - np.maximum(hz - step / 2, low), 0, None)
    return np.sqrt((values * inside[:, None]).sum(axis=0))


with open(HERE / "expected.csv", "w", encoding="utf-8") as out:
    out.write(f"# generate.py with numpy {np.__version__}, scipy {scipy.__version__}; m/s2 and m/s r.m.s.\n")
    out.write("channel,n,acceleration,velocity\n")
    for n in range(20):
        low, high = 10 ** (n / 10 - 0.05), 10 ** (n / 10 + 0.05)
        for channel in range(3):
            out.write(f"{channel + 1},{n},{band(density, low, high)[channel]:.9e},{band(as_velocity, low, high)[channel]:.9e}\n")
