"""becalm tables, read by what others read it with: usage: check_tables.py BECALM

Outside sources: openpyxl reads the spreadsheet, Python's csv and zipfile, NumPy the arrays. Their numbers are held to the JSON of assess
and trend, texts to the survey that this script writes itself. Expected r.m.s. values: computed from the definition.
"""

import csv
import hashlib
import json
import math
import os
import pathlib
import re
import struct
import subprocess
import sys
import tempfile
import zipfile

import numpy
import openpyxl

becalm = pathlib.Path(sys.argv[1]).resolve()
# What a person may write, and a spreadsheet must not run.
hostile = ["=cmd|'/c calc'!A0", "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "\n=1", " =1", "'=1", "＝1", "<script>alert(1)</script>",
           'say "hi", it\'s; fine', "two\nlines\r\nand three", "_x0041_ is no A", "Каюта 7, 客室, كابينة, 🚢", "a\u0001b", "=" + "x" * 40000]
dangerous = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def fail(words):
    sys.exit(words)


def hold(condition, words):
    if not condition:
        fail(words)


def run(code, *arguments, folder=None):
    done = subprocess.run([becalm, *map(str, arguments)], capture_output=True, text=True, cwd=folder)
    hold(done.returncode == code, f"{arguments}: exit {done.returncode} instead of {code}\n{done.stdout[:1000]}\n{done.stderr[:1000]}")
    return done


def float_wav(path, rate, channels):
    frames = numpy.stack(channels, axis=1).astype("<f4")
    data, n = frames.tobytes(), frames.shape[1]
    header = struct.pack("<IHHIIHH", 16, 3, n, rate, 4 * n * rate, 4 * n, 32)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(data)) + b"WAVEfmt " + header + b"data" + struct.pack("<I", len(data)) + data)


def toml_text(text):
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def as_written(field):
    """A text of a CSV file as it was: what csv_field.h says."""
    return field[1:] if field.startswith("'") and field.lstrip(" '").startswith(dangerous) else field


def read_csv(path, numeric=()):
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(file, strict=True))
    for row in rows:
        hold(len(row) == len(rows[0]), f"{path.name}: a row of {len(row)} fields")
    return [dict(zip(rows[0], row)) for row in rows[1:]]


def value_of(text, kind):
    if text == "":
        return None
    if kind == "text":
        return as_written(text)
    if kind == "true or false":
        return {"true": True, "false": False}[text]
    return int(text) if kind == "whole number" else float(text)


def tables_in(folder):
    """name → rows, with the types that columns.csv states."""
    kinds = {}
    for row in read_csv(folder / "columns.csv"):
        kinds.setdefault(row["table"], {})[row["column"]] = row["type"]
        hold(row["meaning"], f"{row} is not explained")
    tables = {}
    for name, columns in kinds.items():
        rows = read_csv(folder / f"{name}.csv")
        for row in rows:
            for column, text in row.items():
                if columns[column] == "text" and text:
                    hold(not text.startswith(dangerous), f"{name}.{column}: {text[:20]!r} could be a formula")
        tables[name] = [{column: value_of(text, columns[column]) for column, text in row.items()} for row in rows]
        with open(folder / f"{name}.csv", newline="", encoding="utf-8") as file:
            hold(next(csv.reader(file)) == list(columns), f"{name}: columns.csv names other columns")
    counts = {row["name"]: row["rows"] for row in read_csv(folder / "about.csv") if row["name"].startswith("table ")}
    hold(counts == {f"table {name}": str(len(rows)) for name, rows in tables.items()}, "about.csv counts other rows")
    return tables


def cell_as_written(value):
    return re.sub("_x([0-9A-Fa-f]{4})_", lambda code: chr(int(code[1], 16)), value) if isinstance(value, str) else value


def hold_workbook(path, tables, whole_texts=True):
    """Each cell is what the CSV has; numbers to the 16 digits that libxlsxwriter writes."""
    book = openpyxl.load_workbook(path)
    hold(book.sheetnames == ["about", "columns", *tables], f"sheets: {book.sheetnames}")
    for name, rows in tables.items():
        sheet = book[name]
        cells = list(sheet.iter_rows())
        header = [cell.value for cell in cells[0]]
        hold(sheet.freeze_panes == "A2" and all(cell.font.b for cell in cells[0]), f"{name}: the header does not stand out")
        hold(all(sheet.column_dimensions[cell.column_letter].width > len(cell.value) for cell in cells[0]), f"{name}: a column is narrow")
        if rows:
            hold(header == list(rows[0]), f"{name}: {header}")
        cells = [row for row in cells[1:] if any(cell.value is not None for cell in row)]
        hold(len(cells) == len(rows), f"{name}: {len(cells)} rows instead of {len(rows)}")
        for row, line in zip(rows, cells):
            for (column, expected), cell in zip(row.items(), line):
                hold(cell.data_type != "f" and cell.hyperlink is None, f"{name}.{column}: {cell.value!r} is a formula or a link")
                found = cell.value
                if isinstance(expected, str) and len(expected) > 32767:
                    hold(len(found) <= 32767 and re.search(r" \[cut: \d+ bytes in all, whole in CSV\]$", found), f"{name}.{column}: cut in silence")
                elif isinstance(expected, str):
                    hold(cell.data_type in "sn" and isinstance(found, str), f"{name}.{column}: {found!r} is no text")
                    # openpyxl resolves the escape of "_x", and leaves those of control characters to its reader; lines end as XML has them
                    same = {found, cell_as_written(found)}
                    hold({text.replace("\r\n", "\n") for text in same} & {expected.replace("\r\n", "\n")}, f"{name}.{column}: {found!r} instead of {expected!r}")
                elif isinstance(expected, bool) or expected is None:
                    hold(found is expected, f"{name}.{column}: {found!r} instead of {expected!r}")
                else:
                    hold(not isinstance(found, bool) and math.isclose(found, expected, rel_tol=6e-16), f"{name}.{column}: {found!r} instead of {expected!r}")
    with zipfile.ZipFile(path) as archive:
        for part in archive.namelist():
            text = archive.read(part).decode()
            hold(not re.search(r"<f[ >]|<hyperlink|externalLink|vbaProject", text), f"{part}: a formula or a link")
            hold(archive.getinfo(part).date_time == (1980, 1, 1, 0, 0, 0), f"{part}: a time of its own")
    return book


def joined(texts):
    return "; ".join(texts) or None


def hold_judgement(tables, document):
    """Every number of the JSON stands in the tables, to the last bit."""
    verdicts = document["verdicts"]
    hold(len(tables["verdicts"]) == len(verdicts), "verdicts are missing")
    bands, terms, parts, contributions = [], [], [], []
    for i, (row, verdict) in enumerate(zip(tables["verdicts"], verdicts), 1):
        uncertainty = verdict["uncertainty"] or {}
        expected = {key: verdict[key] for key in ("space", "position", "condition", "person", "criterion", "judged", "value", "unit",
                                                  "expanded_uncertainty", "band_index", "band", "exceeded", "why_not", "edition", "clause",
                                                  "confirmed", "use", "quantity", "axis", "weighting")}
        expected |= {"verdict": i, "standard_uncertainty": uncertainty.get("standard"), "also_bands": joined(verdict["also_bands"]),
                     "probability_exceeded": uncertainty.get("probability_exceeded"), "probability_of_band": uncertainty.get("probability_of_band"),
                     "recordings": joined(verdict["recordings"]), "notes": joined(verdict["notes"]), "decision_rule": document["survey"]["decision_rule"]}
        for key, value in expected.items():
            hold(row[key] == (value if value != "" else None), f"verdict {i}, {key}: {row[key]!r} instead of {value!r}")
        for j, band in enumerate(verdict["bands"]):
            bands.append((i, j, band["name"], band.get("from"), band["below"], band.get("inclusive", False), band.get("exceeds", False)))
        for j, term in enumerate(verdict["terms"], 1):
            terms.append((i, j, term["axis"], term["weighting"], term["factor"], term["value"], term["duration_s"], joined(term["recordings"])))
            for part in term.get("parts", []):
                parts.append((i, j, part["condition"], part["space"], part["rest"], part["value"], part["exposed_h"], part["events"], part["duration_s"]))
        for one in uncertainty.get("components", []):
            contributions.append((i, one["name"], one["standard"], one["dof"], one["method"]))
    pick = lambda name, *keys: [tuple(row[key] for key in keys) for row in tables[name]]
    hold(pick("bands", "verdict", "band_index", "band", "from", "limit", "inclusive", "exceeds") == bands, "bands differ")
    hold(pick("terms", "verdict", "term", "axis", "weighting", "factor", "value", "duration_s", "recordings") == terms, "terms differ")
    hold(pick("parts", "verdict", "term", "part_condition", "part_space", "rest", "value", "exposed_h", "events", "duration_s") == parts, "parts differ")
    found = [row for row in tables["uncertainty"] if row["covered"]]
    hold([tuple(row[key] for key in ("verdict", "component", "standard_uncertainty", "degrees_of_freedom", "method")) for row in found] == contributions, "the uncertainty's contributions differ")
    missing = sum(len((verdict["uncertainty"] or {}).get("not_covered", [])) for verdict in verdicts)
    hold(len(tables["uncertainty"]) - len(found) == missing, "what is not covered differs")
    findings = [(f["severity"], f["code"], f.get("recording"), f["channel"], f["at_s"], f.get("to_s"), f["message"]) for f in document["findings"]]
    hold(pick("findings", "severity", "code", "file", "channel", "from_s", "to_s", "message") == findings, "findings differ")


def hold_assess_csv(path, document):
    for row, verdict in zip(read_csv(path), document["verdicts"], strict=True):
        uncertainty = verdict["uncertainty"] or {}
        for column, value in (("value", verdict["value"]), ("expanded_uncertainty", verdict["expanded_uncertainty"]), ("standard_uncertainty", uncertainty.get("standard")),
                              ("probability_exceeded", uncertainty.get("probability_exceeded")), ("probability_of_band", uncertainty.get("probability_of_band"))):
            hold((float(row[column]) if row[column] else None) == value, f"assess --csv, {column}: {row[column]} instead of {value}")
        hold(row["decision_rule"] == document["survey"]["decision_rule"], "assess --csv: decision_rule")


def hold_arrays(folder, tables):
    """The arrays are the ledger of the CSV, bit by bit, and what NumPy itself would write."""
    index = json.loads((folder / "index.json").read_text())
    names = [field["name"] for field in index["fields"]]
    seconds = iter(tables["ledger"])
    for lane in index["lanes"]:
        path = folder / lane["file"]
        rows = numpy.load(path, mmap_mode="r")
        hold(isinstance(rows, numpy.memmap) and rows.shape == (lane["rows"],), f"{path}: {rows.shape}")
        hold(rows.dtype == numpy.dtype([(field["name"], field["type"]) for field in index["fields"]]), f"{path}: {rows.dtype}")
        hold(rows.offset % 64 == 0, f"{path}: the data begin at {rows.offset}")
        for row in rows:
            expected = next(seconds)
            hold(all(expected[key] == lane[key] for key in ("recording", "space", "position", "condition", "channel", "axis", "weighting")), f"{path}: another lane")
            hold([row[name].item() for name in names] == [expected[name] for name in names], f"{path}, second {row['second']}: differs from ledger.csv")
    hold(next(seconds, None) is None, "ledger.csv has more rows than the arrays")
    hold({path.name for path in folder.iterdir()} == {"index.json"} | {lane["file"] for lane in index["lanes"]}, "files that no index names")
    return index


def everything_in(folder):
    return {str(path.relative_to(folder)): path.stat().st_mtime_ns for path in folder.rglob("*") if path.is_file()}


def write_all(folder, survey, name, code=0, *further):
    before = everything_in(folder)
    work = folder / "elsewhere"
    work.mkdir(exist_ok=True)
    place = folder / name
    place.mkdir()
    temporary = folder / "temporary"
    temporary.mkdir(exist_ok=True)
    os.environ["TMPDIR"] = str(temporary)
    done = run(code, "tables", survey, "--xlsx", place / "tables.xlsx", "--csv", place / "csv", "--npy", place / "npy", "--no-cache", *further, folder=work)
    new = {path: at for path, at in everything_in(folder).items() if before.get(path) != at}
    expected = {"tables.xlsx"} | {f"csv/{path.name}" for path in (place / "csv").iterdir()} | {f"npy/{path.name}" for path in (place / "npy").iterdir()}
    hold(set(new) == {f"{name}/{path}" for path in expected}, f"written elsewhere: {set(new) - {f'{name}/{path}' for path in expected}}")
    hold(all(not path.startswith(f"{name}/.") for path in new), "temporary files stayed")
    return place, done.stdout


with tempfile.TemporaryDirectory() as folder:
    folder = pathlib.Path(folder)
    rate, seconds = 300, 70
    t = numpy.arange(rate * seconds) / rate
    chance = numpy.random.default_rng(5)
    motion = lambda: 0.02 * numpy.sin(2 * math.pi * 16 * t) + 0.005 * chance.standard_normal(t.size)

    # --- hostile words everywhere
    text = f'title = {toml_text(hostile[0])}\nsetting = "vessel"\nclient = {toml_text(hostile[10])}\nmounting_percent = 4.0\n'
    text += f'[[sensor]]\nid = "s"\nserial = {toml_text(hostile[0])}\ncertificate = {toml_text(hostile[11])}\nuncertainty_percent = 3.0\n'
    text += f'[[condition]]\nid = "run"\ntitle = {toml_text(hostile[2])}\nspeed_kn = 12.5\n'
    for i, words in enumerate(hostile):
        float_wav(folder / f"{i}.wav", rate, [motion(), motion(), motion()])
        text += f'[[space]]\nid = "s{i}"\nlabel = {toml_text(words)}\ngroup = {toml_text(words)}\nuse = "passenger-cabin"\n'
        text += f'[[recording]]\nfile = "{i}.wav"\nspace = "s{i}"\ncondition = "run"\nsensor = "s"\nchannels = {{ 1 = "x", 2 = "y", 3 = "z" }}\n'
        text += f'start = 2026-03-{i + 1:02}T08:00:00+01:00\ncomment = {toml_text(words)}\nexclude = [ {{ from_s = 11.5, to_s = 14.2, reason = {toml_text(words)} }} ]\n'
    survey = folder / "survey.toml"
    survey.write_text(text + '[[judge]]\ncriteria = ["iso6954-2000"]\n')
    document = json.loads(run(0, "assess", survey, "--no-cache", "--json", "-", "--csv", folder / "assess.csv").stdout)
    hold_assess_csv(folder / "assess.csv", document)
    place, told = write_all(folder, survey, "out")
    hold(re.search(r"4 texts cut", told), f"cut texts are not told: {told}")
    tables = tables_in(place / "csv")
    hold([row["label"] for row in tables["verdicts"]] == hostile, "labels differ")
    hold([row["comment"] for row in tables["recordings"]] == hostile and [row["reason"] for row in tables["exclusions"]] == hostile, "comments differ")
    hold_judgement(tables, document)
    book = hold_workbook(place / "tables.xlsx", tables)
    hold(str(book.properties.created) == f"2026-03-{len(hostile):02} 00:00:00", f"created {book.properties.created}")
    index = hold_arrays(place / "npy", tables)
    hold({lane["sha256"] for lane in index["lanes"]} == {hashlib.sha256((folder / f"{i}.wav").read_bytes()).hexdigest() for i in range(len(hostile))}, "hashes differ")

    # --- what the seconds add up to is what was judged (ISO 6954:2000: Wm; run-in 2 / f1 = 3 s; 11 s to 15 s are excluded)
    for lane in index["lanes"]:
        if lane["weighting"] == "none":
            continue
        rows = numpy.load(place / "npy" / lane["file"], mmap_mode="r")
        hold(list(rows["second"][rows["left_out"] == 1]) == [11, 12, 13, 14], f"left out: {rows['second'][rows['left_out'] == 1]}")
        counted = rows[(rows["left_out"] == 0) & (rows["second"] >= 3)]
        value = math.sqrt(counted["sum_squares"].sum() / counted["samples"].sum())
        term = next(row for row in tables["terms"] if row["space"] == lane["space"] and row["axis"] == lane["axis"])
        hold(math.isclose(value, term["value"], rel_tol=1e-12), f"{lane['file']}: {value} instead of {term['value']}")
        hold(math.isclose(counted["samples"].sum() / rate, term["duration_s"], rel_tol=1e-9), "durations differ")

    # --- a sine of known amplitude in its one-third octave; weighted: times |H| of the definition
    response = json.loads(run(0, "response", "--weighting", "Wm", "--rate", rate, "--at", "16", "--json", "-").stdout)
    gain = response["points"][0]["analytic_magnitude"]
    band = {row["weighting"]: row["rms"] for row in tables["third_octaves"] if row["nominal_hz"] == 16 and row["recording"] == 1 and row["axis"] == "z"}
    hold(math.isclose(band["none"], 0.02 / math.sqrt(2), rel_tol=0.01), f"the sine's band: {band}")
    hold(math.isclose(band["Wm"], gain * 0.02 / math.sqrt(2), rel_tol=0.01), f"the sine's band, weighted: {band}")
    hold(any(abs(row["hz"] - 16) < 0.01 for row in tables["components"]), "the sine is no component")

    # --- the same bytes again, by one thread and by two, with the cache and without
    for extra in (("--jobs", "1"), ("--jobs", "2")):
        run(0, "tables", survey, "--xlsx", folder / "again.xlsx", *extra)
        hold((folder / "again.xlsx").read_bytes() == (place / "tables.xlsx").read_bytes(), "the spreadsheet is another one")
    run(0, "tables", survey, "--xlsx", folder / "dated.xlsx", "--date", "2026-12-24", "--no-ledger", "--no-components")
    dated = openpyxl.load_workbook(folder / "dated.xlsx")
    hold(str(dated.properties.created) == "2026-12-24 00:00:00" and not {"ledger", "components"} & set(dated.sheetnames), "--date, --no-ledger, --no-components")

    # --- no text, no number: nothing that could be judged
    float_wav(folder / "dead.wav", rate, [numpy.full(20000, 0.5)])
    nothing = folder / "nothing.toml"
    nothing.write_text('title = "n"\nsetting = "vessel"\n[[space]]\nid = "a"\nuse = "passenger-cabin"\n[[recording]]\nfile = "dead.wav"\nspace = "a"\nchannels = { 1 = "z" }\n'
                       '[[recording]]\nfile = "gone.wav"\nspace = "a"\nchannels = { 1 = "x" }\n[[judge]]\ncriteria = ["iso6954-2000"]\n')
    document = json.loads(run(3, "assess", nothing, "--no-cache", "--json", "-").stdout)
    hold(not any(verdict["judged"] for verdict in document["verdicts"]), "something was judged")
    place, told = write_all(folder, nothing, "zero", 3)
    tables = tables_in(place / "csv")
    hold_judgement(tables, document)
    hold_workbook(place / "tables.xlsx", tables)
    index = hold_arrays(place / "npy", tables)
    hold(index["unreadable"][0]["recording_file"] == "gone.wav" and tables["recordings"][1]["unreadable"], "the lost recording is not told")
    hold(index["lanes"][0]["why_unfit"] and tables["channels"][0]["fit"] is False, "the dead channel passes for fit")
    hold(str(openpyxl.load_workbook(place / "tables.xlsx").properties.created) == "1980-01-01 00:00:00", "no date states a date")

    # --- 400 spaces
    text = 'title = "many"\nsetting = "vessel"\n'
    float_wav(folder / "short.wav", 300, [0.01 * numpy.sin(0.3 * numpy.arange(300 * 64))])
    for i in range(400):
        text += f'[[space]]\nid = "a{i}"\nuse = "passenger-cabin"\n[[recording]]\nfile = "short.wav"\nspace = "a{i}"\nchannels = {{ 1 = "z" }}\n'
    many = folder / "many.toml"
    many.write_text(text + '[[judge]]\ncriteria = ["iso6954-2000"]\n')
    place, told = write_all(folder, many, "many", 0, "--no-ledger")
    tables = tables_in(place / "csv")
    hold(len(tables["verdicts"]) == 400 and "ledger" not in tables, "400 spaces: rows are missing")
    hold_judgement(tables, json.loads(run(0, "assess", many, "--no-cache", "--json", "-").stdout))
    hold_workbook(place / "tables.xlsx", tables)
    index = json.loads((place / "npy" / "index.json").read_text())
    hold(len(index["lanes"]) == 800 and all(numpy.load(place / "npy" / lane["file"]).shape == (64,) for lane in index["lanes"]), "arrays are missing")

    # --- more seconds than a sheet has rows (too slow a rate for a weighting: three channels as recorded)
    float_wav(folder / "slow.wav", 4, [chance.standard_normal(4 * 350_000) for _ in range(3)])
    slow = folder / "slow.toml"
    slow.write_text('title = "s"\nsetting = "vessel"\n[[space]]\nid = "a"\nuse = "passenger-cabin"\n[[recording]]\nfile = "slow.wav"\nspace = "a"\nchannels = { 1 = "x", 2 = "y", 3 = "z" }\n[[judge]]\ncriteria = ["iso6954-2000"]\n')
    done = run(3, "tables", slow, "--xlsx", folder / "slow.xlsx", "--npy", folder / "slow", "--no-cache")
    hold("not in it: ledger, whose 1050000 rows no sheet holds; --csv FOLDER or --npy FOLDER writes it" in done.stdout, f"{done.stdout}")
    book = openpyxl.load_workbook(folder / "slow.xlsx")
    about = [[cell.value for cell in row] for row in book["about"].iter_rows()]
    hold("ledger" not in book.sheetnames and any(row[0] == "not in this file" and "1050000 rows" in row[1] for row in about), "what is left out is not told")
    hold(all(numpy.load(path, mmap_mode="r").shape == (350_000,) for path in (folder / "slow").glob("*.npy")), "a long array is cut")

    # --- calls that would do harm
    (folder / "ledger.csv").write_text("rate,300\nz\n" + "\n".join(f"{math.sin(0.3 * i):.6f}" for i in range(9000)))
    own = folder / "own.toml"
    own.write_text('title = "o"\nsetting = "vessel"\n[[space]]\nid = "a"\nuse = "passenger-cabin"\n[[recording]]\nfile = "ledger.csv"\nspace = "a"\nchannels = { 1 = "z" }\n[[judge]]\ncriteria = ["iso6954-2000"]\n')
    before = everything_in(folder)
    for code, words, call in ((2, "would replace a file of the survey", (own, "--csv", folder, "--no-cache")),
                              (2, "would replace a file that is read", (survey, "--xlsx", survey, "--no-cache")),
                              (2, "needs to be told what to write", (survey,)),
                              (2, "do not go to the output", (survey, "--xlsx", "-")),
                              (2, "this is no date", (survey, "--xlsx", folder / "x.xlsx", "--date", "2026-02-30")),
                              (2, "would replace a file that is read", (survey, "--npy", survey)),
                              (3, "does not exist", (survey, "--xlsx", folder / "none" / "x.xlsx", "--no-cache"))):
        done = run(code, "tables", *call)
        hold(words in done.stderr, f"{call}: {done.stderr}")
    hold(everything_in(folder) == before, "a refused call wrote something")

    # --- a stream's ledger: what NumPy reads of it is what the tables of the same recording hold, and its sums are those of its rows
    float_wav(folder / "streamed.wav", rate, [0.1 * numpy.sin(2 * math.pi * 9 * t) + 0.01 * numpy.cos(0.1 * t * t)])
    own.write_text('title = "o"\nsetting = "vessel"\n[[space]]\nid = "a"\nuse = "passenger-cabin"\n[[recording]]\nfile = "streamed.wav"\nspace = "a"\nchannels = { 1 = "z" }\n[[judge]]\ncriteria = ["iso6954-2000"]\n')
    run(0, "tables", own, "--npy", folder / "from-file", "--no-cache")
    with open(folder / "streamed.wav", "rb") as sound:
        done = subprocess.run([becalm, "stream", "-", "--lanes", "z:Wm", "--ledger", folder / "from-pipe"], stdin=sound, capture_output=True, text=True)
    hold(done.returncode == 0, done.stderr)
    from_file, from_pipe = (numpy.load(folder / place / "0001-ch1-z-Wm.npy", mmap_mode="r") for place in ("from-file", "from-pipe"))
    hold(from_file.dtype == from_pipe.dtype and len(from_file) == len(from_pipe) > 60, f"{from_file.dtype}, {len(from_pipe)} rows")
    hold(all((from_file[name] == from_pipe[name]).all() for name in from_file.dtype.names if name != "left_out"), "the rows of a stream differ")
    for code, words, options in ((0, "all days", ()), (2, "no span of hours", ("--hours", "25")), (2, "states no start", ("--by-day",)), (2, "no span of seconds", ("--leave-out", "7")), (3, "nothing of it lies", ("--from", "1e6"))):
        done = run(code, "ledger", folder / "from-pipe", *options)
        hold(words in done.stdout + done.stderr, f"ledger {options}: {done.stdout}{done.stderr}")
    hold("no such file" in run(3, "ledger", folder / "nowhere").stderr, "a ledger that is not there")
    minutes = numpy.load(folder / "from-pipe" / "0001-ch1-z-Wm-sums-60.npy")
    hold(len(minutes) == len(from_pipe) // 60, "minutes are missing")
    for i, minute in enumerate(minutes):
        rows = from_pipe[60 * i : 60 * i + 60]
        hold(math.isclose(minute["integral_squares"], rows["sum_squares"].sum() / rate, rel_tol=1e-12) and minute["peak"] == rows["peak"].max(), f"minute {i}")

    # --- trend: CSV and JSON agree, figures are XML that names the points
    text = 'title = "trials"\nsetting = "vessel"\n[[sensor]]\nid = "s"\nuncertainty_percent = 3.0\n[[space]]\nid = "=c"\nuse = "passenger-cabin"\n'.replace("=c", "c")
    for speed in (8, 10, 12, 14):
        float_wav(folder / f"v{speed}.wav", rate, [1e-4 * speed**2 * numpy.sin(2 * math.pi * 9 * t) * (1 + 0.05 * (speed % 4))])
        text += f'[[condition]]\nid = "v{speed}"\nspeed_kn = {speed}\n[[recording]]\nfile = "v{speed}.wav"\nspace = "c"\ncondition = "v{speed}"\nsensor = "s"\nchannels = {{ 1 = "z" }}\n'
    trials = folder / "trials.toml"
    trials.write_text(text + '[[judge]]\ncriteria = ["iso6954-2000"]\n')
    done = run(0, "trend", trials, "--over", "speed_kn", "--at", "16", "--csv", folder / "trend.csv", "--json", "-", "--figures", folder / "figures", "--no-cache")
    trend = json.loads(done.stdout)["trends"][0]
    rows = read_csv(folder / "trend.csv")
    numbers = lambda row, *keys: [float(row[key]) if row[key] else None for key in keys]
    measured = [row for row in rows if row["kind"] == "measured"]
    hold([numbers(row, "at", "value", "expanded_uncertainty", "off_db") for row in measured] == [[p["at"], p["value"], p["expanded_uncertainty"], p["off_db"]] for p in trend["points"]], "points differ")
    line = [numbers(row, "at", "value", "low", "high") for row in rows if row["kind"] == "line"]
    hold(line == [[p["at"], p["value"], p["low"], p["high"]] for p in trend["line"]] and len(line) > 2, "the line differs")
    for at, value, low, high in line:  # a power law through the middle of its interval (computed from the definition)
        hold(math.isclose(value, trend["factor"] * at ** trend["exponent"]["value"], rel_tol=1e-9) and math.isclose(low * high, value**2, rel_tol=1e-9), f"the line at {at}")
    hold(numbers(next(row for row in rows if row["kind"] == "expected"), "at", "value", "low", "high") == [16, *(trend["expected"][key] for key in ("value", "low", "high"))], "what is expected differs")
    hold(line[-1][1:] == [trend["expected"][key] for key in ("value", "low", "high")], "the line does not end in what is expected")
    figures = list((folder / "figures").iterdir())
    hold([path.name for path in figures] == ["c-floor-iso6954-2000-z-trend.svg"], f"figures: {figures}")
    for words in ("speed", "kn", "95 % of further values", "expanded uncertainty"):
        hold(words in figures[0].read_text(), f"the figure does not say {words}")

print("tables: spreadsheet, CSV and arrays agree with the JSON")
