"""Lists of relays and places, and what single operations say of each relay in each place."""

import copy
import json

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json
from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.decision import blades

from .retrofit_circuits import asked, contact, wire

BY_NAME = {each.name: each for each in OPERATIONS}
# By practice: first what is not on the hot part, then up to 85 degC, then how dry it is.
KINDEST = ["dry", "splash", "drips", "stones", "on_the_hot_part"]


def post(name, body):
    return json.loads(to_json(BY_NAME[name].answer(copy.deepcopy(body))))


def relay(name, *, volts=12, **more):
    """A relay that does for most: 40 A, 125 degC, sealed."""
    coils = {
        6: {"coil_resistance_ohm": 22, "pick_up_v": 3.6, "drop_out_v": 0.6},
        12: {"coil_resistance_ohm": 90, "pick_up_v": 6.9, "drop_out_v": 1.2},
        24: {"coil_resistance_ohm": 320, "pick_up_v": 14.8, "drop_out_v": 2.4},
    }
    return {
        "name": name, "nominal_v": volts, **coils[volts], "thermal_resistance_k_per_w": 30,
        "coil_limit_c": 180, "highest_ambient_c": 125, "rating_a": 40, "rating_ambient_c": 23,
        "derating": [{"ambient_c": 85, "current_a": 30}, {"ambient_c": 125, "current_a": 20}],
        "make_rating_a": 240, "rated_v": volts, "contact_resistance_ohm": 0.003,
        "suppression": {"kind": "diode"}, **more,
    }  # fmt: skip


def place(name, zone, exposure="dry", feed_m=0.5, outlet_m=0.5, **more):
    return {
        "name": name, "zone": zone, "exposure": exposure, "feed_node": "post",
        "feed_length_m": feed_m, "outlet_length_m": outlet_m, **more,
    }  # fmt: skip


def question(retrofit, candidates, places, *, zones=None, **more):
    """The question of a retrofit, with a list of relays in place of one."""
    body = {key: each for key, each in copy.deepcopy(retrofit).items() if key != "proposal"}
    for case in body["cases"]:
        case["zone_ambients_c"] = case.get("zone_ambients_c", {}) | (zones or {})
    return body | {"candidates": candidates, "places": places} | more


def one_by_one(body, answer):
    """Post every relay in every place to relay-retrofit; None where it has no answer.

    Left out are those that get a thinner wire than the place, for their blades: only of the best
    is it told which, and that proposal is posted as it is.
    """
    wires = {each["name"]: each for each in answer["places"]}
    kept = {key: body[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    for here in body["places"]:
        wired = wires[here["name"]]
        if wired["size"] is None:
            continue
        for each in body["candidates"]:
            rating_a = each.get("rating_a")
            if rating_a and not blades.grips(blades.of_contact(rating_a), wired["size"], None):
                continue
            proposal = proposed(body, each, here, wired)
            try:
                yield (each["name"], here["name"]), post("relay-retrofit", kept | proposal)
            except CalculationError:
                yield (each["name"], here["name"]), None


def proposed(body, candidate, here, wired):
    """A proposal by hand: fuse first, then the wires of the place."""
    chosen = {key: each for key, each in candidate.items() if key != "cost"}
    chosen |= {"zone": here["zone"]}
    if body.get("load_kind"):
        chosen.setdefault("load_kind", body["load_kind"])
    wire = {
        "kind": "wire", "size": wired["size"], "zone": here["zone"],
        "insulation": here.get("insulation", "GXL"),
    }  # fmt: skip
    # A new fuse with its holder takes half of what a sound one may: 0.1 V of 0.2 V (practice).
    most_a = bare_current_a(body)
    return {
        "proposal": {
            "relay": chosen,
            "feed_node": here["feed_node"],
            "feed": [
                {
                    "name": "my fuse", "kind": "contact", "part": "fuse", "zone": here["zone"],
                    "resistance_ohm": float(f"{0.1 / most_a:.3g}"),
                    "rating_a": wired["fuse_rating_a"], "fuse_family": wired["fuse_family"],
                },
                {**wire, "name": "my feed", "length_m": here["feed_length_m"]},
            ],
            "outlet": [{**wire, "name": "my outlet", "length_m": here["outlet_length_m"]}],
        }
    }  # fmt: skip


def bare_current_a(body):
    """What the load takes with its live end at the post: circuit-check, by hand moved there."""
    circuit = copy.deepcopy(body["circuit"])
    load = next(each for each in circuit["loads"] if each["name"] == body["load"])
    load["nodes"] = ["post", load["nodes"][1]]
    found = post(
        "circuit-check",
        {"circuit": circuit, "cases": body["cases"], "nominal_v": body["nominal_v"]},
    )
    return max(
        each["current_a"]
        for case in found["cases"]
        for each in case["loads"]
        if each["name"] == body["load"]
    )


def kindness(body, row):
    """What a relay in a place is taken by, of what the request tells."""
    here = next(each for each in body["places"] if each["name"] == row["place"])
    bought = next(each for each in body["candidates"] if each["name"] == row["candidate"])
    hottest_c = max(case["zone_ambients_c"][here["zone"]] for case in body["cases"])
    return (
        here["exposure"] == "on_the_hot_part",
        # By practice each step to a drier place is worth 2 m of new wire, one to a cooler 4 m.
        here["feed_length_m"]
        + here["outlet_length_m"]
        + 2.0 * KINDEST.index(here["exposure"])
        + 4.0 * (hottest_c > 85),
        bought.get("cost", float("inf")),
    )


def headlamps_of(load, volts, switch_ohm):
    """Lamps of any system behind a fuse of 40 A."""
    return asked(
        contact("main fuse", "fuse", 0.003, rating_a=40),
        wire("feed", "12 AWG", 3),
        contact("switch", "switch", switch_ohm, rating_a=30),
        wire("to the lamps", "14 AWG", 2),
        load,
        contact("lamp ground", "ground", 0.002),
        load=load,
        volts=volts,
    )
