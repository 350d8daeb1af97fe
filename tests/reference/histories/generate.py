#!/usr/bin/env python3
"""Time histories of the record next door by SciPy: high-pass, low-pass, integrated once and twice.

    python3 generate.py        (numpy and scipy; versions are written into expected.json)

../whole_record/acceleration.wav, 90 s of three axes at 1 kHz. Its mean is taken away, minutes of zeros are put on both sides, and its
transform is multiplied by the magnitude of SciPy's analog Butterworth filters (signal.butter, signal.freqs), by the raised cosine
between 1/2/sqrt(2) and 1/2 of the high-pass that `becalm history` states beside them, and divided by 2 pi j f for each integration.
Of the settled part, 10 / high-pass from the ends, r.m.s., greatest distance from zero, peak to peak, and every 997th sample.
"""
import json
import pathlib

import numpy as np
import scipy
from scipy import fft, signal
from scipy.io import wavfile

HERE = pathlib.Path(__file__).parent
CASES = ({"high_pass": 1.0, "low_pass": 80.0, "order": 4}, {"high_pass": 2.0, "low_pass": None, "order": 2},
         {"high_pass": 5.0, "low_pass": 30.0, "order": 6})

rate, record = wavfile.read(HERE.parent / "whole_record" / "acceleration.wav")
assert rate == 1000 and record.shape == (90000, 3)
motion = record.astype(np.float64)
motion -= motion.mean(axis=0)
pad = 240 * rate
length = fft.next_fast_len(len(motion) + 2 * pad, real=True)
spectra = fft.rfft(np.concatenate([np.zeros((pad, 3)), motion]), length, axis=0)
hz = fft.rfftfreq(length, 1 / rate)


def magnitude(kind, corner, order):
    b, a = signal.butter(order, 2 * np.pi * corner, kind, analog=True)
    response = np.zeros(len(hz))
    response[1:] = np.abs(signal.freqs(b, a, 2 * np.pi * hz[1:])[1])
    return response


document = {"numpy": np.__version__, "scipy": scipy.__version__, "step": 997, "cases": []}
for case in CASES:
    low = case["high_pass"] / 2
    ramp = np.clip((hz - low / np.sqrt(2)) / (low - low / np.sqrt(2)), 0, 1)
    response = magnitude("highpass", case["high_pass"], case["order"]) * (1 - np.cos(np.pi * ramp)) / 2
    if case["low_pass"]:
        response *= magnitude("lowpass", case["low_pass"], case["order"])
    edge = int(10 / case["high_pass"] * rate)
    entry = {**case, "motions": []}
    for integrations in range(3):
        by = np.zeros(len(hz), dtype=complex)
        by[1:] = response[1:] / (2j * np.pi * hz[1:]) ** integrations
        history = fft.irfft(spectra * by[:, None], length, axis=0)[pad:pad + len(motion)]
        settled = history[edge:-edge]
        entry["motions"].append({"rms": list(np.sqrt(np.mean(settled**2, axis=0))), "peak": list(np.max(np.abs(settled), axis=0)),
                                 "peak_to_peak": list(np.ptp(settled, axis=0)), "samples": history[::997].T.tolist()})
    document["cases"].append(entry)
(HERE / "expected.json").write_text(json.dumps(document) + "\n")
