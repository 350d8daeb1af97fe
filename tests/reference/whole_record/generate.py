#!/usr/bin/env python3
"""Makes the whole record and what it must come to, by a route that shares nothing with the program.

    python3 generate.py        (numpy and scipy; versions and seed are written into expected.json)

The record: 90 s at 1 kHz of three axes, made as displacement from closed forms (swell, tones, chirp, transients, footsteps)
and noise from 2 Hz to 200 Hz, faded in and out smoothly; velocity and acceleration follow by differentiation in the frequency
domain. A constant offset is added to each acceleration. Stored: acceleration of x, y, z as 32-bit float, velocity of z as 32-bit
float, displacement of z as 64-bit float (in single precision its rounding alone would be an acceleration of 3 mm/s2).

The expected values: offset away (mean of the first 10 s of what is stored), zeros behind, one transform of all, times the
analytic weighting (times (j w)^n for velocity and displacement), back. From rest, since the record begins with 11 s of silence.

Everything lies below 250 Hz: a digital filter must be real at half the rate (500 Hz), so its phase follows the definition
only up to 0.6 of it, and peaks of anything above would differ with good reason.
"""
import json
import pathlib
import sys

import numpy as np
import scipy
from scipy.io import wavfile
from scipy.signal import lfilter

HERE = pathlib.Path(__file__).parent
SEED = 20260502
RATE = 1000
SECONDS = 90
N = RATE * SECONDS
PADDED = 1 << 18  # 262 s: what the slowest weighting still has to say after 172 s is below 1e-26
INF = float("inf")

# f1 Q1 f2 Q2 | f3 f4 Q4 | f5 Q5 f6 Q6 | K, entered from the same publications as the program's own table but by hand, and as
# zeros and poles in another form below.
R = 1 / np.sqrt(2)
WM = 1 / (2 * np.pi * 0.028)
WEIGHTINGS = {
    "Wb": (0.4, R, 100, R, 16, 16, 0.55, 2.5, 0.9, 4, 0.95, 1.024),
    "Wc": (0.4, R, 100, R, 8, 8, 0.63, INF, 1, INF, 1, 1),
    "Wd": (0.4, R, 100, R, 2, 2, 0.63, INF, 1, INF, 1, 1),
    "We": (0.4, R, 100, R, 1, 1, 0.63, INF, 1, INF, 1, 1),
    "Wf": (0.08, R, 0.63, R, INF, 0.25, 0.86, 0.0625, 0.8, 0.1, 0.8, 1),
    "Wg": (0.8, 0.71, 100, 0.71, 1.5, 5.3, 0.68, INF, 1, INF, 1, 0.42),
    "Wj": (0.4, R, 100, R, INF, INF, 1, 3.75, 0.91, 5.32, 0.91, 1),
    "Wk": (0.4, R, 100, R, 12.5, 12.5, 0.63, 2.37, 0.91, 3.35, 0.91, 1),
    "Wm": (10**-0.1, R, 100, R, WM, WM, 0.5, INF, 1, INF, 1, 1),
    "flat": (0.4, R, 100, R, INF, INF, 1, INF, 1, INF, 1, 1),
    "KB": None,  # velocities, below
    "velocity": None,
}


def weighting(name, hz):
    """H at the frequencies, as ratio of polynomials in j f (not s): w cancels everywhere but in an integration."""
    p = 1j * hz
    if WEIGHTINGS[name] is None:
        # Of an acceleration: the band limits over s, and for KB the high-pass s / (s + 2 pi 5.6 Hz) of the velocity.
        f1, f2 = 10**-0.1, 100
        h = p / (p**2 + p * f1 / R + f1**2) * f2**2 / (p**2 + p * f2 / R + f2**2) / (2 * np.pi)
        return h * p / (p + 5.6) if name == "KB" else h
    f1, q1, f2, q2, f3, f4, q4, f5, q5, f6, q6, k = WEIGHTINGS[name]
    h = k * p**2 / (p**2 + p * f1 / q1 + f1**2) * f2**2 / (p**2 + p * f2 / q2 + f2**2)
    if f4 < INF:
        h = h * f4**2 / (p**2 + p * f4 / q4 + f4**2)
        if f3 < INF:
            h = h * (p + f3) / f3
    if f6 < INF:
        # (1 + u/Q5 + u^2) with u = p / f5, over the same of f6, times (f5 / f6)^2
        h = h * (p**2 + p * f5 / q5 + f5**2) / (p**2 + p * f6 / q6 + f6**2)
    return h


def fade(t, begin, end, over):
    """0 before begin, 1 from begin + over to end - over, 0 after end; all derivatives are continuous."""
    def rise(u):
        u = np.clip(u, 1e-9, 1 - 1e-9)
        return 1 / (1 + np.exp(np.clip(1 / u - 1 / (1 - u), -700, 700)))
    return rise((t - begin) / over) * rise((end - t) / over)


def tone(t, amplitude, hz, phase=0.0):
    """Displacement of a tone whose acceleration has this amplitude."""
    w = 2 * np.pi * hz
    return -amplitude / w**2 * np.sin(w * t + phase)


def transient(t, amplitude, hz, at, width):
    return tone(t - at, amplitude, hz) * np.exp(-(((t - at) / width) ** 2))


def noise(t, generator, level, low, high):
    """Displacement whose acceleration is noise of this r.m.s., flat from low to high, 1 / f above 20 Hz."""
    hz = np.fft.rfftfreq(PADDED, 1 / RATE)
    spectrum = generator.standard_normal(hz.size) + 1j * generator.standard_normal(hz.size)
    shape = np.where((hz >= low) & (hz <= high), 1 / np.maximum(1, hz / 20), 0)
    acceleration = np.fft.irfft(spectrum * shape, PADDED)[: t.size]
    with np.errstate(divide="ignore", invalid="ignore"):
        integrated = np.where(shape > 0, spectrum * shape / -((2 * np.pi * hz) ** 2), 0)
    return np.fft.irfft(integrated, PADDED)[: t.size] * level / np.sqrt(np.mean(acceleration**2))


def motions():
    """Displacement of x, y, z."""
    generator = np.random.default_rng(SEED)
    t = np.arange(N) / RATE
    x = fade(t, 11, 88, 6) * (tone(t, 0.15, 0.2, 1.0) + tone(t, 0.08, 1.1) + tone(t, 0.05, 17.3, 0.4)
                             + noise(t, generator, 0.05, 2, 200))
    y = fade(t, 11, 88, 6) * (tone(t, 0.1, 0.2, 2.0) + tone(t, 0.2, 2.35) * (1 + 0.4 * np.sin(2 * np.pi * 0.05 * t))
                             + noise(t, generator, 0.08, 2, 200))
    z = fade(t, 11, 88, 6) * (tone(t, 0.4, 0.2) + tone(t, 0.12, 6.0) + tone(t, 0.06, 12.0, 0.7) + tone(t, 0.03, 81.0)
                             + noise(t, generator, 0.1, 2, 200))
    for step in range(30):  # somebody walks by, 1.9 steps a second
        z += transient(t, 0.3 * (1 + 0.2 * np.sin(step)), 8.0, 35 + step / 1.9, 0.06)
    for at, size, hz in ((22.3, 3.0, 11.0), (58.731, 2.2, 27.0), (70.05, 4.0, 5.0)):
        z += transient(t, size, hz, at, 0.08)
        y += transient(t, 0.4 * size, 1.3 * hz, at, 0.08)
    return x, y, z


def differentiated(displacement, order):
    hz = np.fft.rfftfreq(PADDED, 1 / RATE)
    spectrum = np.fft.rfft(displacement, PADDED) * (2j * np.pi * hz) ** order
    return np.fft.irfft(spectrum, PADDED)[:N]


def quantities(weighted):
    squares = weighted**2
    sums = np.concatenate(([0.0], np.cumsum(squares)))
    keep = np.exp(-1 / RATE)
    return {
        "rms": float(np.sqrt(np.mean(squares))),
        "peak": float(np.max(np.abs(weighted))),
        "mtvv_linear": float(np.sqrt(np.max(sums[RATE:] - sums[:-RATE]) / RATE)),
        "mtvv_exponential": float(np.sqrt(np.max(lfilter([1 - keep], [1, -keep], squares)))),
        "vdv": float((np.sum(squares**2) / RATE) ** 0.25),
        "msdv": float(np.sqrt(np.sum(squares) / RATE)),
    }


def expected(stored, order):
    signal = stored.astype(np.float64)
    signal = signal - np.mean(signal[: 10 * RATE])
    hz = np.fft.rfftfreq(PADDED, 1 / RATE)
    spectrum = np.fft.rfft(signal, PADDED) * (2j * np.pi * hz) ** order
    for name in WEIGHTINGS:
        yield name, quantities(np.fft.irfft(spectrum * weighting(name, hz), PADDED)[:N])


def main():
    displacement = motions()
    acceleration = [differentiated(d, 2) for d in displacement]
    beyond = np.abs(np.fft.rfft(acceleration[2], PADDED))
    hz = np.fft.rfftfreq(PADDED, 1 / RATE)
    assert beyond[hz > 250].max() < 1e-6 * beyond.max(), "content above 250 Hz"

    stored = {
        "acceleration.wav": np.stack([a + offset for a, offset in zip(acceleration, (0.3, -0.1, 9.8))], axis=1).astype(np.float32),
        "velocity.wav": differentiated(displacement[2], 1).astype(np.float32)[:, None],
        "displacement.wav": displacement[2].astype(np.float64)[:, None],
    }
    rows = []
    for order, name in enumerate(stored):
        wavfile.write(HERE / name, RATE, stored[name])
        for channel in range(stored[name].shape[1]):
            for weighting_name, values in expected(stored[name][:, channel], order):
                rows.append({"file": name, "channel": channel + 1, "input": name[:-4], "weighting": weighting_name, **values})
    document = {
        "made_by": "generate.py",
        "python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__, "seed": SEED,
        "rows": rows,
    }
    text = json.dumps(document, indent=0).replace(",\n\"", ", \"").replace("{\n", "{").replace("\n}", "}")
    (HERE / "expected.json").write_text(text + "\n")


if __name__ == "__main__":
    main()
