"""One-third octaves of `becalm weigh --bands` beside SciPy: usage: check_bands.py BECALM

Outside sources: scipy.signal.welch with a band sum written out in tests/bench/whole_job.py; the nominal midband frequencies of
IEC 61260-1:2014, table E.1 (from memory); and, computed from the definition, a tone of known amplitude within its band.
"""

import json
import math
import pathlib
import subprocess
import sys
import tempfile

import numpy

sys.path.insert(0, str(pathlib.Path(__file__).parents[1] / "bench"))
from whole_job import third_octaves

becalm = sys.argv[1]
RATE_HZ, SECONDS = 1000, 150
NOMINAL = [0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200]


def hold(condition, what):
    if not condition:
        sys.exit(f"check_bands.py: {what}")


with tempfile.TemporaryDirectory() as work:
    t = numpy.arange(RATE_HZ * SECONDS) / RATE_HZ
    generator = numpy.random.Generator(numpy.random.PCG64(11))
    noise = 0.02 * generator.standard_normal(len(t)) + 0.3 * numpy.sin(2 * numpy.pi * 6.1 * t) + 0.5
    tone = 0.4 * numpy.sin(2 * numpy.pi * 16.0 * t)
    file = pathlib.Path(work) / "two.csv"
    file.write_text(f"rate,{RATE_HZ}\na,b\n" + "\n".join(f"{a:.9f},{b:.9f}" for a, b in zip(noise, tone)))
    done = subprocess.run([becalm, "weigh", file, "--weighting", "none", "--axes", "x,z", "--bands", "--json", "-"], capture_output=True, text=True)
    hold(done.returncode == 0, done.stderr)
    recorded = json.loads(done.stdout)["files"][0]["recorded"]
    hold([channel["channel"] for channel in recorded] == [1, 2], "not one table a channel")
    for channel, x in zip(recorded, (noise, tone)):
        bands = channel["third_octave"]
        x = numpy.round(x, 9)
        expected = third_octaves(x - x[: 10 * RATE_HZ].mean(), RATE_HZ)
        hold([band["n"] for band in bands] == list(expected), f"bands {[band['n'] for band in bands]}")
        for band in bands:
            # Beside a tone a band holds next to nothing: there the rounding of single precision shows.
            hold(math.isclose(band["rms"], expected[band["n"]], rel_tol=1e-5, abs_tol=1e-7 * x.std()), f"band {band}: SciPy has {expected[band['n']]}")
            hold(math.isclose(band["exact_hz"], 10 ** (band["n"] / 10), rel_tol=1e-12), f"band {band}: centre")
        nominal = {band["nominal_hz"]: band for band in bands}
        hold(all(hz in nominal for hz in NOMINAL), f"nominal frequencies {sorted(nominal)}")
    hold(math.isclose(nominal[16]["rms"], 0.4 / math.sqrt(2), rel_tol=1e-3), f"the tone at 16 Hz: {nominal[16]}")
    hold(all(band["rms"] < 1e-3 for hz, band in nominal.items() if abs(math.log10(hz / 16)) > 0.15), "the tone leaks beyond its neighbours")

    # For people, the same numbers.
    done = subprocess.run([becalm, "weigh", file, "--weighting", "none", "--axes", "x,z", "--bands"], capture_output=True, text=True)
    row = next(line.split() for line in done.stdout.splitlines() if line.split()[:1] == ["6.3"])
    hold(all(math.isclose(float(shown), band["rms"], rel_tol=1e-3) for shown, band in
             zip(row[1:], (next(b for b in channel["third_octave"] if b["nominal_hz"] == 6.3) for channel in recorded))), f"the table says {row}")

print("weigh --bands: one-third octaves agree with SciPy and the standard's frequencies")
