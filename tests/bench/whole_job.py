"""The whole job, from files to quantities: becalm beside scipy, in turn, on this machine.

Both read the recordings, take the mean of the first 10 s away, weight every channel by Wk, by Wd and not at all, and work
out r.m.s., peak, greatest 1 s running r.m.s. (linear and exponential) and VDV of each lane; of each channel as recorded also
Welch's spectrum (16 s, Hann, half overlapping) and from it the one-third octaves up to 250 Hz. scipy does it the way an engineer
would write it: whole arrays in double precision, sosfilt of the bilinear design, cumulative sums. Each runs in a process of
its own, with one thread unless said, and prints one line a round; the memory is the process's greatest resident size.
becalm's time is the whole process; of scipy's the start of Python and the imports are left out.

becalm also hashes each file, looks for clipping, gaps and drop-outs, and weights exactly where the bilinear design is some
per cent off at high frequencies; so the values differ by a little, which is printed. The bands of both must agree to 1e-5.

The ratios of the rounds go to ratios.csv with --save, and --compare holds a run against that file: a median ratio of processor
times that fell by more than 20 % is named, and the exit code is 1.
"""

import argparse
import csv
import datetime
import json
import os
import pathlib
import resource
import shutil
import statistics
import struct
import subprocess
import sys
import tempfile
import threading
import time

from measuring import energy_uj, greatest_resident_mb, processor, spread

CHANNELS = 3
WEIGHTINGS = ("Wk", "Wd", "none")
ONE_THREAD = {name: "1" for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")}


# ---- scipy's side ------------------------------------------------------------------------------------------------------


def weighting_sos(name, rate_hz):
    """Bilinear sections of Wk or Wd [parameters: filters/weighting.cpp]."""
    import numpy as np
    from scipy import signal

    q = 1 / np.sqrt(2)
    w = lambda hz: 2 * np.pi * hz
    quadratic = lambda hz, quality: [1 / w(hz) ** 2, 1 / (quality * w(hz)), 1]
    high = ([1 / w(0.4) ** 2, 0, 0], quadratic(0.4, q))
    low = ([1], quadratic(100.0, q))
    if name == "Wk":
        step = (2.37 / 3.35) ** 2
        rest = [
            ([1 / w(12.5), 1], quadratic(12.5, 0.63)),
            ([step * b for b in quadratic(2.37, 0.91)], quadratic(3.35, 0.91)),
        ]
    else:
        rest = [([1 / w(2.0), 1], quadratic(2.0, 0.63))]
    sections = []
    for b, a in [high, low, *rest]:
        bz, az = signal.bilinear(b, a, rate_hz)
        sections.append(np.concatenate([bz, az]))
    return np.array(sections)


def quantities(a, rate_hz):
    import numpy as np
    from scipy import signal

    squares = a * a
    n = round(rate_hz)
    sums = np.concatenate([[0.0], np.cumsum(squares)])
    alpha = -np.expm1(-1 / rate_hz)
    return {
        "rms": float(np.sqrt(sums[-1] / len(a))),
        "peak": float(np.abs(a).max()),
        "mtvv_linear": float(np.sqrt((sums[n:] - sums[:-n]).max() / n)),
        "mtvv_exponential": float(np.sqrt(signal.lfilter([alpha], [1, alpha - 1], squares).max())),
        "vdv": float((np.dot(squares, squares) / rate_hz) ** 0.25),
    }


def third_octaves(x, rate_hz):
    """r.m.s. by band number n (centre 10^(n/10) Hz); bins that an edge cuts count by the part inside."""
    import numpy as np
    from scipy import signal

    segment = min(len(x), 16 * rate_hz)
    hz, density = signal.welch(x, rate_hz, "hann", segment, segment // 2, detrend="constant")
    resolution_hz = hz[1]
    highest_hz = np.floor(min(250.0, rate_hz / 2) / resolution_hz) * resolution_hz
    bands = {}
    for n in range(-30, 40):
        low, high = 10 ** (n / 10 - 0.05), 10 ** (n / 10 + 0.05)
        if low < resolution_hz * (1 - 1e-9) or high > highest_hz * (1 + 1e-9):
            continue
        inside = slice(int(low / resolution_hz), int(high / resolution_hz) + 2)
        bins = hz[inside]
        share = np.minimum(bins + resolution_hz / 2, high) - np.maximum(bins - resolution_hz / 2, low)
        bands[n] = float(np.sqrt(np.sum(density[inside] * np.maximum(share, 0.0))))
    return bands


def scipy_side(files):
    import numpy as np
    from scipy import signal
    from scipy.io import wavfile

    begin, processor_begin = time.perf_counter(), time.process_time()
    results = []
    for file in files:
        rate_hz, stored = wavfile.read(file)
        sos = {name: weighting_sos(name, rate_hz) for name in WEIGHTINGS if name != "none"}
        lanes, recorded = [], []
        for c in range(stored.shape[1]):
            x = stored[:, c].astype(np.float64)
            x -= x[: 10 * rate_hz].mean()
            recorded.append(third_octaves(x, rate_hz))
            for name in WEIGHTINGS:
                a = x if name == "none" else signal.sosfilt(sos[name], x)
                lanes.append({"channel": c + 1, "weighting": name, **quantities(a, rate_hz)})
        results.append({"lanes": lanes, "recorded": recorded})
    seconds = time.perf_counter() - begin
    json.dump({"seconds": seconds, "processor_s": time.process_time() - processor_begin, "files": results}, sys.stdout)


# ---- recordings --------------------------------------------------------------------------------------------------------


def write_recording(path, rate_hz, seconds, seed):
    """Float WAV: some tones and noise, 0.1 m/s2 or so, with an offset. Made in pieces, so that memory stays small."""
    import numpy as np

    frame_bytes = 4 * CHANNELS
    size = rate_hz * seconds * frame_bytes
    if path.exists() and path.stat().st_size == 44 + size:
        path.read_bytes() if size < 2**28 else None  # back into the system's cache
        return
    generator = np.random.Generator(np.random.PCG64(seed))
    with open(path, "wb") as file:
        format_chunk = struct.pack("<HHIIHH", 3, CHANNELS, rate_hz, rate_hz * frame_bytes, frame_bytes, 32)
        file.write(b"RIFF" + struct.pack("<I", 36 + size) + b"WAVEfmt " + struct.pack("<I", 16) + format_chunk)
        file.write(b"data" + struct.pack("<I", size))
        piece = 60
        for begin in range(0, seconds, piece):
            n = min(piece, seconds - begin) * rate_hz
            t = (begin + np.arange(n) / rate_hz)[:, None]
            tones = sum(a * np.sin(2 * np.pi * (hz * t + np.arange(CHANNELS) / 3)) for hz, a in ((1.3, 0.05), (6.1, 0.1), (11.0, 0.08)))
            noise = 0.03 * generator.standard_normal((n, CHANNELS), dtype=np.float32)
            file.write((tones + noise + 0.02).astype("<f4").tobytes())


def job_files(folder, name, count, rate_hz, seconds):
    files = [folder / f"{name}-{i:02}.wav" for i in range(count)]
    for i, file in enumerate(files):
        write_recording(file, rate_hz, seconds, seed=i)
    return files


# ---- running in turn ---------------------------------------------------------------------------------------------------


def run(command, output):
    """Wall time in s and greatest resident size in MB of one process."""
    memory = [0.0]
    with open(output, "wb") as out:
        begin = time.perf_counter()
        process = subprocess.Popen(command, stdout=out, env={**os.environ, **ONE_THREAD})

        def watch():
            while process.returncode is None:
                memory[0] = max(memory[0], greatest_resident_mb(process.pid))
                time.sleep(0.01)

        watcher = threading.Thread(target=watch)
        watcher.start()
        process.wait()
        seconds = time.perf_counter() - begin
        watcher.join()
    if process.returncode != 0:
        sys.exit(f"whole_job.py: {command[0]} ended with {process.returncode}")
    return seconds, memory[0]


def greatest_differences(becalm_json, scipy_json):
    """Greatest relative difference of each quantity over all lanes; also proves that both did the same lanes."""
    ours = [lane for file in json.loads(becalm_json.read_text())["files"] for lane in file["lanes"]]
    theirs = [lane for file in json.loads(scipy_json.read_text())["files"] for lane in file["lanes"]]
    key = lambda lane: (lane["channel"], lane["weighting"])
    if sorted(map(key, ours)) != sorted(map(key, theirs)):
        sys.exit("whole_job.py: the two did not work out the same lanes")
    per_file = CHANNELS * len(WEIGHTINGS)
    differences = {}
    for i, lane in enumerate(ours):
        first = i // per_file * per_file
        other = next(o for o in theirs[first : first + per_file] if key(o) == key(lane))
        for name in ("rms", "peak", "mtvv_linear", "mtvv_exponential", "vdv"):
            difference = abs(lane[name] / other[name] - 1)
            differences[name] = max(differences.get(name, 0.0), difference)
    return differences


def greatest_difference_of_bands(becalm_json, scipy_json):
    ours = [bands["third_octave"] for file in json.loads(becalm_json.read_text())["files"] for bands in file["recorded"]]
    theirs = [bands for file in json.loads(scipy_json.read_text())["files"] for bands in file["recorded"]]
    greatest = 0.0
    for mine, other in zip(ours, theirs, strict=True):
        if sorted(band["n"] for band in mine) != sorted(map(int, other)):
            sys.exit("whole_job.py: the two did not work out the same bands")
        greatest = max([greatest, *(abs(band["rms"] / other[str(band["n"])] - 1) for band in mine)])
    if greatest > 1e-5:
        sys.exit(f"whole_job.py: the bands differ by {greatest:.2g}")
    return greatest


def compare(title, files, samples, becalm, rounds, work):
    """Prints the job's table; gives the ratios of the rounds by name."""
    print(f"\n{title}: {len(files)} file{'s' * (len(files) > 1)}, {samples / 1e6:.1f} million channel-samples, "
          f"{sum(f.stat().st_size for f in files) / 1e6:.0f} MB")
    weigh = [becalm, "weigh", *map(str, files), "--weighting", ",".join(WEIGHTINGS), "--axes", "x,y,z", "--bands", "--json", "-", "--jobs"]
    scipy = [sys.executable, __file__, "--scipy", *map(str, files)]
    names = ("becalm 1 thread", "becalm 2 threads", "scipy 1 thread")
    seconds, processor_s, memory, joules = ({name: [] for name in names} for _ in range(4))

    def measured(name, command, output):
        before, energy = resource.getrusage(resource.RUSAGE_CHILDREN), energy_uj()
        s, mb = run(command, output)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        if name.startswith("scipy"):
            told = json.loads(output.read_text())
            s = told["seconds"]
            processor_s[name].append(told["processor_s"])
        else:
            processor_s[name].append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
        seconds[name].append(s)
        memory[name].append(mb)
        if energy is not None:
            joules[name].append((energy_uj() - energy) / 1e6)

    for _ in range(rounds):
        for jobs in (1, 2):
            measured(names[jobs - 1], [*weigh, str(jobs)], work / "becalm.json")
        measured(names[2], scipy, work / "scipy.json")

    def ratios(of, name):
        return [theirs / ours for theirs, ours in zip(of[names[2]], of[name])]

    print("\n| " + title + " | wall s | x scipy | processor s | x scipy | ns a channel-sample | resident MB | J |")
    print("|---|---|---|---|---|---|---|---|")
    for name in names:
        energy = spread(joules[name], 1) if joules[name] else "not readable"
        print(f"| {name} | {spread(seconds[name], 3)} | {spread(ratios(seconds, name), 1)} | {spread(processor_s[name], 3)} | "
              f"{spread(ratios(processor_s, name), 1)} | {statistics.median(processor_s[name]) / samples * 1e9:.1f} | "
              f"{max(memory[name]):.0f} | {energy} |")
    threads = [one / two for one, two in zip(seconds[names[0]], seconds[names[1]])]
    print(f"\ntwo threads beside one, wall: {spread(threads)}; all as median (least-greatest)")
    differences = greatest_differences(work / "becalm.json", work / "scipy.json")
    print("greatest difference, exact design against bilinear: "
          + ", ".join(f"{name} {100 * value:.2f} %" for name, value in differences.items())
          + f"; one-third octaves {greatest_difference_of_bands(work / 'becalm.json', work / 'scipy.json'):.1e}")
    return {"processor, 1 thread": ratios(processor_s, names[0]), "wall, 1 thread": ratios(seconds, names[0]),
            "wall, 2 threads": ratios(seconds, names[1])}


def save(ratios, file):
    """The rows of the jobs that ran replace theirs; the others stay."""
    rows = [row for row in kept_ratios(file) if row["job"] not in ratios]
    for job, kinds in ratios.items():
        for kind, values in kinds.items():
            rows.append({"job": job, "ratio": kind, "median": f"{statistics.median(values):.2f}", "least": f"{min(values):.2f}",
                         "greatest": f"{max(values):.2f}", "date": datetime.date.today().isoformat(), "machine": processor()})
    with open(file, "w", newline="") as out:
        writer = csv.DictWriter(out, ("job", "ratio", "median", "least", "greatest", "date", "machine"), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


def kept_ratios(file):
    if not file.exists():
        return []
    with open(file, newline="") as kept:
        return list(csv.DictReader(kept))


def fell(ratios, file):
    """Names what is more than 20 % below the kept ratios; True where anything is."""
    any_fell = False
    kept = kept_ratios(file)
    print(f"\nbeside {file.name}:")
    for job in ratios:
        if not any(row["job"] == job for row in kept):
            print(f"  {job}: nothing is kept of it yet (--save)")
    for row in kept:
        if row["job"] not in ratios:
            continue
        now = statistics.median(ratios[row["job"]][row["ratio"]])
        change = now / float(row["median"]) - 1
        bad = change < -0.2 and row["ratio"].startswith("processor")  # wall ratios swing with what else runs
        any_fell |= bad
        print(f"  {row['job']}, {row['ratio']}: {row['median']} on {row['date']}, now {now:.2f} ({100 * change:+.0f} %)"
              + (f"; kept on another machine, {row['machine']}" if row["machine"] != processor() else "")
              + ("  REGRESSION" if bad else ""))
    return any_fell


def main():
    if sys.argv[1:2] == ["--scipy"]:
        return scipy_side(sys.argv[2:])
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("becalm", help="the program")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--long", action="store_true", help="24 h too: 1 GB of disk, 5 GB of memory for scipy")
    parser.add_argument("--only", choices=("hour", "files", "day"), help="one of the jobs")
    parser.add_argument("--save", action="store_true", help="keep the ratios in ratios.csv")
    parser.add_argument("--compare", action="store_true", help="name ratios that fell by more than 20 % since; exit code 1 then")
    parser.add_argument("--ratios", type=pathlib.Path, default=pathlib.Path(__file__).parent / "ratios.csv", metavar="FILE",
                        help="the ratios to keep or to compare with, instead of ratios.csv")
    options = parser.parse_args()
    ratios_file = options.ratios
    ratios = {}

    import numpy
    import scipy

    kept = os.environ.get("BECALM_BENCH_DIR")
    folder = pathlib.Path(kept or tempfile.mkdtemp(prefix="becalm-bench-"))
    folder.mkdir(parents=True, exist_ok=True)
    print(f"becalm beside scipy {scipy.__version__} (numpy {numpy.__version__}, Python {sys.version.split()[0]}), "
          f"{os.cpu_count()} x {processor()}, {datetime.date.today().isoformat()}, {options.rounds} rounds in turn")
    jobs = {
        "hour": ("1 h x 3 channels x 1 kHz", 1, 1000, 3600),
        "files": ("60 x 5 min x 3 channels x 2048 Hz", 60, 2048, 300),
        "day": ("24 h x 3 channels x 1 kHz", 1, 1000, 86400),
    }
    try:
        for name, (title, count, rate_hz, seconds) in jobs.items():
            if (options.only or name) != name or (name == "day" and not (options.long or options.only)):
                continue
            files = job_files(folder, name, count, rate_hz, seconds)
            with tempfile.TemporaryDirectory() as work:
                ratios[name] = compare(title, files, count * rate_hz * seconds * CHANNELS, options.becalm, options.rounds, pathlib.Path(work))
    finally:
        if not kept:
            shutil.rmtree(folder)
    if options.compare and fell(ratios, ratios_file):
        sys.exit(1)
    if options.save:
        save(ratios, ratios_file)


if __name__ == "__main__":
    main()
