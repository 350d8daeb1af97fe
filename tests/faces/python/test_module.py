"""What the module says of itself: docstrings, types, signatures; and that it works in a pool of processes."""

import ast
import inspect
import multiprocessing
import unittest

import becalm
from becalm import _core
from common import InAFolder, float_wav, noise, project, run

classes = [thing for thing in vars(_core).values() if inspect.isclass(thing) and thing.__name__ != "Selection"]


def public(names):
    return {name for name in names if not name.startswith("_")}


def rms_of(path): # of one recording, in a process of a pool
    return becalm.weigh(path, samples=False, threads=1)["z"].rms


class Words(unittest.TestCase):
    def test_everything_is_explained(self):
        self.assertGreater(len(classes), 15)
        for thing in [becalm, *(getattr(becalm, name) for name in becalm.__all__), *classes]:
            self.assertTrue(inspect.getdoc(thing), thing)
        for one in classes:
            for name in public(vars(one)):
                self.assertTrue(inspect.getdoc(getattr(one, name)), f"{one.__name__}.{name}")

    def test_help_names_every_argument(self):
        for call in (becalm.weigh, becalm.blocks, becalm.assess, becalm.spectrum, becalm.response):
            words = inspect.getdoc(call)
            for name in inspect.signature(call).parameters:
                if "as for weigh()" not in words:
                    self.assertTrue(name in words or name == "progress", f"{call.__name__}: {name}")

    def test_all_names_are_there(self):
        self.assertEqual(sorted(becalm.__all__), sorted(set(becalm.__all__)))
        self.assertLessEqual({one.__name__ for one in classes} - {"BlockLane"}, set(becalm.__all__))
        self.assertEqual(run("--version").split()[-1], becalm.__version__)

    def test_the_stub_says_what_is_there(self):
        tree = ast.parse((project / "ui" / "python" / "becalm" / "_core.pyi").read_text())
        stubs, bases = {}, {}
        for node in tree.body:
            if isinstance(node, ast.ClassDef):
                stubs[node.name] = {item.target.id for item in node.body if isinstance(item, ast.AnnAssign)} | {
                    item.name for item in node.body if isinstance(item, ast.FunctionDef)}
                bases[node.name] = [base.id for base in node.bases]
        for one in classes:
            told = set(stubs[one.__name__])
            for base in bases[one.__name__]:
                told |= stubs[base]
            self.assertEqual(public(told), public(vars(one)), one.__name__)
        self.assertEqual({node.name for node in tree.body if isinstance(node, ast.FunctionDef)},
                         {name for name, thing in vars(_core).items() if inspect.isroutine(thing)})


class Pools(InAFolder):
    def test_recordings_over_processes(self):
        paths = [float_wav(self.folder / f"{i}.wav", 500, noise(5, 500, seed=i).T) for i in range(4)]
        for way in ("fork", "spawn"):
            with multiprocessing.get_context(way).Pool(2) as pool:
                self.assertEqual(pool.map(rms_of, paths), [rms_of(path) for path in paths])
                with self.assertRaises(becalm.Problem):
                    pool.map(rms_of, [self.folder / "none.wav"])


if __name__ == "__main__":
    unittest.main()
