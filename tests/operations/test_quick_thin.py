"""A relay follows upon the battery alone just where the wire is too thin at its very best."""

import random

import pytest

from ..cost import some
from .relay_lists import post

MM2 = {"1 mm2": 1.0, "1.5 mm2": 1.5, "2.5 mm2": 2.5, "4 mm2": 4.0, "6 mm2": 6.0}
OHM_MM2_PER_M, PER_K = 0.01724, 0.00393
# Strands are longer than their wire, tinned, and get warm while a key is held: so much at the most.
MORE = 1.15


def best_of(answer, more=1.0):
    """What reaches terminal 50 at the most, and what it may need: one loop, reckoned by Ohm."""
    request = answer["request"]
    (load,) = request["circuit"]["loads"]
    case = next(each for each in request["cases"] if each["name"] == answer["case"])
    zones = case.get("zone_ambients_c", {})
    rated = load["rated"]

    def copper(zone):
        return 1 + PER_K * (zones.get(zone, case["ambient_c"]) - 20)

    source = request["circuit"]["source"]
    battery = case.get("internal_resistance_ohm", source["internal_resistance_ohm"])
    way = battery["low"] if isinstance(battery, dict) else battery
    for part in request["circuit"]["branches"]:
        if part["kind"] == "contact":
            way += part["resistance_ohm"]["low"]
        else:
            metres = part["length_m"]
            metres = metres["low"] if isinstance(metres, dict) else metres
            way += more * OHM_MM2_PER_M / MM2[part["size"]] * metres * copper(part.get("zone"))
    winding = rated["resistance_ohm"]["high"] * copper(load["zone"])
    volts = source["open_circuit_v"]["high"] * winding / (winding + way)
    return volts, rated["pull_in_v"]["high"] * copper(load["zone"])


@pytest.mark.parametrize("seed", range(some(8, 60)))
def test_a_relay_comes_without_a_reading_just_where_no_contact_can_help(seed):
    drawn = random.Random(seed)
    body = {
        "system_v": drawn.choice([6, 12, 24]), "load": "starter_solenoid",
        "distance_m": round(drawn.uniform(5.5, 14), 1), "wire": drawn.choice([*MM2]),
        "wear": drawn.choice(["new", "used", "old"]), "fails": drawn.choice(["hot", "always"]),
    }  # fmt: skip
    answer = post("quick-answer", body)
    volts, needed = best_of(answer)
    codes = [step["code"] for step in answer["plan"]]
    assert "relay" in codes
    if answer["advice"] != "find_out_first":  # whatever is assumed too little arrives
        assert best_of(answer)[0] < needed
        return
    at_once = codes == ["read_battery", "charge", "relay", "see_to_load"]
    if volts < needed:  # as plain copper has it
        assert at_once
    elif best_of(answer, MORE)[0] > needed:
        assert not at_once


def test_the_reckoning_tells_both_ways():
    """12 m of 1 mm2 starve it, 6 m of 6 mm2 do not: neither side of the test above is empty."""
    body = {"system_v": 12, "load": "starter_solenoid", "wear": "new", "fails": "hot"}
    thin = best_of(post("quick-answer", body | {"distance_m": 12, "wire": "1 mm2"}))
    thick = best_of(post("quick-answer", body | {"distance_m": 6, "wire": "6 mm2"}))
    assert thin[0] < thin[1]
    assert thick[0] > thick[1]
