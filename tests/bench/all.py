"""Everything that DEVELOPERS.md tells of speed, measured in one go: all.py PATH-OF-BECALM [--write] [--quick]

The whole job beside SciPy (hour, files, day; five rounds in turn), a month out of a pipe and questions to a year's ledger, judging
again with the cache, and the figure of how the cost grows (bench_scaling, where it was built beside the program; the figure and
its numbers go into this folder). A quarter of an hour, 11 GB of disk and 5 GB of memory (SciPy's day). Energy is told where the
machine tells it.

Prints tables in Markdown. --write puts them into DEVELOPERS.md, between the two lines that name this program, and keeps the ratios
in ratios.csv. --quick is to see that all of it runs: the hour, two days, one round.
"""

import argparse
import datetime
import os
import pathlib
import re
import subprocess
import sys

import warm
import year
from measuring import load, processor

HERE = pathlib.Path(__file__).parent
BEGIN, END = "<!-- measured by tests/bench/all.sh -->", "<!-- end of what tests/bench/all.sh measured -->"


def whole_job(becalm, quick, keep):
    options = ["--only", "hour", "--rounds", "1"] if quick else ["--long"]
    command = [sys.executable, HERE / "whole_job.py", becalm, *options, *(["--save"] if keep else [])]
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True)
    lines = done.stdout.splitlines()
    told = [line if not line.startswith("two threads") else "\n" + line + "." for line in lines
            if line.startswith(("|", "two threads", "greatest difference"))]
    tables = re.sub(r"\n\| (?=1 h|24 h|60 x)", r"\n\n| ", "\n".join(told))
    return lines[0], re.sub(r"(?m)^greatest difference.*\n?", "", tables)


def scaling(becalm):
    program = pathlib.Path(becalm).resolve().parents[2] / "tests" / "bench" / "bench_scaling"
    if not program.exists():
        return f"The figure of how the cost grows was left out: {program.name} is not built (BECALM_BENCH=ON)."
    subprocess.run([program, HERE], check=True, stdout=subprocess.DEVNULL)
    return "How the cost grows with samples and lanes: [tests/bench/scaling.svg](tests/bench/scaling.svg)."


def table(rows):
    return "\n".join(["| what | measured | aim |", "|---|---|---|", *(f"| {what} | {value} | {aim or '-'} |" for what, value, aim in rows)])


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("becalm", help="the program")
    parser.add_argument("--write", action="store_true", help="into DEVELOPERS.md and ratios.csv")
    parser.add_argument("--quick", action="store_true", help="see that it runs; the numbers are worth nothing")
    options = parser.parse_args()
    if options.quick and options.write:
        sys.exit("all.py: what --quick measures is not worth writing down")
    becalm, began = options.becalm, load()
    about, jobs = whole_job(becalm, options.quick, options.write)
    again = warm.measure(becalm, rounds=1 if options.quick else 5)
    stream = year.measure(becalm, *((2, False, 1, 20) if options.quick else ()))
    grows = scaling(becalm)
    text = "\n\n".join([
        f"{datetime.date.today().isoformat()}, {os.cpu_count()} x {processor()}; load {began} at the beginning, {load()} at the end. "
        "Medians (least-greatest). " + about.split("(", 1)[1].split(")", 1)[0].replace("numpy", "NumPy").join(("The whole job beside SciPy (", "):")),
        jobs, table([*again, *stream]), grows])
    print(text)
    if not options.write:
        return
    page = HERE.parents[1] / "DEVELOPERS.md"
    words = page.read_text()
    if words.count(BEGIN) != 1 or words.count(END) != 1:
        sys.exit(f"all.py: {page.name} does not have the lines {BEGIN} and {END}")
    before, _, rest = words.partition(BEGIN)
    page.write_text(before + BEGIN + "\n\n" + text + "\n\n" + END + rest.partition(END)[2])


if __name__ == "__main__":
    main()
