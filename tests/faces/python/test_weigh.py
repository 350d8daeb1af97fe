"""becalm.weigh, blocks, ledger, spectrum and response of single recordings: the program's numbers, to the last bit, and the published
weighting, worked out here from its parameters."""

import cmath
import json
import math
import unittest

import numpy
import scipy.signal

import becalm
from common import InAFolder, float_wav, noise, run

values = ["rms", "peak", "crest_factor", "mtvv_linear", "mtvv_exponential", "vdv", "evdv", "msdv"]


def published_wk():
    """Poles, zeros and gain of Wk [ISO 8041-1:2017, Table 3: f1 = 0.4 Hz, f2 = 100 Hz, f3 = f4 = 12.5 Hz, Q4 = 0.63, f5 = 2.37 Hz,
    Q5 = 0.91, f6 = 3.35 Hz, Q6 = 0.91; the forms of its clause 5.6: band limits of second order with Q = 1/sqrt(2), a-v transition, step]."""
    w1, w2, w3, w4, w5, w6 = (2 * math.pi * f for f in (0.4, 100.0, 12.5, 12.5, 2.37, 3.35))
    q4, q5, q6 = 0.63, 0.91, 0.91
    numerator = numpy.polymul([1, 0, 0], numpy.polymul([1 / w3, 1], [1 / w5 ** 2, 1 / (q5 * w5), 1])) * (w5 / w6) ** 2
    denominator = numpy.array([1.0])
    for factor in ([1, math.sqrt(2) * w1, w1 ** 2], [1 / w2 ** 2, math.sqrt(2) / w2, 1], [1 / w4 ** 2, 1 / (q4 * w4), 1],
                   [1 / w6 ** 2, 1 / (q6 * w6), 1]):
        denominator = numpy.polymul(denominator, factor)
    return numerator, denominator


def wk_at(hz):
    numerator, denominator = published_wk()
    s = 2j * math.pi * hz
    return complex(numpy.polyval(numerator, s) / numpy.polyval(denominator, s))


class Files(InAFolder):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.wav = float_wav(cls.folder / "three.wav", 500, noise(20, 500, 3).T)

    def assert_agrees(self, weighed, entry):
        self.assertEqual([weighed.file, weighed.sha256, weighed.rate_hz, weighed.from_s, weighed.duration_s, weighed.total_rms],
                         [entry[key] for key in ("file", "sha256", "rate_hz", "from_s", "duration_s", "total_rms")])
        self.assertEqual(len(weighed), len(entry["lanes"]))
        for lane, told in zip(weighed, entry["lanes"]):
            for key in ["channel", "axis", "weighting", "unit", *values]:
                self.assertEqual(getattr(lane, key), told[key], key)
        self.assertEqual([finding.code for finding in weighed.findings], [finding["code"] for finding in entry["findings"]])

    def test_numbers_and_json_are_those_of_the_program(self):
        calls = [([], {"weighting": "Wk"}),
                 (["--axes", "1=y,3=z", "--unit", "mm/s2"], {"weighting": "Wd,Wk,Wd", "axes": {1: "y", 3: "z"}, "unit": "mm/s2"}),
                 (["--from", 2.5, "--to", 11, "--offset", "mean", "--bands"],
                  {"weighting": ["Wm", "none"], "from_s": 2.5, "to_s": 11, "offset": "mean", "bands": True}),
                 (["--unit", "mm/s", "--scale", 2.5], {"weighting": "KB", "unit": "mm/s", "scale": 2.5})]
        for options, arguments in calls:
            with self.subTest(arguments):
                names = arguments["weighting"]
                weighting = names if isinstance(names, str) else ",".join(names)
                text = run("weigh", self.wav, "--weighting", weighting, *options, "--json", "-")
                weighed = becalm.weigh(self.wav, **arguments)
                self.assert_agrees(weighed, json.loads(text)["files"][0])
                self.assertEqual(weighed.to_json(), text)

    def test_a_recording_longer_than_a_span_of_the_pass_too(self):
        wav = float_wav(self.folder / "long.wav", 256, noise(1900, 256).T)
        weighed = becalm.weigh(wav, "none,Wd", threads=2)
        self.assertEqual(weighed.to_json(), run("weigh", wav, "--weighting", "none,Wd", "--json", "-"))
        self.assertEqual(weighed[0].samples.shape, (1900 * 256,))
        self.assertAlmostEqual(abs(weighed[1].samples).max() / weighed[1].peak, 1.0, delta=1e-9)

    def test_bands_as_recorded(self):
        told = json.loads(run("weigh", self.wav, "--weighting", "none", "--bands", "--json", "-"))["files"][0]["recorded"]
        recorded = becalm.weigh(self.wav, "none", bands=True, samples=False).recorded
        self.assertEqual(len(recorded), 3)
        for bands, entry in zip(recorded, told):
            self.assertEqual([(n, exact, nominal, rms) for n, exact, nominal, rms in bands.third_octave.tolist()],
                             [tuple(band[key] for key in ("n", "exact_hz", "nominal_hz", "rms")) for band in entry["third_octave"]])
        self.assertIsNone(becalm.weigh(self.wav, "none").recorded)

    def test_samples_carry_the_quantities(self):
        # Computed from the definitions: r.m.s. [ISO 2631-1:1997, 6.1], VDV [6.3.2], peak. Sums in another order, so not to the last bit.
        weighed = becalm.weigh(self.wav, "Wk,Wd,none", from_s=1)
        self.assertEqual(len(weighed), 9)
        for lane in weighed:
            a = lane.samples
            self.assertEqual((a.dtype, a.shape), (numpy.float64, (9500,)))
            self.assertAlmostEqual(lane.rms, math.sqrt(numpy.mean(a ** 2)), delta=1e-12)
            self.assertAlmostEqual(lane.vdv, numpy.sum(a ** 4 / 500) ** 0.25, delta=1e-12)
            self.assertEqual(lane.peak, abs(a).max())
            self.assertEqual((lane.times[0], lane.times[-1], len(lane.times)), (1.0, 1.0 + 9499 / 500, 9500))

    def test_without_samples(self):
        weighed = becalm.weigh(self.wav, samples=False)
        self.assertIsNone(weighed["z"].samples)
        self.assertIsNone(weighed["z"].times)
        self.assertEqual(weighed["z"].rms, becalm.weigh(self.wav)["z"].rms)

    def test_lanes_by_name(self):
        weighed = becalm.weigh(self.wav, "Wk,Wd")
        self.assertEqual((weighed["x", "Wd"].axis, weighed["x", "Wd"].weighting), ("x", "Wd"))
        self.assertEqual((weighed[-1].axis, weighed[-1].weighting), ("z", "Wd"))
        for key in ["x", ("x", "Wm"), "rz"]:
            with self.assertRaises(KeyError):
                weighed[key]
        with self.assertRaises(IndexError):
            weighed[6]

    def test_blocks_are_the_samples(self):
        for wav_s, block_s in ((20.0, 3.0), (20.0, 0.01), (20.0, 1e9)):
            with self.subTest(block_s):
                whole = becalm.weigh(self.wav, "Wk,none", from_s=0.5)
                blocks = becalm.blocks(self.wav, "Wk,none", block_s=block_s, from_s=0.5)
                self.assertEqual((blocks.rate_hz, blocks.from_s, blocks.duration_s), (500.0, 0.5, wav_s - 0.5))
                self.assertEqual([(lane.channel, lane.axis, lane.weighting, lane.unit) for lane in blocks.lanes],
                                 [(lane.channel, lane.axis, lane.weighting, lane.unit) for lane in whole])
                got = list(blocks)
                length = min(int(block_s * 500), 9750)
                self.assertEqual({block.shape for block in got[:-1]} | {(6, length)}, {(6, length)})
                numpy.testing.assert_array_equal(numpy.concatenate(got, axis=1), numpy.array([lane.samples for lane in whole]))
                self.assertEqual(list(blocks), [])

    def test_blocks_can_be_left_alone(self):
        blocks = becalm.blocks(self.wav, block_s=0.1)
        next(blocks)
        del blocks # must neither hang nor crash

    def test_ledger_rows_and_folds(self):
        lane = becalm.weigh(self.wav, "Wk", from_s=2)["y"]
        ledger = lane.ledger
        self.assertEqual((len(ledger), ledger.rate_hz, ledger.axis, ledger.weighting, ledger.unit, ledger.first_second, ledger.channel),
                         (18, 500.0, "y", "Wk", "m/s2", 0, 2))
        # Computed from the definition of a row, src/model/ledger.h.
        seconds = lane.samples.reshape(18, 500)
        rows = ledger.rows
        self.assertTrue((rows["samples"] == 500).all())
        numpy.testing.assert_allclose(rows["sum_squares"], (seconds ** 2).sum(axis=1), rtol=1e-12)
        numpy.testing.assert_allclose(rows["sum_fourths"], (seconds ** 4).sum(axis=1), rtol=1e-12)
        numpy.testing.assert_array_equal(rows["peak"], abs(seconds).max(axis=1))
        numpy.testing.assert_allclose(rows["running_rms_within"], numpy.sqrt((seconds ** 2).mean(axis=1)), rtol=1e-12)

        whole = ledger.fold()
        for key in values:
            self.assertEqual(getattr(whole, key), getattr(lane, key), key)
        part = ledger.fold([(3, 5), (9.5, 12)]) # wholly inside: seconds 3, 4, 10, 11
        kept = seconds[[3, 4, 10, 11]]
        self.assertEqual((part.samples, part.duration_s), (2000, 4.0))
        self.assertAlmostEqual(part.rms, math.sqrt((kept ** 2).mean()), delta=1e-12)
        self.assertEqual(part.peak, abs(kept).max())
        nothing = ledger.fold([(30, 40)])
        self.assertEqual((nothing.samples, nothing.rms, nothing.peak), (0, None, None))
        for spans in ([], [(5, 5)], [(-1, 3)]):
            with self.assertRaises(ValueError):
                ledger.fold(spans)
        self.assertEqual([(one.axis, one.fold().rms) for one in becalm.ledger(self.wav)],
                         [(one.axis, one.rms) for one in becalm.weigh(self.wav)])

    def test_spectrum(self):
        for options, arguments in (([], {}), (["--resolution", 0.5, "--as", "velocity", "--axes", "2=z", "--weighting", "Wm"],
                                             {"resolution": 0.5, "as_": "velocity", "axes": {2: "z"}, "weighting": "Wm"})):
            text = run("spectrum", self.wav, *options, "--json", "-")
            spectrum = becalm.spectrum(self.wav, **arguments)
            self.assertEqual(spectrum.to_json(), text)
            told = json.loads(text)
            self.assertEqual(len(spectrum.lanes), len(told["lanes"]))
            for lane, entry in zip(spectrum.lanes, told["lanes"]):
                for key in ("psd", "psd_max", "psd_min"):
                    self.assertEqual(numpy.column_stack([lane.hz, getattr(lane, key)]).tolist(), entry[key])
                self.assertEqual(lane.third_octave["rms"].tolist(), [band["rms"] for band in entry["third_octave"]])

    def test_response(self):
        at_hz = [0.5, 1, 6.3, 80]
        response = becalm.response("Wk", at_hz, rate=1000)
        text = run("response", "--weighting", "Wk", "--rate", 1000, *(part for hz in at_hz for part in ("--at", hz)), "--json", "-")
        self.assertEqual(response.to_json(), text)
        points = response.points
        self.assertEqual(points["hz"].tolist(), at_hz)
        for point in points:
            published = wk_at(point["hz"])
            self.assertAlmostEqual(point["analytic_magnitude"], abs(published), delta=1e-12)
            self.assertAlmostEqual(point["magnitude"], abs(published), delta=1e-4 * abs(published))
            turned = (point["phase_deg"] - math.degrees(cmath.phase(published)) + 180) % 360 - 180
            self.assertAlmostEqual(turned, 0.0, delta=0.01)
        self.assertGreater(len(becalm.response("Wk", rate=1000).points), 30)

    def test_progress_is_told_and_what_it_raises_is_raised(self):
        told = []
        becalm.weigh(self.wav, progress=told.append)
        self.assertEqual(told[-1], 1.0)

        def fail(fraction):
            raise LookupError(fraction)

        for call in (becalm.weigh, becalm.spectrum):
            with self.assertRaises(LookupError):
                call(self.wav, progress=fail)


class Published(unittest.TestCase):
    rate = 1000
    tones = [(0.8, 0.3, 0.2), (2.0, 0.4, 1.0), (6.3, 0.5, 2.0), (16.0, 0.7, 0.5), (63.0, 0.6, 2.5)] # Hz, amplitude, phase

    def test_rms_of_sines_through_the_published_curve(self):
        # a_w = |H| a / sqrt(2); 8 Hz is where Wk is about 1.
        t = numpy.arange(40 * self.rate) / self.rate
        for hz in (0.5, 1.0, 4.0, 8.0, 31.5, 80.0):
            sine = 0.5 * numpy.sin(2 * numpy.pi * hz * t)
            lane = becalm.weigh(sine, "Wk", rate=self.rate, offset="none", from_s=20)["z"] # 20 s: whole periods, the start forgotten
            self.assertAlmostEqual(lane.rms / (0.5 * abs(wk_at(hz)) / math.sqrt(2)), 1.0, delta=1.5e-4, msg=hz)

    def test_samples_of_a_mixture_of_tones(self):
        t = numpy.arange(60 * self.rate) / self.rate
        recorded = sum(a * numpy.sin(2 * numpy.pi * hz * t + phase) for hz, a, phase in self.tones)
        expected = sum(a * abs(wk_at(hz)) * numpy.sin(2 * numpy.pi * hz * t + phase + cmath.phase(wk_at(hz))) for hz, a, phase in self.tones)
        samples = becalm.weigh(recorded, "Wk", rate=self.rate, offset="none")["z"].samples
        settled = slice(30 * self.rate, 59 * self.rate)
        self.assertLess(abs(samples - expected)[settled].max(), 2.5e-4) # 1e-4 of the amplitudes

    def test_noise_against_scipys_filter(self):
        # scipy.signal.bilinear at a rate so high that it bends nothing below 60 Hz by more than a thousandth; noise below that.
        rate = 8000
        rough = noise(30, rate)[:, 0]
        recorded = scipy.signal.sosfilt(scipy.signal.butter(6, 60.0, fs=rate, output="sos"), rough)
        z, p, k = scipy.signal.tf2zpk(*published_wk())
        filtered = scipy.signal.sosfilt(scipy.signal.zpk2sos(*scipy.signal.bilinear_zpk(z, p, k, rate)), recorded)
        lane = becalm.weigh(recorded, "Wk", rate=rate, offset="none")["z"]
        self.assertAlmostEqual(lane.rms / math.sqrt(numpy.mean(filtered ** 2)), 1.0, delta=1e-3)


if __name__ == "__main__":
    unittest.main()
