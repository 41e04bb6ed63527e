"""Work that was promised and not done: the parts are named, and no load is blamed for them.

By hand: a battery, a fuse, a switch and a plug in a row feed two lamps beside each other. With half
of the two lamps' current the ohms of each part give its volts.
"""

import pytest

from .test_circuit_fit import between, contact, post, volts

EMF_V, INSIDE, SOUND_OHM = 12.6, 0.02, 0.004
NAMES = ("fuse", "switch", "plug")
NODES = ("post", "fused", "live", "split", "ground")


def state(poor, lamp):
    """Current of both lamps, and the volts of each node over the ground."""
    ohms = {name: poor.get(name, SOUND_OHM) for name in NAMES}
    amps = EMF_V / (INSIDE + sum(ohms.values()) + 0.5 * lamp)
    at = {"ground": 0.0, "post": EMF_V - INSIDE * amps}
    for name, first, last in zip(NAMES, NODES, NODES[1:], strict=False):
        at[last] = at[first] - ohms[name] * amps
    return amps, at


def readings(poor, lamp, spans):
    amps, at = state(poor, lamp)
    read = [volts(*span, round(at[span[0]] - at[span[1]], 3)) for span in spans]
    return [*read, {"case": "on", "through": "left lamp", "value_a": round(0.5 * amps, 2)}]


def proof(before, after, lamp, spans, sound):
    lamps = [
        {"name": f"{side} lamp", "kind": "resistance", "nodes": ["split", "ground"],
         "resistance_ohm": between(0.88 * lamp, 1.12 * lamp), "needed_v": 0.8 * EMF_V}
        for side in ("left", "right")
    ]  # fmt: skip
    branches = [
        contact(name, first, last, between(0.0005, 4.0), part)
        for name, part, first, last in zip(
            NAMES, ("fuse", "switch", "connector"), NODES, NODES[1:], strict=False
        )
    ]
    return post(
        "gain-proof",
        {
            "circuit": {
                "source": {
                    "plus": "post",
                    "open_circuit_v": between(12.0, 13.0),
                    "internal_resistance_ohm": between(0.005, 0.05),
                },
                "branches": branches,
                "loads": lamps,
            },
            "cases": [{"name": "on"}],
            "load": "left lamp",
            "switch": "switch",
            "way": {"name": "mend both", "sound": sound},
            "before": readings(before, lamp, spans),
            "after": readings(after, lamp, spans),
        },
    )


EACH = [("post", "ground"), ("split", "ground"), ("fused", "live"), ("live", "split")]


@pytest.mark.parametrize(("first", "second"), [("switch", "plug"), ("fuse", "plug")])
@pytest.mark.parametrize("ohm", [0.3, 0.8, 2.0])
@pytest.mark.parametrize("lamp", [2.5, 5.0])
def test_two_parts_that_were_not_mended_are_named_and_no_lamp(first, second, ohm, lamp) -> None:
    """Nothing was done: what was read after is what was read before."""
    poor = {first: ohm, second: ohm}
    spans = [*EACH, ("post", "fused")]
    answer = proof(poor, poor, lamp, spans, [first, second])
    named = [each["part"] for each in answer["look_at"]]
    assert {first, second} <= set(named)
    assert not any(each["code"].startswith("load_takes") for each in answer["look_at"])
    assert answer["proof"] in {"less_than_promised", "not_proven"}
    assert "lamp with" not in answer["headline"]


def test_a_part_that_was_not_mended_comes_before_a_lamp_that_may_have_changed() -> None:
    """Volts over the row only: a plug of 0.8 ohm, or lamps of less; it was the plug's turn."""
    spans = [("post", "ground"), ("split", "ground"), ("fused", "live")]
    poor = {"plug": 0.8, "switch": 0.8}
    answer = proof(poor, poor, 2.5, spans, ["switch", "plug"])
    parts = [each["part"] for each in answer["look_at"] if each["part"] in {"switch", "plug"}]
    assert parts
    first = answer["look_at"][0]
    assert not first["code"].startswith("load_takes")
    # It is the old one still: nothing about it is new.
    assert first["code"] == "still_not_sound"
    assert "new" not in first["message"]


def test_of_two_parts_the_one_that_was_mended_is_not_named() -> None:
    """The switch was cleaned, and the plug left as it was."""
    spans = [*EACH, ("post", "fused")]
    before = {"switch": 0.8, "plug": 0.8}
    answer = proof(before, {"plug": 0.8}, 2.5, spans, ["switch", "plug"])
    named = [each["part"] for each in answer["look_at"]]
    assert "plug" in named
    assert "switch" not in named
