"""What failed, got worse or runs on after a way was built: named, and never a false reading.

Readings and truth come from `proofs_drawn`, solved by Ohm's and Kirchhoff's laws without the fit.
"""

from dataclasses import replace

import numpy as np
import pytest

from .measured_vehicles import Point
from .proofs_drawn import (
    BLOWN,
    CONTACTS,
    DEAD,
    EMF,
    NEEDED_V,
    NODE,
    OPEN_COIL,
    asked,
    points,
    request,
    shown,
    solved,
    true_gain_v,
)
from .test_circuit_fit import post, volts
from .test_gain_proof import BEFORE, SOUND, question

AT_LOAD = (NODE["load"], "block")
CLEAN = {"name": "clean", "sound": ["switch"]}


def looks(answer):
    return {each["code"]: each for each in answer["look_at"]}


def checks(answer):
    return {each["code"]: each["verdict"] for each in answer["checks"]}


def read(before, after, where=None, way=None, seed=1):
    """A request with the readings that these two starts show."""
    first, then = points()
    then = where or (then if after.built else first)
    random = np.random.default_rng(seed)
    sides = [(before, first), (after, then)]
    body = request() | {
        name: [each.asked(value) for each, value in zip(side[1], values, strict=True)]
        for name, side, values in zip(("before", "after"), sides, shown(random, sides), strict=True)
    }
    return body if way is None else body | {"way": way}


def holds(answer, before, after):
    """Whether the gain that is told, and the case that was read, are those with the fault."""
    gain, true_v = answer["gain"], true_gain_v(before, after)
    key = next(each for each in answer["by_case"] if each["case"] == "key")
    once = replace(after, emf_v=before.emf_v, internal_ohm=before.internal_ohm)
    slack = 0.01  # the last digit that the meter shows
    return (
        gain["low_v"] - slack <= true_v <= gain["high_v"] + slack
        and key["after_low_v"] - slack <= once.load_v <= key["after_high_v"] + slack
    )


@pytest.mark.parametrize(
    ("fault", "through"),
    [
        ("", False),
        ("", True),
        ("old_wire_left_on", False),
        pytest.param("old_wire_left_on", True, marks=pytest.mark.long),
    ],
)
def test_a_load_that_is_live_with_its_switch_off_is_the_finding(fault, through) -> None:
    """A welded contact, or a relay that an old wire holds: by volts across it or a clamp."""
    body, _, after = asked(0, fault)
    point = Point("off", through="start") if through else Point("off", AT_LOAD)
    body["after"].append(point.asked(round(replace(after, runs_on=True).ideal(point), 2)))
    answer = post("gain-proof", body)
    first = answer["look_at"][0]
    assert (first["code"], first["readings"]) == ("live_off_relay", [9])
    assert "battery's ground off" in answer["headline"]
    assert not any("closes" in each["message"] for each in answer["look_at"])
    assert checks(answer)["switches_off"] == "fail"
    assert answer["proof"] != "proven"
    assert 9 not in answer["contradicts_after"]
    assert [9] not in [each["readings"] for each in answer["look_at"][1:]]
    assert ("old_wire_left_on" in looks(answer)) == bool(fault)


def test_nothing_proves_what_runs_on_even_where_nothing_else_was_read() -> None:
    body, *_ = asked(0)
    body["after"] = [Point("off", AT_LOAD).asked(12.1)]
    answer = post("gain-proof", body)
    assert answer["look_at"][0]["code"] == "live_off_relay"
    assert answer["proof"] != "proven"


def test_a_load_that_was_read_dead_is_said_to_go_off() -> None:
    body, *_ = asked(0)
    assert checks(post("gain-proof", body))["switches_off"] == "unknown"
    body["after"].append(Point("off", AT_LOAD).asked(0.0))
    answer = post("gain-proof", body)
    assert (answer["proof"], checks(answer)["switches_off"]) == ("proven", "pass")


def test_a_lamp_without_a_relay_that_is_live_with_its_switch_off() -> None:
    body = question(BEFORE, [*SOUND, volts("live", "ground", 10.9, "off")])
    body["cases"].append({"name": "off", "without": ["switch"]})
    answer = post("gain-proof", body)
    first = answer["look_at"][0]
    assert (first["code"], first["readings"]) == ("live_off", [3])
    assert "relay" not in first["message"]


@pytest.mark.parametrize(
    ("fault", "code", "part"),
    [
        (BLOWN, "fuse_open", "relay fuse"),
        (DEAD, "relay_stays_out", "start"),
        pytest.param(OPEN_COIL, "coil_open", "start", marks=pytest.mark.long),
    ],
)
def test_what_fails_outright_is_named_and_worse(fault, code, part) -> None:
    """The load gets nothing: a blown fuse has the battery across it, an open coil no ampere."""
    body, before, after = asked(0, fault)
    answer = post("gain-proof", body)
    assert answer["proof"] == "worse"
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == (code, part)
    assert part in answer["headline"]
    assert answer["contradicts_after"] == []
    assert not any(each.startswith("untold") for each in looks(answer))
    assert holds(answer, before, after)


@pytest.mark.long
def test_a_dead_load_alone_may_be_the_fuse_or_the_relay() -> None:
    """Both go with 0 V at the load: the commonest comes first, the other is not left out."""
    body, _, after = asked(0, BLOWN)
    body["after"] = body["after"][:3]
    assert abs(after.load_v) < 1e-6
    answer = post("gain-proof", body)
    assert answer["proof"] == "worse"
    assert [each["code"] for each in answer["look_at"]][:2] == ["fuse_open", "relay_stays_out"]


@pytest.mark.parametrize(
    ("ohm", "way", "proof"),
    [
        pytest.param(0.15, None, "less_than_promised", marks=pytest.mark.long),
        (0.4, CLEAN, "worse"),
    ],
)
def test_a_part_that_got_worse_meanwhile_is_named(ohm, way, proof) -> None:
    """The strap was loosened: 0.15 ohm in place of 0.03 at most, before a sound relay or switch."""
    _, before, after = asked(3)
    ohms = dict.fromkeys(CONTACTS, 0.01) | {"switch": 0.3, "connector": 0.1, "strap": 0.02}
    before = replace(before, ohm=before.ohm | ohms)
    loose = before.ohm | {"strap": ohm}
    if way is None:
        after = replace(after, ohm=loose)
    else:
        after = replace(before, ohm=loose | {"switch": 0.01})
    answer = post("gain-proof", read(before, after, way=way))
    assert answer["proof"] == proof
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == ("got_worse", "strap")
    assert (8 if way is None else 6) in first["readings"]  # the volts across it
    assert "strap" in answer["headline"]
    assert holds(answer, before, after)


@pytest.mark.long
def test_a_contact_given_as_a_number_that_got_worse_is_named() -> None:
    """Nobody looked at the strap, as 0.001 ohm; once the relay is in it has 0.15."""
    body, before, after = asked(3)
    before = replace(before, ohm=before.ohm | {"strap": 0.001})
    after = replace(after, ohm=before.ohm | {"strap": 0.15})
    body = read(before, after)
    strap = next(each for each in body["circuit"]["branches"] if each["name"] == "strap")
    strap["resistance_ohm"] = 0.001
    answer = post("gain-proof", body)
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == ("got_worse", "strap")
    assert holds(answer, before, after)


@pytest.mark.long
def test_a_false_reading_that_no_fault_explains_is_told_as_one() -> None:
    """A clamp that shows a seventh more: no part is at fault, and none is blamed."""
    body, *_ = asked(7)
    body["after"][3]["value_a"] = round(1.15 * body["after"][3]["value_a"], 2)
    answer = post("gain-proof", body)
    assert answer["proof"] == "not_proven"
    assert "untold_after" in looks(answer)
    assert answer["gain"]["low_v"] > 4.0  # by the others


def test_readings_that_no_single_fault_explains_are_told_to_contradict() -> None:
    body = question(
        BEFORE, [volts("post", "ground", 10.52), *SOUND[:1], volts("live", "ground", 9.0)]
    )
    answer = post("gain-proof", body)
    assert "untold_after" in looks(answer)
    assert "relay" not in looks(answer)["untold_after"]["message"]


def test_what_a_proof_does_not_judge_is_told() -> None:
    """Volts prove no fuse; and a feed that nobody says is fused may burn."""
    body, *_ = asked(0)
    found = checks(post("gain-proof", body))
    assert (found["fitted"], found.get("no_fuse")) == ("unknown", None)
    relay = body["way"]["relay"]
    relay["feed"] = relay["feed"][1:]
    answer = post("gain-proof", body)
    assert checks(answer)["no_fuse"] == "unknown"
    assert "a wire without a fuse" in answer["headline"]
    assert "no_fuse" in [each["code"] for each in answer["not_judged"]]
    relay["fuse"] = "none"
    answer = post("gain-proof", body)
    assert checks(answer)["no_fuse"] == "fail"
    assert "fitted" not in checks(post("gain-proof", question(BEFORE, SOUND)))


def sound_before():
    """A start whose key, connector and strap have next to nothing."""
    _, before, _ = asked(3)
    sound = {"switch": 0.01, "connector": 0.005, "strap": 0.001, "key fuse": 0.003}
    return replace(before, ohm=before.ohm | sound)


def test_nothing_was_gained() -> None:
    """0.3 ohm before and after, where 2 V were promised: what is to be done comes first."""
    _, before, _ = asked(3)
    before = replace(before, ohm=before.ohm | {"switch": 0.3, "connector": 0.1})
    answer = post("gain-proof", read(before, before, way=CLEAN))
    assert answer["proof"] == "less_than_promised"
    assert answer["look_at"][0]["code"] == "poor_sound"
    assert answer["look_at"][-1]["code"] == "nothing_gained"
    assert "switch drops between" in answer["headline"]
    assert "Nothing was gained" not in answer["headline"]
    assert "gain_open" not in looks(answer)
    assert "relay" not in looks(answer)["poor_sound"]["message"]  # there is none


def test_nothing_was_to_gain() -> None:
    before = sound_before()
    assert before.load_v > NEEDED_V
    answer = post("gain-proof", read(before, before, way=CLEAN))
    assert answer["proof"] == "not_proven"
    assert [each["code"] for each in answer["look_at"]] == ["nothing_to_gain"]
    assert "Nothing was to gain" in answer["headline"]


def test_a_gain_that_is_too_little_is_told_to_be_one() -> None:
    """The strap was mended for sure; the load still gets no more than 7.4 of the 8 V it needs."""
    _, before, _ = asked(3)
    before = replace(before, ohm=before.ohm | {"switch": 0.3, "connector": 0.1, "strap": 0.02})
    after = replace(before, ohm=before.ohm | {"strap": 0.003})
    answer = post("gain-proof", read(before, after, way={"name": "strap", "sound": ["strap"]}))
    assert answer["gain"]["low_v"] > 0.0
    assert answer["proof"] == "not_proven"
    assert answer["look_at"][0]["code"] == "gained_too_little"
    assert "more in hot, 19 times of 20, and that is too little" in answer["headline"]


def test_a_gain_that_rests_on_one_reading_says_so() -> None:
    """A loose terminal, the load read 1 V too high: rest, battery and clamp cannot show it."""
    body, before, after = asked(7, "loose at 87")
    body["after"] = [body["after"][index] for index in (0, 1, 2, 4)]
    body["after"][2]["value_v"] = round(body["after"][2]["value_v"] + 1.0, 2)
    answer = post("gain-proof", body)
    assert answer["gain"]["low_v"] > true_gain_v(before, after)  # so it is false
    assert looks(answer)["rests_on"]["readings"] == [3]
    assert "rests on reading 3 after alone" in answer["headline"]
    assert checks(answer)["readings_agree_after"] == "unknown"
    body, _, after = asked(7)  # all eight: the drops on the way hold the load's reading
    answer = post("gain-proof", body)
    assert set(looks(answer)) == {"still_poor"}  # the strap, as it was drawn
    assert after.ohm["strap"] > 0.02  # by hand 0.44 V at 17 A; a sound one takes 0.1 V
    assert checks(answer)["readings_agree_after"] == "pass"


def test_no_load_gets_less_than_nothing_or_more_than_its_battery_has() -> None:
    body, *_ = asked(7)
    body["before"], body["after"] = body["before"][:1], body["after"][:1]
    answer = post("gain-proof", body)
    for each in answer["by_case"]:
        assert 0.0 <= each["after_low_v"] < each["after_high_v"] <= EMF[1]
        assert -EMF[1] <= each["gain_low_v"] < each["gain_high_v"] <= EMF[1]


def test_a_clamp_is_asked_for_in_a_case_with_the_switch_on() -> None:
    body, *_ = asked(0)
    body["after"] = body["after"][:4]
    message = looks(post("gain-proof", body))["switch_not_told"]["message"]
    assert "in a case such as key." in message


def test_a_welded_relay_of_the_truth_is_live() -> None:
    """The generator itself: with the key off nearly all of the battery stands at the load."""
    _, _, after = asked(0)
    first, second = AT_LOAD
    off, _ = solved(replace(after, runs_on=True), switch=False)
    assert off[first] - off[second] > 0.9 * EMF[0]


def test_a_load_that_was_live_before_is_told_first_until_it_is_read_dead() -> None:
    """A key that sticks: a relay on its wire stays in as well, whatever gain volts show."""
    body, *_ = asked(0)
    body["before"].append(Point("off", ("terminal", "block")).asked(11.9))
    answer = post("gain-proof", body)
    first = answer["look_at"][0]
    assert (first["code"], first["readings"]) == ("live_off_before", [8])
    assert "battery's ground off" in answer["headline"]
    assert (answer["proof"], checks(answer)["switches_off"]) == ("not_proven", "fail")
    assert answer["contradicts_before"] == []
    assert "untold_before" not in looks(answer)
    body["after"].append(Point("off", AT_LOAD).asked(0.0))
    answer = post("gain-proof", body)
    assert (answer["proof"], checks(answer)["switches_off"]) == ("proven", "pass")
    assert looks(answer)["was_live"]["readings"] == [8]
    body["after"][-1] = Point("off", AT_LOAD).asked(11.9)
    answer = post("gain-proof", body)
    assert answer["look_at"][0]["code"] == "live_off_relay"
    assert "was_live" not in looks(answer)


def sparse(extra=(), **worse):
    """A switch that was cleaned, something else that got worse, and what little was read after."""
    _, before, after = asked(3)
    ohms = dict.fromkeys(CONTACTS, 0.01) | {"switch": 0.3, "connector": 0.1, "strap": 0.02}
    before = replace(before, ohm=before.ohm | ohms)
    after = replace(before, ohm=before.ohm | {"switch": 0.005} | worse)
    ground = [Point("off", ("post", "ground")), Point("key", ("post", "ground"))]
    where = [*ground, Point("key", ("terminal", "block")), *extra]
    return read(before, after, where=where, way=CLEAN)


@pytest.mark.parametrize("part", ["strap", "wire"])
def test_what_nobody_read_is_not_blamed(part) -> None:
    """The load's volts alone: the switch may be sound, as it is here; all are read, one by one."""
    answer = post("gain-proof", sparse(**{part: 0.4}))
    assert answer["proof"] == "worse"
    assert answer["look_at"][0]["code"] == "still_poor_together"
    assert {"poor_sound", "lost_not_read"}.isdisjoint(looks(answer))
    assert part in answer["look_at"][0]["part"]
    assert "Read the volts across each of them" in answer["headline"]


def test_parts_that_readings_cannot_tell_apart_are_not_blamed_one_by_one() -> None:
    """The switch was read, and is sound: the strap is one of several that may be worn."""
    answer = post("gain-proof", sparse([Point("key", ("key in", "key out"))], strap=0.4))
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == ("one_of", "winding")
    assert "or another" in first["message"]
    assert not looks(answer).keys() & {"got_worse", "part_open", "poor_sound"}
    read_over = [Point("key", ("key in", "key out")), Point("key", ("block", "ground"))]
    first = post("gain-proof", sparse(read_over, strap=0.4))["look_at"][0]
    assert (first["code"], first["part"]) == ("got_worse", "strap")


@pytest.mark.parametrize(
    "supply",
    [
        {"emf_v": 11.4},
        pytest.param({"emf_v": 13.9}, marks=pytest.mark.long),
        pytest.param({"internal_ohm": 0.15}, marks=pytest.mark.long),
    ],
)
def test_a_battery_that_is_another_after_is_not_the_way_s_fault(supply) -> None:
    """It ran down below what is given, an engine ran, or lights drew on it: the gain stands."""
    _, before, after = asked(0)
    after = replace(after, **supply)
    answer = post("gain-proof", read(before, after))
    assert (answer["proof"], answer["wired"]) == ("proven", "as_described")
    assert set(looks(answer)) - {"still_poor"} == {"supply_after"}
    assert holds(answer, before, after)


@pytest.mark.long
def test_a_fault_is_found_beside_a_battery_that_ran_down() -> None:
    _, before, after = asked(0, BLOWN)
    answer = post("gain-proof", read(before, replace(after, emf_v=11.4)))
    assert answer["look_at"][0]["code"] == "fuse_open"
    assert "supply_after" in looks(answer)


def test_a_charger_that_was_on_before_proves_nothing_and_is_named() -> None:
    _, before, after = asked(0)
    answer = post("gain-proof", read(replace(before, emf_v=13.9), after))
    assert answer["proof"] == "not_proven"
    assert answer["look_at"][0]["code"] == "supply_before"
    assert "untold_before" not in looks(answer)


@pytest.mark.parametrize(
    ("ohm", "code"),
    [
        (0.05, "load_takes_more"),
        pytest.param(0.35, "load_takes_more", marks=pytest.mark.long),
        pytest.param(4.0, "load_takes_less", marks=pytest.mark.long),
    ],
)
def test_a_load_that_is_another_after_is_named_and_no_part_of_the_way(ohm, code) -> None:
    """Turns are shorted, from 0.7 to 1.1 ohm down, or part of it is open."""
    _, before, after = asked(0)
    after = replace(after, ohm=after.ohm | {"winding": ohm})
    answer = post("gain-proof", read(before, after))
    first = answer["look_at"][0]
    assert (first["code"], first["part"]) == (code, "winding")
    assert answer["proof"] != "proven"
    assert not any(each.startswith(("poor", "untold")) for each in looks(answer))


def test_a_supply_that_nobody_read_after_is_not_taken_for_that_of_before() -> None:
    """The battery ran down to 11.4 V, and the load's volts alone were read: nothing is proven."""
    _, before, after = asked(0)
    answer = post(
        "gain-proof", read(before, replace(after, emf_v=11.4), where=[Point("key", AT_LOAD)])
    )
    assert answer["proof"] == "not_proven"
    assert checks(answer)["gain"] == "undecided"
    assert not any(each.startswith(("poor", "lost")) for each in looks(answer))
