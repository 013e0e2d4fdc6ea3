"""How a layered soft tote bag hangs, before you cut the cloth.

A scene is a dictionary with the keys of a scene file, or the path of one:

    >>> import totebench
    >>> bag = totebench.load("scenes/examples/demo.json")
    >>> bag["contents"]["mass"] = "10 kg"
    >>> hung = totebench.hang(bag)
    >>> hung.findings["bottom_sag_m"]      # every number is SI, its key ends in the unit
    >>> print(hung)                        # the same in words, with its cautions

Numbers and words are those of the command `totebench`; totebench.explain() tells every key of a
scene. Nothing is printed. A scene with faults raises SceneError, a bag that finds no rest
NoEquilibriumError; Ctrl-C, and whatever a progress callback raises, stops a study at once.
"""

from __future__ import annotations

import json
import os
import pathlib
from collections.abc import Sequence
from typing import Any, Callable, Optional, TypeVar

from . import _bench, _scene
from ._bench import (
    Carried,
    Chosen,
    Compared,
    Hung,
    HungSheet,
    Points,
    Progress,
    Rated,
    Result,
    Shape,
    Stood,
    __version__,
)
from ._errors import NoEquilibriumError, SceneError
from ._scene import Scene

__all__ = [
    "Carried",
    "Chosen",
    "Compared",
    "Hung",
    "HungSheet",
    "NoEquilibriumError",
    "Points",
    "Progress",
    "Rated",
    "Result",
    "Scene",
    "SceneError",
    "Shape",
    "Stood",
    "__version__",
    "carry",
    "check",
    "choose",
    "compare",
    "explain",
    "hang",
    "load",
    "materials",
    "rate",
    "schema",
    "stand",
]

OnProgress = Callable[[Progress], Any]
_Found = TypeVar("_Found", bound=Result)

_installed_library = pathlib.Path(__file__).parent / "materials"
if _installed_library.is_dir() and not os.environ.get("TOTEBENCH_MATERIALS"):
    _bench.use_library(str(_installed_library))


# ---- scenes --------------------------------------------------------------------------------------


def load(path: str | os.PathLike[str]) -> dict[str, Any]:
    """The scene of a file as a dictionary, to be changed and hung. Faults in it do no harm yet."""
    text = _bench.plain_text(os.fspath(path))
    if not text:
        _scene.read_good(path)  # says why
        raise SceneError(f"{os.fspath(path)}: cannot be read")
    return json.loads(text)


def check(scene: Scene) -> dict[str, Any]:
    """What `totebench check --json` tells of a scene; nothing is solved, no fault is raised.

    Returns {"file", "good", "summary", "resolved": the scene with every default written out,
    "diagnostics": faults as in SceneError.faults, warnings too}.
    """
    return _scene.check_of(_scene.read(scene))


def explain(key: str = "") -> list[dict[str, Any]]:
    """What a key of a scene means ("bag.width", "width"): type, unit, default, range, source.

    Without one, all of them. Raises ValueError with the nearest names for one that is not known.
    """
    return json.loads(_bench.explain(key))


def schema(of: str = "scene") -> dict[str, Any]:
    """The JSON Schema of scenes, or of a result: "findings", "rating", "carry", "choose", ..."""
    return json.loads(_bench.schema(of))


def materials(words: str = "") -> list[dict[str, Any]]:
    """What the library holds under an id or words of the trade ("canvas"); without, all of it.

    Each has "id", "name", "category", "note", "properties": by name {"value", "low", "high", SI,
    "unit", "grade", "source", "cite", "note", "bound"}. Raises ValueError where nothing is called
    so.
    """
    return json.loads(_bench.materials(words))


# ---- studies -------------------------------------------------------------------------------------


def hang(
    scene: Scene,
    *,
    ranges: bool = True,
    units: Optional[str] = None,
    progress: Optional[OnProgress] = None,
) -> Hung | HungSheet:
    """Hangs a tote empty and under its load (or loads a sheet): sag, strap drop, seam forces.

    ranges: with the likely ranges, which take most of the time.
    units: "in", "cm" or "si" for the words; numbers are SI. The scene's own unless given.
    progress: called with a Progress as the work goes on; what it raises stops the work.

    Raises SceneError, and NoEquilibriumError with the last good state.
    """
    return _at_rest(_bench.hang(_scene.read_good(scene), _units(units), bool(ranges), progress))


def stand(
    scene: Scene, *, units: Optional[str] = None, progress: Optional[OnProgress] = None
) -> Stood:
    """Puts a tote on a table: does it stand by itself, empty and loaded? Otherwise as hang()."""
    return _at_rest(_bench.stand(_scene.read_good(scene), _units(units), progress))


def rate(
    scene: Scene,
    *,
    samples: Optional[int] = None,
    factor: Optional[float] = None,
    changes: bool = True,
    units: Optional[str] = None,
    progress: Optional[OnProgress] = None,
) -> Rated:
    """What of a tote gives first, at what load, and a cautious rated mass with its cautions.

    samples: bags drawn from the scatter of the data, 0 to 10000; the scene's rating.samples
        unless given.
    factor: design factor, 1 to 50; the scene's rating.design_factor unless given.
    changes: also look for what would raise the rating.

    Otherwise as hang(). NoEquilibriumError where no rating can be given.
    """
    if samples is not None:
        samples = int(_within("samples", samples, 0, 10000))
    if factor is not None:
        factor = _within("factor", factor, 1, 50)
    reading = _scene.read_good(scene)
    return _at_rest(_bench.rate(reading, _units(units), factor, samples, bool(changes), progress))


def carry(
    scene: Scene,
    *,
    cadence: float = 120,
    damping: float = 0.05,
    units: Optional[str] = None,
    progress: Optional[OnProgress] = None,
) -> Carried:
    """Picks a tote up, walks and takes the stairs with it: what moving adds to the load.

    cadence: steps a minute, 60 to 180.
    damping: of the bounce, as a share of critical damping, 0 to 0.5.

    Otherwise as hang().
    """
    cadence = _within("cadence", cadence, 60, 180)
    damping = _within("damping", damping, 0, 0.5)
    return _at_rest(
        _bench.carry(_scene.read_good(scene), _units(units), cadence, damping, progress)
    )


def choose(
    scene: Scene, *, units: Optional[str] = None, progress: Optional[OnProgress] = None
) -> Chosen:
    """The lightest or cheapest build within limits, of what scene["choose"] gives to choose from.

    Otherwise as hang(). NoEquilibriumError where no build came to rest.
    """
    return _at_rest(_bench.choose(_scene.read_good(scene), _units(units), progress))


def compare(
    scenes: Scene | Sequence[Scene],
    *,
    ranges: bool = True,
    units: Optional[str] = None,
    progress: Optional[OnProgress] = None,
) -> Compared:
    """Lays totes side by side: several scenes, or one with its "variants". Otherwise as hang()."""
    several = scenes if isinstance(scenes, (list, tuple)) else [scenes]
    if not several:
        raise ValueError("there is no bag to compare")
    readings = [_scene.read_good(scene) for scene in several]
    return _at_rest(_bench.compare(readings, _units(units), bool(ranges), progress))


def _units(units: Optional[str]) -> str:
    if units not in (None, "in", "cm", "si"):
        raise ValueError(f'units are "in", "cm" or "si", not {units!r}')
    return units or ""


def _within(name: str, value: Any, low: float, high: float) -> float:
    if not low <= value <= high:  # NaN is not
        raise ValueError(f"{name} must be a number from {low:g} to {high:g}, not {value!r}")
    return float(value)


def _at_rest(result: _Found) -> _Found:
    if not result._found:
        raise NoEquilibriumError(result._sentence, result._advice, result)
    return result
