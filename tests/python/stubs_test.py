"""The stubs name what there is, and everything a person can reach says what it is."""

import ast
import inspect
import pathlib
import unittest

import totebench
from totebench import _bench

STUBS = pathlib.Path(totebench.__file__).with_name("_bench.pyi")


def own(names):
    """Without what every module or class has."""
    return {name for name in names if not name.startswith("__") or name == "__version__"}


class Stubs(unittest.TestCase):
    def test_name_what_there_is(self):
        tree = ast.parse(STUBS.read_text(encoding="utf-8")).body
        functions = {node.name for node in tree if isinstance(node, ast.FunctionDef)}
        classes = {node.name: node for node in tree if isinstance(node, ast.ClassDef)}
        self.assertEqual(own(dir(_bench)), functions | set(classes) | {"__version__"})
        for name, node in classes.items():
            with self.subTest(name):
                members = {item.name for item in node.body if isinstance(item, ast.FunctionDef)}
                self.assertEqual(own(members), own(vars(getattr(_bench, name))))

    def test_all_that_is_public_says_what_it_is(self):
        for name in totebench.__all__:
            thing = getattr(totebench, name)
            if not (inspect.isclass(thing) or inspect.isfunction(thing)):
                continue
            self.assertTrue(thing.__doc__, name)
            if not inspect.isclass(thing):
                continue
            for member, value in vars(thing).items():
                if not member.startswith("_"):
                    self.assertTrue(value.__doc__, f"{name}.{member}")

    def test_is_typed(self):
        self.assertTrue(STUBS.with_name("py.typed").exists())


if __name__ == "__main__":
    unittest.main()
