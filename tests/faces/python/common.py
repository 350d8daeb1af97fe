"""What the tests of the Python module share. ctest says where things are: BECALM (the program), BECALM_PROJECT, PYTHONPATH (the module)."""

import os
import pathlib
import struct
import subprocess
import sys
import tempfile
import unittest

import numpy

program = os.environ["BECALM"]
project = pathlib.Path(os.environ["BECALM_PROJECT"])


def run(*arguments, code=0, folder=None):
    """What the program writes to its output."""
    done = subprocess.run([program, *map(str, arguments)], capture_output=True, cwd=folder)
    if done.returncode != code:
        raise AssertionError(f"{arguments}: exit {done.returncode} instead of {code}\n{done.stdout[:2000]}\n{done.stderr[:2000]}")
    return done.stdout.decode() # line ends as they are


def python(text, *arguments, code=0):
    """Another interpreter, for what would end or burden this one."""
    done = subprocess.run([sys.executable, "-c", text, *map(str, arguments)], capture_output=True, text=True)
    if done.returncode != code:
        raise AssertionError(f"exit {done.returncode} instead of {code}\n{done.stdout[:2000]}\n{done.stderr[-3000:]}")
    return done.stdout


def float_wav(path, rate, channels):
    """32-bit float, a column a channel."""
    frames = numpy.column_stack(channels).astype("<f4")
    data, n = frames.tobytes(), frames.shape[1]
    header = struct.pack("<IHHIIHH", 16, 3, n, rate, 4 * n * rate, 4 * n, 32)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(data)) + b"WAVEfmt " + header + b"data" + struct.pack("<I", len(data)) + data)
    return path


def noise(seconds, rate, channels=1, seed=1):
    return numpy.random.default_rng(seed).normal(0.0, 0.1, (int(seconds * rate), channels))


class InAFolder(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.holder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.holder.cleanup)
        cls.folder = pathlib.Path(cls.holder.name)


