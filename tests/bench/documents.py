"""What more documents cost, and what judging again costs.

    documents.py PATH-OF-BECALM [--long]

Judges a one-hour recording of three channels at 1 kHz by one document and by all that fit its setting, in turn, five rounds, whole processes,
without the cache; then the same with the cache. --long also judges 24 h first and again. Prints medians with spread, and the ratios.
"""

import argparse
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

import numpy as np
from scipy.io import wavfile

ROUNDS = 5
RATE_HZ = 1000


def record(path, hours):
    """Invented: noise of 0.01 m/s2 with a tone, written in pieces."""
    generator = np.random.default_rng(1)
    frames = int(hours * 3600 * RATE_HZ)
    data = np.lib.format.open_memmap(path.with_suffix(".npy"), mode="w+", dtype=np.int16, shape=(frames, 3))
    for begin in range(0, frames, 10_000_000):
        piece = data[begin : begin + 10_000_000]
        piece[:] = (generator.standard_normal(piece.shape) * 1000).astype(np.int16)
    wavfile.write(path, RATE_HZ, data)
    path.with_suffix(".npy").unlink()
    time.sleep(3)  # a file that was written just now is hashed anew, for its time of change could hide a second change


SURVEY = """title = "bench"
setting = "{setting}"
[[condition]]
id = "c"
period = "day"
exposure_h = 2.0
[[space]]
id = "p"
use = "residential"
[[recording]]
file = "{file}"
space = "p"
condition = "c"
channels = {{ 1 = "x", 2 = "y", 3 = "z" }}
scale = 0.3
[[judge]]
criteria = [{criteria}]
confirmed-by = "the bench: every number is invented here"
"""


def documents(becalm, setting):
    listed = subprocess.run([becalm, "criteria", "list"], capture_output=True, text=True, check=True).stdout
    header, *lines = listed.splitlines()
    column = header.index("setting")
    width = header.index("quantity") - column
    chosen = []
    for line in lines:
        if line.startswith("looked for in"):
            break
        settings = line[column : column + width].strip()
        if settings == "any" or setting in settings.split(", "):
            chosen.append(line.split()[0])
    return chosen


def seconds(becalm, survey, *options):
    start = time.perf_counter()
    done = subprocess.run([becalm, "assess", survey, "--json", "/dev/null", *options], capture_output=True, text=True)
    took = time.perf_counter() - start
    if done.returncode not in (0, 3):
        sys.exit(f"becalm ended with {done.returncode}: {done.stderr}")
    return took


def shown(name, values):
    print(f"{name:44} {statistics.median(values):8.3f} s  ({min(values):.3f} to {max(values):.3f})")
    return statistics.median(values)


def compare(becalm, folder, setting):
    every = documents(becalm, setting)
    surveys = {}
    for name, criteria in (("one", every[:1]), ("all", every)):
        surveys[name] = folder / f"{setting}-{name}.toml"
        quoted = ", ".join(f'"{c}"' for c in criteria)
        surveys[name].write_text(SURVEY.format(setting=setting, file="hour.wav", criteria=quoted))
    took = {name: [] for name in surveys}
    for _ in range(ROUNDS):
        for name, survey in surveys.items():
            took[name].append(seconds(becalm, survey, "--no-cache"))
    one = shown(f"{setting}: {every[0]}", took["one"])
    all_of_them = shown(f"{setting}: all {len(every)} documents", took["all"])
    print(f"{setting}: all / one = {all_of_them / one:.2f}")
    seconds(becalm, surveys["all"])
    again = shown(f"{setting}: all again, from the ledgers", [seconds(becalm, surveys["all"]) for _ in range(ROUNDS)])
    print(f"{setting}: again / first = {again / all_of_them:.3f}")


def main():
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("becalm")
    options.add_argument("--long", action="store_true", help="24 h, first and again")
    chosen = options.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        record(folder / "hour.wav", 1)
        for setting in ("building", "vessel", "rail"):
            compare(chosen.becalm, folder, setting)
        if chosen.long:
            record(folder / "day.wav", 24)
            survey = folder / "day.toml"
            survey.write_text(SURVEY.format(setting="vessel", file="day.wav", criteria='"iso6954-2000"'))
            first = shown("24 h: first run", [seconds(chosen.becalm, survey)])
            again = shown("24 h: again", [seconds(chosen.becalm, survey) for _ in range(ROUNDS)])
            print(f"24 h: again / first = {again / first:.3f}")


main()
