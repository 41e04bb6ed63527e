"""The invented coach of the demo, and what is asked about it, as any client may post it."""

import json
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

JSONObject = dict[str, Any]


def coach() -> JSONObject:
    """Read the data of the coach: its circuit as it was found, and what was read of it."""
    text = files("lastvolt.cli").joinpath("coach.json").read_text(encoding="utf-8")
    found: JSONObject = json.loads(text)
    return found


def not_measured(data: JSONObject) -> JSONObject:
    """The circuit before anybody measured: what is not known is an interval."""
    unknown = data["not_known"]
    circuit = data["circuit"]
    return {
        "source": {**circuit["source"], **unknown["source"]},
        "branches": [{**each, **unknown.get(each["name"], {})} for each in circuit["branches"]],
        "loads": [
            {**each, "windings": {**each["windings"], **unknown[each["name"]]}}
            for each in circuit["loads"]
        ],
    }


def fit_of(data: JSONObject) -> JSONObject:
    """Ask circuit-fit what the coach is made of."""
    hot = data["cases"][-1]
    return {
        "circuit": not_measured(data),
        "cases": [*data["read_in"], hot],
        "load": data["load"],
        "worst_case": hot["name"],
        "meters": data["meters"],
        "readings": data["before"],
    }


def choice_of(data: JSONObject, circuit: Mapping[str, object]) -> JSONObject:
    """Ask remedy-choice what to do about a circuit of it."""
    return {
        **{key: data[key] for key in ("cases", "load", "switch", "ways")},
        "circuit": circuit,
    }


def proof_of(data: JSONObject, made_sound: list[str]) -> JSONObject:
    """Ask gain-proof whether the relay, and what was mended with it, brought what it promised."""
    asked = {key: value for key, value in fit_of(data).items() if key != "readings"}
    way = {**data["ways"][0], "sound": made_sound}
    ends = {key: data[key] for key in ("switch", "before", "after")}
    return {**asked, **ends, "way": way}


def start_of(data: JSONObject) -> JSONObject:
    """Ask start-sequence what is heard at the key."""
    circuit = data["circuit"]
    return {
        "circuit": {
            "source": circuit["source"],
            "branches": [*circuit["branches"], data["main_cable"]],
        },
        "starter": data["starter"],
        "key": data["switch"],
        "cases": data["cases"],
    }


def plan_of(data: JSONObject) -> JSONObject:
    """Ask meter-plan which readings to take, while nobody has."""
    return {
        **{key: data[key] for key in ("load", "switch", "meters")},
        "circuit": not_measured(data),
        "cases": data["read_in"][1:],
        "way": data["ways"][0]["relay"],
    }


def sheet_of(data: JSONObject) -> JSONObject:
    """Ask work-sheet for the sheet to take under the vehicle."""
    return {
        **{key: data[key] for key in ("circuit", "cases", "load", "switch", "colours", "blade_mm")},
        "proposal": data["ways"][0]["relay"],
        "vehicle": data["place"],
    }
