"""How the cost of weighting with all statistics grows with samples and with lanes: scaling.py PATH-OF-BECALM FOLDER

Prints a table (processor seconds, the best of three runs) and writes it as scaling.csv into FOLDER. Linear means: ns a
lane-sample stays where it is, once the start of the program and the design of the filters no longer count.
"""

import csv
import pathlib
import resource
import subprocess
import sys
import tempfile

from whole_job import CHANNELS, write_recording

RATE_HZ = 1000


def processor_s(command):
    def spent():
        usage = resource.getrusage(resource.RUSAGE_CHILDREN)
        return usage.ru_utime + usage.ru_stime

    best = float("inf")
    for _ in range(3):
        before = spent()
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        best = min(best, spent() - before)
    return best


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    becalm, folder = sys.argv[1], pathlib.Path(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    weightings = ("Wk", "Wd", "Wm", "Wb")
    cases = [(seconds, 3) for seconds in (60, 600, 3600, 21600, 86400)] + [(3600, lanes) for lanes in (1, 2, 4, 6, 8, 9, 12)]
    rows = []
    with tempfile.TemporaryDirectory() as work:
        for seconds, lanes in cases:
            file = pathlib.Path(work) / f"{seconds}.wav"
            write_recording(file, RATE_HZ, seconds, seed=seconds)
            # Whole weightings of 3, 2 or 1 channels.
            channels = next(c for c in (CHANNELS, 2, 1) if lanes % c == 0 and lanes // c <= len(weightings))
            axes = ",".join(f"{c + 1}={'xyz'[c]}" for c in range(channels))
            s = processor_s([becalm, "weigh", str(file), "--weighting", ",".join(weightings[: lanes // channels]), "--axes", axes,
                             "--jobs", "1", "--json", "-"])
            rows.append({"seconds": seconds, "lanes": lanes, "processor_s": f"{s:.3f}",
                         "ns_a_lane_sample": f"{s / (seconds * RATE_HZ * lanes) * 1e9:.2f}"})
            print("  ".join(f"{key} {value:>8}" for key, value in rows[-1].items()), flush=True)
    with open(folder / "scaling.csv", "w", newline="") as out:
        writer = csv.DictWriter(out, rows[0].keys(), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    main()
