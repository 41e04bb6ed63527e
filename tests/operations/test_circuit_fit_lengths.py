"""Wires whose lengths are about as given, read part by part: no part is blamed for a decimetre."""

import math

import pytest

from lastvolt_service.operations.meter.fit_request import CircuitFitRequest

from .test_circuit_fit import between, contact, estimate, post, volts
from .test_circuit_fit_parts import ring, verdicts

# Copper of IEC 28, 1/58 ohm mm2/m at 20 degC; 14 AWG has 2.081 mm2 by ASTM B258; two hundredths of
# lay.
METRE_OHM = 1.02 / 58 / 2.081
FEED_M, REAR_M, AMPS = 4.0, 6.0, 8.0


def harness(feed_m, rear_m, *, switch=0.04, more=0.0):
    """A harness of 4 m and 6 m, as it is thought, and what is read across each part of it at 8 A.

    `switch` is what the switch drops, `more` what the rear wire drops beside its length. [V]
    """
    drops = {
        "feed": AMPS * METRE_OHM * feed_m, "switch": switch,
        "rear": AMPS * METRE_OHM * rear_m + more, "strap": 0.02,
    }  # fmt: skip
    nodes = ["post", "key in", "key out", "live", "lug", "ground"]
    ends = {"feed": nodes[:2], "switch": nodes[1:3], "rear": nodes[2:4], "strap": nodes[4:]}
    load_v = 12.4 - sum(drops.values())
    body = ring(readings=[
        volts("post", "ground", 12.4),
        *(volts(*ends[name], round(drop_v, 3)) for name, drop_v in drops.items()),
        volts("live", "lug", round(load_v, 2)),
        {"case": "on", "through": "heater", "value_a": AMPS},
    ])  # fmt: skip
    wire = {"kind": "wire", "size": "14 AWG", "insulation": "GXL", "temperature_c": 20}
    body["circuit"]["branches"] = [
        {"name": "feed", "nodes": ends["feed"], "length_m": FEED_M, **wire},
        contact("switch", *ends["switch"], between(0.001, 1.0)),
        {"name": "rear", "nodes": ends["rear"], "length_m": REAR_M, **wire},
        contact("strap", *ends["strap"], between(0.0002, 0.5), "ground"),
    ]
    ohm = load_v / AMPS
    body["circuit"]["loads"][0]["resistance_ohm"] = between(0.8 * ohm, 1.2 * ohm)
    return body


@pytest.mark.parametrize(("feed_m", "rear_m"), [(4.0, 6.0), (4.25, 6.4), (3.75, 6.4), (3.7, 5.6)])
def test_no_wire_is_worn_and_no_reading_false_for_a_length(feed_m, rear_m) -> None:
    """A new wire drops by its length: 7 % more of it is no fault."""
    answer = post("circuit-fit", harness(feed_m, rear_m))
    assert answer["agreement"] == "agrees"
    assert not answer["faults"]
    assert set(verdicts(answer).values()) == {"pass"}


@pytest.mark.parametrize(("feed_m", "rear_m"), [(4.0, 6.0), (4.1, 6.15), (3.9, 5.85)])
def test_a_length_by_tape_makes_no_shunt_of_a_wire(feed_m, rear_m) -> None:
    """Of two wires, each a tenth off at most, volts tell 4 % of the amperes, and a clamp tells 1 %.

    By hand, as shares: 0.1 over root 3 and root 2 of the wires; 0.02 and 5.02 hundredths of 8 A
    over root 3 of the clamp; 0.005 over root 3 of the heater's volts. A pass of 2.5 % off all
    lengths is no reading's fault, and neither ohms nor amperes are told closer than that.
    """
    answer = post("circuit-fit", harness(feed_m, rear_m))
    assert answer["agreement"] == "agrees"
    root3 = math.sqrt(3.0)
    wires, clamp = 0.1 / root3 / math.sqrt(2.0), math.hypot(0.02, 0.0502 / AMPS) / root3
    share = math.hypot(1.0 / math.hypot(1.0 / wires, 1.0 / clamp), 0.005 / root3)
    found = estimate(answer, "loads/0/resistance_ohm")
    drops_v = AMPS * METRE_OHM * (feed_m + rear_m) + 0.04 + 0.02
    ohm = (12.4 - drops_v) / AMPS
    assert found["standard_uncertainty"] == pytest.approx(share * ohm, rel=0.03)
    assert found["low"] < ohm < found["high"]
    # And by the clamp the lengths are told closer than by the tape.
    for name, metres in (("branches/0/length_m", feed_m), ("branches/2/length_m", rear_m)):
        told = estimate(answer, name)
        assert told["determined"]
        assert told["low"] < metres < told["high"]


def test_a_length_that_no_reading_tells_stays_as_it_was_given() -> None:
    """Volts over a wire and a plug in a row, as of the example, say nothing of its metres."""
    answer = post("circuit-fit", CircuitFitRequest.example)
    back = {each["name"]: each.get("length_m") for each in answer["fitted"]["circuit"]["branches"]}
    given = {e["name"]: e.get("length_m") for e in CircuitFitRequest.example["circuit"]["branches"]}
    assert back == given
    assert len([each for each in given.values() if each]) == 2
    assert not any("length_m" in each["input"] for each in answer["estimates"])
    assert not any("length_m" in path for each in answer["confounded"] for path in each["inputs"])


def test_a_poor_switch_is_told_whatever_the_lengths_are() -> None:
    answer = post("circuit-fit", harness(4.25, 6.4, switch=0.9))
    assert answer["headline"].startswith("switch takes 0.9 V at")
    assert {k for k, each in verdicts(answer).items() if each == "fail"} == {"switch"}


def test_a_worn_wire_is_told_whatever_the_other_length_is() -> None:
    """A volt more than the 0.4 V of its length is no matter of its length."""
    answer = post("circuit-fit", harness(4.25, 6.0, more=1.0))
    assert [each["part"] for each in answer["faults"]] == ["rear"]
    assert answer["headline"].startswith("If all readings are right, rear takes")


@pytest.mark.parametrize(("feed_m", "rear_m", "worn"), [(5.6, 6.0, "feed"), (4.0, 8.4, "rear")])
def test_a_wire_that_drops_two_fifths_more_is_worn_and_no_longer(feed_m, rear_m, worn) -> None:
    """Nobody is off by two fifths of a harness: a tenth of its length may be, and no more."""
    answer = post("circuit-fit", harness(feed_m, rear_m))
    assert [each["part"] for each in answer["faults"]] == [worn]


def test_what_no_length_explains_is_a_contradiction() -> None:
    """0.9 V are read across a switch, and supply less load and the others leave 0.04 V for it.

    Any reading of that sum may be the false one.
    """
    body = harness(4.0, 6.0)
    body["readings"][2]["value_v"] = 0.9
    answer = post("circuit-fit", body)
    assert answer["agreement"] == "group_contradicts"
    assert 3 in answer["contradicts"]
    assert not answer["faults"]


def test_what_a_worn_wire_takes_is_not_laid_at_the_plug_beside_it() -> None:
    """1.45 V over both at 8 A: 0.18 ohm, of which a sound wire has 0.05: any may have the rest.

    The plug has 0.13 ohm at most, and maybe none: it was given as 1 milliohm to 1 ohm. A tenth of
    the wire's 0.05 ohm and 2 % of the amperes, both rectangular, are 0.007 ohm, 19 times of 20.
    """
    body = harness(4.0, 6.0, more=1.0)
    first, feed, plug, rear, *others = body["readings"]
    both = round(plug["value_v"] + rear["value_v"], 3)
    body["readings"] = [first, feed, volts("key in", "live", both), *others]
    answer = post("circuit-fit", body)
    assert [each["parts"] for each in answer["parts"] if each["verdict"] == "fail"] == [
        ["switch", "rear"]
    ]
    found = estimate(answer, "branches/1/resistance_ohm")
    assert (found["determined"], found["low"]) == (False, 0.001)
    assert found["high"] == pytest.approx(0.13 + 0.007, abs=0.003)
    assert "in rear instead" in found["message"]
    assert answer["fitted"]["circuit"]["branches"][1]["resistance_ohm"] == {
        "low": 0.001, "high": found["high"]
    }  # fmt: skip


def test_a_contact_that_is_better_than_its_least_is_no_fault_and_hides_none() -> None:
    """By hand at 10 A: 0.02 V are 2 milliohm, where 10 were given at least; the strap takes 1 V."""
    body = ring(readings=[
        volts("post", "ground", 12.42), volts("post", "live", 0.02),
        volts("live", "lug", 11.4), volts("lug", "ground", 1.0),
        {"case": "on", "through": "heater", "value_a": 10.0},
    ])  # fmt: skip
    body["circuit"]["branches"][0]["resistance_ohm"] = between(0.01, 0.3)
    body["circuit"]["loads"][0]["resistance_ohm"] = between(1.0, 1.3)
    answer = post("circuit-fit", body)
    assert answer["agreement"] == "agrees"
    assert (answer["faults"], answer["beyond"]) == ([], [])
    assert verdicts(answer) == {"strap": "fail", "switch": "pass"}
    assert answer["headline"].startswith("strap takes 1 V at 10 A")
    low, high = (estimate(answer, "branches/0/resistance_ohm")[end] for end in ("low", "high"))
    assert low < 0.002 < high < 0.01


def test_a_worn_cable_is_named_though_contacts_are_better_than_their_least() -> None:
    """By hand at 8 A: 8 mV are 1 milliohm, where 10 were given at least; the rear wire has 2 V."""
    body = harness(4.0, 6.0, switch=0.008, more=1.5)
    body["circuit"]["branches"][1]["resistance_ohm"] = between(0.01, 1.0)
    answer = post("circuit-fit", body)
    assert [each["part"] for each in answer["faults"]] == ["rear"]
    assert answer["headline"].startswith("If all readings are right, rear takes ")
    assert "resistance of switch" not in answer["headline"]


@pytest.mark.parametrize(("switch", "more", "first"), [(0.9, 0.4, "switch"), (0.3, 0.9, "If all")])
def test_what_costs_most_is_mended_first(switch, more, first) -> None:
    """A sound switch drops 0.1 V: 0.8 V too many beside 0.4 V more than the wire's, and 0.2 V."""
    answer = post("circuit-fit", harness(4.0, 6.0, switch=switch, more=more))
    assert [each["part"] for each in answer["faults"]] == ["rear"]
    assert answer["part_first"] == (first == "switch")
    assert answer["headline"].startswith(first)
    assert answer["headline"].count(f"switch takes {switch} V") == 1
    assert "rear takes " in answer["headline"]
