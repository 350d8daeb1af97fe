"""The C++ example against the command line, to the last bit: usage: check_example.py JUDGE BECALM FOLDER"""

import json
import pathlib
import re
import subprocess
import sys

judge, becalm, folder = sys.argv[1:]


def run(*command):
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{command}: exit {done.returncode}\n{done.stdout}\n{done.stderr}")
    return done.stdout


def hold(condition, words):
    if not condition:
        sys.exit(words)


folder = pathlib.Path(folder)
run(becalm, "demo", folder)
survey = folder / "survey.toml"
recording = folder / "numbers.csv"
# Any motion would do: what is looked at is that both programs say the same.
recording.write_text("# rate_hz: 500\nz\n" + "".join(f"{(i * 7919 % 1000) / 500 - 1:.6f}\n" for i in range(5000)))
weighed = json.loads(run(becalm, "weigh", recording, "--weighting", "Wk", "--json", "-"))["files"][0]["lanes"]
verdicts = json.loads(run(becalm, "assess", survey, "--json", "-"))["verdicts"]

lines = run(judge, recording, survey).splitlines()
number = r"(-?[0-9][0-9.e+-]*)"
lanes = [re.fullmatch(rf"channel 1, z, Wk: r\.m\.s\. {number} m/s2, MTVV {number} m/s2, 5000 samples", line) for line in lines[:len(weighed)]]
hold(len(weighed) == 1 and all(lanes), lines[:2])
for lane, match in zip(weighed, lanes):
    hold((float(match[1]), float(match[2])) == (lane["rms"], lane["mtvv_linear"]), (match[0], lane))

hold(len(lines) == len(weighed) + len(verdicts), (len(lines), len(verdicts)))
hold({verdict["judged"] for verdict in verdicts} == {True, False}, "the demo has lost its verdict that cannot be judged")
for verdict, line in zip(verdicts, lines[len(weighed):]):
    subject = [verdict["person"] or verdict["space"], verdict["position"], verdict["condition"], verdict["axis"]]
    head = " ".join(part for part in subject if part) + f", {verdict['criterion']}: "
    hold(line.startswith(head), (line, head))
    if not verdict["judged"]:
        hold(line == head + verdict["why_not"], (line, verdict["why_not"]))
        continue
    value, rest = line[len(head):].split(" ", 1)
    hold(float(value) == verdict["value"], (line, verdict["value"]))
    band = verdict["band"] if verdict["band"] is not None else "no limits set"
    hold(rest == f"{verdict['unit']}, {band}" + (", exceeded" if verdict["exceeded"] else ""), (line, verdict["band"]))
