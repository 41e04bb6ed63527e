"""Parts that were read together only: what a sum says of each of them, and what it does not."""

import math
import re
from typing import Any

import pytest

from .test_circuit_fit import between, contact, post, volts
from .test_circuit_fit_parts import ring


def two(lost_v, *, read_also=()):
    """Switch and plug in a row, lost_v across both at 10 A; sound ones may drop 0.1 V each."""
    body = ring(readings=[
        volts("post", "ground", 10.0 + lost_v + 0.02), volts("post", "live", lost_v),
        volts("live", "lug", 10.0), volts("lug", "ground", 0.02),
        {"case": "on", "through": "heater", "value_a": 10.0}, *read_also,
    ])  # fmt: skip
    body["circuit"]["source"]["open_circuit_v"] = between(9.5, 13.0)
    body["circuit"]["branches"][0]["nodes"] = ["post", "plug in"]
    body["circuit"]["branches"].append(contact("plug", "plug in", "live", between(0.0005, 0.3)))
    return body


@pytest.mark.parametrize(
    ("lost_v", "verdict"),
    # All of 0.04 V over one of them is no fault. Of 0.18 V, or of 0.26 V, one may take more than
    # the 0.15 V from which on it is poor, though both together may drop 0.2 V, and 0.3 V if a
    # little worn. Of 0.4 V one takes 0.2 V at least.
    [(0.04, "pass"), (0.18, "undecided"), (0.26, "undecided"), (0.4, "fail")],
)
def test_a_sum_within_the_limits_of_all_may_stand_over_one(lost_v, verdict) -> None:
    answer = post("circuit-fit", two(lost_v))
    (both,) = (each for each in answer["parts"] if "plug" in each["parts"])
    assert (both["parts"], both["verdict"]) == (["switch", "plug"], verdict)
    is_sound = "switch and plug" in (answer["sound"] or "")
    assert is_sound is (verdict == "pass")
    assert ("read the volts across each" in (answer["mend"] or "").lower()) is not is_sound


def test_a_part_is_never_expected_to_give_volts() -> None:
    """1.8 V over a switch and a plug that may take any share of it: between 0 V and 1.8 V each."""
    following = post("circuit-fit", two(1.8))["next_reading"]
    assert set(following["between"]) in ({"post", "plug in"}, {"plug in", "live"})
    assert 0.0 <= following["expected_low"] < following["expected_high"]


def test_what_may_be_poor_is_asked_for_beside_what_is_poor() -> None:
    """1.5 V over the strap is poor for sure; of 0.26 V one of two may take too much."""
    body = two(0.26)
    body["readings"][0]["value_v"], body["readings"][3]["value_v"] = 11.76, 1.5
    answer = post("circuit-fit", body)
    assert answer["mend"].startswith("strap takes 1.5 V")
    assert "switch and plug take" in answer["mend"]
    assert answer["next_message"] == "Next, read the volts across each of switch and plug, in on."
    assert set(answer["next_reading"]["between"]) == {"post", "plug in"}


def test_parts_of_both_sides_are_judged_together_where_each_is_told_loosely() -> None:
    """A fan that is switched in its ground: 1.5 V are lost before it, and nothing was read there.

    By hand: 12.5 V less 10.75 V over the fan less 0.25 V behind it; a feed of 5 m of 14 AWG
    takes some 0.32 V of that at 7.7 A, so that the fuse takes more than a volt.
    """
    body = ring(readings=[
        volts("post", "ground", 12.5), volts("live", "lug", 10.75), volts("lug", "ground", 0.25),
        {"case": "on", "through": "heater", "value_a": 7.7},
    ])  # fmt: skip
    wire = {"kind": "wire", "size": "14 AWG", "insulation": "GXL"}
    body["circuit"]["branches"] = [
        contact("fuse", "post", "fused", between(0.0005, 0.5), "fuse"),
        {"name": "feed", "nodes": ["fused", "live"], "length_m": 5.0, **wire},
        {"name": "return", "nodes": ["lug", "switch in"], "length_m": 2.0, **wire},
        contact("switch", "switch in", "switch out", between(0.001, 1.5)),
        contact("strap", "switch out", "ground", between(0.0002, 0.5), "ground"),
    ]
    body["circuit"]["loads"][0]["resistance_ohm"] = between(1.1, 1.6)
    answer = post("circuit-fit", body)
    (before,) = (each for each in answer["parts"] if "fuse" in each["parts"])
    assert (before["parts"], before["verdict"]) == (["fuse", "feed"], "fail")
    assert before["drop_v"] == pytest.approx(1.5, abs=0.05)
    assert answer["next_message"].startswith("Next, read the volts across each of fuse and feed")


def fused_ring(rating_a: float) -> dict[str, Any]:
    """The ring behind a metre of 14 AWG that begins at a fuse."""
    body = ring()
    wire = {"name": "feed", "kind": "wire", "nodes": ["fused", "fed"], "size": "14 AWG",
            "length_m": 1.0, "insulation": "GXL"}  # fmt: skip
    fuse = contact("fuse", "post", "fused", between(0.0005, 0.02), "fuse")
    body["circuit"]["branches"][0]["nodes"] = ["fed", "live"]
    body["circuit"]["branches"] += [fuse | {"rating_a": rating_a}, wire]
    return body


def test_a_fuse_that_is_a_little_large_is_no_reason_to_leave_a_lamp_off() -> None:
    """30 A before 14 AWG: it may let some 41 A through for hours, and 10 A flow."""
    answer = post("circuit-fit", fused_ring(30))
    assert answer["danger"] is None
    assert "Switch it off" not in answer["headline"]


def test_no_place_is_read_twice() -> None:
    """The same leads at the same nodes show the same: of a coarse meter the last digit, too."""
    body = ring(readings=[
        volts("post", "ground", 12.4), volts("live", "lug", 10.0), volts("lug", "ground", 0.02),
        {"case": "on", "through": "heater", "value_a": 10.0},
    ])  # fmt: skip
    body["meters"] = [{"name": "coarse", "kind": "volts", "resolution_v": 0.1}]
    for each in body["readings"]:
        if "value_v" in each:
            each["meter"] = "coarse"
    answer = post("circuit-fit", body)
    read = {frozenset(each.get("between", ())) for each in body["readings"]}
    following = answer["next_reading"]
    assert following is not None
    assert frozenset(following["between"]) not in read


def test_a_fuse_far_too_large_for_its_wire_is_told_beside_what_was_read() -> None:
    """60 A before 14 AWG, which bears no more than some 30 A in any place; 10 A flow."""
    answer = post("circuit-fit", fused_ring(60))
    assert answer["fuse"].startswith("feed: fuse may never open below")
    assert answer["fuse"] in answer["headline"]


@pytest.mark.parametrize(("last", "is_rounded"), [(0.02, True), (0.0243, False)])
def test_volts_without_their_last_digits_are_noticed(last, is_rounded) -> None:
    """All in steps of 0.01 V; a meter of 2,000 counts shows 0.1600 and 0.0200, if it is exact."""
    readings = [volts("post", "ground", 10.22), volts("post", "live", 0.16),
                volts("live", "lug", 10.04), volts("lug", "ground", last),
                volts("live", "ground", 10.06), volts("post", "lug", 0.14),
                volts("live", "post", -0.16), volts("lug", "post", -0.14)]  # fmt: skip
    answer = post("circuit-fit", ring(readings=readings))
    assert (answer["rounded"] is not None) is is_rounded
    if is_rounded:
        assert "0.01 V" in answer["rounded"]
        assert "resolution_v" in answer["headline"]
        body = ring(readings=[{**each, "meter": "coarse"} for each in readings])
        body["meters"] = [{"name": "coarse", "kind": "volts", "resolution_v": 0.01}]
        assert post("circuit-fit", body)["rounded"] is None


def test_a_loss_before_and_behind_a_part_that_was_read_is_not_laid_at_it() -> None:
    """Plug, switch and joint have 3 mohm, it is thought; 2.2 V are lost beside the switch.

    By hand at 10 A: 12.29 V less 10 V over the heater, 0.02 V behind it, 0.07 V over the switch.
    That is more than its 0.03 V were thought to be, and less than a sound one may drop.
    """
    body = ring(readings=[
        volts("post", "ground", 12.29), volts("in", "out", 0.07), volts("live", "lug", 10.0),
        volts("lug", "ground", 0.02), {"case": "on", "through": "heater", "value_a": 10.0},
    ])  # fmt: skip
    body["circuit"]["source"]["open_circuit_v"] = between(11.0, 13.0)
    body["circuit"]["branches"][0] |= {"nodes": ["in", "out"], "resistance_ohm": 0.003}
    body["circuit"]["branches"] += [
        contact("plug", "post", "in", 0.003), contact("joint", "out", "live", 0.003)
    ]  # fmt: skip
    answer = post("circuit-fit", body)
    first = answer["faults"][0]
    assert {each["part"] for each in answer["faults"]} == {"plug", "joint"}
    assert answer["headline"].startswith(first["message"])
    assert first["voltage_v"] == pytest.approx(2.2 - 2 * 0.03, abs=0.1)
    assert "the switch" not in answer["headline"]
    assert "switch (0.07 V)" in answer["sound"]


def bounded(over_switch_v, over_rest_v):
    """Switch and plug of at most 0.05 ohm, and 2 m of 12 AWG behind them, at 10 A."""
    body = ring(readings=[
        volts("post", "ground", 10.02 + over_switch_v + over_rest_v),
        volts("post", "in", over_switch_v), volts("in", "live", over_rest_v),
        volts("live", "lug", 10.0), volts("lug", "ground", 0.02),
        {"case": "on", "through": "heater", "value_a": 10.0},
    ])  # fmt: skip
    body["circuit"]["source"]["open_circuit_v"] = between(11.0, 13.0)
    body["circuit"]["branches"][0] |= {
        "nodes": ["post", "in"], "resistance_ohm": between(0.002, 0.05)
    }  # fmt: skip
    wire = {"name": "feed", "kind": "wire", "size": "12 AWG", "insulation": "GXL"}
    body["circuit"]["branches"] += [
        contact("plug", "in", "mid", between(0.001, 0.05)),
        {**wire, "nodes": ["mid", "live"], "length_m": 2.0},
    ]
    return body


def test_a_contact_beyond_its_bounds_is_named_as_a_part() -> None:
    """Of 2.2 V over the switch 0.5 V were thought of at most: the switch, or that reading."""
    answer = post("circuit-fit", bounded(2.2, 0.12))
    assert [(each["part"], each["fault"]) for each in answer["faults"]] == [
        ("switch", "worn_part")
    ]  # fmt: skip
    assert answer["headline"].startswith("If all readings are right, switch takes 2.2 V")
    assert "replace the switch" in answer["headline"]


def test_a_plug_beyond_its_bounds_and_the_wire_behind_it_are_named_together() -> None:
    """2.3 V over both: 12 AWG takes 0.1 V of it, and the plug was thought to take 0.5 V at most."""
    answer = post("circuit-fit", bounded(0.04, 2.3))
    assert {each["part"] for each in answer["faults"]} == {"plug", "feed"}
    first = answer["headline"].split(" Look first ")[0]
    assert "plug" in first
    assert "feed" in first
    assert "plug" not in (answer["sound"] or "")


def test_no_part_is_to_be_cleaned_that_drops_no_more_than_a_sound_one() -> None:
    """0.08 V over a switch at 10 A: it was thought to have 5 mohm at most, and 0.1 V are sound."""
    body = bounded(0.08, 0.12)
    body["circuit"]["branches"][0]["resistance_ohm"] = between(0.0, 0.005)
    body["circuit"]["source"]["open_circuit_v"] = between(10.0, 13.0)
    answer = post("circuit-fit", body)
    assert [each["name"] for each in answer["beyond"]] == ["resistance of switch"]
    assert answer["faults"] == []
    assert "lean" not in answer["headline"]


def test_a_flat_battery_is_told_though_one_reading_is_false() -> None:
    """10.18 V at 10 A: no more than 11 V at rest, whichever reading over the switch is false."""
    body = bounded(0.04, 0.12)
    body["circuit"]["source"]["open_circuit_v"] = between(10.0, 13.0)
    body["readings"].append(volts("post", "in", 0.3))
    answer = post("circuit-fit", body)
    assert answer["agreement"] in {"reading_contradicts", "group_contradicts"}
    assert answer["battery"].startswith("battery: it is charged to 0 % only")
    assert answer["headline"].startswith(answer["battery"])


def test_of_parts_of_which_one_is_worn_each_is_told_with_its_own_volts() -> None:
    """At 24 V and 5 A 6 V are lost before a lamp, and what was given takes 4 V at most.

    By hand: 0 to 1 V at the fuse of up to 0.2 ohm, 0 to 2 V at the plug of up to 0.4 ohm, 0.5 V at
    each wire of 0.1 ohm, rectangular. A wire takes 6 - 0.5 V less both of the first, the fuse 6 - 1
    V less the plug, and the plug 6 - 1 V less the fuse.
    """
    body = ring(readings=[
        volts("post", "ground", 24.0), volts("live", "lug", 18.0), volts("lug", "ground", 0.0),
        {"case": "on", "through": "heater", "value_a": 5.0},
    ])  # fmt: skip
    body["circuit"]["source"]["open_circuit_v"] = between(23.0, 26.0)
    body["circuit"]["branches"] = [
        {"name": "feed", "kind": "resistance", "nodes": ["post", "fed"], "resistance_ohm": 0.1},
        contact("fuse", "fed", "fused", between(0.0, 0.2), "fuse"),
        contact("plug", "fused", "plugged", between(0.0, 0.4)),
        {"name": "tail", "kind": "resistance", "nodes": ["plugged", "live"], "resistance_ohm": 0.1},
        contact("strap", "lug", "ground", between(0.0, 0.1), "ground"),
    ]
    body["circuit"]["loads"][0]["resistance_ohm"] = between(3.4, 3.8)
    answer = post("circuit-fit", body)
    found = {each["part"]: each["voltage_v"] for each in answer["faults"]}
    wanted = {"feed": 4.0, "fuse": 4.0, "plug": 4.5, "tail": 4.0}
    assert found == pytest.approx(wanted, abs=0.15)
    of_both = math.hypot(1.0, 2.0)
    widths = {"feed": of_both, "fuse": 2.0, "plug": 1.0, "tail": of_both}
    told = answer["faults"][0]["message"]
    for part, width in widths.items():
        half = 1.96 * width / math.sqrt(12.0)
        low, high = map(float, re.search(rf"{part} ([\d.]+) V to ([\d.]+) V", told).groups())
        assert low == pytest.approx(wanted[part] - half, abs=0.15)
        assert high == pytest.approx(wanted[part] + half, abs=0.15)
    # Nothing is to be mended before it is known which of them it is.
    assert answer["next_message"].startswith("Next, read the volts across each of ")
    assert all(part in answer["next_message"] for part in wanted)


def test_two_worn_parts_come_before_a_lamp_that_alone_would_explain_them() -> None:
    """24 V, two lamps of 11 ohm beside each other behind a fuse and a wire with 2.16 ohm more each.

    By hand 25.4 V drive 2.567 A through 9.893 ohm: 5.54 V over the fuse, 14.12 V and 1.284 A at
    each lamp. A right lamp of an ohm or so would draw that much through a fuse within its bounds,
    too, but two ohms of a fuse that was read by itself are what a mechanic sees first.
    """
    body = ring(readings=[
        volts("post", "ground", 25.27, "off"), volts("post", "ground", 25.27),
        volts("split", "ground", 14.12), volts("fb", "fused", 5.54),
        {"case": "on", "through": "left lamp", "value_a": 1.28},
    ])  # fmt: skip
    body["circuit"]["source"] = {
        "plus": "post", "open_circuit_v": between(22.0, 26.0),
        "internal_resistance_ohm": between(0.006, 0.4),
    }  # fmt: skip
    body["circuit"]["branches"] = [
        {"name": "dash", "kind": "resistance", "nodes": ["post", "fb"], "resistance_ohm": 0.01},
        contact("fuse", "fb", "fused", between(0.0005, 0.5), "fuse"),
        {"name": "feed", "kind": "resistance", "nodes": ["fused", "fed"], "resistance_ohm": 0.02},
        contact("switch", "fed", "plug in", between(0.001, 0.02), "switch"),
        contact("plug", "plug in", "split", between(0.0005, 1.5)),
    ]
    body["circuit"]["loads"] = [
        {"name": f"{side} lamp", "kind": "resistance", "nodes": ["split", "ground"],
         "resistance_ohm": between(9.54, 12.1), "needed_v": 21.6} for side in ("left", "right")
    ]  # fmt: skip
    body["cases"] = [{"name": "off", "without": ["switch"]}, {"name": "on"}]
    body |= {"load": "left lamp", "worst_case": "on"}
    answer = post("circuit-fit", body)
    assert answer["headline"].startswith("If all readings are right, fuse takes 5.54 V")
    assert answer["faults"][0]["part"] == "fuse"
    assert answer["beyond"][0]["name"] == "resistance of right lamp"
    assert "resistance of right lamp alone is another than was given" in answer["next_message"]
