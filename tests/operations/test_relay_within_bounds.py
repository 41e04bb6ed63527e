"""Advice that is not the same within all bounds of the inputs is none yet: measure first."""

import random

import pytest

from ..cost import spread
from .retrofit_circuits import headlamps, starter

AS_GOOD = {"insurance": "nothing_needed"}


def with_bounds(body, part, low, high):
    (branch,) = [each for each in body["circuit"]["branches"] if each["name"] == part]
    branch["resistance_ohm"] = {"low": low, "high": high}
    return body


def advice(run, body):
    found = run("relay-retrofit", **body).advice
    return AS_GOOD.get(found, found)


@pytest.mark.parametrize("part", ["switch", "lamp ground"])
def test_a_contact_that_nobody_measured_is_measured_and_not_gone_round(run, part):
    """At 3 milliohm nothing is needed, at 80 it is to be mended: at none is a relay right."""
    answer = run("relay-retrofit", **with_bounds(headlamps(), part, 0.003, 0.08))
    assert (answer.advice, answer.verdict) == ("find_out_first", "undecided")
    told = answer.reasons[0]
    assert (told.code, told.part) == ("measure", part)
    # By half more than the 0.1 V of a sound contact is no fault yet.
    assert f"the volts across {part}. With the load on, read them" in answer.headline
    assert "More than 0.15 V there want mending" in answer.headline


def test_what_the_load_needs_may_decide(run):
    body = headlamps(switch_ohm=0.02)
    body["circuit"]["loads"][0]["needed_v"] = {"low": 9.5, "high": 11.8}
    answer = run("relay-retrofit", **body)
    assert answer.advice == "find_out_first"
    assert "depends on the needed voltage of headlamps" in answer.headline
    assert "maker's sheet" in answer.headline


HOW = {
    "needed": ("loads", 0, "needed_v", 9.5, 11.8, "maker's sheet", "more than"),
    "rested": ("source", None, "open_circuit_v", 10.8, 12.7, "with nothing on", "less than"),
    "inside": (
        "source",
        None,
        "internal_resistance_ohm",
        0.005,
        0.2,
        "what the posts lose",
        "more",
    ),
    "length": ("branches", 0, "length_m", 1, 14, "along its way", "more than"),
}


@pytest.mark.parametrize("kind", HOW)
def test_what_is_to_be_measured_is_told_with_how_and_with_the_value_that_decides(run, kind):
    """Put in its place, that value leaves the load just the tenth that is kept in reserve."""
    among, place, field, low, high, how, side = HOW[kind]
    body = headlamps(switch_ohm=0.003 if kind == "rested" else 0.02)
    owner = body["circuit"][among] if place is None else body["circuit"][among][place]
    owner[field] = {"low": low, "high": high}
    answer = run("relay-retrofit", **body)
    told = answer.reasons[0]
    assert (answer.advice, told.code, told.check) == ("find_out_first", "measure", "advice")
    assert how in told.message
    assert side in told.message
    (limit,) = [number for name, number in told.values.items() if name.startswith("limit")]
    assert low < limit < high
    owner[field] = limit
    (case,) = run("relay-retrofit", **body).cases
    assert case.as_is.load_voltage_v == pytest.approx(1.1 * case.as_is.needed_v, rel=1e-3)


def test_where_much_is_open_what_reaches_the_load_is_read(run):
    """From the trade: a plunger on the bench last; volts at terminal 50 settle the whole way."""
    body = starter(length_m=9, zone_c=110, size="14 AWG")
    for branch in body["circuit"]["branches"]:
        if branch["kind"] == "wire":
            branch["length_m"] = {"low": 6, "high": 12}
    body["circuit"]["loads"][0]["rated"]["pull_in_v"] = {"low": 6.6, "high": 7.4}
    answer = run("relay-retrofit", **body)
    told = answer.reasons[0]
    assert (answer.advice, told.code, told.part) == (
        "find_out_first",
        "measure",
        "starter solenoid",
    )
    assert "depends on the volts at starter solenoid" in told.message
    # Cold it pulls in at 7.4 V at the most, and hot with the ohms of copper at 110 degC.
    assert told.values["limit_v"] == pytest.approx(7.4 * (1 + 0.00393 * 90), rel=0.01)


@pytest.mark.parametrize("seed", spread(range(12), 3))
def test_advice_holds_all_over_the_box_that_it_is_given_for(run, seed):
    """Drawn boxes: at drawn points of each the advice is the same, or it was to find out."""
    draw = random.Random(seed)
    body = headlamps() if seed % 2 else starter()
    parts = [b["name"] for b in body["circuit"]["branches"] if "resistance_ohm" in b]
    boxes = {}
    for name in draw.sample(parts, 2):
        low = 10 ** draw.uniform(-3, -1.3)
        boxes[name] = low, low * 10 ** draw.uniform(0.1, 1.0)
        with_bounds(body, name, *boxes[name])
    told = advice(run, body)
    if told in {"find_out_first", "not_the_wiring"}:
        return
    for _ in range(8):
        for name, (low, high) in boxes.items():
            (branch,) = [each for each in body["circuit"]["branches"] if each["name"] == name]
            branch["resistance_ohm"] = draw.uniform(low, high)
        assert advice(run, body) == told
