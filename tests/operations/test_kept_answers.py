"""What an answer rests on is kept for as long as its request, and no longer."""

import copy
import gc
from collections.abc import Sized
from typing import Any

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.operations.decision import remedy_choice
from lastvolt_service.operations.meter import gain_proof

POSTED = {operation.name: operation for operation in OPERATIONS if operation.method == "POST"}
LAMP = {
    "name": "starter solenoid",
    "kind": "resistance",
    "nodes": ["terminal 50", "engine block"],
    "resistance_ohm": 2.0,
    "needed_v": 8,
}


def of_a_lamp(name: str) -> dict[str, Any]:
    """The example with a load of no usual time, whose request is taken as it is."""
    body: dict[str, Any] = copy.deepcopy(POSTED[name].schema.example)
    body["circuit"]["loads"] = [LAMP]
    return body


@pytest.mark.parametrize(
    ("name", "kept"),
    [("remedy-choice", remedy_choice._CHOICES), ("gain-proof", gain_proof._PROOFS)],
)
def test_nothing_is_kept_of_a_request_that_is_gone(name: str, kept: Sized) -> None:
    gc.collect()
    before = len(kept)
    arguments = POSTED[name].arguments(of_a_lamp(name))
    answer = POSTED[name].compute(arguments)
    assert len(kept) == before + 1
    del arguments, answer
    gc.collect()
    assert len(kept) == before
