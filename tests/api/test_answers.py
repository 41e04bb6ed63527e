"""Answers as JSON text: every finite number comes back as it was, and no other one goes out."""

import json
import math
import struct
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json


@dataclass(frozen=True, slots=True)
class Two:
    one: Any
    other: Any


@dataclass(frozen=True, slots=True)
class One:
    only: Any


class Pair(NamedTuple):
    low: float
    high: float


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_comes_back_bit_by_bit(number: float) -> None:
    back = json.loads(to_json(One(number)))["only"]
    assert struct.pack("d", back) == struct.pack("d", number)


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf, np.float64("nan"), 1e308 * 10])
@pytest.mark.parametrize(
    "place",
    [
        lambda number: number,
        One,
        lambda number: Two("text", number),
        lambda number: Two(None, (One(number),)),
        lambda number: {"a": [{"b": number}]},
        lambda number: Two(10**30, number),
        lambda number: One(Pair(1.0, number)),
        lambda number: {1: number},
    ],
)
def test_a_number_that_is_not_finite_is_refused(place: Any, number: float) -> None:
    with pytest.raises(ValueError, match=r"JSON compliant|not finite"):
        to_json(place(number))


@pytest.mark.parametrize(
    ("answer", "text"),
    [
        (Two("Ω", None), '{"one":"Ω","other":null}'),
        (Two(True, (1, 2.5)), '{"one":true,"other":[1,2.5]}'),
        ({"a": One([])}, '{"a":{"only":[]}}'),
        (One(10**30), '{"only":1000000000000000000000000000000}'),
        (One(np.float64(1.5)), '{"only":1.5}'),
        (One(Pair(1.0, 2.0)), '{"only":[1.0,2.0]}'),
    ],
)
def test_what_an_answer_may_hold(answer: Any, text: str) -> None:
    assert to_json(answer) == text.encode()


def test_what_no_answer_holds() -> None:
    with pytest.raises(TypeError, match="complex is no part of an answer"):
        to_json(One(1j))


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda each: each.name)
def test_no_usual_answer_goes_the_slow_way(operation: Any, monkeypatch: Any) -> None:
    """A quarter of a light call went into it when a basis was a text of a class of its own."""
    answer = operation.compute(operation.arguments(operation.schema.example))
    monkeypatch.delattr(json, "dumps")
    assert to_json(answer)
