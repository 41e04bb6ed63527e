"""Proofs of a relay of the vehicle that was replaced, or whose coil was mended.

The circuits are solved in `faulty_vehicles`, which shares nothing with the fit.
"""

import numpy as np
import pytest

from lastvolt_service.api.problems import Refused

from . import faulty_vehicles as vehicles
from .test_circuit_fit import post

# What is mended, and what it had before. [ohm]
FAULTS = {
    "worn contact": ("relay", 0.2),
    "stuck open": ("relay", vehicles.OPEN_OHM),
    "poor coil feed": ("coil plug", 80.0),
    "poor coil ground": ("coil ground", 80.0),
    "poor feed to 30": ("fuse", 0.3),
}


def read(vehicle, factor, of_clamp):
    """Six readings of a round; what a meter and a clamp err by is the same in all."""
    ends = [("post", "ground"), ("t50", "block"), ("r30", "r87"), ("post", "r30"), ("r86", "r85")]
    found = [
        {"case": "on", "between": list(each),
         "value_v": vehicles.shown(vehicle.volts[each[0]] - vehicle.volts[each[1]], factor)}
        for each in ends
    ]  # fmt: skip
    amps = round(vehicle.amps["solenoid"] * of_clamp, 2)
    return [*found, {"case": "on", "through": "solenoid", "value_a": amps}]


def both(fault, seed=3, more_ohm=None):
    """What is asked of a proof, and the vehicle before and after."""
    random = np.random.default_rng(seed)
    errors = 1.0 + random.uniform(-0.004, 0.004), 1.0 + random.uniform(-0.015, 0.015)
    name, ohm = FAULTS[fault]
    ohm = more_ohm or ohm
    sound = {
        row[0]: random.uniform(*row[4]) * (vehicles.METRE_OHM if row[3] == "wire" else 1.0)
        for row in vehicles.RELAYED
    }
    before, after = (
        vehicles.Faulty(vehicles.RELAYED, 12.65, 0.008, each, fault).solve()
        for each in (sound | {name: ohm}, sound)
    )
    shown = {"before": read(before, *errors), "after": read(after, *errors)}
    body = vehicles.request(before, []) | shown | {
        "switch": "switch", "way": {"name": "mended", "sound": [name]},
    }  # fmt: skip
    del body["readings"]
    return body, before, after


@pytest.mark.parametrize("seed", [2, 3])
@pytest.mark.parametrize("fault", FAULTS)
def test_the_gain_of_what_was_mended_about_a_relay_is_held(fault, seed) -> None:
    body, before, after = both(fault, seed)
    answer = post("gain-proof", body)
    true_v = sum(
        sign * (each.volts["t50"] - each.volts["block"])
        for sign, each in ((-1.0, before), (1.0, after))
    )
    assert answer["proof"] == "proven", answer["headline"]
    assert answer["gain"]["low_v"] <= true_v <= answer["gain"]["high_v"]


def test_a_renewed_relay_promises_what_a_new_contact_drops() -> None:
    """Half of the 0.1 V that a sound one may, at the current of its contact and not of its coil."""
    body, _, after = both("worn contact")
    answer = post("gain-proof", body)
    drop = next(each for each in answer["drops"] if each["part"] == "relay")
    assert drop["promised_v"] == pytest.approx(0.05, rel=0.02)
    assert drop["drop_v"] == pytest.approx(after.volts["r30"] - after.volts["r87"], abs=0.005)


def test_what_is_neither_contact_nor_relay_is_pointed_at() -> None:
    body, *_ = both("worn contact")
    body["way"]["sound"] = ["relay", "rear wire"]
    with pytest.raises(Refused, match="#/way/sound/1: No contact or relay of the circuit"):
        post("gain-proof", body)


@pytest.mark.parametrize("seed", range(1, 5))
@pytest.mark.parametrize("fault", ["poor coil feed", "poor coil ground"])
def test_of_parts_in_a_row_that_no_reading_tells_apart_all_are_named(fault, seed) -> None:
    """The coil alone was read, and is in: what it lacks may be lost before it or behind it."""
    body, before, _ = both(fault, seed, 67.0)
    answer = post("circuit-fit", vehicles.request(before, body["before"]))
    row = {"coil feed", "switch", "coil plug", "coil ground"}
    assert {each["part"] for each in answer["faults"]} == row
