#!/usr/bin/env python3
"""Writes MATLAB files as others write them, for tests/src/mat_test.cpp.

    python3 generate.py        (numpy, scipy and h5py; their versions are written into versions.txt)

Version 5 through scipy.io.savemat, version 7.3 through h5py with the attributes, references and dimensions that MATLAB gives
its HDF5 objects. Every sample is SAMPLE(i, c), which any type of number here holds exactly, so a reader is right to the last bit
or wrong.
"""
import pathlib
import sys

import h5py
import numpy as np
import scipy
from scipy.io import savemat

HERE = pathlib.Path(__file__).parent
N = 300


def sample(i, c):
    return ((i * 37 + c * 1009) % 4001 - 2000) / 1024.0


def matrix(channels, first=0, count=N):
    return np.array([[sample(i, c) for c in range(first, first + channels)] for i in range(count)])


def cell(words):
    return np.array(words, dtype=object)


# ---- version 5 -------------------------------------------------------------------------------------------------------
one = {
    "run": {
        "acc": matrix(3),
        "fs": 1000.0,
        "names": cell(["x", "y", "z"]),
        "unit": "m/s^2",
        "start": "2031-05-17T06:30:05Z",
        "note": "deck three",
    }
}
savemat(HERE / "v5-plain.mat", one)
savemat(HERE / "v5-deflated.mat", one, do_compression=True)
many = {
    "runs": np.array([({"a": 1.0},), ({"a": 2.0},)], dtype=object),
    "x": matrix(1, 0)[:, 0],
    "y": matrix(1, 1)[:, 0],
    "z": matrix(1, 2)[:, 0],
    "t": np.arange(N) / 256.0,
    "counts": (matrix(2) * 1024).astype(np.int16).T,
    "single_one": matrix(2, 0, 200).astype(np.float32),
    "imaginary": matrix(2) * 1j,
    "flags": matrix(2) > 0,
    "cube": np.zeros((20, 3, 2)),
    "holes": scipy.sparse.eye(30).tocsc(),
    "calibration": np.array([1.0, 2.0, 3.0]),
    "rate_hz": 256.0,
}
elements = np.zeros((1, 2), dtype=[("acc", object), ("dt", object)])
elements[0, 0] = (matrix(1), 0.004)
elements[0, 1] = (matrix(2), 0.002)
many["runs"] = elements
savemat(HERE / "v5-many.mat", many, do_compression=True, oned_as="row")


# ---- version 7.3 -----------------------------------------------------------------------------------------------------
def header(path):
    text = b"MATLAB 7.3 MAT-file, Platform: GLNXA64, Created on: Thu Jan 01 00:00:00 2026 HDF5 schema 1.00 ."
    with open(path, "r+b") as file:
        file.write(text.ljust(116) + bytes(8) + b"\x00\x02IM")


class File73:
    def __init__(self, name):
        self.path = HERE / name
        self.file = h5py.File(self.path, "w", userblock_size=512, libver="earliest", track_order=False)
        self.references = 0

    def close(self):
        self.file.close()
        header(self.path)

    def group(self, name):
        group = self.file.create_group(name)
        group.attrs["MATLAB_class"] = np.bytes_("struct")
        return group

    def put(self, where, name, values, matlab_class=None, **how):
        values = np.atleast_2d(np.asarray(values))
        data = where.create_dataset(name, data=values.T, **how)
        data.attrs["MATLAB_class"] = np.bytes_(matlab_class or {"f8": "double", "f4": "single", "i2": "int16"}[values.dtype.str[1:]])
        return data

    def text(self, where, name, text):
        data = self.put(where, name, np.array([[ord(c) for c in text]], dtype=np.uint16), "char")
        data.attrs["MATLAB_int_decode"] = np.int32(2)
        return data

    def referred(self):
        self.references += 1
        return self.file.require_group("#refs#"), f"r{self.references}"

    def cells(self, where, name, words):
        list_of = [self.text(*self.referred(), word).ref for word in words]
        data = where.create_dataset(name, data=np.array([list_of], dtype=h5py.ref_dtype).T, dtype=h5py.ref_dtype)
        data.attrs["MATLAB_class"] = np.bytes_("cell")


def one_73(name, **how):
    out = File73(name)
    run = out.group("run")
    out.put(run, "acc", matrix(3), **how)
    out.put(run, "fs", 1000.0)
    out.cells(run, "names", ["x", "y", "z"])
    out.text(run, "unit", "m/s^2")
    out.text(run, "start", "2031-05-17T06:30:05Z")
    out.close()


one_73("v73-plain.mat")
one_73("v73-deflated.mat", chunks=(2, 64), compression="gzip", shuffle=True)

out = File73("v73-many.mat")
for c, name in enumerate("xyz"):
    out.put(out.file, name, matrix(1, c))
out.put(out.file, "t", np.arange(N) / 256.0)
out.put(out.file, "counts", (matrix(2) * 1024).astype(np.int16).T)
out.put(out.file, "single_one", matrix(2, 0, 200).astype(np.float32))
out.put(out.file, "rate_hz", 256.0)
out.put(out.file, "flags", (matrix(2) > 0).astype(np.uint8), "logical")
data = out.file.create_dataset("imaginary", data=np.zeros((2, N), dtype=[("real", "f8"), ("imag", "f8")]))
data.attrs["MATLAB_class"] = np.bytes_("double")
table = out.put(out.file, "T", np.array([[1, 2, 3, 4, 5, 6]], dtype=np.uint32), "table")
table.attrs["MATLAB_object_decode"] = np.int32(3)
runs = out.group("runs")
for field, values in (("acc", [matrix(1), matrix(2)]), ("dt", [0.004, 0.002])):
    list_of = [out.put(*out.referred(), value).ref for value in values]
    runs.create_dataset(field, data=np.array([list_of], dtype=h5py.ref_dtype).T, dtype=h5py.ref_dtype)
out.close()

(HERE / "versions.txt").write_text(
    f"Python {sys.version.split()[0]}, numpy {np.__version__}, scipy {scipy.__version__}, h5py {h5py.__version__}, "
    f"HDF5 {h5py.version.hdf5_version}\n"
)
