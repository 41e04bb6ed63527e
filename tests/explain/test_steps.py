"""Answers redone from their steps alone."""

import json
import math
from contextlib import suppress

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lastvolt_service.api.answers import to_json
from lastvolt_service.errors import CalculationError
from lastvolt_service.units import UNITS, unit_of

from .calculator import redo
from .headlines import headlines
from .requests import POSTED, VARIED, example

# Followed step by step in time, which no few formulas verify.
IN_TIME = {"temperature_after_on_time_c", "duty_current_a"}
SYMBOLS = {unit.symbol for unit in UNITS} | {"m/s2", "cmil", "N/A2", "W/(m2*K4)"}
# A path of as many parts as a request may have, all different, is the longest there is.
MOST_BYTES = 400_000


def explained(name, body):
    operation = POSTED[name]
    arguments = operation.arguments(body)
    answer = operation.compute(arguments)
    steps = operation.steps(arguments, answer)
    return json.loads(to_json(answer)), json.loads(to_json(steps))


def hold(name, body):
    answer, steps = explained(name, body)
    known = redo(steps)
    for symbol, value in headlines(name, answer).items():
        # Where terms cancel, what is left is rounded as they are: `redo` has held it so.
        near = math.isclose(known[symbol], value, rel_tol=1e-9)
        step = next(each for each in steps if each["symbol"] == symbol)
        assert near or (step["value"] == value and "-" in (step["formula"] or "")), symbol
    for place, step in enumerate(steps):
        check_step(step)
        if "_left_" in step["symbol"]:
            # The solver closes its balances within 1e-10 of what goes through them.
            most = max(abs(value) for value in step["inputs"].values())
            assert abs(step["value"]) <= 1e-8 * most + 1e-12, step["symbol"]
        if step["kind"] == "solved" and step["symbol"] not in IN_TIME:
            later = [each["inputs"] for each in steps[place + 1 :]]
            used = any(step["symbol"] in inputs for inputs in later)
            assert used or step["symbol"].endswith(("coil_v", "pick_up_v", "load_current_a"))
    return answer, steps


def check_step(step):
    unit = unit_of(step["symbol"])
    assert unit is None or step["unit"] == unit.symbol, step["symbol"]
    assert step["unit"] in SYMBOLS | {"1"}
    assert step["meaning"]
    assert step["source"]
    assert (step["formula"] is None) == (step["kind"] != "computed")
    assert step["formula"] is not None or not step["inputs"]


def test_every_operation_is_explained():
    assert POSTED.keys() == VARIED.keys()


@pytest.mark.parametrize("name", POSTED)
def test_the_worked_example_is_redone(name):
    hold(name, example(name))


@pytest.mark.parametrize("name", [name for name in POSTED if name != "relay-retrofit"])
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_answer_is_redone(name, data):
    body = data.draw(VARIED[name])
    with suppress(CalculationError):  # it has no answer to explain
        hold(name, body)


@settings(max_examples=3, deadline=None, suppress_health_check=list(HealthCheck))
@given(VARIED["relay-retrofit"])
def test_any_retrofit_is_redone(body):
    hold("relay-retrofit", body)


def test_a_wrong_number_is_found():
    _, steps = explained("wire-resistance", example("wire-resistance"))
    (alpha,) = (step for step in steps if step["symbol"] == "temperature_coefficient_per_k")
    alpha["value"] *= 1.001
    with pytest.raises(AssertionError, match="resistance_ohm_per_m"):
        redo(steps)


def test_a_heated_path_shows_the_heat_balance():
    wire = {
        "name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 5, "ambient_c": 60,
        "insulation": "GXL",
    }  # fmt: skip
    body = example("voltage-drop", segments=[wire], load_resistance_ohm=None, load_current_a=25)
    answer, steps = hold("voltage-drop", body)
    values = {step["symbol"]: step["value"] for step in steps}
    kinds = {step["symbol"]: step["kind"] for step in steps}
    assert kinds["segment_1_temperature_c"] == "solved"
    made, lost = (values[f"segment_1_heat_{way}_w_per_m"] for way in ("in", "out"))
    assert made == pytest.approx(lost, rel=1e-8)
    assert made * 5 == pytest.approx(answer["segments"][0]["power_w"], rel=1e-9)


def test_a_size_shows_why_the_next_smaller_fails():
    answer, steps = hold("wire-sizing", example("wire-sizing"))
    short = [step for step in steps if step["symbol"].startswith("smaller_short_of_")]
    failing = answer["candidates"][-2]["failing"]
    assert len(short) == len(failing) > 0
    assert all(step["value"] > 0 for step in short)


def test_no_size_is_explained_by_the_largest():
    answer, steps = hold("wire-sizing", example("wire-sizing", load_current_a=2000))
    assert answer["size"] is None
    assert any(step["symbol"] == "largest_permissible_current_a" for step in steps)


@pytest.mark.parametrize("name", ["circuit-check", "relay-retrofit"])
def test_a_steady_circuit_shows_its_laws_and_heat(name):
    body = example(name)
    for case in body["cases"]:
        del case["duration_s"]
    _, steps = hold(name, body)
    left = [step["symbol"] for step in steps if "_left_" in step["symbol"]]
    for wanted in ("voltage_left_v", "node_2_left_a", "heat_left_w_per_m"):
        assert any(symbol.endswith(wanted) for symbol in left)


def test_the_longest_explanation_is_bounded():
    segments = [
        {"name": str(n), "kind": "wire", "size": f"{n % 20 + 5} AWG", "length_m": 0.01,
         "ambient_c": 20, "material": ("copper", "aluminium")[n % 2]}
        for n in range(100)
    ]  # fmt: skip
    _, steps = hold("voltage-drop", example("voltage-drop", segments=segments))
    assert len(to_json(steps)) < MOST_BYTES
    reading = {"kind": "contact", "part": "switch", "measured_v": 0.1}
    readings = [{**reading, "name": str(n)} for n in range(100)]
    _, steps = hold("drop-diagnosis", example("drop-diagnosis", readings=readings))
    assert len(to_json(steps)) < MOST_BYTES
    positions = [f"position {n}" for n in range(10)]
    loads = [{"name": str(n), "current_a": 1 + n, "positions": positions} for n in range(50)]
    _, steps = hold("switch-loading", example("switch-loading", loads=loads, supply_v=None))
    assert len(to_json(steps)) < MOST_BYTES
