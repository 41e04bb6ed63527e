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


def fused(run, rating_a, size):
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    branches = [
        wire("charge wire", "out", "fused", size, 2, insulation="GXL"),
        contact("charge fuse", "fused", "post", 0.001, part="fuse", rating_a=rating_a),
    ]
    circuit = {
        "source": source, "branches": branches, "loads": [LAMP], "further_sources": [ALTERNATOR],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", "ambient_c": 40}])


@pytest.mark.parametrize(("size", "thin"), [("14 AWG", "charge wire"), ("4 AWG", None)])
def test_a_charge_fuse_that_opens_is_not_made_larger_before_its_wire(run, size, thin):
    """A fuse of 30 A opens at 55 A and sets nothing alight; 14 AWG bears some 38 A, 4 AWG more."""
    answer = fused(run, 30, size)
    (check,) = [c for c in answer.checks if c.code == "charger_fuse"]
    assert (check.part, check.verdict, check.value, check.limit) == ("charge fuse", "fail", 55, 30)
    assert check.detail == thin
    assert not check.is_harmful
    assert (answer.weakest.code, answer.weakest.part) == ("charger_fuse", "charge fuse")
    assert ("See to charge wire first" in answer.headline) == (thin is not None)
    # What lies behind it need bear no more than it lets through.
    assert not [c for c in answer.checks if c.code == "charger_current" and c.verdict == "fail"]


def test_a_charge_fuse_that_bears_the_charger_passes(run):
    (check,) = [c for c in fused(run, 80, "4 AWG").cases[0].checks if c.code == "charger_fuse"]
    assert check.verdict == "pass"


def test_an_ammeter_that_bears_less_than_the_charger_gives_is_no_wire(run):
    """It goes before it is larger: another that bears more."""
    ammeter = contact("ammeter", "am", "post", 0.002, part="terminal", rating_a=30)
    lead = wire("charge wire", "out", "am", "4 AWG", 2, insulation="GXL")
    found = {check.part: check for check in judged(run, [lead, ammeter], [])}
    assert (found["ammeter"].verdict, found["ammeter"].limit) == ("fail", 30)
    assert "larger" not in found["ammeter"].message


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


@pytest.mark.parametrize(("size", "verdict"), [("14 AWG", "fail"), ("6 AWG", "pass")])
@pytest.mark.parametrize("plugged", [[], ["alternator"]])
def test_a_charge_wire_is_behind_the_batterys_fuse_whatever_else_hangs_on_both(
    run, size, verdict, plugged
):
    """A chafe in it gets the battery's current, too, while the charger gives little.

    By the curve of `wire-heating` 14 AWG in GXL bears some 38 A, 6 AWG more than 100 A; no fuse
    opens at its rating.
    """
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    branches = [
        wire("charge wire", "out", "box", size, 2, insulation="GXL"),
        contact("main fuse", "box", "post", 0.001, part="fuse", rating_a=60),
        contact("lamp fuse", "box", "lamps", 0.003, part="fuse", rating_a=15),
        wire("lamp wire", "lamps", "lamp", "14 AWG", 2, insulation="GXL"),
    ]
    circuit = {
        "source": source, "branches": branches,
        "loads": [load("lamp", "lamp", "ground", resistance_ohm=2.5)],
        "further_sources": [{**ALTERNATOR, "limit_a": 25}],
    }  # fmt: skip
    cases = [{"name": "now", "ambient_c": 40, "without": plugged}]
    (now,) = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12).cases
    found = [c for c in now.checks if (c.code, c.part) == ("fuse_protection", "charge wire")]
    assert [check.verdict for check in found] == [verdict]
