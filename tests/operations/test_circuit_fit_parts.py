"""What a fit says of parts: what is poor, sound, or not told, whatever bounds were given."""

from itertools import pairwise

import numpy as np
import pytest

from . import faulty_vehicles as vehicles
from .test_circuit_fit import between, contact, post, question, volts

QUICK, MANY = 1, 30
SERIES = ["switch", "plug", "strap", "battery"]


def ring(*, most=0.3, readings=None):
    """A heater of 1 ohm takes 10 A: by hand 2.4 V across 0.24 ohm, 0.02 V across 0.002 ohm."""
    body = question(
        readings
        or [
            volts("post", "ground", 12.42), volts("post", "live", 2.4),
            volts("live", "lug", 10.0), volts("lug", "ground", 0.02),
            {"case": "on", "through": "heater", "value_a": 10.0},
        ],
        switch=between(0.001, most), emf=between(12.0, 13.0), load=between(0.9, 1.1),
    )  # fmt: skip
    circuit = body["circuit"]
    circuit["branches"].append(contact("strap", "lug", "ground", between(0.0002, 0.5), "ground"))
    circuit["loads"][0] |= {"nodes": ["live", "lug"], "needed_v": 10.5}
    return body | {"cases": [{"name": "on"}]}


def verdicts(answer):
    return {each["parts"][0]: each["verdict"] for each in answer["parts"]}


@pytest.mark.parametrize("most", [0.3, 1.0, 100.0])
def test_a_poor_switch_comes_first_whatever_its_bound(most) -> None:
    """A sound switch drops 0.1 V, as circuit-check has it; this one 2.4 V."""
    answer = post("circuit-fit", ring(most=most))
    assert answer["headline"].startswith("switch takes 2.4 V at 10 A, and a sound switch at most")
    assert "Clean or replace the switch" in answer["headline"]
    assert "Sound by these readings: strap (0.02 V)" in answer["headline"]
    assert verdicts(answer) == {"switch": "fail", "strap": "pass"}
    assert answer["verdict"] == "fail"


def test_a_sound_circuit_is_told_as_sound() -> None:
    readings = [
        volts("post", "ground", 12.42), volts("post", "live", 0.03), volts("live", "lug", 12.37),
        volts("lug", "ground", 0.02), {"case": "on", "through": "heater", "value_a": 12.4},
    ]  # fmt: skip
    answer = post("circuit-fit", ring(readings=readings))
    assert set(verdicts(answer).values()) == {"pass"}
    assert answer["mend"] is None
    assert answer["danger"] is None


def test_parts_that_were_read_together_are_blamed_together() -> None:
    """2.4 V across switch and plug: one of them is poor, and nobody knows which."""
    body = ring()
    body["circuit"]["branches"][0]["nodes"] = ["post", "plug in"]
    plug = contact("plug", "plug in", "live", between(0.001, 0.3))
    body["circuit"]["branches"].append(plug)
    answer = post("circuit-fit", body)
    first = answer["parts"][0]
    assert (first["parts"], first["verdict"]) == (["switch", "plug"], "fail")
    assert first["drop_v"] == pytest.approx(2.4, abs=0.01)
    assert "switch and plug take 2.4 V together" in answer["headline"]


def test_what_straddles_the_limit_is_neither_poor_nor_sound() -> None:
    """0.15 V, give or take: a sound switch drops 0.1 V, and a poor one 0.15 V and more."""
    readings = [
        volts("post", "ground", 12.42), volts("live", "lug", 12.2), volts("lug", "ground", 0.02),
        volts("post", "live", 0.15),
        {"case": "on", "through": "heater", "value_a": 12.2},
    ]  # fmt: skip
    body = ring(readings=readings)
    coarse = {"name": "coarse", "kind": "volts", "accuracy_percent": 1.0, "accuracy_digits": 60}
    for each in readings:
        if "value_v" in each:
            each["meter"] = "coarse"
    answer = post("circuit-fit", body | {"meters": [coarse]})
    assert verdicts(answer)["switch"] == "undecided"
    assert (
        "it may be poor or sound. Read it once more in on, in a finer range" in answer["headline"]
    )


COARSE = {"name": "coarse", "kind": "volts", "resolution_v": 0.1}


def coarse(read, part="switch", **values):
    """A ring read with one decimal: volts across its parts by name, 12.4 A."""
    ends = {"switch": ("post", "live"), "load": ("live", "lug"), "strap": ("lug", "ground")}
    readings = [volts("post", "ground", 12.4) | {"meter": "coarse"}]
    readings += [volts(*ends[name], value) | {"meter": "coarse"} for name, value in read.items()]
    readings.append({"case": "on", "through": "heater", "value_a": values.get("amps", 12.3)})
    body = ring(readings=readings)
    body["circuit"]["branches"][0]["part"] = part
    return post("circuit-fit", body | {"meters": [COARSE]})


def test_a_sound_part_read_with_one_decimal_is_sound_as_far_as_the_meter_tells() -> None:
    """0.1 V and 0.0 V, a step more or less: a sound switch takes 0.1 V, a poor one over 0.15 V."""
    answer = coarse({"switch": 0.1, "load": 12.3, "strap": 0.0})
    assert set(verdicts(answer).values()) <= {"likely", "pass"}
    assert verdicts(answer)["switch"] == "likely"
    assert answer["mend"] is None
    assert answer["likely"].startswith("Sound as far as the meter tells: ")
    assert "switch" in answer["likely"]
    assert "may be poor" not in answer["headline"]
    assert "No reading tells" not in answer["headline"]


def test_a_fuse_that_shows_nothing_is_not_a_little_worn() -> None:
    """0.0 V, and by hand 2 sqrt((0.2^2 + 0.05^2) / 3) = 0.24 V more: a sound one takes 0.2 V."""
    answer = coarse({"switch": 0.0, "load": 12.4, "strap": 0.0}, part="fuse")
    assert verdicts(answer)["switch"] == "likely"
    assert answer["mend"] is None
    assert "a little more than" not in answer["headline"]


def test_a_poor_part_is_poor_with_one_decimal_too() -> None:
    """0.9 V are poor whatever the last digit; 0.2 V may be: it is to be read once more."""
    assert verdicts(coarse({"switch": 0.9, "load": 11.5, "strap": 0.0}))["switch"] == "fail"
    answer = coarse({"switch": 0.2, "load": 12.2, "strap": 0.0})
    assert verdicts(answer)["switch"] == "undecided"
    assert "in a finer range" in answer["mend"]


def in_a_row(lost_v, row=("clamp", "fuse", "plug"), amps=10.0):
    """Contacts and a heater in a row, of which posts, load, strap and amperes were read."""
    kinds = {"clamp": "terminal", "fuse": "fuse"}
    nodes = ["post", *(f"behind {name}" for name in row[:-1]), "live"]
    body = ring(readings=[
        volts("post", "ground", 12.5), volts("post", "live", lost_v),
        volts("live", "lug", 12.48 - lost_v), volts("lug", "ground", 0.02),
        {"case": "on", "through": "heater", "value_a": amps},
    ])  # fmt: skip
    body["circuit"]["branches"] = [
        contact(name, *ends, between(0.0005, 0.5), kinds.get(name, "connector"))
        for name, ends in zip(row, pairwise(nodes), strict=True)
    ] + [contact("strap", "lug", "ground", between(0.0005, 0.5), "ground")]
    body["circuit"]["loads"][0] |= {
        "nodes": ["live", "lug"], "resistance_ohm": between(0.9, 1.5), "needed_v": 10.0
    }  # fmt: skip
    return post("circuit-fit", body)


def test_what_sound_contacts_in_a_row_take_together_hides_none() -> None:
    """0.1 V across three, each of which usually takes up to 0.05 V: they are sound together."""
    answer = in_a_row(0.1)
    assert [each["verdict"] for each in answer["parts"] if len(each["parts"]) == 3] == ["pass"]
    assert answer["mend"] is None


@pytest.mark.parametrize(("lost_v", "worth"), [(0.17, "pass"), (0.23, "undecided")])
def test_more_contacts_in_a_row_usually_take_more(lost_v, worth) -> None:
    """Four that are sound take some 0.05 V each, and beyond that one may be poor (practice)."""
    row = ("clamp", "plug", "second plug", "third plug")
    answer = in_a_row(lost_v, row)
    assert [each["verdict"] for each in answer["parts"] if len(each["parts"]) == 4] == [worth]


def test_what_one_of_a_row_may_take_alone_is_asked_for() -> None:
    """0.24 V across three: within their limits together, and more than twice that of one."""
    answer = in_a_row(0.24)
    assert [each["verdict"] for each in answer["parts"] if len(each["parts"]) == 3] == ["undecided"]
    assert answer["mend"].startswith("clamp, fuse and plug take 0.2")
    assert "read the volts across each of them" in answer["mend"]


def test_a_little_worn_part_is_told_at_once() -> None:
    """0.13 V across a switch that may take 0.1 V: no fault yet, and nothing to be silent of."""
    readings = [
        volts("post", "ground", 12.42), volts("post", "live", 0.13), volts("live", "lug", 12.27),
        volts("lug", "ground", 0.02), {"case": "on", "through": "heater", "value_a": 12.3},
    ]  # fmt: skip
    fine = {"name": "fine", "kind": "volts", "resolution_v": 0.001, "accuracy_percent": 0.1}
    for each in readings:
        if "value_v" in each:
            each["meter"] = "fine"
    answer = post("circuit-fit", ring(readings=readings) | {"meters": [fine]})
    assert verdicts(answer) == {"switch": "marginal", "strap": "pass"}
    assert "switch takes 0.13 V at 12.3 A, a little more than" in answer["headline"]


def test_lamps_that_burn_their_wire_are_switched_off_first() -> None:
    """55 A through 14 AWG, which bears no more than some 30 A of any insulation."""
    body = ring(readings=[
        volts("post", "ground", 12.0), volts("live", "lug", 11.0),
        {"case": "on", "through": "heater", "value_a": 55.0},
    ])  # fmt: skip
    wire = {"name": "feed", "kind": "wire", "nodes": ["post", "fed"], "size": "14 AWG",
            "length_m": 1.0, "insulation": "GXL"}  # fmt: skip
    body["circuit"]["branches"][0]["nodes"] = ["fed", "live"]
    body["circuit"]["branches"].append(wire)
    for load in (between(0.05, 2.0), between(0.9, 1.1)):
        body["circuit"]["loads"][0]["resistance_ohm"] = load
        answer = post("circuit-fit", body)
        assert answer["headline"].startswith("Switch it off, and leave it off: in on")


@pytest.mark.parametrize("kind", ["by size", "by ohms"])
def test_a_worn_wire_is_named_and_no_reading_called_false(kind) -> None:
    """2.4 V across a wire of 0.032 ohm at 10 A: it should take 0.32 V."""
    body = ring(readings=[
        volts("post", "ground", 12.72), volts("post", "fed", 2.4), volts("fed", "live", 0.3),
        volts("live", "lug", 10.0), volts("lug", "ground", 0.02),
        {"case": "on", "through": "heater", "value_a": 10.0},
    ])  # fmt: skip
    wire = {"name": "feed", "kind": "wire", "nodes": ["post", "fed"], "size": "12 AWG",
            "length_m": 6.0, "insulation": "GXL"}  # fmt: skip
    if kind == "by ohms":
        wire = {"name": "feed", "kind": "resistance", "nodes": ["post", "fed"],
                "resistance_ohm": 0.032}  # fmt: skip
    body["circuit"]["branches"][0]["nodes"] = ["fed", "live"]
    body["circuit"]["branches"].append(wire)
    answer = post("circuit-fit", body)
    assert answer["faults"][0]["part"] == "feed"
    assert answer["headline"].startswith("If all readings are right, feed takes 2.4 V in on")
    assert "broken strands" in answer["headline"]
    assert verdicts(answer)["strap"] == "pass"


def blamed(answer):
    """What is named, in the order in which it is: parts that cannot be told apart as one."""
    found = [("battery",)] if answer.battery else []
    faults = tuple(each.part for each in answer.faults)
    found += [faults] if faults else []
    return found + [each.parts for each in answer.parts if each.verdict == "fail"]


def counted(run, kinds, number):
    """Faults named first, named, not named, and vehicles of which a wrong part is named."""
    first = named = wrong = 0
    for kind in kinds:
        for seed in range(number):
            random = np.random.default_rng([seed, len(kind)])
            vehicle = vehicles.drawn(random, kind)
            read = vehicles.readings(random, vehicle)
            found = blamed(run("circuit-fit", **vehicles.request(vehicle, read)))
            fault = "relay" if vehicle.fault == "coil" else vehicle.fault  # it has it inside
            first += bool(found) and fault in found[0]
            named += any(fault in each for each in found)
            wrong += bool(found) and not any(fault in each for each in found)
    return first, named, wrong


def test_the_one_fault_of_a_drawn_vehicle_is_named(run) -> None:
    assert counted(run, SERIES, QUICK) == (QUICK * len(SERIES), QUICK * len(SERIES), 0)


def test_a_sound_vehicle_has_no_poor_part(run) -> None:
    assert counted(run, ["sound"], 2) == (0, 0, 0)


def test_wires_that_no_reading_tells_apart_stand_in_the_order_of_the_request(run) -> None:
    """Nothing was read between them: whatever the last digits are, the one fits as the other."""
    random = np.random.default_rng(51)
    vehicle = vehicles.drawn(random, "wire")
    body = vehicles.request(vehicle, vehicles.readings(random, vehicle))
    names = [each["name"] for each in body["circuit"]["branches"]]
    wires = {"feed", "rear wire"}
    named = [each.part for each in run("circuit-fit", **body).faults if each.part in wires]
    assert named == sorted(wires, key=names.index)


@pytest.mark.long
def test_the_one_fault_of_many_drawn_vehicles_is_named(run) -> None:
    kinds = [*SERIES, "fuse", "wire", "coil side"]
    first, _, wrong = counted(run, kinds, MANY)
    assert first >= 0.97 * MANY * len(kinds)
    assert wrong <= 0.01 * MANY * len(kinds)
    assert counted(run, ["sound"], MANY) == (0, 0, 0)
