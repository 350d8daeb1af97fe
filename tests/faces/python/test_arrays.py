"""Arrays that go in and come out: nothing is copied, and what cannot be read is refused."""

import gc
import json
import unittest

import numpy

import becalm
from common import InAFolder, float_wav, noise, python


def place_of(array):
    return array.__array_interface__["data"][0]


class GoingOut(InAFolder):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.wav = float_wav(cls.folder / "three.wav", 500, noise(10, 500, 3).T)

    def test_arrays_lie_over_the_cores_memory(self):
        weighed = becalm.weigh(self.wav, "Wk,none", bands=True)
        spectrum = becalm.spectrum(self.wav)
        response = becalm.response("Wk", rate=500)
        for look in (lambda: weighed["y", "Wk"].samples, lambda: weighed[5].ledger.rows, lambda: weighed.recorded[0].third_octave,
                     lambda: spectrum.lanes[0].psd, lambda: spectrum.lanes[1].third_octave, lambda: response.points):
            once, again = look(), look()
            self.assertGreater(len(once), 0)
            self.assertFalse(once.flags.owndata)
            self.assertEqual(place_of(once), place_of(again)) # a copy would lie elsewhere
            self.assertTrue(numpy.shares_memory(once, again))
            self.assertFalse(once.flags.writeable)
            with self.assertRaises(ValueError):
                once[0] = once[1]
            self.assertTrue(once.copy().flags.writeable)

    def test_columns_of_a_ledger_are_views_too(self):
        rows = becalm.weigh(self.wav)["x"].ledger.rows
        self.assertTrue(numpy.shares_memory(rows["peak"], rows))
        self.assertEqual(rows.dtype.itemsize, 80)

    def test_an_array_keeps_its_memory_alive(self):
        samples = becalm.weigh(self.wav)["z"].samples
        rows = becalm.weigh(self.wav)["z"].ledger.rows
        psd = becalm.spectrum(self.wav).lanes[2].psd
        kept = samples.copy(), rows.copy(), psd.copy()
        gc.collect()
        rest = [becalm.weigh(self.wav, "Wd")["x"].samples for _ in range(20)] # what was freed would be written over
        for array, copy in zip((samples, rows, psd), kept):
            numpy.testing.assert_array_equal(array, copy)
        del rest

    def test_blocks_are_handed_over(self):
        first, second = list(becalm.blocks(self.wav, block_s=5))
        self.assertFalse(first.flags.owndata) # the memory is the core's
        self.assertFalse(numpy.shares_memory(first, second))
        first[0, 0] = 7.0
        self.assertEqual(first[0, 0], 7.0)

    def test_memory(self):
        # 64 MB of samples, out of which come 64 MB of weighted ones; each copy of either would be 64 MB more. Peaks of a process of its
        # own, after one that has loaded everything.
        python("""
import resource, sys
import numpy, becalm
def peak(): return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
def grown(limit, what, before):
    after = peak()
    if after - before > limit: sys.exit(f"{what} took {after - before:.0f} MB, not {limit}")
array = numpy.full(8_000_000, 0.1) # without a passing copy, which would hide others
array[::7] = 0.2
becalm.weigh(array[:10000], "Wk", rate=1000)
list(becalm.blocks(array[:10000], "Wk", rate=1000))
before = peak()
for block in becalm.blocks(array, "Wk", rate=1000): pass
grown(24, "iterating", before)
quantities = becalm.weigh(array, "Wk", rate=1000, samples=False)
grown(24, "weighing in place", before)
before = peak()
weighed = becalm.weigh(array, "Wk", rate=1000)
samples = weighed["z"].samples
assert samples.shape == (8_000_000,)
grown(64 + 24, "the samples", before)
assert weighed.to_json() == quantities.to_json()
""")


class GoingIn(InAFolder):
    @classmethod
    def setUpClass(cls):
        super().setUpClass()
        cls.values = noise(8, 500, 3).astype(numpy.float32).astype(float) # as a float file holds them
        cls.wav = float_wav(cls.folder / "three.wav", 500, cls.values.T)
        cls.file = becalm.weigh(cls.wav, "Wk,none")

    def assert_the_same(self, array, lanes=(0, 1, 2, 3, 4, 5), **arguments):
        before = numpy.array(array)
        weighed = becalm.weigh(array, "Wk,none", rate=500, **arguments)
        self.assertEqual(len(weighed), len(lanes))
        for lane, place in zip(weighed, lanes):
            told = self.file[place]
            self.assertEqual((lane.rms, lane.peak, lane.vdv, lane.mtvv_linear), (told.rms, told.peak, told.vdv, told.mtvv_linear))
            numpy.testing.assert_array_equal(lane.samples, told.samples)
        numpy.testing.assert_array_equal(before, array)

    def test_whatever_its_layout(self):
        wide = numpy.zeros((8000, 7))
        wide[::2, 1::2] = self.values
        self.assert_the_same(self.values)
        self.assert_the_same(numpy.asfortranarray(self.values))
        self.assert_the_same(self.values.T.copy().T)
        self.assert_the_same(self.values.astype(numpy.float32))
        self.assert_the_same(wide[::2, 1::2])
        self.assert_the_same(self.values[::-1].copy()[::-1])
        self.assert_the_same(self.values.tolist())
        self.assert_the_same(self.values[:, 2], (4, 5))
        self.assert_the_same(self.values[:, 1:2], (2, 3), axes="y")
        self.assert_the_same(self.values, (4, 5), axes={3: "z"})
        packed = numpy.zeros(4000, dtype=[("flag", "u1"), ("z", "<f8")]) # at odd addresses
        packed["z"] = self.values[:, 2]
        self.assert_the_same(packed["z"], (4, 5))
        frozen = self.values.copy()
        frozen.flags.writeable = False
        self.assert_the_same(frozen)

    def test_all_calls_take_arrays(self):
        z = self.values[:, 2]
        numpy.testing.assert_array_equal(numpy.concatenate(list(becalm.blocks(z, "Wk", rate=500)), axis=1)[0], self.file["z", "Wk"].samples)
        self.assertEqual(becalm.ledger(z, "Wk", rate=500)[0].fold().rms, self.file["z", "Wk"].rms)
        numpy.testing.assert_array_equal(becalm.spectrum(z, rate=500).lanes[0].psd, becalm.spectrum(self.wav).lanes[2].psd)
        weighed = becalm.weigh(z, rate=500)
        self.assertEqual((weighed.file, weighed.sha256), ("array", None))
        self.assertIsNone(json.loads(weighed.to_json())["files"][0]["sha256"])

    def test_units_and_scale(self):
        millimetres = becalm.weigh(self.values[:, 2] * 1000.0, "Wk", rate=500, unit="mm/s2")["z"]
        self.assertAlmostEqual(millimetres.rms, self.file["z", "Wk"].rms, delta=1e-15)
        self.assertAlmostEqual(becalm.weigh(self.values[:, 2], "Wk", rate=500, scale=3.0)["z"].rms, 3.0 * self.file["z", "Wk"].rms, delta=1e-14)

    def test_blocks_keep_their_array(self):
        blocks = becalm.blocks(numpy.array(self.values[:, 2]), "Wk", rate=500, block_s=0.25)
        gc.collect()
        rest = [numpy.full(4000, float(i)) for i in range(20)] # what was freed would be written over
        numpy.testing.assert_array_equal(numpy.concatenate(list(blocks), axis=1)[0], self.file["z", "Wk"].samples)
        del rest

    def test_samples_that_are_no_numbers(self):
        for bad in (numpy.nan, numpy.inf):
            values = self.values.copy()
            values[1234, 1] = bad
            weighed = becalm.weigh(values, "Wk", rate=500)
            self.assertEqual((weighed["y"].rms, weighed["y"].samples, len(weighed["y"].ledger)), (None, None, 0))
            self.assertEqual([(finding.code, finding.severity, finding.channel) for finding in weighed.findings if finding.severity == "refusal"],
                             [("not-a-number", "refusal", 2)])
            self.assertEqual(weighed["z"].rms, self.file["z", "Wk"].rms) # spoils no other
            with self.assertRaisesRegex(becalm.Problem, "not numbers"):
                list(becalm.blocks(values, "Wk", rate=500))
            self.assertEqual([lane.channel for lane in becalm.spectrum(values, rate=500).lanes], [1, 3])

    def test_a_rate_too_low_for_the_weighting(self):
        weighed = becalm.weigh(self.values[:, 2], "Wh,none", rate=500)
        self.assertEqual((weighed["z", "Wh"].rms, weighed["z", "Wh"].samples), (None, None))
        self.assertIsNotNone(weighed["z", "none"].rms)
        with self.assertRaisesRegex(becalm.Problem, "Wh"):
            becalm.blocks(self.values[:, 2], "Wh", rate=500)

    def test_what_cannot_be_read_is_refused(self):
        z = self.values[:, 2]
        for error, source, arguments in [
                (TypeError, z.astype(numpy.int16), {}), (TypeError, z.astype(complex), {}), (TypeError, z.astype(numpy.float16), {}),
                (TypeError, z.astype(numpy.longdouble), {}), (TypeError, z.astype(">f8"), {}), (TypeError, z.astype(object), {}),
                (TypeError, numpy.array(["1", "2"]), {}), (TypeError, z > 0, {}),
                (ValueError, z.reshape(10, 20, 20), {}), (ValueError, numpy.array(1.0), {}), (ValueError, numpy.zeros(0), {}),
                (ValueError, numpy.zeros((0, 3)), {}), (ValueError, numpy.zeros((3, 0)), {}), (ValueError, numpy.zeros((3, 10000)), {}),
                (ValueError, numpy.ma.masked_greater(z, 0.1), {}),
                (TypeError, z, {"rate": None}), (ValueError, z, {"rate": 0}), (ValueError, z, {"rate": -500}),
                (ValueError, z, {"rate": float("nan")}), (TypeError, z, {"rate": "fast"}),
                (TypeError, self.wav, {}), # a file says its own rate
                (TypeError, None, {}), (TypeError, 7, {}), (TypeError, b"run.wav", {}), (TypeError, {"z": z}, {}),
                (TypeError, z, {"weighting": [1]}), (TypeError, z, {"axes": {"z": 1}}),
                (TypeError, z, {"progress": 3}),
                (becalm.Problem, z, {"weighting": "Wq"}), (becalm.Problem, z, {"weighting": ""}), (becalm.Problem, z, {"weighting": []}),
                (becalm.Problem, z, {"axes": "w"}), (becalm.Problem, z, {"axes": "x,y"}), (becalm.Problem, z, {"axes": {0: "z"}}),
                (becalm.Problem, self.values, {"axes": {1: "z", 2: "z"}}), (becalm.Problem, self.values[:, :2], {}),
                (becalm.Problem, z, {"unit": "ft"}), (becalm.Problem, z, {"scale": 0.0}), (becalm.Problem, z, {"scale": float("nan")}),
                (becalm.Problem, z, {"offset": "median"}), (becalm.Problem, z, {"from_s": 5, "to_s": 5}), (becalm.Problem, z, {"from_s": -1}),
                (becalm.Problem, z, {"from_s": 100}), (becalm.Problem, z, {"threads": -1})]:
            with self.subTest(source=type(source), **arguments):
                with self.assertRaises(error) as raised:
                    becalm.weigh(source, **{"rate": 500, **arguments})
                self.assertGreater(len(str(raised.exception)), 10)


class Interrupted(unittest.TestCase):
    # 10^11 samples that take no memory: nobody would wait for their end.
    endless = """
import os, signal, sys, threading
import numpy, becalm
array = numpy.broadcast_to(numpy.float64(0.5), (10**11,))
threading.Timer(0.2, os.kill, (os.getpid(), signal.SIGINT)).start() # runs only where the interpreter's lock is free
try:
    {}
except KeyboardInterrupt:
    sys.exit(7)
"""

    def test_ctrl_c_stops_the_work(self):
        python(self.endless.format("becalm.weigh(array, rate=1000, samples=False)"), code=7)

    def test_ctrl_c_stops_blocks(self):
        python(self.endless.format("\n    for block in becalm.blocks(array, rate=1000): pass"), code=7)

    def test_more_samples_than_memory_holds(self):
        python("""
import numpy, becalm
try:
    becalm.weigh(numpy.broadcast_to(numpy.float64(0.5), (10**15,)), rate=1000)
except MemoryError:
    raise SystemExit(7)
""", code=7)


if __name__ == "__main__":
    unittest.main()
