"""Generated bodies, wrong ones near to right ones and right ones up to their bounds: no faults."""

import copy
import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from marshmallow.fields import Dict

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.problems import MEDIA_TYPE
from lastvolt_service.schemas import fields
from lastvolt_service.tables.sizes import STANDARDS, sizes
from lastvolt_service.units import UNITS

from ..cost import some, tries

UNHURRIED = {"deadline": None, "suppress_health_check": list(HealthCheck)}
CALCULATIONS = [operation for operation in OPERATIONS if operation.method == "POST"]
EDGES = sorted({bound for unit in UNITS for bound in (unit.minimum, unit.maximum)})
ODD_NUMBERS = st.one_of(
    st.sampled_from([*EDGES, 0, -0.0, 1, -1, 5e-324, 1e-6, 1e-3, 0.1, 1e4, 1e308, -1e308, 10**25]),
    st.floats(allow_nan=False, allow_infinity=False),
    st.floats(0, 100),
    st.integers(-(10**20), 10**20),
)
ODD_TEXTS = st.one_of(
    st.sampled_from(
        ["", "12 AWG", "4/0 SAE", "2.5 mm2", "99 AWG", "1 mm2", "NaN", "../", "\u0661"]
    ),
    st.text(st.characters(codec="utf-8"), max_size=100),
)
ODD_LEAVES = st.one_of(ODD_NUMBERS, ODD_TEXTS, st.booleans(), st.none())
ODD = st.recursive(
    ODD_LEAVES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(ODD_TEXTS, inner, max_size=4),
    max_leaves=6,
)


def known_words(schema, found):
    """All field names and all words on offer, so that insertions often fit somewhere."""
    for name, field in schema.fields.items():
        found.add(name)
        for validator in getattr(field, "validators", ()):
            found.update(str(choice) for choice in getattr(validator, "choices", ()))
        inner = getattr(field, "inner", field)
        for below in (*getattr(inner, "schemas", {}).values(), getattr(inner, "schema", None)):
            if below is not None:
                known_words(below, found)
    return found


def places(value, path=()):
    """Paths to all parts of a JSON value, itself included."""
    yield path
    if isinstance(value, dict | list):
        inner = value.items() if isinstance(value, dict) else enumerate(value)
        for key, part in inner:
            yield from places(part, (*path, key))


def at(value, path):
    for key in path:
        value = value[key]
    return value


def change(draw, body, words):
    """Replace, delete, double or insert one part of a body."""
    *path, key = draw(st.sampled_from([path for path in places(body) if path]))
    holder = at(body, path)
    number = isinstance(holder[key], int | float)
    how = draw(st.sampled_from(["replace", "replace", "replace", "delete", "double", "insert"]))
    if how == "replace":
        holder[key] = draw(ODD_NUMBERS if number and draw(st.booleans()) else ODD)
    elif how == "delete":
        del holder[key]
    elif how == "double":
        twin = copy.deepcopy(holder[key])
        if isinstance(holder, list):
            holder.insert(draw(st.integers(0, len(holder))), twin)
        else:
            holder[draw(st.sampled_from(words))] = twin
    elif isinstance(holder, list):
        holder.append(draw(ODD))
    else:
        holder[draw(st.sampled_from(words) | ODD_TEXTS)] = draw(st.sampled_from(words) | ODD)


def fitting(field):
    """Values that a field takes, its bounds among them."""
    if isinstance(field, fields.Kinded):
        return st.one_of(*(bodies(schema, kind) for kind, schema in field.schemas.items()))
    if isinstance(field, fields.Part):
        return bodies(field.schema)
    if isinstance(field, fields.Many):
        (length,) = field.validators
        return st.lists(
            fitting(field.inner), min_size=length.min, max_size=max(length.min, min(4, length.max))
        )
    if isinstance(field, Dict):
        return st.dictionaries(fitting(field.key_field), fitting(field.value_field), max_size=2)
    if isinstance(field, fields.Flag):
        return st.booleans()
    if isinstance(field, fields.Size):
        return st.sampled_from([size for standard in STANDARDS for size in sizes(standard)])
    if isinstance(field, fields.Name):
        return st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), min_size=1)
    (allowed,) = field.validators
    if hasattr(allowed, "choices"):
        return st.sampled_from(allowed.choices)
    low, high = allowed.min, allowed.max
    edges = st.sampled_from([low, high, max(low, min(high, 20.0))])
    usual = st.floats(max(low, -40.0), min(high, 150.0)) if low < 150 else edges
    whole = isinstance(field, fields.Count)
    return edges | (st.integers(low, high) if whole else usual | st.floats(low, high))


@st.composite
def bodies(draw, schema, kind=None):
    """Bodies of the right shape; the rules between fields are kept as far as groups say them."""
    names = {name for name, field in schema.fields.items() if field.required or draw(st.booleans())}
    for group in (*schema.exactly_one_of, *schema.at_most_one_of):
        names -= set(group)
        names.add(draw(st.sampled_from(group)))
    for group in schema.together:
        if names & set(group):
            names |= set(group)
    body = {name: draw(fitting(schema.fields[name])) for name in sorted(names)}
    return body if kind is None else {**body, "kind": kind}


def send(client, operation, body):
    """Post a body; whatever it is, the answer is strict JSON and no fault."""
    response = client.post(operation.path, json=body)
    assert response.status_code in {200, 422}, (body, response.text[:500])
    answer = json.loads(response.text, parse_constant=pytest.fail)
    if response.status_code == 422:
        assert response.content_type == MEDIA_TYPE
        # The bounds of the fields keep results finite; this type is the last resort.
        assert answer["type"] != "/problems/out-of-range", body
        assert all(error["pointer"].startswith("#") for error in answer["errors"])


@pytest.mark.hypothesis
@pytest.mark.parametrize("operation", CALCULATIONS, ids=lambda operation: operation.name)
def test_right_body_is_answered(app, operation):
    client = app.test_client()

    @settings(max_examples=tries(operation.name, some(12, 150)), **UNHURRIED)
    @given(bodies(operation.schema))
    def check(body):
        send(client, operation, body)

    check()


@pytest.mark.hypothesis
@pytest.mark.parametrize("operation", CALCULATIONS, ids=lambda operation: operation.name)
def test_no_body_is_our_fault(app, operation):
    client = app.test_client()
    words = sorted(known_words(operation.schema, set()))

    @settings(max_examples=tries(operation.name, some(12, 150)), **UNHURRIED)
    @given(st.data())
    def check(data):
        body = copy.deepcopy(operation.schema.example)
        for _ in range(data.draw(st.integers(1, 3))):
            if body:
                change(data.draw, body, words)
        send(client, operation, body)

    check()


@settings(max_examples=some(100, 200), **UNHURRIED)
@given(st.binary(max_size=200) | st.text(max_size=100).map(str.encode) | ODD.map(json.dumps))
def test_no_bytes_are_our_fault(client, body):
    response = client.post("/v1/voltage-drop", data=body, content_type="application/json")
    assert response.status_code in {400, 422}
    assert response.content_type == MEDIA_TYPE
