#!/usr/bin/env python3
"""What SciPy's Butterworth band-passes of the same order make of one noise, for the band filters in the time domain.

    python3 generate.py        (numpy and scipy; versions are written into expected.csv)

The noise: x[i] = u[i] / 2^30 - 1 of the generator u[i+1] = (1103515245 u[i] + 12345) mod 2^31, u[0] = 1 (any program can make it), 20,000 samples at
1 kHz, the same that the test makes. scipy.signal.butter(3, edges, "bandpass", output="sos") and sosfilt from rest: r.m.s. of all and the samples
at 4,999, 9,999, ...
"""
import pathlib

import numpy as np
import scipy
from scipy.signal import butter, sosfilt

HERE = pathlib.Path(__file__).parent
RATE, COUNT = 1000.0, 20000

u, x = 1, np.empty(COUNT)
for i in range(COUNT):
    x[i] = u / 2.0**30 - 1.0
    u = (1103515245 * u + 12345) % 2**31

with open(HERE / "expected.csv", "w", encoding="utf-8") as out:
    out.write(f"# generate.py with numpy {np.__version__}, scipy {scipy.__version__}\n")
    out.write("bands_an_octave,n,rms,at_4999,at_9999,at_14999,at_19999\n")
    for b, ns in ((3, (-3, 0, 5, 10, 15, 20, 25)), (1, (-1, 0, 3, 5, 8))):
        for n in ns:
            step = 3 // b
            centre, half = 10.0 ** (step * n / 10.0), 10.0 ** (step / 20.0)
            y = sosfilt(butter(3, [centre / half, centre * half], "bandpass", fs=RATE, output="sos"), x)
            values = [np.sqrt(np.mean(y**2)), *(y[k] for k in (4999, 9999, 14999, 19999))]
            out.write(f"{b},{n}," + ",".join(f"{value:.15e}" for value in values) + "\n")
