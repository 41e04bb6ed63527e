"""Open parts, stuck relays, and fits in which a relay may be in or out, by hand."""

import copy

import numpy as np
import pytest

from . import faulty_vehicles as vehicles
from .test_circuit_fit import between, contact, estimate, post, question, volts


def amperes(part, value, case="on"):
    return {"case": case, "through": part, "value_a": value}


def lamps(readings, *, most=1000.0, of_lamps=None):
    """Lamps behind a fuse, a switch and a ground joint."""
    body = question(readings, emf=between(12.0, 13.0), load=of_lamps or between(1.0, 1000.0))
    circuit, each = body["circuit"], between(0.0, most)
    circuit["branches"] = [
        contact("fuse", "post", "fused", each, "fuse"),
        contact("switch", "fused", "live", each, "switch"),
        contact("joint", "ground lug", "ground", each, "ground"),
    ]
    circuit["loads"][0] |= {"name": "lamps", "nodes": ["live", "ground lug"], "needed_v": 11.0}
    return body | {"load": "lamps", "cases": [{"name": "on"}]}


def relayed(readings, *, of_switch=100.0):
    """Lamps of 1.2 ohm by a relay that closes at 7.2 V, whose coil of 87 ohm a switch feeds."""
    body = question(readings, emf=between(12.2, 13.0), load=between(1.0, 1.4))
    circuit = body["circuit"]
    circuit["source"]["internal_resistance_ohm"] = between(0.004, 0.04)
    circuit["branches"] = [
        contact("fuse", "post", "r30", between(0.001, 0.2), "fuse"),
        contact("switch", "post", "r86", between(0.0, of_switch), "switch"),
    ]
    circuit["loads"][0] |= {"name": "lamps", "nodes": ["r87", "ground"], "needed_v": 11.2}
    circuit["relays"] = [
        {"name": "relay", "coil_nodes": ["r86", "ground"], "contact_nodes": ["r30", "r87"],
         "nominal_v": 12, "coil_resistance_ohm": between(80.0, 95.0), "pick_up_v": 7.2,
         "drop_out_v": 1.2, "contact_resistance_ohm": between(0.001, 0.3)},
    ]  # fmt: skip
    return body | {"load": "lamps", "cases": [{"name": "on"}]}


@pytest.mark.parametrize("of_switch", [40.0, 100.0, 1000.0])
def test_a_fit_arrives_whatever_a_switch_could_do_to_a_relay(of_switch) -> None:
    """By hand: 10 A through 1.2 ohm are 12.0 V, from 12.6 V by 0.05 ohm in all, and 0.01 inside."""
    readings = [
        volts("post", "ground", 12.5), amperes("lamps", 10.0), volts("r87", "ground", 12.0),
        volts("post", "r30", 0.2), volts("r30", "r87", 0.3),
    ]  # fmt: skip
    answer = post("circuit-fit", relayed(readings, of_switch=of_switch))
    assert answer["agreement"] == "agrees"
    for each in answer["residuals"]:
        assert each["fitted"] == pytest.approx(each["read"], rel=0.02), each["reading"]
    assert answer["decisive"]["before_high_v"] >= answer["decisive"]["voltage_v"]
    assert answer["decisive"]["low_v"] < 12.0 < answer["decisive"]["high_v"]
    assert estimate(answer, "branches/0/resistance_ohm")["estimate"] == pytest.approx(0.02, rel=0.1)


def test_a_relay_that_stays_out_is_named() -> None:
    """12.3 of 12.6 V at its coil are far more than 7.2 V, and nothing reaches the lamps."""
    readings = [
        volts("post", "ground", 12.6), volts("r87", "ground", 0.0), volts("r86", "ground", 12.3),
        volts("r30", "ground", 12.6),
    ]  # fmt: skip
    for of_switch in (5.0, 100.0):
        answer = post("circuit-fit", relayed(readings, of_switch=of_switch))
        assert answer["agreement"] not in {"agrees", "not_checked"}
        assert answer["faults"][0]["message"] in answer["headline"]
        fault = answer["faults"][-1]  # or its contact is dead
        assert {each["part"] for each in answer["faults"]} == {"relay"}
        assert (fault["part"], fault["fault"], fault["case"]) == ("relay", "stays_out", "on")
        assert fault["voltage_v"] == pytest.approx(12.3, abs=0.05)
        assert answer["checks"][1]["verdict"] == "unknown"


OPEN = {
    "fuse": [volts("post", "ground", 12.6), volts("fused", "ground", 0.0)],
    "switch": [volts("fused", "ground", 12.6), volts("live", "ground", 0.0)],
    "joint": [volts("live", "ground", 12.6), volts("ground lug", "ground", 12.6)],
}


@pytest.mark.parametrize("part", OPEN)
def test_what_is_open_is_named_and_no_reading_called_false(part) -> None:
    """12.6 V before and nothing behind."""
    answer = post("circuit-fit", lamps(OPEN[part]))
    assert answer["agreement"] in {"agrees", "not_checked"}
    assert [(each["part"], each["fault"]) for each in answer["faults"]] == [(part, "open_part")]
    assert f"{part} is open: 12." in answer["headline"]
    assert answer["checks"][1]["verdict"] == "fail"
    assert answer["next_message"].startswith("Mend that first")


@pytest.mark.parametrize("part", OPEN)
def test_what_is_open_is_named_where_its_bound_is_a_sound_parts(part) -> None:
    body = lamps(OPEN[part], most=0.2, of_lamps=between(1.0, 1.4))
    answer = post("circuit-fit", body)
    assert (answer["faults"][0]["part"], answer["faults"][0]["fault"]) == (part, "open_part")
    assert f"If all readings are right, {part} is open" in answer["headline"]


def test_of_two_that_may_be_open_both_are_named() -> None:
    """All of it stands across switch and plug together."""
    body = question([volts("post", "ground", 11.0), volts("post", "end", 11.0)])
    body["circuit"]["branches"].append(contact("plug", "live", "end", between(0.0, 0.5)))
    body["circuit"]["loads"][0]["nodes"] = ["end", "ground"]
    answer = post("circuit-fit", body)
    assert {each["part"] for each in answer["faults"]} == {"switch", "plug"}
    # Who stands in the list stands not beside it once more.
    assert "It may as well be resistance of " not in answer["next_message"]


def test_one_reading_of_nothing_contradicts_nothing() -> None:
    answer = post("circuit-fit", lamps([volts("live", "ground lug", 0.0)]))
    assert answer["agreement"] in {"agrees", "not_checked"}
    assert answer["checks"][1]["verdict"] == "fail"
    # The same once more would find no part.
    assert "red lead at live and the black one at ground lug" not in answer["next_message"]
    assert "read volts" in answer["next_message"]


def test_a_part_is_asked_for_across_its_own_ends() -> None:
    """3.4 V are lost and nobody knows where: a mechanic reads across one part after the other."""
    body = lamps([volts("post", "ground", 12.4), volts("live", "ground lug", 9.0)])
    answer = post("circuit-fit", body)
    ends = [each["nodes"] for each in body["circuit"]["branches"]]
    asked = answer["confounded"][0]["measure_between"]
    assert asked in ends or asked[::-1] in ends


def test_a_coil_without_ohms_breaks_nothing() -> None:
    """Bounds are opened to find what is wrong, but not to a coil of nothing."""
    readings = [
        volts("post", "ground", 12.6), volts("r87", "ground", 0.0), volts("r86", "ground", 0.0),
        volts("post", "r86", 12.6),
    ]  # fmt: skip
    answer = post("circuit-fit", relayed(copy.deepcopy(readings)))
    assert [each["part"] for each in answer["faults"]] == ["switch"]


def test_a_load_that_is_live_with_its_switch_off_comes_first() -> None:
    """12.2 V were read at the lamps with the switch out: it is stuck, and no reading is false."""
    readings = [
        {**volts("post", "ground", 12.6), "case": "off"},
        {**volts("live", "ground lug", 12.2), "case": "off"},
        volts("post", "ground", 12.5),
        volts("live", "ground lug", 12.1),
    ]  # fmt: skip
    cases = [{"name": "on"}, {"name": "off", "without": ["switch"]}]
    answer = post("circuit-fit", lamps(readings) | {"cases": cases})
    first = answer["faults"][0]
    assert (first["part"], first["fault"], first["voltage_v"]) == ("switch", "stays_live", 12.2)
    assert answer["headline"].startswith("With switch off 12.2 V were read in off")
    assert "battery's ground off" in answer["headline"]
    assert "take the readings" not in answer["headline"]


def test_a_load_that_is_dead_with_its_switch_off_is_as_it_should_be() -> None:
    readings = [
        {**volts("live", "ground lug", 0.0), "case": "off"}, volts("post", "ground", 12.5),
        volts("live", "ground lug", 12.1),
    ]  # fmt: skip
    cases = [{"name": "on"}, {"name": "off", "without": ["switch"]}]
    answer = post("circuit-fit", lamps(readings) | {"cases": cases})
    assert "stays_live" not in {each["fault"] for each in answer["faults"]}


def test_a_coil_that_gets_nothing_is_no_open_part_of_its_contact() -> None:
    """Its ground is off: the load is dark, and nothing was read at coil or contact."""
    random = np.random.default_rng(5)
    vehicle = vehicles.drawn(random, "coil side")
    vehicle.ohm["coil ground"], vehicle.fault = vehicles.OPEN_OHM, "coil ground"
    vehicle.solve()
    read = [each for each in vehicles.readings(random, vehicle)
            if not {"key in", "key out", "r86", "r85"} & set(each.get("between", ()))]  # fmt: skip
    answer = post("circuit-fit", vehicles.request(vehicle, read))
    assert "or the coil of relay gets nothing" in answer["headline"]
    assert "See first whether relay clicks in on" in answer["headline"]


def charged(at_rest_v=None):
    """A heater of 1 ohm behind 0.1 ohm at 14.3 V, where a battery of up to 13 V was described."""
    body = question(
        [
            volts("post", "ground", 14.2), volts("post", "live", 1.29),
            volts("live", "ground", 12.9), {"case": "on", "through": "heater", "value_a": 12.9},
        ],
        switch=between(0.001, 0.5), emf=between(11.0, 13.0), load=between(0.8, 1.2),
    )  # fmt: skip
    if at_rest_v is not None:
        body["readings"].append(volts("post", "ground", at_rest_v, "off"))
    return post("circuit-fit", body)


def test_what_charges_is_laid_at_no_part() -> None:
    """12.6 V at rest and 14.2 V at work: no resistance makes volts more, an engine does."""
    answer = charged(12.6)
    assert "something charges it" in answer["charging"]
    assert answer["headline"].startswith(answer["charging"])
    assert (answer["faults"], answer["beyond"], answer["mend"]) == ([], [], None)
    assert answer["next_message"].startswith("Next, take all readings again with nothing")


def test_while_all_is_read_with_the_engine_running_parts_are_told() -> None:
    """By hand 1.29 V across a switch that may take 0.1 V, whatever feeds it."""
    answer = charged()
    assert answer["agreement"] in {"agrees", "not_checked"}
    assert answer["headline"].startswith(answer["charging"])
    assert [each["parts"] for each in answer["parts"] if each["verdict"] == "fail"] == [["switch"]]


@pytest.mark.parametrize(("posts_v", "says"), [(10.9, "keeps 10.9 V"), (12.2, None)])
def test_a_battery_that_keeps_too_little_is_told_by_both(posts_v, says) -> None:
    """A flat one has 11.6 V and some, less 10 A times hundredths of an ohm: 10.9 V are too little.

    Whether it has too few volts or too many ohms no reading tells.
    """
    body = question(
        [
            volts("post", "ground", posts_v), volts("post", "live", 0.05),
            volts("live", "ground", posts_v - 0.05),
            {"case": "on", "through": "heater", "value_a": 10.0},
        ],
        switch=between(0.001, 0.5), emf=between(9.0, 13.2), load=between(0.8, 1.5),
    )  # fmt: skip
    body["circuit"]["source"]["internal_resistance_ohm"] = between(0.003, 0.3)
    answer = post("circuit-fit", body)
    of_path = post("drop-diagnosis", {
        "current_a": 10.0, "supply_v": posts_v, "load_voltage_v": posts_v - 0.05,
        "readings": [{"name": "switch", "kind": "contact", "part": "switch", "measured_v": 0.05}],
    })  # fmt: skip
    assert (of_path["supply_is"] == "too_low") == (says is not None)
    assert (answer["battery"] is None) == (says is None)
    assert says is None or says in answer["headline"]
