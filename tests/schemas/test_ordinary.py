"""The short way to read requests beside marshmallow's own: the same values, the same errors."""

import copy
import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from marshmallow import ValidationError

from lastvolt_service.api import OPERATIONS
from lastvolt_service.schemas.described import Described
from lastvolt_service.schemas.ordinary import OutOfTheOrdinary, reader

POSTED = [operation for operation in OPERATIONS if operation.method == "POST"]
IDS = [operation.name for operation in POSTED]
ODD: list[Any] = [
    *(None, True, False, 0, 1, -1, 3, 3.0, 3.5, -0.0, 1e-300, 1e300, 10**400, -(10**400), 2**63),
    *(
        math.nan,
        math.inf,
        -math.inf,
        "",
        "3",
        "12 AWG",
        "12gauge",
        "12",
        "12 AWG\n",
        "copper",
        "wire",
        "a\x00b",
    ),
    *(
        "12gauge",
        "12",
        "x" * 81,
        [],
        [[]],
        {},
        {"low": 1, "high": 2},
        {"low": 2, "high": 1},
        {"low": 1},
        [1, 2],
    ),
    *({"kind": "wire"}, {"kind": ["wire"]}, {"kind": "none"}, ["a", "a"], ["a", "b"]),
]


def outcome(load: Any, data: Any) -> tuple[str, Any]:
    """What a way to load makes of a request, in words that tell 1 from 1.0 and -0.0 from 0."""
    try:
        found = load(copy.deepcopy(data))
    except ValidationError as error:
        return "refused", repr(error.messages)
    return "taken", repr(found)


def places(data: Any) -> list[tuple[Any, ...]]:
    """Paths of everything in a request."""
    items = (
        data.items()
        if isinstance(data, dict)
        else enumerate(data)
        if isinstance(data, list)
        else ()
    )
    return [(), *((key, *rest) for key, value in items for rest in places(value))]


def change(data: Any, path: tuple[Any, ...], value: Any, *, how: str) -> Any:
    """A request with one place changed, left out, or with a key more."""
    if not path:
        return {**data, "stranger": value} if how == "add" and isinstance(data, dict) else value
    data = copy.deepcopy(data)
    holder = data
    for key in path[:-1]:
        holder = holder[key]
    if how == "drop":
        del holder[path[-1]]
    elif how == "add" and isinstance(holder[path[-1]], dict):
        holder[path[-1]]["stranger"] = value
    elif how == "twice" and isinstance(holder, list):
        holder.append(holder[path[-1]])
    else:
        holder[path[-1]] = value
    return data


@pytest.mark.parametrize("operation", POSTED, ids=IDS)
def test_an_example_goes_the_short_way_to_the_same_values(operation: Any) -> None:
    example = json.loads(json.dumps(operation.schema.example))
    if '"low"' in json.dumps(example):  # an interval goes the long way
        with pytest.raises(OutOfTheOrdinary):
            reader(operation.described.request)(example)
        return
    kind = operation.described.request
    assert repr(reader(kind)(example)) == repr(operation.schema.load(example))


@pytest.mark.parametrize("operation", POSTED, ids=IDS)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_what_is_changed_comes_out_the_same(operation: Any, data: st.DataObject) -> None:
    request = operation.schema.example
    for _ in range(data.draw(st.integers(1, 3))):
        if not places(request)[1:]:
            break
        path = data.draw(st.sampled_from(places(request)))
        how = data.draw(st.sampled_from(["set", "set", "drop", "add", "twice"]))
        request = change(request, path, data.draw(st.sampled_from(ODD)), how=how)
    schema: Described = operation.schema
    assert outcome(schema.read, request) == outcome(schema.load, request)


@pytest.mark.parametrize("operation", POSTED, ids=IDS)
@given(data=st.data())
@settings(max_examples=40, deadline=None)
def test_each_field_of_any_group_may_come_or_go(operation: Any, data: st.DataObject) -> None:
    """Fields that an example leaves out are there too."""
    schema: Described = operation.schema
    request = copy.deepcopy(operation.schema.example)
    names = data.draw(st.lists(st.sampled_from([*schema.load_fields]), max_size=4))
    for name in names:
        request[name] = data.draw(st.sampled_from(ODD) | st.floats(0, 100) | st.integers(0, 100))
    assert outcome(schema.read, request) == outcome(schema.load, request)
