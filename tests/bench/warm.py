"""Judging again: warm.py PATH-OF-BECALM [--rounds N]

The first verdict of the demo's vessel without any cache, its re-judgement from the cache by the recording, and surveys of 5,000
recordings (10 s, one axis, 500 Hz) and of 60 (5 min, three axes, 2,048 Hz), judged by two criteria: without a cache, filling it,
and with it. Medians of the rounds with their spread, in seconds of processor time and of the clock.
"""

import argparse
import pathlib
import shutil

from measuring import Ran, forget_files, spread, work_folder
from whole_job import CHANNELS, write_recording


def survey_of(folder, count, seconds, rate_hz, axes):
    """Recordings are made once and copied with another first sample: each a content of its own."""
    folder.mkdir()
    first = folder / "made.wav"
    write_recording(first, rate_hz, seconds, seed=1)
    content = bytearray(first.read_bytes())
    first.unlink()
    text = 'title = "many"\nsetting = "vessel"\n[[judge]]\ncriteria = ["iso6954-2000", "iso2631-1-1997-comfort"]\n'
    mapping = ", ".join(f'{c + 1} = "{axis}"' for c, axis in enumerate(axes))
    for i in range(count):
        content[44:46] = (i % 65536).to_bytes(2, "little")  # the low bits of a float: no level changes
        (folder / f"{i:04}.wav").write_bytes(content)
        text += f'[[space]]\nid = "s{i:04}"\nuse = "passenger-cabin"\n[[recording]]\nfile = "{i:04}.wav"\nspace = "s{i:04}"\nchannels = {{ {mapping} }}\n'
    survey = folder / "survey.toml"
    survey.write_text(text)
    return survey


def judged(becalm, survey, *options):
    return Ran([becalm, "assess", survey, "--json", survey.parent / "result.json", *options], codes=(0, 3))


def measure(becalm, rounds=5):
    rows = []
    with work_folder() as work:
        folder = pathlib.Path(work)
        Ran([becalm, "demo", folder / "demo"], codes=(0, 3))
        demo = folder / "demo" / "survey.toml"
        recordings = demo.read_text().count("[[recording]]")
        cold = [judged(becalm, demo, "--no-cache") for _ in range(rounds)]
        rows.append((f"the demo's first verdicts, {recordings} recordings, no cache",
                     f"{spread([r.processor_s for r in cold])} s of processor, {spread([r.wall_s for r in cold])} s", "0.3 s of processor"))
        judged(becalm, demo)
        start = [Ran([becalm, "--version"]) for _ in range(rounds)]
        rows.append(("start of the program alone", f"{spread([1000 * r.processor_s for r in start], 0)} ms of processor", "-"))
        warm = [judged(becalm, demo) for _ in range(rounds)]
        rows.append(("the demo again, with the cache",
                     f"{spread([1000 * r.processor_s / recordings for r in warm], 1)} ms of processor a recording, "
                     f"{spread([1000 * r.processor_s for r in warm], 0)} ms in all", "10 ms a recording"))
        for count, seconds, rate_hz, axes, aim in ((60, 300, 2048, "xyz", "10 ms a recording"), (5000, 10, 500, "xyz", "2 s")):
            survey = survey_of(folder / f"of-{count}", count, seconds, rate_hz, axes)
            without = judged(becalm, survey, "--no-cache")
            filling = judged(becalm, survey)
            again = [judged(becalm, survey) for _ in range(rounds)]
            forget_files(survey.parent)
            disk = judged(becalm, survey)
            rows.append((f"{count} recordings of {seconds} s x {len(axes)} x {rate_hz} Hz",
                         f"{without.processor_s:.2f} s of processor without a cache, {filling.processor_s:.2f} s filling it", "-"))
            rows.append((f"the {count} again, with the cache",
                         f"{spread([r.wall_s for r in again])} s, {spread([r.processor_s for r in again])} s of processor "
                         f"({1000 * min(r.wall_s for r in again) / count:.2f} ms a recording); {disk.wall_s:.2f} s from a cold disk; "
                         f"{max(r.resident_mb for r in again):.0f} MB", aim))
            shutil.rmtree(survey.parent)
    return rows


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("becalm", help="the program")
    parser.add_argument("--rounds", type=int, default=5)
    options = parser.parse_args()
    for what, value, aim in measure(options.becalm, options.rounds):
        print(f"| {what} | {value} | {aim} |", flush=True)


if __name__ == "__main__":
    main()
