"""The installed package needs nothing else: CMAKE BUILD are what to install it with and from.

Where the source tree and its library are gone, it still finds the materials.
"""

import os
import pathlib
import subprocess
import sys
import tempfile
import unittest


CMAKE, BUILD = sys.argv[1:3]

SCRIPT = """
import pathlib, sys, totebench
sys.path.insert(0, sys.argv[1])
from bag import SHEET
home = pathlib.Path(totebench.__file__).parent
assert home.is_relative_to(sys.argv[2]), home
from totebench import _bench
assert (home / "materials" / "sources.json").exists()
totebench.materials("canvas")
hung = totebench.hang(SHEET)
if (home / "totebench_vtk.so").exists():
    assert "sheet.vtu" in hung.write(sys.argv[2] + "/out", picture=False)
"""


class Installed(unittest.TestCase):
    def test_stands_alone(self):
        with tempfile.TemporaryDirectory() as prefix:
            subprocess.run(
                [CMAKE, "--install", BUILD, "--component", "python", "--prefix", prefix],
                check=True,
                stdout=subprocess.DEVNULL,
            )
            (home,) = pathlib.Path(prefix).rglob("totebench/__init__.py")
            self.assertFalse(home.is_symlink())
            for name in ("py.typed", "_bench.pyi"):
                self.assertTrue((home.parent / name).exists(), name)
            environment = {**os.environ, "PYTHONPATH": str(home.parent.parent)}
            here = str(pathlib.Path(__file__).parent)
            ran = subprocess.run(
                [sys.executable, "-B", "-c", SCRIPT, here, prefix],
                env=environment,
                capture_output=True,
                text=True,
            )
            self.assertEqual((ran.returncode, ran.stdout, ran.stderr), (0, "", ""))


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
