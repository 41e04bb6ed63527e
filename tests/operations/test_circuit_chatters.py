"""Whether a relay that chatters does so for its wiring, or for a poor contact before all of it."""

import pytest

from .test_circuit_relays import LAMP, RELAY, ask, key


@pytest.mark.parametrize("ohm", [5, 20])
def test_what_makes_a_relay_chatter_is_the_clamp_that_all_hangs_on(run, ohm):
    """Plugs of 0.25 ohm behind 5 ohm of clamp: it takes 12 V, from whatever hangs behind it."""
    clamp = {
        "name": "clamp", "kind": "contact", "part": "terminal", "resistance_ohm": ohm,
        "nodes": ["post", "block"],
    }  # fmt: skip
    switch = {**key(), "nodes": ["block", "trigger"]}
    relay = {**RELAY, "drop_out_v": 1.2, "contact_nodes": ["block", "out"]}
    plugs = {**LAMP, "name": "plugs", "resistance_ohm": 0.25}
    answer = ask(run, branches=[clamp, switch], relays=[relay], loads=[plugs])
    state = answer.cases[0]
    assert state.relays[0].chatters
    (rest,) = [check for check in state.checks if check.code == "relay_rest"]
    assert rest.detail == "clamp"
    assert "sags less" not in rest.message
    assert (answer.weakest.code, answer.weakest.part) == ("contact_drop", "clamp")


def test_a_poor_contact_that_its_coil_does_not_hang_on_does_not_lead(run):
    """The coil and the contact hang on half an ohm of feed; a lamp's own ground is poor besides."""
    feed = {
        "name": "thin feed", "kind": "resistance", "resistance_ohm": 0.5,
        "nodes": ["post", "trigger"],
    }  # fmt: skip
    ground = {
        "name": "lamp ground", "kind": "contact", "part": "ground", "resistance_ohm": 0.02,
        "nodes": ["lamp", "ground"],
    }  # fmt: skip
    relay = {**RELAY, "contact_nodes": ["trigger", "out"]}
    motor = {**LAMP, "name": "motor", "resistance_ohm": 0.1}
    lamp = {**LAMP, "nodes": ["post", "lamp"]}
    answer = ask(run, branches=[feed, ground], relays=[relay], loads=[motor, lamp])
    assert (answer.weakest.code, answer.weakest.part) == ("relay_rest", "relay")
    assert answer.weakest.detail is None
