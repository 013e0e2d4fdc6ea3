"""Scenes: dictionaries and files, read with all that is wrong with them."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Mapping
from typing import Any, Union

from . import _bench
from ._errors import SceneError

Scene = Union[Mapping[str, Any], str, "os.PathLike[str]"]

_NAME = "the scene"  # what stands for the file in what is told of a dictionary
_DEEPEST = 64  # as deep as a scene file may be nested


def read(scene: Scene) -> _bench.Reading:
    if isinstance(scene, (str, os.PathLike)):
        return _bench.read_file(os.fspath(scene))
    if not isinstance(scene, Mapping):
        raise TypeError(
            "a scene is a dictionary or the path of a scene file, not " + _kind(scene)
        )
    misfits: list[_bench.Misfit] = []
    plain = _plain(scene, "", 1, misfits)
    return _bench.read_text(json.dumps(plain), _NAME, misfits)


def read_good(scene: Scene) -> _bench.Reading:
    reading = read(scene)
    if not reading.good:
        raise SceneError(reading.faults.rstrip(), check_of(reading)["diagnostics"])
    return reading


def check_of(reading: _bench.Reading) -> dict[str, Any]:
    return json.loads(reading.checked)


def _kind(value: Any) -> str:
    name = type(value).__name__
    return ("an " if name[0] in "aeiouAEIOU" else "a ") + name


def _plain(value: Any, pointer: str, depth: int, misfits: list[_bench.Misfit]) -> Any:
    """The value as JSON has it; what JSON has not becomes None and is noted."""

    def misfit(message: str, hint: str) -> None:
        misfits.append(_bench.Misfit(pointer, message, hint))

    if hasattr(value, "tolist"):  # numbers and arrays of NumPy
        value = value.tolist()
    if value is None or isinstance(value, (bool, int)):
        return value
    if isinstance(value, str):
        try:
            value.encode()
        except UnicodeEncodeError:
            return misfit("this text holds half a letter", "write it anew")
        return str(value)
    if isinstance(value, float):
        if math.isfinite(value):
            return float(value)
        return misfit(f"{value} is no number that a bag could have", "write a finite number")
    if isinstance(value, (Mapping, list, tuple)):
        if depth > _DEEPEST:
            return misfit("nested too deeply", "does it hold itself?")
        if not isinstance(value, Mapping):
            return [
                _plain(item, f"{pointer}/{i}", depth + 1, misfits) for i, item in enumerate(value)
            ]
        plain = {}
        for key, item in value.items():
            if not isinstance(key, str):
                misfit(f"{key!r} is no key of a scene", "keys are text")
                continue
            at = key.replace("~", "~0").replace("/", "~1")
            plain[key] = _plain(item, f"{pointer}/{at}", depth + 1, misfits)
        return plain
    return misfit(
        f"{_kind(value)} has no place in a scene",
        "write text, a number, True or False, a list or a dictionary",
    )
