"""What the program really writes, held against data/schema: usage: check_schemas.py BECALM PROJECT

Every output is also damaged once (a required key taken out, a wrong schema name) and must then be refused, so that a schema
that allows everything does not pass.
"""

import copy
import json
import math
import pathlib
import random
import struct
import subprocess
import sys
import tempfile
import tomllib

import jsonschema

becalm, project = sys.argv[1], pathlib.Path(sys.argv[2])
checked = 0


def validator(name):
    schema = json.loads((project / "data" / "schema" / f"{name}.schema.json").read_text())
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def hold(name, document, what):
    global checked
    schema = validator(name)
    for error in schema.iter_errors(document):
        sys.exit(f"{what}: {'/'.join(map(str, error.absolute_path))}: {error.message}")
    for key in schema.schema["required"]:
        damaged = copy.deepcopy(document)
        del damaged[key]
        if schema.is_valid(damaged):
            sys.exit(f"{name}: the schema does not miss {key}")
    checked += 1


def run(code, *arguments):
    done = subprocess.run([becalm, *map(str, arguments)], capture_output=True, text=True)
    if done.returncode != code:
        sys.exit(f"{arguments}: exit {done.returncode} instead of {code}\n{done.stderr}")
    return json.loads(done.stdout) if "-" in arguments else None


def float_wav(path, rate, values, channels=1):
    data = b"".join(struct.pack("<f", value) for value in values)
    header = struct.pack("<IHHIIHH", 16, 3, channels, rate, 4 * channels * rate, 4 * channels, 32)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(data)) + b"WAVEfmt " + header + b"data" + struct.pack("<I", len(data)) + data)


def plain(value):
    """TOML with its dates as text, as the schemas describe them."""
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, list):
        return [plain(item) for item in value]
    return value.isoformat() if hasattr(value, "isoformat") else value


with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    demo = folder / "demo"
    run(0, "demo", demo)

    sine = [0.1 * math.sin(0.06 * i) for i in range(20000)]
    float_wav(folder / "sound.wav", 1000, sine)
    float_wav(folder / "lost.wav", 1000, [math.nan if i == 5000 else value for i, value in enumerate(sine)])
    float_wav(folder / "slow.wav", 100, sine)
    float_wav(folder / "dead.wav", 1000, [0.5] * 2000)
    (folder / "empty.wav").write_bytes(b"")
    hold("weigh-1", run(0, "weigh", folder / "sound.wav", "--weighting", "Wk,Wd,KB,flat,none", "--json", "-"), "weigh")
    bad = [folder / name for name in ("lost.wav", "slow.wav", "dead.wav", "empty.wav", "none.wav")]
    document = run(3, "weigh", *bad, "--weighting", "Wk", "--json", "-")
    hold("weigh-1", document, "weigh of bad files")
    wrong = copy.deepcopy(document)
    del wrong["files"][0]["lanes"][0]["mtvv_linear"]
    if validator("weigh-1").is_valid(wrong):
        sys.exit("weigh-1: the schema does not look into the lanes")

    hold("spectrum-1", run(0, "spectrum", folder / "sound.wav", "--weighting", "Wk,none", "--json", "-"), "spectrum")
    document = run(0, "spectrum", folder / "sound.wav", "--running", "1", "--scaling", "amplitude", "--json", "-")
    hold("spectrum-1", document, "spectrum with running bands")
    hold("spectrum-1", run(0, "spectrum", folder / "sound.wav", "--as", "displacement", "--json", "-"), "spectrum of a displacement")
    del document["lanes"][0]["running_bands"][0]["greatest"]
    if validator("spectrum-1").is_valid(document):
        sys.exit("spectrum-1: the schema does not look into the bands")

    document = run(0, "history", folder / "sound.wav", "--high-pass", "2", "--low-pass", "100", "--json", "-")
    hold("history-1", document, "history")
    del document["channels"][0]["quantities"][0]["crest_factor"]
    if validator("history-1").is_valid(document):
        sys.exit("history-1: the schema does not look into the quantities")
    hold("history-1", run(0, "history", folder / "dead.wav", "--as", "acceleration", "--json", "-"), "history of nothing")

    float_wav(folder / "two.wav", 1000, [value * factor for value in sine for factor in (1.0, 0.5)], channels=2)
    document = run(0, "relate", folder / "two.wav", "--reference", "1", "--json", "-")
    hold("relation-1", document, "relate")
    del document["lines"][0]["channels"][0]["coherence"]
    if validator("relation-1").is_valid(document):
        sys.exit("relation-1: the schema does not look into the lines")
    source = random.Random(2)
    wide = [source.gauss(0, 0.1) for _ in range(60100)]
    float_wav(folder / "early.wav", 1000, wide[:60000])
    float_wav(folder / "late.wav", 1000, wide[100:])
    document = run(0, "align", folder / "early.wav", folder / "late.wav", "--json", "-")
    hold("alignment-1", document, "align")
    del document["pieces"][0]["quality"]
    if validator("alignment-1").is_valid(document):
        sys.exit("alignment-1: the schema does not look into the pieces")
    hold("alignment-1", run(0, "align", folder / "early.wav", folder / "late.wav", "--to", "9", "--json", "-"), "align of little")
    document = run(0, "relate", folder / "early.wav", "--reference", "1", "--with", folder / "late.wav", "--json", "-")
    hold("relation-1", document, "relate with a second file")
    del document["with"]["drift_ppm"]
    if validator("relation-1").is_valid(document):
        sys.exit("relation-1: the schema does not look into the second file")
    float_wav(folder / "drop.wav", 200, [math.exp(-0.003 * i) * math.sin(0.2 * i) for i in range(4000)])
    document = run(0, "decay", folder / "drop.wav", "--json", "-")
    hold("decay-1", document, "decay")
    del document["channels"][0]["damping"]["uncertainty"]
    if validator("decay-1").is_valid(document):
        sys.exit("decay-1: the schema does not look into the channels")
    hold("decay-1", run(3, "decay", folder / "sound.wav", "--json", "-"), "decay of a steady sine")
    driven, chance = [0.0, 0.0], random.Random(1)  # 4 Hz at 50 Hz, 2 % damping, driven by noise
    pole = math.exp(-0.02 * 8 * math.pi / 50)
    for _ in range(50 * 900):
        driven.append(2 * pole * math.cos(8 * math.pi / 50) * driven[-1] - pole**2 * driven[-2] + chance.gauss(0, 0.01))
    float_wav(folder / "driven.wav", 50, driven)
    document = run(0, "decay", folder / "driven.wav", "--ambient", "--unit", "m", "--json", "-")
    hold("decay-1", document, "decay of an ambient response")
    del document["modes"][0]["half_power"][0]["why_not"]
    if validator("decay-1").is_valid(document):
        sys.exit("decay-1: the schema does not look into the modes")

    for weighting in ("Wb", "Wc", "Wd", "We", "Wf", "Wg", "Wh", "Wj", "Wk", "Wm", "KB", "velocity", "flat", "none"):
        hold("response-1", run(0, "response", "--weighting", weighting, "--rate", 8192, "--at", "0,0.5,10", "--json", "-"), f"response {weighting}")

    document = run(0, "prove", "--count", "26", "--seed", "7", "--json", "-")
    hold("planted-1", document, "prove")
    del document["kinds"][0]["severity"]
    if validator("planted-1").is_valid(document):
        sys.exit("planted-1: the schema does not look into the kinds")

    for survey in (demo / "survey.toml", demo / "terminal" / "survey.toml"):
        hold("survey", plain(tomllib.loads(survey.read_text())), survey.name)
        document = run(0, "assess", survey, "--json", "-")
        hold("assessment-1", document, f"assess {survey}")
        wrong = copy.deepcopy(document)
        del wrong["verdicts"][0]["why_not"]
        if validator("assessment-1").is_valid(wrong):
            sys.exit("assessment-1: the schema does not look into the verdicts")
        wrong = copy.deepcopy(document)
        del next(verdict for verdict in wrong["verdicts"] if verdict["uncertainty"])["uncertainty"]["components"][0]["method"]
        if validator("assessment-1").is_valid(wrong):
            sys.exit("assessment-1: the schema does not look into the uncertainty")
        document = run(0, "explain", survey, "--damp", "7,0.02,0.01", "--json", "-")
        hold("explanation-1", document, f"explain {survey}")
        wrong = copy.deepcopy(document)
        del wrong["explanations"][0]["components"][0]["share"]
        if validator("explanation-1").is_valid(wrong):
            sys.exit("explanation-1: the schema does not look into the components")
    document = run(0, "compare", demo / "survey.toml", "--conditions", "service", "harbour", "--json", "-")
    hold("comparison-1", document, "compare two conditions")
    for part, key in (("pairs", "calibration_cancels"), ("without_partner", "why"), ("summaries", "from_db")):
        wrong = copy.deepcopy(document)
        del wrong[part][0][key]
        if validator("comparison-1").is_valid(wrong):
            sys.exit(f"comparison-1: the schema does not look into {part}")
    document = run(0, "exposure", demo / "survey.toml", "--json", "-")
    hold("exposure-1", document, "exposure")
    del document["days"][0]["tables"][0]["tasks"][0]["times"][0]["beside_h"]
    if validator("exposure-1").is_valid(document):
        sys.exit("exposure-1: the schema does not look into the times of tasks")
    hold("trend-1", run(3, "trend", demo / "survey.toml", "--over", "shaft_rpm", "--at", "100", "--json", "-"), "trend of too few conditions")
    text = (demo / "survey.toml").read_text()
    for i in (2, 3):  # the same recordings again, as if at other speeds
        text += f'\n[[condition]]\nid = "fast{i}"\nshaft_rpm = {50 * i + 7}\n[[recording]]\nfile = "recordings/d4-214-service.wav"\nspace = "d4-214"\ncondition = "fast{i}"\nchannels = {{ 3 = "z" }}\nscale = 5.0\n'
    (demo / "speeds.toml").write_text(text)
    document = run(0, "trend", demo / "speeds.toml", "--over", "shaft_rpm", "--at", "100", "--json", "-")
    hold("trend-1", document, "trend")
    fitted = next(trend for trend in document["trends"] if trend["exponent"])
    del fitted["exponent"]["low"]
    if validator("trend-1").is_valid(document):
        sys.exit("trend-1: the schema does not look into the exponent")
    days = 'title = "Days"\nsetting = "building"\n[[space]]\nid = "room"\nuse = "residential"\n[[judge]]\ncriteria = ["bs6472-1-2008-day", "iso2631-1-1997-comfort"]\n'
    for day in (2, 3, 5, 6, 7, 8):
        float_wav(folder / f"day{day}.wav", 1000, wide[: 10000 * day])
        days += f'[[recording]]\nfile = "day{day}.wav"\nspace = "room"\nchannels = {{ 1 = "z" }}\nstart = 2026-05-{day:02}T10:00:00+02:00\n'
    (folder / "days.toml").write_text(days)
    document = run(0, "monitor", folder / "days.toml", "--json", "-")
    hold("monitor-1", document, "monitor")
    for part, key in (("summary", "longest_run"), ("periods", "gap")):
        wrong = copy.deepcopy(document)
        of = wrong["series"][0][part]
        del (of[0] if part == "periods" else of)[key]
        if validator("monitor-1").is_valid(wrong):
            sys.exit(f"monitor-1: the schema does not look into {part}")
    run(0, "tables", demo / "survey.toml", "--npy", folder / "npy")
    document = json.loads((folder / "npy" / "index.json").read_text())
    hold("ledger-1", document, "tables --npy")
    del document["lanes"][0]["units"]["rms"]
    if validator("ledger-1").is_valid(document):
        sys.exit("ledger-1: the schema does not look into the lanes")
    # A recording out of a pipe, its ledger, and an answer from it.
    with open(folder / "sound.wav", "rb") as sound:
        done = subprocess.run([becalm, "stream", "-", "--lanes", "1=z:Wk,1=z:none", "--ledger", folder / "ledger", "--start", "2026-03-14T22:00:00Z", "--json", "-"],
                              stdin=sound, capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"stream: exit {done.returncode}\n{done.stderr}")
    hold("weigh-1", json.loads(done.stdout), "stream")
    document = json.loads((folder / "ledger" / "index.json").read_text())
    hold("ledger-1", document, "the ledger of a stream")
    del document["lanes"][0]["sums"][0]["seconds"]
    if validator("ledger-1").is_valid(document):
        sys.exit("ledger-1: the schema does not look into the sums")
    document = run(0, "ledger", folder / "ledger", "--by-day", "--hours", "22:00-06:00", "--json", "-")
    hold("ledger-answer-1", document, "ledger")
    for key in ("seconds", "rms"):
        wrong = copy.deepcopy(document)
        del (wrong["stretches"][0] if key == "seconds" else wrong["stretches"][0]["lanes"][0])[key]
        if validator("ledger-answer-1").is_valid(wrong):
            sys.exit(f"ledger-answer-1: the schema does not miss {key}")
    # A sample at 5 s is no number: it spoils the first of two days.
    subprocess.run([becalm, "stream", "-", "--lanes", "z:Wm", "--ledger", folder / "lost", "--start", "2026-03-14T23:59:50Z"],
                   input=(folder / "lost.wav").read_bytes(), capture_output=True)
    document = json.loads((folder / "lost" / "index.json").read_text())
    hold("ledger-1", document, "the ledger of a stream with a fault")
    del document["findings"][0]["spans"]
    if validator("ledger-1").is_valid(document):
        sys.exit("ledger-1: the schema does not look into the findings")
    document = run(0, "ledger", folder / "lost", "--by-day", "--criterion", "iso2631-2-2003", "--setting", "building", "--use", "residential", "--json", "-")
    hold("ledger-answer-1", document, "ledger with verdicts")
    if [stretch["verdicts"][0]["judged"] for stretch in document["stretches"]] != [False, True]:
        sys.exit("ledger: the fault does not spoil its day alone")
    del document["stretches"][1]["verdicts"][0]["why_not"]
    if validator("ledger-answer-1").is_valid(document):
        sys.exit("ledger-answer-1: the schema does not look into the verdicts")
    (folder / "predicted.csv").write_text("space,criterion,condition,value\nd4-214,iso6954-2000,service,0.15\n")
    hold("comparison-1", run(0, "compare", folder / "predicted.csv", demo / "survey.toml", "--json", "-"), "compare a prediction")
    (demo / "recordings" / "d4-214-service.wav").unlink()
    hold("assessment-1", run(3, "assess", demo / "survey.toml", "--json", "-"), "assess with a recording missing")

    run(0, "new", folder / "demo" / "recordings")
    hold("survey", plain(tomllib.loads((demo / "recordings" / "survey.toml").read_text())), "new")
    for criterion in sorted((project / "data" / "criteria").glob("*.toml")):
        hold("criterion", plain(tomllib.loads(criterion.read_text())), criterion.name)

print(f"{checked} documents follow their schemas")
