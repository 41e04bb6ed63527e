"""What a charger can push into a flat battery, whatever else hangs at its post."""

import copy

import pytest

from .circuit_parts import contact, load, resistance, wire
from .retrofit_circuits import headlamps

ALTERNATOR = {
    "name": "alternator", "kind": "charger", "nodes": ["out", "ground"], "regulated_v": 14.2,
    "internal_resistance_ohm": 0.02, "limit_a": 55,
}  # fmt: skip
CHARGE_WIRE = wire("charge wire", "out", "post", "14 AWG", 2, insulation="GXL")
LAMP = load("lamp", "post", "ground", resistance_ohm=1.5)
SPOTS = load("spots", "spots", "ground", resistance_ohm=1.4)


def judged(run, branches, loads):
    """Checks of what the alternator gives, beside a lamp at the battery's post."""
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    circuit = {
        "source": source, "branches": branches, "loads": [LAMP, *loads],
        "further_sources": [ALTERNATOR],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])
    return [check for check in answer.checks if check.code == "charger_current"]


def spots_switch(ohm):
    return contact("spots switch", "out", "spots", ohm, part="switch")


@pytest.mark.parametrize(
    ("branches", "loads"),
    [
        ([], []),
        ([], [load("pilot", "out", "ground", resistance_ohm=150)]),
        ([resistance("sense lead", "out", "ground", 150)], []),
        ([spots_switch(900)], [SPOTS]),
        ([spots_switch(0.005)], [SPOTS]),
    ],
)
def test_a_charge_wire_is_judged_whatever_else_hangs_at_the_charger(run, branches, loads):
    """By the curve of `wire-heating`, 14 AWG bears some 38 A; 55 A go into a flat battery."""
    (check,) = judged(run, [CHARGE_WIRE, *branches], loads)
    assert (check.part, check.verdict, check.value) == ("charge wire", "fail", 55)


def test_neither_of_two_charge_wires_side_by_side_must_bear_it_alone(run):
    second = {**CHARGE_WIRE, "name": "second wire"}
    assert not judged(run, [CHARGE_WIRE, second], [])


@pytest.mark.parametrize("feed_node", ["out", "post"])
@pytest.mark.parametrize("switch_ohm", [0.003, 0.08])
def test_a_charge_wire_that_may_burn_is_told_whatever_is_advised(run, feed_node, switch_ohm):
    """Neither a relay nor a clean switch changes what it carries into a flat battery."""
    body = copy.deepcopy(headlamps(switch_ohm=switch_ohm))
    body["circuit"]["branches"].append(CHARGE_WIRE)
    body["circuit"]["further_sources"] = [ALTERNATOR]
    body["proposal"]["feed_node"] = feed_node
    answer = run("relay-retrofit", **body)
    assert "Whatever else is done: " in answer.headline
    assert "charge wire: alternator gives up to 55 A" in answer.headline
    assert "fit the relay: in a drive, charge wire" not in answer.headline.lower()
    works = {way.code: way.works for way in answer.ways}
    assert works["mend" if switch_ohm > 0.01 else "as_is"]
