"""What a circuit says where its battery or its generator is what fails."""

import pytest

from .circuit_parts import contact, load, wire
from .test_circuit_sources import BATTERY, DYNAMO, FULL, ask


def test_a_load_that_cannot_be_fed_is_answered_by_what_is_poor(run):
    """A worn battery of 0.05 ohm delivers 794 W, its voltage squared over 0.2 ohm."""
    answer = ask(run, [load("inverter", "post", "ground", power_w=1000)], battery={
        **BATTERY, "open_circuit_v": 12.6})  # fmt: skip
    assert (answer.weakest.code, answer.weakest.part) == ("battery_resistance", "battery")
    (check,) = [c for c in answer.checks if c.code == "operating_point"]
    assert check.verdict == "fail"
    assert "the battery, its clamps and the size of the cables" in check.message


@pytest.mark.parametrize(("joint_ohm", "leads"), [(0.5, "joint"), (0.02, "battery")])
def test_of_a_load_that_cannot_be_fed_the_joint_that_keeps_it_off_is_told(run, joint_ohm, leads):
    """By hand: the voltage squared over four times all ohms is the most that arrives.

    Over half an ohm that is 79 W of 100 W; over 0.05 of a worn battery and 0.02, 567 W of 1000 W.
    """
    battery = {**BATTERY, "open_circuit_v": 12.6} if leads == "battery" else FULL
    converter = load("converter", "far", "ground", power_w=1000 if leads == "battery" else 100)
    answer = ask(run, [converter], battery=battery, branches=[
        contact("joint", "post", "far", joint_ohm)])  # fmt: skip
    assert "operating_point" in {c.code for c in answer.checks}
    assert answer.weakest.part == leads
    assert ("resists" in {c.code for c in answer.checks}) == (leads == "joint")


@pytest.mark.parametrize(
    ("limit_a", "said"), [(0.5, "mend what charges it"), (8, "take a larger generator")]
)
def test_a_generator_that_gives_nothing_is_not_too_small(run, limit_a, said):
    """By hand 12.6 V over 1.2 ohm are 10.5 A, which the dynamo gives in part."""
    lamp = load("lamp", "post", "ground", resistance_ohm=1.2)
    answer = ask(run, [lamp], sources=[{**DYNAMO, "limit_a": limit_a}], battery=FULL)
    (check,) = [c for c in answer.checks if c.code == "drained"]
    assert said in check.message


def charging(run, *left_out, further=(), lamp_ohm=2.0):
    """A dynamo and a lamp at one stud, the battery behind its isolator."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
        "branches": [contact("isolator", "post", "stud", 0.0004, part="switch", rating_a=300),
                     contact("dynamo strap", "casing", "ground", 0.0004, part="ground")],
        "loads": [load("lamp", "stud", "ground", resistance_ohm=lamp_ohm)],
        "further_sources": [{**DYNAMO, "nodes": ["stud", "casing"]}, *further],
    }  # fmt: skip
    cases = [{"name": "driving", "without": [*left_out]}]
    answer = run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)
    return answer, [check for check in answer.checks if check.code == "no_battery"]


def test_a_battery_that_is_taken_off_while_it_is_charged_is_told(run):
    """From the trade: never open the isolator, nor take off a clamp, while the engine runs."""
    assert not charging(run)[1]
    answer, (check,) = charging(run, "isolator")
    assert (check.verdict, check.part) == ("fail", DYNAMO["name"])
    volts = DYNAMO["regulated_v"]
    assert check.value == pytest.approx(
        volts / (2.0 + 0.0004 + DYNAMO["internal_resistance_ohm"]), rel=1e-6
    )
    assert answer.weakest is not None
    assert answer.weakest.code == "no_battery"


def test_one_that_is_the_wrong_way_round_is_not_told_to_lack_one(run):
    turned = {**DYNAMO, "name": "turned", "nodes": ["ground", "stud"]}
    assert not [c for c in charging(run, further=[turned])[1] if c.part == "turned"]


def test_another_battery_beside_it_holds_its_voltage(run):
    second = {"name": "second", "kind": "battery", "nodes": ["stud", "ground"],
              "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}  # fmt: skip
    assert not charging(run, "isolator", further=[second])[1]


@pytest.mark.parametrize("left_out", [[DYNAMO["name"]], ["dynamo strap"]])
def test_a_dynamo_that_feeds_nothing_needs_no_battery(run, left_out):
    assert not charging(run, *left_out)[1]
    assert not charging(run, "isolator", lamp_ohm=1e5)[1]


@pytest.mark.parametrize(
    ("asks", "is_told"),
    [
        ({"power_w": 9000}, False),  # 12.6 V squared over 4 x 6 milliohm of the battery: 6615 W
        ({"power_w": 3000}, True),
        ({"current_a": 5000}, False),  # 2100 A into a dead short at its posts
        ({"current_a": 1000}, True),
    ],
)
def test_a_load_that_no_part_keeps_off_is_no_fault_of_a_wire(run, asks, is_told):
    """A sound wire of 25 milliohm: with none at all the battery gives no more than so much."""
    battery = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
    feed = wire("feed", "post", "far", "14 AWG", 3, insulation="GXL")
    answer = ask(run, [load("winch", "far", "ground", **asks)], battery=battery, branches=[feed])
    assert "operating_point" in {c.code for c in answer.checks}
    told = [c for c in answer.checks if c.code == "resists"]
    assert [c.part for c in told] == ["feed"] * is_told
    assert all("thicker" in c.message for c in told)
    assert is_told or "winch" in answer.headline.split(":")[0]
