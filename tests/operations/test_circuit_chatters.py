"""Whether a relay that chatters does so for its wiring, or for a poor contact before all of it."""

import pytest

from .test_circuit_relays import LAMP, RELAY, ask, key, verdicts


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


def changeover(name, coil, make, rest, **more):
    """A relay with 87 and 87a."""
    nodes = {"coil_nodes": coil, "contact_nodes": make, "break_nodes": rest}
    return {**RELAY, "name": name, **nodes, "break_rating_a": 30, **more}


ON_LIVE = changeover("horn relay", ["rest", "85"], ["post", "out"], ["post", "rest"])
ON_GROUND = changeover("horn relay", ["trigger", "rest"], ["post", "out"], ["ground", "rest"])
BUTTON = {**key(), "nodes": ["85", "ground"]}


def poor(answer):
    return {(c.code, c.part, c.detail) for c in answer.checks if c.verdict == "fail"}


@pytest.mark.parametrize(
    ("relay", "switch", "beside"),
    [
        (ON_LIVE, BUTTON, ()),
        ({**ON_GROUND, "contact_nodes": ["ground", "low"]}, key(), ()),
        # One that is to hold with less, but gets 12.6 V * 90 / 390, some 2.9 V, and drops at 4.
        (ON_LIVE, BUTTON, [300]),
    ],
)
def test_a_coil_over_its_own_break_contact_buzzes_and_is_to_be_fed_from_before_it(
    run, relay, switch, beside
):
    """From the trade: so a buzzer is wired. No point that sags less cures it."""
    across = [
        {"name": "saver", "kind": "resistance", "resistance_ohm": ohm, "nodes": ["post", "rest"]}
        for ohm in beside
    ]
    horn = {**LAMP, "nodes": ["post", "low"] if relay is not ON_LIVE else ["out", "ground"]}
    answer = ask(run, branches=[switch, *across], relays=[relay], loads=[horn])
    assert answer.cases[0].relays[0].chatters
    assert poor(answer) >= {("coil_over_break", "horn relay", "horn relay")}
    assert answer.weakest.code == "coil_over_break"
    assert "from before that contact" in answer.headline
    assert "sags less" not in answer.headline


def test_one_that_holds_over_a_resistor_is_sound(run):
    """By hand: 12.6 V * 90 / 130 are 8.7 V, and it drops out at 4."""
    saver = {"name": "saver", "kind": "resistance", "resistance_ohm": 40, "nodes": ["post", "rest"]}
    answer = ask(run, branches=[BUTTON, saver], relays=[ON_LIVE])
    assert answer.cases[0].relays[0].energised
    assert not poor(answer)


def pair(over, *, other_rest):
    """One relay's coil over 87a of the other; that one's over a contact of the first, or not."""
    first = changeover("left", ["left coil", "ground"], ["post", "out"], other_rest)
    second = changeover("right", [over, "ground"], ["post", "far"], ["trigger", "left coil"])
    return [first, second]


def test_two_relays_that_feed_and_cut_each_other_buzz_for_the_one_over_87a(run):
    relays = pair("out", other_rest=["post", "spare"])
    answer = ask(run, relays=relays)
    assert poor(answer) >= {("coil_over_break", "left", "right")}
    assert "relay_rest" not in {code for code, _, _ in poor(answer)}
    assert answer.weakest.part == "left"


def test_of_two_relays_that_bar_each_other_the_first_one_wins(run):
    """From the trade: so left and right of a winch are barred. Nothing is wrong with it."""
    relays = pair("right coil", other_rest=["other", "right coil"])
    switches = [key(), {**key(), "name": "other key", "nodes": ["post", "other"]}]
    loads = [LAMP, {**LAMP, "name": "far lamp", "nodes": ["far", "ground"]}]
    both, first = {"name": "both"}, {"name": "left first", "held": ["left"]}
    answer = ask(run, both, first, relays=relays, branches=switches, loads=loads)
    state = answer.cases[1]
    assert [relay.energised for relay in state.relays] == [True, False]
    assert not poor(answer)
    found = verdicts(answer.cases[0])
    assert found["first_wins", "left"] == found["first_wins", "right"] == "unknown"
    assert "held" in next(c.message for c in answer.cases[0].checks if c.code == "first_wins")
