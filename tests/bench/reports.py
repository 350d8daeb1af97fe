"""How long a report takes: reports.py PATH-OF-BECALM [--rounds N]

A survey is made in a temporary folder: 60 recordings of 60 s and three axes at 500 Hz in 400 spaces (tones and noise, an invented
propeller), judged by three criteria, which gives some 30 figures. Each report is a process of its own with all processors; the time
is the whole process, the memory its greatest resident size. The aim is less than 5 s
of processors for either form.
"""

import argparse
import os
import pathlib
import resource
import statistics
import subprocess
import sys
import tempfile
import time

import numpy as np

AIM_S = 5.0
RATE_HZ, SECONDS, RECORDINGS, SPACES = 500, 60, 60, 400


def write_survey(folder):
    from scipy.io import wavfile

    generator = np.random.Generator(np.random.PCG64(1))
    t = np.arange(RATE_HZ * SECONDS)[:, None] / RATE_HZ
    text = 'title = "Sixty places"\nsetting = "vessel"\n[[source]]\nid = "prop"\nkind = "propeller"\nrpm = 105\nblades = 4\n'
    text += '[[sensor]]\nid = "s"\nuncertainty_percent = 3\n'
    for i in range(RECORDINGS):
        tones = (0.02 + 0.002 * i) * np.sin(2 * np.pi * 7 * t + np.arange(3)) + 0.03 * np.sin(2 * np.pi * 31.7 * t)
        samples = tones + 0.02 * generator.standard_normal((len(t), 3))
        wavfile.write(folder / f"{i:02}.wav", RATE_HZ, samples.astype("<f4"))
    for i in range(SPACES):
        use = ("passenger-cabin", "crew-accommodation", "working-area")[i % 3]
        text += f'[[space]]\nid = "s{i}"\nlabel = "Space {i}"\nuse = "{use}"\ngroup = "Deck {i // 100}"\n'
    for i in range(RECORDINGS):
        text += f'[[recording]]\nfile = "{i:02}.wav"\nspace = "s{i}"\nsensor = "s"\nchannels = {{ 1 = "x", 2 = "y", 3 = "z" }}\n'
    text += '[[judge]]\ncriteria = ["iso6954-2000", "iso2631-1-1997-comfort", "iso20283-5-2016"]\n'
    (folder / "survey.toml").write_text(text, encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("becalm", help="the program")
    parser.add_argument("--rounds", type=int, default=3)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        write_survey(folder)
        print(f"A report of {RECORDINGS} recordings in {SPACES} spaces, {os.cpu_count()} processors, {options.rounds} rounds")
        for form in ("html", "pdf"):
            wall, processor = [], []
            target = folder / f"r.{form}"
            for _ in range(options.rounds):
                before = resource.getrusage(resource.RUSAGE_CHILDREN)
                begin = time.perf_counter()
                subprocess.run([options.becalm, "report", folder / "survey.toml", f"--{form}", target], check=True, stdout=subprocess.DEVNULL)
                wall.append(time.perf_counter() - begin)
                after = resource.getrusage(resource.RUSAGE_CHILDREN)
                processor.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
            bytes_ = target.read_bytes()
            shape = f"{bytes_.count(b'<svg ')} figures" if form == "html" else f"{bytes_.count(b'/Type /Page ') + bytes_.count(b'/Type /Page' + bytes([10]))} pages"
            print(f"  {form:4} {min(wall):.2f}/{statistics.median(wall):.2f}/{max(wall):.2f} s min/median/max, {min(processor):.2f} s of "
                  f"processors, {len(bytes_) / 1e6:.2f} MB, {shape}, {after.ru_maxrss / 1024:.0f} MB resident"
                  + ("" if min(processor) < AIM_S else f"  SLOWER THAN {AIM_S:.0f} s"))


if __name__ == "__main__":
    sys.exit(main())
