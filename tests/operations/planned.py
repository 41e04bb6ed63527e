"""Circuits whose readings are planned, and what a meter may be off, by hand."""

import copy
import json
import math

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json

from .retrofit_circuits import contact, in_a_row

PLAN = next(each for each in OPERATIONS if each.name == "meter-plan")
EXAMPLE = PLAN.schema.example
# A wire of 12 AWG by ASTM B258, 92^(1/39) from gauge to gauge; copper of IEC 28, 1/58 ohm mm2/m at
# 20 degC; two hundredths of lay.
WIRE_MM2 = math.pi / 4 * (0.127 * 92 ** ((36 - 12) / 39)) ** 2
WIRE_M = 4.0
WIRE_OHM = WIRE_M / 58 / WIRE_MM2 * 1.02
FUSE, SWITCH, GROUND, INSIDE, LAMP, COIL = 0.005, 0.1, 0.02, 0.05, 2.0, 90.0
NEW_FUSE, NEW_CONTACT = 0.002, 0.003


def example():
    return copy.deepcopy(EXAMPLE)


def plan(body):
    return json.loads(to_json(PLAN.answer(copy.deepcopy(body))))


def lamp(*, way=True, emf=12.0, switch=SWITCH, ground=GROUND, **load):
    """A lamp of constant resistance behind a fuse, a switch and a wire, at 20 degC throughout."""
    to_lamp = {
        "name": "to the lamp", "kind": "wire", "size": "12 AWG", "length_m": WIRE_M,
        "insulation": "GXL", "temperature_c": 20,
    }  # fmt: skip
    lamp_ = {
        "name": "reading lamp", "kind": "resistance", "resistance_ohm": LAMP, "needed_v": 10.0
    } | load  # fmt: skip
    branches, placed = in_a_row(
        contact("lamp fuse", "fuse", FUSE, rating_a=15),
        contact("dash switch", "switch", switch, rating_a=15),
        to_lamp, lamp_, contact("lamp ground", "ground", ground),
        load="reading lamp",
    )  # fmt: skip
    relay = {
        "name": "lamp relay", "nominal_v": 12, "coil_resistance_ohm": COIL, "pick_up_v": 7.0,
        "drop_out_v": 1.2, "contact_resistance_ohm": NEW_CONTACT, "rating_a": 30,
        "suppression": {"kind": "none"},
    }  # fmt: skip
    proposal = {
        "relay": relay, "feed_node": "post",
        "feed": [contact("new fuse", "fuse", NEW_FUSE, rating_a=15)],
    }  # fmt: skip
    return {
        "circuit": {
            "source": {
                "plus": "post", "open_circuit_v": emf, "internal_resistance_ohm": INSIDE
            },
            "branches": branches,
            "loads": [placed],
        },
        "cases": [{"name": "evening", "ambient_c": 20}],
        "load": "reading lamp",
        "switch": "dash switch",
    } | ({"way": proposal} if way else {})  # fmt: skip


def starter(**more):
    """The same with the solenoid of a starter in the lamp's place, and no relay."""
    body = lamp(way=False, emf=12.6)
    body["circuit"]["loads"][0] = {
        "name": "reading lamp", "kind": "solenoid", "circuit": "starter_control",
        "nodes": body["circuit"]["loads"][0]["nodes"],
        "rated": {"pull_in_v": 7.8, "resistance_ohm": 0.4, "hold_in_v": 2.0},
    }  # fmt: skip
    return body | more


def off_v(volts):
    """Most that a usual voltmeter is off: 0.5 % and 2 digits of 2,000, and half a one of rounding.

    Its ranges are 200 mV, 2 V, 20 V.
    """
    digit = 1e-4 if abs(volts) <= 0.2 else 1e-3 if abs(volts) <= 2.0 else 1e-2
    return 0.005 * abs(volts) + 2.5 * digit


def off_a(amps):
    """The same of a usual clamp: 2 % and 5 digits of 2,000; its ranges are 20 A and 200 A."""
    return 0.02 * abs(amps) + 5.5 * (1e-2 if abs(amps) <= 20.0 else 1e-1)


def by(answer, code, part=None, case=None):
    """The one reading of a code, of a part, in a case."""
    (found,) = (
        each
        for each in answer["readings"]
        if each["code"] == code and part in {None, each["part"]} and case in {None, each["case"]}
    )
    return found


def as_plan(body):
    """A question of `relay-retrofit` as one for a plan."""
    body = copy.deepcopy(body)
    body["way"] = body.pop("proposal")
    return body
