"""How often tests try an operation: to weigh whole decisions costs a hundred of the others."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import settings

DEAR = {
    "relay-retrofit",
    "remedy-choice",
    "relay-choice",
    "work-sheet",
    "quick-answer",
    "circuit-fit",
    "meter-plan",
    "gain-proof",
}
SHARE = 8


def in_gate() -> bool:
    """Whether the gate runs, and not the long job."""
    return settings.get_current_profile_name() != "random"


def is_spared(name: str) -> bool:
    """Whether an operation is tried less often: in the gate what is dear, in the long job none."""
    return name in DEAR and in_gate()


def some(few: int, most: int) -> int:
    """Number of examples of a property: few in the gate, most in the long job."""
    return few if in_gate() else most


def spread(values: Sequence[Any], step: int) -> list[Any]:
    """Values of a parameter: every so many for the gate, those between them for the long job."""
    return [
        pytest.param(value, marks=pytest.mark.long) if place % step else value
        for place, value in enumerate(values)
    ]


def tries(name: str, most: int) -> int:
    """Number of examples."""
    if not is_spared(name):
        return most
    return max(min(3, most // 2), most // SHARE)
