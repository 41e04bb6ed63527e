"""A chafe that blows no fuse and burns, and a battery given as ideal.

From the trade: a wire that rubs through on the frame by a few ohm takes some amperes, less than
its fuse, and makes tens of watts in one spot: insulation chars and catches.
"""

import pytest
from numpy.testing import assert_allclose

from .circuit_parts import contact, load, resistance, wire
from .retrofit_circuits import headlamps
from .test_letting_go import RELAY
from .test_start_sequence import ask as start


def lamps(run, *more):
    branches = [
        contact("fuse", "post", "fused", 0.002, part="fuse", rating_a=15, fuse_family="blade C"),
        wire("feed", "fused", "in", "14 AWG", 2, insulation="GXL"),
        contact("switch", "in", "out", 0.005, part="switch", rating_a=20),
        wire("wire", "out", "lamp", "14 AWG", 3, insulation="GXL"), *more,
    ]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": branches,
        "loads": [load("lamps", "lamp", "ground", resistance_ohm=2.8) | {"needed_v": 11}],
    }
    return run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)


@pytest.mark.parametrize(
    ("ohm", "at", "verdict"),
    [
        (3.0, "out", "undecided"),  # 4.1 A, 50 W, behind the switch
        (3.0, "fused", "undecided"),  # before it: all night long
        (15.0, "out", "undecided"),  # 10 W
        (1.5, "out", "fail"),  # 95 W
    ],
)
def test_a_chafe_is_told_as_what_may_catch_fire(run, ohm, at, verdict):
    answer = lamps(run, resistance("chafe", at, "ground", ohm))
    (check,) = [c for c in answer.checks if c.code == "short"]
    assert (check.part, check.verdict) == ("chafe", verdict)
    assert_allclose(check.value, 12.3 / ohm, rtol=3e-2)
    assert answer.weakest == check
    assert "fire" in answer.headline or "alight" in answer.headline


@pytest.mark.parametrize("ohm", [0.01, 0.02, 0.3])
def test_of_a_dead_short_nothing_is_told_after_it(run, ohm):
    """It takes nine tenths of the current: no fuse is too small, and no contact poor, for that.

    Every sentence about a wire that heats up behind the fuse is whole, and asks for no larger one.
    """
    answer = lamps(run, resistance("chafe", "lamp", "ground", ohm))
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")
    assert answer.starves is None
    assert "After that" not in answer.headline
    heated = [
        c for c in answer.checks
        if c.code in {"conductor_temperature", "permissible_current"} and c.verdict == "fail"
    ]  # fmt: skip
    assert bool(heated) == (ohm < 0.1)
    assert all(c.message.endswith("fuse opens by it.") for c in heated)
    assert not any("take a larger size" in c.message for c in heated)


@pytest.mark.parametrize("ohm", [200.0, 2000.0])
def test_a_pilot_or_a_sense_lead_is_none(run, ohm):
    """12.4 V over 200 ohm are .8 W."""
    answer = lamps(run, resistance("sense lead", "out", "ground", ohm))
    assert "short" not in {c.code for c in answer.checks}


@pytest.mark.parametrize("ohm", [0.0001, 0.00001])
def test_an_ideal_battery_asks_no_more_of_a_motor_than_a_sound_one(run, ohm):
    """Half of (12.6 - 5) V over the motor's 0.02 ohm turn an engine: 190 A, and no thousands."""
    source = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": ohm}
    (check,) = [c for c in start(run, source=source).checks if c.code == "motor_current"]
    assert check.verdict == "pass"
    assert check.limit < 250


@pytest.mark.parametrize("grounded", ["minus", "plus"])
@pytest.mark.parametrize("is_right", [True, False])
@pytest.mark.parametrize("at", ["lamp", "D", "post"])
@pytest.mark.parametrize("ohm", [None, 0.005, 0.02, 0.2])
def test_a_chafe_turns_no_dynamo_round(run, grounded, is_right, at, ohm):
    """It joins both sides: who turns the dynamo for that errs, or the dynamo's cable is the short.

    The dynamo's posts are those of the battery: plus on plus, unless it is the one that is wrong.
    """
    ends = ("post", "ground") if grounded == "minus" else ("ground", "post")
    posts = ("D", "frame") if grounded == "minus" else ("frame", "D")
    dynamo = {"name": "dynamo", "kind": "charger", "nodes": posts if is_right else posts[::-1],
              "regulated_v": 14.0, "internal_resistance_ohm": 0.03, "limit_a": 22}  # fmt: skip
    circuit = {
        "source": {"plus": ends[0], "minus": ends[1], "open_circuit_v": 12.6,
                   "internal_resistance_ohm": 0.006},
        "branches": [
            wire("dynamo cable", "D", "post", "8 AWG", 1, insulation="GXL"),
            contact("strap", "frame", "ground", 0.001, part="ground"),
            contact("switch", "post", "lamp", 0.005, part="switch", rating_a=20),
            *([resistance("chafe", at, "ground", ohm)] if ohm else []),
        ],
        "loads": [load("lamp", "lamp", "ground", resistance_ohm=3.0)],
        "further_sources": [dynamo],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)
    poor = {c.part for c in answer.checks
            if c.verdict == "fail" and c.code in {"short", "source_voltage"}}  # fmt: skip
    assert poor == ({"chafe"} if ohm else set()) | (set() if is_right else {"dynamo"})
    assert not [c for c in answer.checks if c.code == "charger_current" and c.verdict == "fail"]
    if not is_right:
        assert answer.weakest.part == "dynamo"


def test_what_a_turned_dynamo_leads_on_to_is_the_chafe(run):
    """The lamps are dark for it, and no fuse nor cable is to blame."""
    dynamo = {"name": "dynamo", "kind": "charger", "nodes": ["ground", "post"],
              "regulated_v": 14.0, "internal_resistance_ohm": 0.03, "limit_a": 22}  # fmt: skip
    fuse = contact("fuse", "post", "fed", 0.002, part="fuse", rating_a=30, fuse_family="blade C")
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [fuse, resistance("chafe", "fed", "ground", 0.02)],
        "loads": [{**load("lamp", "fed", "ground", resistance_ohm=3.0), "needed_v": 11}],
        "further_sources": [dynamo],
    }
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)
    assert (answer.weakest.part, answer.starves.part) == ("dynamo", "chafe")


def test_a_weld_is_told_and_not_the_wires_before_and_behind_it(run):
    """A rest contact that has welded, given as ohms beside a relay that is in."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [
            contact("switch", "post", "86", 0.005, part="switch", rating_a=5),
            wire("feed", "post", "87", "10 AWG", 0.5, insulation="GXL"),
            wire("rest", "87a", "ground", "10 AWG", 0.5, insulation="GXL"),
            resistance("weld", "30", "87a", 0.001),
        ],
        "relays": [{**RELAY, "pick_up_v": 3.0, "coil_nodes": ["86", "ground"],
                    "contact_nodes": ["30", "87"], "break_nodes": ["30", "87a"]}],
        "loads": [load("motor", "30", "ground", resistance_ohm=1.0)],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)
    assert {c.part for c in answer.checks if c.code == "short"} == {"weld"}


def chafed(run, chafe, family="blade C"):
    """A lamp behind a fuse, the battery and a dynamo each by a cable at the fuse's stud."""
    dynamo = {"name": "dynamo", "kind": "charger", "nodes": ["D+", "ground"], "regulated_v": 14.0,
              "internal_resistance_ohm": 0.03, "limit_a": 22}  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [
            wire("battery cable", "post", "stud", "2 AWG", 1, insulation="SGX"),
            wire("dynamo cable", "D+", "stud", "6 AWG", 1, insulation="SGX"),
            wire("to the fuse", "stud", "fuse", "12 AWG", 0.5, insulation="GXL"),
            contact("fuse", "fuse", "fed", 0.002, part="fuse", rating_a=30, fuse_family=family),
            contact("switch", "fed", "lamp", 0.004, part="switch", rating_a=30), chafe,
        ],
        "loads": [load("lamp", "lamp", "ground", resistance_ohm=3.0)],
        "further_sources": [dynamo],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)


@pytest.mark.parametrize("family", ["blade C", "bolt-in SF30"])
@pytest.mark.parametrize(
    "chafe",
    [
        resistance("chafe", "lamp", "ground", 0.02),
        wire("chafe", "lamp", "ground", "12 AWG", 0.1, insulation="GXL"),
    ],
)
def test_a_chafe_is_told_first_and_neither_the_cables_nor_a_larger_wire(run, chafe, family):
    """Of SF30 nobody here knows when it opens: the wires before it burn, by the chafe alone.

    Without the dynamo's cable all loads are fed as well, and the battery's burn on.
    """
    answer = chafed(run, chafe, family)
    shorts = {c.part for c in answer.checks if c.code == "short" and c.verdict == "fail"}
    assert shorts == {"chafe"}
    assert (answer.weakest.code, answer.weakest.part) == ("short", "chafe")


@pytest.mark.parametrize("ohm", [0.005, 0.03, 0.2])
@pytest.mark.parametrize("left_out", [[], ["start contact"]])
def test_a_ballast_before_a_chafe_is_none(run, ohm, left_out):
    """It takes most of what its source has, and its coil has nothing without it while it runs."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [
            contact("ignition", "post", "15", 0.01, part="switch", rating_a=15),
            resistance("ballast", "15", "coil", 1.4),
            contact("start contact", "post", "coil", 0.01, part="switch", rating_a=15),
            resistance("chafe", "coil", "ground", ohm),
        ],
        "loads": [{**load("coil", "coil", "ground", resistance_ohm=1.5), "needed_v": 5.5}],
    }  # fmt: skip
    case = {"name": "run", "without": left_out}
    answer = run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)
    assert {c.part for c in answer.checks if c.code == "short"} == {"chafe"}


@pytest.mark.parametrize("ohm", [0.05, 0.3, 2.0])
@pytest.mark.parametrize("part_ohm", [0.002, 0.1])
def test_a_chafe_is_the_first_that_is_said_in_a_decision(run, ohm, part_ohm):
    """From the trade: what rubs through is taken out before anything is bought or called enough."""
    body = headlamps(switch_ohm=part_ohm)
    body["circuit"]["branches"].append(resistance("chafe", body["circuit"]["source"]["plus"],
                                                  "ground", ohm))  # fmt: skip
    body["circuit"]["branches"].reverse()
    answer = run("relay-retrofit", **body)
    assert (answer.burns.code, answer.burns.part) == ("short", "chafe")
    assert answer.headline.startswith("First: in a drive, chafe: it joins the live side")
    untrue = ("nothing is short", "Insurance", "No relay needed", "enough reaches", "Fit the relay",
              "nothing suffices", "Whatever else")  # fmt: skip
    assert not [each for each in untrue if each in answer.headline]
