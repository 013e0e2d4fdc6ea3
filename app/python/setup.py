"""Lets CMake build and install the package where setuptools wants it.

CMAKE_ARGS in the environment are passed on, such as -DTOTEBENCH_WITH_VTK=OFF.
"""

import os
import pathlib
import re
import shlex
import subprocess
import sys

from setuptools import Extension, setup
from setuptools.command.build_ext import build_ext

HOUSE = pathlib.Path(__file__).resolve().parents[2]
BUILD = HOUSE / "build" / "wheel"


class CMakeBuild(build_ext):
    def run(self):
        into = pathlib.Path(self.build_lib).resolve()
        subprocess.run(
            ["cmake", "-S", HOUSE, "-B", BUILD, "-DCMAKE_BUILD_TYPE=Release"]
            + ["-DTOTEBENCH_BUILD_TESTS=OFF", "-DTOTEBENCH_BUILD_PYTHON=ON"]
            + [f"-DPython_EXECUTABLE={sys.executable}", "-DTOTEBENCH_PYTHON_DIR=."]
            + shlex.split(os.environ.get("CMAKE_ARGS", "")),
            check=True,
        )
        build = ["cmake", "--build", BUILD, "--target", "totebench_python", "--parallel"]
        subprocess.run(build, check=True)
        install = ["cmake", "--install", BUILD, "--component", "python", "--prefix", into]
        subprocess.run(install, check=True)


VERSION = re.search(r"project\(totebench VERSION ([\d.]+)", (HOUSE / "CMakeLists.txt").read_text())
BUILD.mkdir(parents=True, exist_ok=True)
setup(
    version=VERSION[1],
    ext_modules=[Extension("totebench._bench", sources=[])],
    cmdclass={"build_ext": CMakeBuild},
    options={
        "build": {"build_base": str(BUILD / "setuptools")},  # nothing is left beside the sources
        "egg_info": {"egg_base": str(BUILD)},
    },
)
