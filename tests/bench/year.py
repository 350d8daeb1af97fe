"""A year of one point, three channels, out of a pipe; then questions to its ledger: year.py PATH-OF-BECALM [--days N] [--whole]

Streams N days (30) at 1 kHz as 32-bit floats, 12 kB a second: 378 GB in a year. Weights x and y by Wd and z by Wk, keeps the
ledger, and prints processor time and resident size of N / 4 and of N days; what a year takes follows from the difference, since
the cost is the same day by day. --whole streams all 365 days instead (the better part of ten minutes).

The questions go to the ledger of a whole year, 3 x 31.5 million rows: with --whole that one, else one of the same number of rows
at 4 Hz without weightings. It takes 9.9 GB of disk. "cold": the files were taken out of the system's cache before.
"""

import argparse
import pathlib
import subprocess

from measuring import Ran, forget_files, generator, spread, work_folder

DAYS = 365
QUESTIONS = {
    "all of it": [],
    "by day and by night, a value each over the year": ["--hours", "06:00-22:00", "--hours", "22:00-06:00"],
    "each of 365 days": ["--by-day"],
    "each day and each night, three spans left out":
        ["--by-day", "--hours", "06:00-22:00", "--hours", "22:00-06:00", "--leave-out", "100000-100777",
         "--leave-out", "5000001-5003601", "--leave-out", "20000000-20864000"],
    "from an odd second to another": ["--from", "12345", "--to", "29876543"],
}
# With --whole, whose lanes are weighted.
VERDICTS = ["--by-day", "--criterion", "iso2631-1-1997-comfort", "--setting", "building", "--use", "residential", "--sensor-uncertainty", "2"]


def streamed(becalm, sender, folder, days, rate_hz, lanes):
    """The ledger, and what streaming it took."""
    description = folder / "point.recording.toml"
    description.write_text(f'[becalm-recording]\nfiles = ["-"]\nnumbers = "float32"\nchannels = 3\nrate_hz = {float(rate_hz)}\n')
    ledger = folder / f"{days}-days-at-{rate_hz}.ledger"
    sending = subprocess.Popen([sender, str(days), str(rate_hz)], stdout=subprocess.PIPE)
    ran = Ran([becalm, "stream", description, "--lanes", lanes, "--ledger", ledger, "--start", "2026-01-01T00:00:07+01:00"],
              stdin=sending.stdout)
    sending.wait()
    return ledger, ran


def measure(becalm, days=30, whole=False, rounds=3, ledger_days=DAYS):
    rows = []
    with work_folder() as work:
        folder = pathlib.Path(work)
        sender = generator(folder)
        weighted = "x:Wd,y:Wd,z:Wk"
        if whole:
            ledger, ran = streamed(becalm, sender, folder, DAYS, 1000, weighted)
            rows.append((f"{DAYS} days x 3 channels x 1 kHz from a pipe", f"{ran.processor_s:.0f} s of processor, {ran.wall_s:.0f} s", ""))
            rows.append(("resident while it streams", f"{ran.resident_mb:.1f} MB", "32 MB at any duration"))
        else:
            _, short = streamed(becalm, sender, folder, days / 4, 1000, weighted)
            _, long = streamed(becalm, sender, folder, days, 1000, weighted)
            a_day = (long.processor_s - short.processor_s) / (days * 0.75)
            rows.append((f"{days} days x 3 channels x 1 kHz from a pipe", f"{long.processor_s:.1f} s of processor, {long.wall_s:.1f} s", ""))
            rows.append(("a year of it, by a day's part of that", f"{a_day * DAYS:.0f} s of processor ({a_day / 86400 / 3000 * 1e9:.2f} ns a lane-sample)", ""))
            rows.append((f"resident, {days / 4} and {days} days", f"{short.resident_mb:.1f} and {long.resident_mb:.1f} MB", "32 MB at any duration"))
            ledger, _ = streamed(becalm, sender, folder, ledger_days, 4, "x:none,y:none,z:none")
        size = sum(path.stat().st_size for path in ledger.iterdir())
        for title, options in QUESTIONS.items():
            ask = [becalm, "ledger", ledger, *options]
            cold, warm = [], []
            for _ in range(rounds):
                forget_files(ledger)
                cold.append(Ran(ask).wall_s)
                warm.append(Ran(ask).wall_s)
            rows.append((f"ledger of {ledger_days} days, {size / 1e9:.1f} GB: {title}", f"{spread(warm)} s warm, {spread(cold)} s cold", "1 s"))
        if whole:
            ran = Ran([becalm, "ledger", ledger, *VERDICTS])
            rows.append((f"ledger of {ledger_days} days: a verdict with its uncertainty for each day", f"{ran.wall_s:.1f} s, {ran.resident_mb:.0f} MB", ""))
    return rows


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("becalm", help="the program")
    parser.add_argument("--days", type=float, default=30)
    parser.add_argument("--whole", action="store_true", help="all of the year at 1 kHz")
    options = parser.parse_args()
    for what, value, aim in measure(options.becalm, options.days, options.whole):
        print(f"| {what} | {value} | {aim or '-'} |", flush=True)


if __name__ == "__main__":
    main()
