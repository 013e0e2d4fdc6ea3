"""What can go wrong, as exceptions."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Optional

from ._bench import Result


class SceneError(ValueError):
    """A scene with faults; str() tells them all, as `totebench check` does.

    faults: all that is wrong with it, a list of dictionaries with
        severity  "error" or "warning"
        pointer   place in the scene: "/bag/width"
        file, line, column   place in a scene file; line 0 = the scene as a whole
        message   what is wrong
        hint      the cure, may be ""
    """

    def __init__(self, text: str, faults: Sequence[dict[str, Any]] = ()) -> None:
        super().__init__(text, faults)
        self.faults = list(faults)

    def __str__(self) -> str:
        return str(self.args[0])


class NoEquilibriumError(RuntimeError):
    """No equilibrium was found; str() says how far the search came.

    advice: what to try, half a sentence, may be "".
    result: what there is, with the last good state. It is no answer.
    """

    def __init__(self, text: str, advice: str = "", result: Optional[Result] = None) -> None:
        super().__init__(text, advice, result)
        self.advice = advice
        self.result = result

    def __str__(self) -> str:
        return str(self.args[0])
