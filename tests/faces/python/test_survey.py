"""becalm.assess and the ledgers of a survey, held against the program; problems as exceptions."""

import json
import pickle
import shutil
import subprocess
import sys
import unittest

import numpy

import becalm
from common import InAFolder, project, run

renamed = {"from": "from_"} # a word of the language


class Judged(InAFolder):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.demo = cls.folder / "demo"
        run("demo", cls.demo)
        cls.survey = cls.demo / "survey.toml"
        cls.json = run("assess", cls.survey, "--no-cache", "--json", "-")
        cls.assessment = becalm.assess(cls.survey)

    def assert_says(self, thing, told, where):
        """An object of Python says what the JSON says, key by key."""
        if isinstance(told, dict):
            for key, value in told.items():
                if (type(thing).__name__, key) == ("Uncertainty", "expanded"):
                    continue # Verdict.expanded_uncertainty
                self.assert_says(getattr(thing, renamed.get(key, key)), value, f"{where}.{key}")
        elif isinstance(told, list):
            self.assertEqual(len(thing), len(told), where)
            for i, (one, other) in enumerate(zip(thing, told)):
                self.assert_says(one, other, f"{where}[{i}]")
        else:
            self.assertEqual(thing, told, where)

    def test_json_and_csv_are_those_of_the_program_to_the_byte(self):
        self.assertEqual(self.assessment.to_json(), self.json)
        self.assertEqual(self.assessment.to_csv(), run("assess", self.survey, "--csv", "-"))
        self.assertEqual(self.assessment.as_dict(), json.loads(self.json))
        self.assertEqual(becalm.assess(str(self.survey), cache=False, threads=1).to_json(), self.json)

    def test_objects_say_what_the_json_says(self):
        told = json.loads(self.json)
        self.assert_says(self.assessment, {**told["survey"], "findings": told["findings"], "provenance": told["provenance"]}, "assessment")
        self.assert_says(self.assessment.verdicts, told["verdicts"], "verdicts")
        self.assertEqual(len(self.assessment), len(told["verdicts"]))
        kinds = [(verdict.judged, verdict.exceeded) for verdict in self.assessment.verdicts]
        self.assertLessEqual({(True, True), (True, False), (False, False)}, set(kinds)) # or nothing was looked at

    def test_other_criteria_and_the_other_survey(self):
        text = run("assess", self.survey, "--criterion", "iso6954-2000", "--json", "-")
        self.assertEqual(becalm.assess(self.survey, criteria="iso6954-2000").to_json(), text)
        self.assertEqual(becalm.assess(self.survey, criteria=["iso6954-2000"]).to_json(), text)
        terminal = self.demo / "terminal" / "survey.toml"
        told = json.loads(run("assess", terminal, "--json", "-"))
        self.assert_says(becalm.assess(terminal).verdicts, told["verdicts"], "verdicts")

    def test_ledgers_are_the_tables_of_the_program(self):
        run("tables", self.survey, "--npy", self.folder / "npy", "--no-components")
        index = json.loads((self.folder / "npy" / "index.json").read_text())
        ledgers = becalm.ledger(self.survey)
        self.assertEqual(len(ledgers), len(index["lanes"]))
        self.assertEqual(len(self.assessment.ledgers), len(ledgers))
        for ledger, judged, lane in zip(ledgers, self.assessment.ledgers, index["lanes"]):
            rows = numpy.load(self.folder / "npy" / lane["file"])
            self.assertEqual((ledger.space, ledger.axis, ledger.weighting, ledger.channel), (lane["space"], lane["axis"], lane["weighting"], lane["channel"]))
            self.assertFalse(ledger.rows.flags.owndata)
            for name in ledger.rows.dtype.names:
                numpy.testing.assert_array_equal(ledger.rows[name], rows[name], name)
            numpy.testing.assert_array_equal(ledger.rows, judged.rows)
            counts = rows[rows["left_out"] == 0]
            tally = ledger.fold()
            self.assertEqual(tally.samples, counts["samples"].sum())
            if tally.samples:
                mean_square = counts["sum_squares"].sum() / counts["samples"].sum()
                self.assertAlmostEqual(tally.rms / mean_square ** 0.5, 1.0, delta=1e-12)
                self.assertEqual(tally.peak, counts["peak"].max())

    def test_what_is_taken_from_it_outlives_the_assessment(self):
        verdict = becalm.assess(self.survey).verdicts[0]
        ledger = becalm.assess(self.survey).ledgers[0]
        rows = becalm.assess(self.survey).ledgers[0].rows
        first = json.loads(self.json)["verdicts"][0]
        self.assertEqual((verdict.value, verdict.terms[0].axis), (first["value"], first["terms"][0]["axis"]))
        numpy.testing.assert_array_equal(rows, ledger.rows)

    def test_cache(self):
        copy = self.folder / "copy"
        shutil.copytree(self.demo, copy, ignore=shutil.ignore_patterns(".becalm"))
        becalm.assess(copy / "survey.toml", cache=False)
        self.assertFalse((copy / ".becalm").exists())
        becalm.assess(copy / "survey.toml")
        self.assertTrue((copy / ".becalm").exists())

    def test_a_recording_that_cannot_be_read_spoils_one_verdict(self):
        copy = self.folder / "broken"
        shutil.copytree(self.demo, copy, ignore=shutil.ignore_patterns(".becalm"))
        lost = sorted((copy / "recordings").iterdir())[0]
        lost.write_bytes(b"")
        with self.assertWarnsRegex(becalm.Caution, lost.name):
            assessment = becalm.assess(copy / "survey.toml")
        self.assertIn("unreadable", [finding.code for finding in assessment.findings])
        self.assertIn(True, [verdict.judged for verdict in assessment.verdicts])
        self.assertEqual(assessment.to_json(), run("assess", copy / "survey.toml", "--json", "-", code=3))
        with self.assertWarnsRegex(becalm.Caution, lost.name):
            becalm.ledger(copy / "survey.toml")

    def test_the_example(self):
        done = subprocess.run([sys.executable, project / "ui" / "example" / "judge.py", self.survey], capture_output=True, text=True, check=True)
        for verdict in self.assessment.verdicts:
            subject = verdict.space or verdict.person
            said = verdict.why_not if not verdict.judged else f"{verdict.value:.4g}"
            self.assertTrue(any(line.startswith(subject) and said in line for line in done.stdout.splitlines()), (subject, said, done.stdout))
        self.assertIn("running r.m.s. up to", done.stdout)

    def test_what_the_readme_shows_in_a_notebook(self):
        readme = (project / "README.md").read_text()
        section = readme[readme.index("\n## In a notebook"):]
        blocks = section.split("```")
        code = next(block[len("python\n"):] for block in blocks if block.startswith("python\n"))
        self.assertIn("import becalm", code)
        done = subprocess.run([sys.executable, "-W", "error", "-c", code], cwd=self.folder, capture_output=True, text=True)
        self.assertEqual((done.returncode, done.stderr), (0, ""))


class Problems(InAFolder):
    def test_a_missing_file(self):
        with self.assertRaises(becalm.Problem) as raised:
            becalm.weigh(self.folder / "none.wav")
        problem = raised.exception
        self.assertEqual((problem.file, problem.line, problem.column, problem.key), (str(self.folder / "none.wav"), None, None, ""))
        self.assertEqual((problem.kind, problem.others), ("outside world", ()))
        self.assertTrue(problem.what and str(problem).startswith(f"{problem.file}: {problem.what}"))

    def test_faults_of_a_survey_all_of_them(self):
        survey = self.folder / "survey.toml"
        survey.write_text('title = "x"\nsetting = "boat"\n\n[[space]]\nid = "a"\nuse = 3\n')
        with self.assertRaises(becalm.Problem) as raised:
            becalm.assess(survey)
        problem = raised.exception
        said = [f"becalm: {line}" for line in str(problem).splitlines()]
        self.assertEqual(said, self.complaints(survey))
        self.assertEqual((problem.file, problem.line, problem.key, problem.kind), (str(survey), 2, "setting", "bad input"))
        self.assertTrue(problem.remedy)
        self.assertGreater(len(problem.others), 0)
        self.assertIsInstance(problem.others[0], becalm.Problem)

    @staticmethod
    def complaints(survey):
        from common import program
        return subprocess.run([program, "assess", survey], capture_output=True, text=True).stderr.splitlines()

    def test_an_unknown_criterion(self):
        run("demo", self.folder / "demo")
        with self.assertRaisesRegex(becalm.Problem, "no-such-document"):
            becalm.assess(self.folder / "demo" / "survey.toml", criteria=["no-such-document"])
        with self.assertRaises(TypeError):
            becalm.ledger(self.folder / "demo" / "survey.toml", "Wk")
        with self.assertRaises(ValueError):
            becalm.assess(self.folder / "demo" / "survey.toml", threads=-1)

    def test_a_description_is_no_survey(self):
        numpy.zeros(3000, "<f8").tofile(self.folder / "run.bin")
        description = self.folder / "run.recording.toml"
        description.write_text('[becalm-recording]\nfiles = ["run.bin"]\nnumbers = "float64"\nchannels = 1\nlayout = "interleaved"\n'
                               'rate_hz = 1000.0\nunit = "m/s2"\n')
        self.assertEqual([len(ledger) for ledger in becalm.ledger(description)], [3])

    def test_problems_travel_between_processes(self):
        with self.assertRaises(becalm.Problem) as raised:
            becalm.response("Wk", [600.0], rate=1000)
        problem = raised.exception
        copy = pickle.loads(pickle.dumps(problem))
        self.assertEqual((str(copy), copy.what, copy.remedy, copy.kind), (str(problem), problem.what, problem.remedy, "usage"))


if __name__ == "__main__":
    unittest.main()
