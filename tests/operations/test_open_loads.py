"""A load whose feed or ground is missing altogether, where every case leaves some switch out.

From the trade: a wiper without a ground does not run, whichever of its two switches is on. That
each case opens the other switch makes it no load that is off by design.
"""

import pytest

from .circuit_parts import ask, checks, contact, load
from .test_letting_go import RELAY


def switch(name, start, end):
    return contact(name, start, end, 0.005, part="switch", rating_a=20)


SLOW, FAST = {"name": "slow", "without": ["fast"]}, {"name": "fast", "without": ["slow"]}
OFF = {"name": "off", "without": ["slow", "fast"]}
GROUND = contact("wiper ground", "wg", "ground", 0.002, part="ground")


def wiper(run, *more, loads=(), end="wg", cases=(SLOW, FAST, OFF)):
    made = [load("wiper", "w", end, resistance_ohm=2.0), *loads]
    switches = [switch("slow", "post", "w"), switch("fast", "post", "w")]
    return ask(run, [*switches, *more], made, *cases, nominal_v=12)


def not_joined(states):
    return {part for state in states for code, part in checks(state) if code == "not_joined"}


def test_a_ground_that_is_not_there_is_told_in_every_case(run):
    assert not_joined(wiper(run, GROUND)) == set()
    states = wiper(run)
    assert [checks(state)["not_joined", "wiper"].verdict for state in states] == ["fail"] * 3


def test_a_load_that_a_case_takes_out_is_not_asked_about(run):
    (state,) = wiper(run, cases=[{"name": "unplugged", "without": ["wiper"]}])
    assert not_joined([state]) == set()


def test_a_load_in_series_is_a_way(run):
    """A gauge, its sender the way to the ground; and the sender lost."""
    gauge = load("gauge", "w", "sender", resistance_ohm=60.0)
    sender = load("tank", "sender", "ground", resistance_ohm=100.0)
    assert not_joined(wiper(run, GROUND, loads=[gauge, sender])) == set()
    assert not_joined(wiper(run, GROUND, loads=[gauge])) == {"gauge"}


@pytest.mark.parametrize(("closed", "told"), [("fast", set()), (None, {"wiper"})])
def test_a_switch_that_a_case_opens_is_no_lost_feed(run, closed, told):
    """The stalk's 31 side is switched: open in the case, it is there; taken out, it is lost."""
    stalk = [switch("stalk", "wg", "ground")] if closed else []
    cases = [{"name": "rest", "without": [*(each["name"] for each in stalk), "fast"]}]
    assert not_joined(wiper(run, *stalk, cases=cases)) == told


@pytest.mark.parametrize("rest", [["post", "lamp in"], ["post", "87a"], None])
def test_an_unused_87_is_no_open_end_where_87a_leads_on(run, rest):
    """A lock-out relay switches by its 87a alone."""
    made = {**RELAY, "name": "lock-out", "coil_nodes": ["key", "ground"]}
    made |= {"contact_nodes": ["post", "87"]}
    made |= {"break_nodes": rest, "break_rating_a": 20} if rest else {}
    branches = [contact("key", "post", "key", 0.01, part="switch", rating_a=10),
                contact("plug", "post", "lamp in", 0.01)]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": branches, "relays": [made],
        "loads": [load("lamp", "lamp in", "ground", resistance_ohm=2)],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "on"}], nominal_v=12)
    found = {
        check.part
        for check in answer.checks
        if (check.code, check.verdict) == ("switches_nothing", "undecided")
    }
    assert found == (set() if rest and rest[1] == "lamp in" else {"lock-out"})


DIPPED = {"name": "dipped", "without": ["main"]}


@pytest.mark.parametrize("at", ["dip", "main at lamp"])
def test_two_lamps_of_one_lost_feed_do_not_feed_each_other(run, at):
    """The dip wire was put on the main filament: both dip filaments hang between two grounds."""
    grounds = [contact(f"{side} ground", side, "ground", 0.002, part="ground")
               for side in ("left", "right")]  # fmt: skip
    beams = [switch("dip", "post", "dip"), switch("main", "post", "main at lamp"),
             contact("dip plug", "dip", "dip at lamp" if at == "dip" else at, 0.002)]  # fmt: skip
    lamps = [load(f"{side} {beam}", f"{beam} at lamp", side, resistance_ohm=2.6)
             for side in ("left", "right") for beam in ("main", "dip")]  # fmt: skip
    (state,) = ask(run, [*beams, *grounds], lamps, DIPPED, nominal_v=12)
    lost = set() if at == "dip" else {"left dip", "right dip"}
    assert not_joined([state]) == lost
