"""Relays wired to the wrong terminals, in a horn's circuit.

From the trade: 30 is the feed, 87 goes to the load, 87a is live until the relay pulls in, and a
button on the ground side gives 85 its ground.
"""

import pytest

from .test_letting_go import RELAY

HORN = {
    "name": "horn", "kind": "current", "nodes": ["horn in", "ground"], "current_a": 5,
    "circuit": "intermittent", "works_from_v": 6,
}  # fmt: skip
WIRED = {
    "feed": ["post", "30"], "coil feed": ["30", "86"], "button": ["85", "ground"],
    "horn wire": ["87", "horn in"],
}  # fmt: skip


def horn(run, *, is_five_pin=False, **moved):
    """A horn behind a relay whose button is on the ground side, with leads moved."""
    branches = [
        {"name": name, "kind": "contact", "nodes": moved.get(name.replace(" ", "_"), nodes),
         "part": "switch" if name == "button" else "connector", "resistance_ohm": 0.005,
         "rating_a": 20}
        for name, nodes in WIRED.items()
    ]  # fmt: skip
    relay = {**RELAY, "coil_nodes": ["86", "85"], "contact_nodes": ["30", "87"]}
    more = {"break_nodes": ["30", "87a"]} if is_five_pin else {}
    return run(
        "circuit-check",
        circuit={
            "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
            "branches": branches, "loads": [HORN], "relays": [{**relay, **more}],
        },
        cases=[{"name": "pressed"}, {"name": "let go", "without": ["button"]}],
    )  # fmt: skip


@pytest.mark.parametrize("at", ["30", "86", "85"])
@pytest.mark.parametrize("is_five_pin", [False, True])
def test_a_wire_that_is_not_at_87_is_named_whatever_it_is_at(run, at, is_five_pin):
    """From the trade: at 30 or 86 the horn sounds day and night, at 85 it is its coil's ground."""
    answer = horn(run, horn_wire=[at, "horn in"], is_five_pin=is_five_pin)
    told = answer.weakest
    assert (told.code, told.part, told.detail) == ("switches_nothing", "relay", "87")
    assert told.verdict == "undecided"
    assert "lead it to 87" in answer.headline


def test_of_one_at_87a_it_is_asked(run):
    """An interlock is wired so, and a horn that sounds until it is pressed."""
    answer = horn(run, horn_wire=["87a", "horn in"], is_five_pin=True)
    told = answer.weakest
    assert (told.code, told.verdict, told.detail) == ("switches_nothing", "unknown", "87")
    assert "goes off when it pulls in" in answer.headline


def test_nothing_is_said_of_a_sound_one_nor_where_feed_and_output_are_exchanged(run):
    """A contact conducts both ways: the coil is fed from the feed."""
    for more in ({}, {"feed": ["post", "87"], "horn_wire": ["30", "horn in"],
                      "coil_feed": ["87", "86"]}):  # fmt: skip
        for is_five_pin in (False, True) if not more else (False,):
            answer = horn(run, is_five_pin=is_five_pin, **more)
            assert "switches_nothing" not in {check.code for check in answer.checks}


def test_a_coil_that_is_fed_behind_its_own_contact_is_told(run):
    """Feed and output exchanged, with the coil's feed left at 30."""
    answer = horn(run, feed=["post", "87"], horn_wire=["30", "horn in"])
    assert (answer.weakest.code, answer.weakest.part) == ("coil_open", "relay")
    assert "behind its own contact" in answer.headline


def test_a_feed_at_87a_makes_a_buzzer_and_that_is_told_first(run):
    answer = horn(run, feed=["post", "87a"], is_five_pin=True)
    assert (answer.weakest.code, answer.weakest.part) == ("coil_over_break", "relay")
