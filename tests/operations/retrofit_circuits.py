"""Circuits and a relay proposed for each: what the tests of the decision ask about."""

RELAYS = {
    6: {"coil_resistance_ohm": 22, "pick_up_v": 3.6, "drop_out_v": 0.6},
    12: {"coil_resistance_ohm": 90, "pick_up_v": 6.9, "drop_out_v": 1.2},
    24: {"coil_resistance_ohm": 320, "pick_up_v": 14.8, "drop_out_v": 2.4},
}


def wire(name, size, length_m, **more):
    return {
        "name": name, "kind": "wire", "size": size, "length_m": length_m, "insulation": "GXL",
        **more,
    }  # fmt: skip


def contact(name, part, ohm, **more):
    return {"name": name, "kind": "contact", "part": part, "resistance_ohm": ohm, **more}


def in_a_row(*parts, start="post", end="ground", load=None):
    """Parts in series, the load among them at its place."""
    middle = [f"n{place}" for place in range(1, len(parts))]
    nodes = [start, *middle, end]
    placed = [
        {**part, "nodes": [nodes[place], nodes[place + 1]]} for place, part in enumerate(parts)
    ]
    branches = [each for each in placed if each["name"] != load]
    return branches, next(each for each in placed if each["name"] == load)


def asked(
    *parts, load, volts=12, rest_v=None, inside_ohm=0.008, fuse_a=15, switch="switch",
    relay=None, source=None, case=None, size="10 AWG", kind="resistive",
):  # fmt: skip
    """One load behind parts in a row, and a sensible relay beside it."""
    name = load["name"]
    branches, placed = in_a_row(*parts, load=name)
    assert load in parts
    resting = {"open_circuit_v": rest_v or 1.05 * volts, "internal_resistance_ohm": inside_ohm}
    chosen = {
        "name": "relay", "thermal_resistance_k_per_w": 30, "contact_resistance_ohm": 0.003,
        "rating_a": 40, "make_rating_a": 240, "load_kind": kind, **RELAYS[volts], **(relay or {}),
    }  # fmt: skip
    return {
        "circuit": {
            "source": {"plus": "post", **(source or resting)},
            "branches": branches,
            "loads": [placed],
        },
        "cases": [{"name": "a drive", "ambient_c": 20, **(case or {})}],
        "load": name,
        "switch": switch,
        "nominal_v": volts,
        "proposal": {
            "relay": chosen,
            "feed_node": "post",
            "feed": [
                contact("relay fuse", "fuse", 0.002, rating_a=fuse_a),
                wire("relay feed", size, 0.5),
            ],
            "outlet": [wire("relay to load", size, 0.4)],
        },
    }


def lamps(**more):
    return {
        "name": "headlamps", "kind": "resistance", "resistance_ohm": 1.31, "needed_v": 10.8, **more
    }  # fmt: skip


HEADLAMPS = lamps()


def headlamps(*, switch_ohm=0.003, plug_ohm=0.003, ground_ohm=0.002, **more):
    """Two of 55 W behind a sound harness of 12 and 14 AWG."""
    return asked(
        wire("feed", "12 AWG", 3),
        contact("switch", "switch", switch_ohm, rating_a=20),
        contact("plug", "connector", plug_ohm),
        wire("to the lamps", "14 AWG", 2),
        HEADLAMPS,
        contact("lamp ground", "ground", ground_ohm),
        load=HEADLAMPS,
        kind="lamp",
        **more,
    )


FAN = {"name": "fan", "kind": "resistance", "resistance_ohm": 0.6, "needed_v": 10.5}


def fan(*, rating_a=40, **more):
    """A fan of 20 A behind a heavy harness."""
    return asked(
        wire("feed", "8 AWG", 2),
        contact("switch", "switch", 0.002, rating_a=rating_a),
        wire("to the fan", "8 AWG", 2),
        FAN,
        contact("fan ground", "ground", 0.001),
        load=FAN,
        kind="motor",
        rest_v=12.6,
        fuse_a=30,
        **more,
    )


def starter(volts=12, *, pull_in_v=7.8, ohm=0.9, zone_c=20, size="12 AWG", length_m=2.0, **more):
    """A starter solenoid behind two lengths of one wire."""
    load = {
        "name": "starter solenoid", "kind": "solenoid", "zone": "starter",
        "rated": {"pull_in_v": pull_in_v, "resistance_ohm": ohm},
    }  # fmt: skip
    parts = {"switch": 0.005, "strap": 0.0005} | {
        key: more.pop(key) for key in ("switch", "strap") if key in more
    }
    return asked(
        wire("feed", size, length_m),
        contact("key switch", "switch", parts["switch"], rating_a=30),
        wire("to the starter", size, length_m),
        load,
        contact("engine strap", "ground", parts["strap"]),
        load=load,
        volts=volts,
        switch="key switch",
        case={"zone_ambients_c": {"starter": zone_c}, "duration_s": 5},
        **more,
    )


def cranking(*, clamp_ohm=0.0002, inside_ohm=0.006, hold_v=7.0, rest_v=12.5):
    """The motor draws 200 A over the post's clamp while the solenoid must hold."""
    branches, load = in_a_row(
        contact("post clamp", "terminal", clamp_ohm),
        wire("to the key", "12 AWG", 2),
        contact("key switch", "switch", 0.005, rating_a=30),
        wire("to the starter", "12 AWG", 2),
        {
            "name": "starter solenoid", "kind": "solenoid",
            "rated": {"pull_in_v": 7.8, "resistance_ohm": 0.9, "hold_in_v": hold_v},
        },
        load="starter solenoid",
    )  # fmt: skip
    body = asked(HEADLAMPS, load=HEADLAMPS, rest_v=rest_v, inside_ohm=inside_ohm)
    clamped = branches[0]["nodes"][1]
    motor = {
        "name": "motor", "kind": "current", "current_a": 200, "nodes": [clamped, "ground"]
    }  # fmt: skip
    body["circuit"] |= {"branches": branches, "loads": [load, motor]}
    body["cases"] = [
        {"name": "cranking", "ambient_c": 20, "held": ["starter solenoid"], "duration_s": 5}
    ]
    body |= {"load": "starter solenoid", "switch": "key switch"}
    body["proposal"]["feed_node"] = clamped
    return body


def without(body, field, name):
    """The body with a field of a proposed part, or of the feed, not given."""
    proposal = body["proposal"]
    for each in (proposal["relay"], *proposal["feed"], *proposal["outlet"]):
        if each["name"] == name:
            del each[field]
    return body


def told(answer):
    return {reason.code for reason in answer.reasons}


def checked(answer, verdict):
    return {(each.code, each.part) for each in answer.checks if each.verdict == verdict}
