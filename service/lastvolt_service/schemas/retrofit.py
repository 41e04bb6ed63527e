"""Requests about a relay that is to relieve a switch."""

from typing import ClassVar

from marshmallow import ValidationError, validates_schema

from lastvolt_service.schemas.base import JSONObject
from lastvolt_service.schemas.cases import Cases, CircuitCheckRequest
from lastvolt_service.schemas.circuits import (
    ChainContact,
    ChainResistance,
    ChainWire,
    OptionalName,
    RelayData,
    Toleranced,
    node_names,
)
from lastvolt_service.schemas.fields import Kinded, Many, Name, Part
from lastvolt_service.work import BOUND_OF_RETROFITS

MAX_CHAIN = 20
# What says how much each description of a solenoid needs to stay closed.
HOLDS = {"rated": "hold_in_v", "windings": "hold_ampere_turns", "plunger": "hold_force_n"}
CHAIN = {"wire": ChainWire, "contact": ChainContact, "resistance": ChainResistance}


class Proposal(Toleranced):
    """A relay near the load, its coil on the old wire, its contact fed from elsewhere."""

    relay = Part(RelayData, "the relay")
    feed_node = Name("node that the relay's contact is fed from, such as the heavy cable's end")
    feed = Many(
        Kinded(CHAIN),
        "parts from there to terminal 30, in order: the fuse belongs here",
        minimum=0,
        maximum=MAX_CHAIN,
        optional=True,
    )
    outlet = Many(
        Kinded(CHAIN),
        "parts from terminal 87 to the load, in order",
        minimum=0,
        maximum=MAX_CHAIN,
        optional=True,
    )
    coil_ground_node = OptionalName(
        "node that terminal 85 is grounded at; by default where the load is"
    )


class RelayRetrofitRequest(Cases):
    """A circuit as it is, and the relay that is proposed for one of its loads."""

    bound: ClassVar[str] = BOUND_OF_RETROFITS

    load = Name(  # type: ignore[assignment]  # a field of this name hides no method
        "the load to be relieved; its old wire will feed the relay's coil instead"
    )
    switch = Name("the switch or other contact to be spared")
    proposal = Part(Proposal, "the relay and its wires")

    def known_names(self, data: JSONObject) -> set[str]:
        """As for any cases, and the proposed parts."""
        return super().known_names(data) | {name for name, _ in _proposed(data)}

    @validates_schema
    def _fits_the_circuit(self, data: JSONObject, **_kwargs: object) -> None:
        circuit, proposal = data["circuit"], data["proposal"]
        loads = {load["name"]: load for load in circuit["loads"]}
        contacts = {item["name"] for item in circuit["branches"] if item["kind"] == "contact"}
        errors: JSONObject = {}
        if data["load"] not in loads:
            errors["load"] = ["No load of the circuit has this name."]
        elif loads[data["load"]]["kind"] != "solenoid" and "needed_v" not in loads[data["load"]]:
            errors["load"] = ["This load must be a solenoid or give needed_v."]
        if data["switch"] not in contacts:
            errors["switch"] = ["No contact of the circuit has this name."]
        nodes = node_names(circuit)
        wrong = {
            field: ["The circuit has no such node."]
            for field in ("feed_node", "coil_ground_node")
            if field in proposal and proposal[field] not in nodes
        }
        known = super().known_names(data)
        seen: set[str] = set()
        for name, place in _proposed(data):
            if name in known or name in seen:
                wrong[place] = [f"Another part is called {name!r}."]
            seen.add(name)
        if wrong:
            errors["proposal"] = wrong
        if errors:
            raise ValidationError(errors)
        _check_cases(data, loads[data["load"]])

    example: ClassVar[JSONObject] = {
        **{key: CircuitCheckRequest.example[key] for key in ("circuit", "cases")},
        "load": "starter solenoid",
        "switch": "key switch",
        "proposal": {
            "relay": {
                "name": "start relay",
                "zone": "engine bay",
                "coil_resistance_ohm": 90,
                "pick_up_v": 6.9,
                "drop_out_v": 1.2,
                "thermal_resistance_k_per_w": 30,
                "contact_resistance_ohm": 0.003,
                "rating_a": 40,
            },
            "feed_node": "battery post",
            "feed": [
                {
                    "name": "relay fuse",
                    "kind": "contact",
                    "part": "fuse",
                    "resistance_ohm": 0.002,
                    "rating_a": 30,
                },
                {
                    "name": "starter cable to relay",
                    "kind": "wire",
                    "size": "10 AWG",
                    "length_m": 0.6,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
            ],
            "outlet": [
                {
                    "name": "relay to solenoid",
                    "kind": "wire",
                    "size": "10 AWG",
                    "length_m": 0.4,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
            ],
        },
    }


def _check_cases(data: JSONObject, load: JSONObject) -> None:
    """Refuse cases in which there is nothing to compare."""
    needed = {data["load"], data["switch"], data["proposal"]["relay"]["name"]}
    solenoid: JSONObject = next((load[key] for key in HOLDS if key in load), {})
    holds = "needed_v" in load or any(field in solenoid for field in HOLDS.values())
    errors: dict[int, JSONObject] = {}
    for index, case in enumerate(data["cases"]):
        absent = {
            place: ["The load, the switch and the proposed relay must be there in every case."]
            for place, name in enumerate(case["without"])
            if name in needed
        }
        if absent:
            errors[index] = {"without": absent}
        elif load["name"] in case["held"] and not holds:
            errors[index] = {"held": ["Give what keeps the load closed to judge whether it holds."]}
    if errors:
        raise ValidationError({"cases": errors})


def _proposed(data: JSONObject) -> list[tuple[str, str]]:
    """Names of the proposed parts, and the field of the proposal that each stands in."""
    proposal = data["proposal"]
    chains = [(part["name"], field) for field in ("feed", "outlet") for part in proposal[field]]
    return [(proposal["relay"]["name"], "relay"), *chains]
