"""Wires of a circuit of which nobody says what covers them: what is sure whatever that may be.

Common practice: 18 AWG is good for some 10 to 24 A, in the best of insulation, alone in cool air;
voltage-drop and drop-diagnosis say so of the same wire.
"""

import copy

import pytest

from .circuit_parts import SOURCE, contact, load, resistance, wire
from .retrofit_circuits import headlamps

THIN = wire("heater wire", "post", "heater", "18 AWG", 0.5)


def heated(run, heater_ohm, *, heater_wire=THIN, branches=(), loads=(), **case):
    """A heater on a thin wire: by hand, 12.6 V over the sum of the resistances."""
    heater = load("heater", "heater", "ground", resistance_ohm=heater_ohm)
    circuit = {"source": SOURCE, "branches": [heater_wire, *branches], "loads": [heater, *loads]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", **case}])


def heat_of(answer, part="heater wire"):
    found = [c for c in answer.checks if c.code == "wires_heat"]
    return {c.verdict for c in found if part in {c.part, *(c.detail or "").split(", ")}}


@pytest.mark.parametrize("heater_wire", [THIN, {**THIN, "temperature_c": 40}])
def test_a_wire_that_no_insulation_bears_burns(run, heater_wire):
    """12.6 V over 0.3 ohm, 4 milliohm of the battery and 12 to 25 of half a metre, cold or hot.

    The same with a temperature that somebody read before.
    """
    answer = heated(run, 0.3, heater_wire=heater_wire)
    assert (answer.verdict, answer.weakest.part) == ("fail", "heater wire")
    assert 12.6 / 0.329 < answer.weakest.value < 12.6 / 0.314
    assert answer.weakest.limit == pytest.approx(24, abs=3)
    assert "even alone in cool air" in answer.headline


def test_it_leads_over_a_worn_switch(run):
    switch = contact("lamp switch", "post", "lamp", 0.1, part="switch")
    lamp = {**load("lamp", "lamp", "ground", resistance_ohm=1.4), "needed_v": 11}
    answer = heated(run, 0.3, branches=[switch], loads=[lamp])
    assert answer.weakest.part == "heater wire"


@pytest.mark.parametrize(("heater_ohm", "case"), [(0.9, {}), (0.3, {"duration_s": 1})])
def test_what_some_insulation_bears_is_left_open(run, heater_ohm, case):
    """14 A; and 40 A for a second."""
    assert heat_of(heated(run, heater_ohm, **case)) == {"unknown"}


def test_insulation_that_bears_more_than_most_is_believed(run):
    """24.5 A: by the published table 18 AWG bears 25 A from 150 degC on, and 24 of 125 degC."""
    silicone = {**THIN, "temperature_c": 40, "insulation_limit_c": 200}
    assert heat_of(heated(run, 0.499, heater_wire=silicone)) == {"unknown"}
    assert heat_of(heated(run, 0.499, heater_wire={**THIN, "temperature_c": 40})) == {"fail"}


def test_what_lacks_is_asked_for(run):
    (missing,) = [n for n in heated(run, 0.9).not_judged if n.code == "wires_heat"]
    assert "as a wire" not in missing.message
    assert "insulation" in missing.message
    lead = resistance("lead", "post", "lamp", 0.01)
    lamp = load("lamp", "lamp", "ground", resistance_ohm=1.4)
    answer = heated(run, 0.9, branches=[lead], loads=[lamp])
    told = [n.message for n in answer.not_judged if n.code.endswith("s_heat")]
    assert sorted("as a wire" in each for each in told) == [False, True]
    assert all(("lead " in each) == ("as a wire" in each) for each in told)


def test_whatever_is_advised_it_is_told(run):
    body = copy.deepcopy(headlamps(switch_ohm=0.1))
    body["circuit"]["branches"].append(THIN)
    body["circuit"]["loads"].append(load("heater", "heater", "ground", resistance_ohm=0.3))
    answer = run("relay-retrofit", **body)
    assert "Whatever else is done: in a drive, heater wire carries" in answer.headline


def test_a_charge_wire_that_no_insulation_saves_is_told(run):
    charger = {
        "name": "alternator", "kind": "charger", "nodes": ["out", "ground"], "regulated_v": 14.2,
        "internal_resistance_ohm": 0.02, "limit_a": 55,
    }  # fmt: skip
    lamp = load("lamp", "post", "ground", resistance_ohm=2)
    circuit = {"source": SOURCE, "loads": [lamp], "further_sources": [charger]}
    circuit["branches"] = [wire("charge wire", "out", "post", "18 AWG", 2)]
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    (check,) = [c for c in answer.checks if c.code == "charger_current"]
    assert (check.part, check.verdict) == ("charge wire", "fail")


def chafed(run, ohm, *, behind="post"):
    """Headlamps with 0.5 V to spare, and what joins the live side to the ground beside them."""
    branches = [
        contact("lamp fuse", "post", "lamp", 0.003, part="fuse", rating_a=15),
        resistance("chafe", behind, "ground", ohm),
    ]
    lamp = {**load("lamp", "lamp", "ground", resistance_ohm=1.6), "needed_v": 10.8}
    circuit = {"source": SOURCE, "branches": branches, "loads": [lamp]}
    return run("circuit-check", circuit=circuit, cases=[{"name": "now"}])


@pytest.mark.parametrize(
    # By hand 12.6 V over the resistance and the battery's 4 milliohm: 2.7 kW, 500 W, 155 W.
    ("ohm", "amps"), [(0.05, 233), (0.3, 41), (1, 12.5)],
)  # fmt: skip
def test_a_short_that_is_given_as_ohms_is_one(run, ohm, amps):
    answer = chafed(run, ohm)
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")
    assert answer.weakest.value == pytest.approx(amps, rel=0.05)
    assert "take it out" in answer.headline
    assert "give it as a load" in answer.headline
    assert "chafe" not in {n.part for n in answer.not_judged}
    assert not [n for n in answer.not_judged if n.code == "ohms_heat"]


@pytest.mark.parametrize(
    ("ohm", "verdicts"), [(4, {"undecided"}), (24, {"undecided"}), (150, set())]
)
def test_a_lamp_or_a_sense_lead_is_no_sure_short(run, ohm, verdicts):
    """38 and 6.6 W may be a lamp that somebody gave as ohms, or set alight; 1 W is a sense lead."""
    assert {c.verdict for c in chafed(run, ohm).checks if c.code == "short"} == verdicts


def test_a_ballast_before_its_coil_is_no_short(run):
    ballast = resistance("ballast", "post", "coil", 1.5)
    coil = load("coil", "coil", "ground", resistance_ohm=1.5)
    circuit = {"source": SOURCE, "branches": [ballast], "loads": [coil]}
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "now"}])
    assert "short" not in {c.code for c in answer.checks}
