"""Two switches before a relay's coil: opening either lets it go, or the answer says which does not.

From the trade: a starter whose relay holds itself past the key cranks on, whatever a gear switch
would still do; a start and a stop button are wired so on purpose. By hand: what is left at the coil
is the battery's voltage, less a few millivolts.
"""

import pytest

from .circuit_parts import contact, load, resistance, wire
from .test_letting_go import RELAY

RUNS_ON = {"closes_alone", "holds_itself", "kept_closed", "bridged", "cranks_alone"}
PUMP = {**load("pump", "87", "ground", resistance_ohm=1.5), "circuit": "continuous"}
SOLENOID = {
    "name": "solenoid", "kind": "solenoid", "nodes": ["87", "ground"], "circuit": "starter_control",
    "rated": {"pull_in_v": 8.0, "resistance_ohm": 0.5},
}  # fmt: skip


def switch(name, *ends):
    return contact(name, *ends, 0.003, part="switch", rating_a=10)


def ask(
    run, *branches, fed=PUMP, names=("key", "gear switch"), ground=False, case=(), also=(), **relay
):
    """A fuse, two switches in a row and the relay's coil; or the same two on its ground side."""
    first, last = ("86 b", "ground") if ground else ("30", "86")
    row = [switch(names[0], first, "middle"), switch(names[1], "middle", last)]
    feed = [wire("coil feed", "30", "86", "16 AWG", 0.5)] if ground else []
    fuse = contact("fuse", "post", "30", 0.003, part="fuse", rating_a=30, fuse_family="blade C")
    coil = ["86", "86 b"] if ground else ["86", "ground"]
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [fuse, *feed, *row, *branches],
        "relays": [{**RELAY, "coil_nodes": coil, "contact_nodes": ["30", "87"], **relay}],
        "loads": [fed, *also],
    }
    cases = [{"name": "on", "without": list(case)}]
    return run("circuit-check", circuit=circuit, cases=cases, nominal_v=12)


def told(answer):
    return {(c.code, c.part): c for c in answer.cases[0].checks if c.code in RUNS_ON}


def past_both(answer, kind, runs):
    """What is told of a link past both switches: of a poor joint, which is a chafe, what it is."""
    found = [each for each in told(answer).values() if each.code == "bridged"]
    assert bool(found) == (kind == "poor")
    return found[0] if found else told(answer)["closes_alone", runs]


def made(kind, *ends):
    makers = {
        "wire": lambda: wire("link", *ends, "14 AWG", 0.5),
        "clean": lambda: contact("link", *ends, 0.01),
        "poor": lambda: contact("link", *ends, 0.5),
        "ohms": lambda: resistance("link", *ends, 0.5),
    }
    return makers[kind]()


@pytest.mark.parametrize("kind", ["wire", "clean", "poor", "ohms"])
@pytest.mark.parametrize("case", [[], ["key"]])
def test_a_start_relay_that_feeds_the_middle_runs_on_past_its_key(run, kind, case):
    """From 87 to between key and gear switch: with the key open the gear switch alone stops it."""
    answer = ask(run, made(kind, "87", "middle"), fed=SOLENOID, case=case)
    (check,) = told(answer).values()
    assert (check.code, check.part, check.verdict) == ("holds_itself", "relay", "fail")
    assert check.detail == "link"
    assert answer.weakest == check
    assert "runs on" in answer.headline
    if not case:
        (past,) = [c for c in answer.checks if c.code == "does_not_stop"]
        assert (past.part, past.detail, past.verdict) == ("key", "relay", "fail")
        assert "key: opening it does not let relay go" in past.message


@pytest.mark.parametrize("kind", ["wire", "poor"])
def test_a_start_and_a_stop_button_may_be_meant_so(run, kind):
    """The start button first, then the stop button, which opens the way by which it holds, too."""
    answer = ask(run, made(kind, "87", "middle"), names=("start button", "stop button"))
    (check,) = told(answer).values()
    assert (check.code, check.detail, check.verdict) == ("holds_itself", "link", "unknown")
    (past,) = [c for c in answer.checks if c.code == "does_not_stop"]
    assert (past.part, past.verdict) == ("start button", "unknown")
    assert answer.verdict == "unknown"


@pytest.mark.parametrize("fed", [PUMP, SOLENOID])
@pytest.mark.parametrize("kind", ["wire", "clean", "poor", "ohms"])
def test_past_both_it_is_told_and_neither_switch_alone(run, kind, fed):
    answer = ask(run, made(kind, "87", "86"), fed=fed)
    (check,) = told(answer).values()
    assert (check.code, check.detail, check.verdict) == ("holds_itself", "link", "fail")
    assert not [c for c in answer.checks if c.code == "does_not_stop"]


@pytest.mark.parametrize("fed", [PUMP, SOLENOID])
def test_two_in_a_row_that_nothing_leads_past_let_it_go(run, fed):
    for ground in (False, True):
        answer = ask(run, fed=fed, ground=ground)
        assert not told(answer)
        assert not [c for c in answer.checks if c.code == "does_not_stop"]


LATCH = {"contact_nodes": ["middle", "87"]}
HOLD = wire("hold", "87", "86", "16 AWG", 0.3)


@pytest.mark.parametrize("kind", ["wire", "clean", "poor", "ohms"])
@pytest.mark.parametrize("live", ["post", "30"])
@pytest.mark.parametrize("fed", [PUMP, SOLENOID])
def test_what_leads_to_a_coil_past_both_is_named(run, kind, live, fed):
    """The relay's own contact hangs between the two, so that they are no plain row.

    By hand: with both open the link's 0.5 ohm carry the coil and the load, over its contact or not.
    """
    if kind == "ohms" and fed is SOLENOID:
        return  # half an ohm before half an ohm: it buzzes, and a short is told of it
    answer = ask(run, HOLD, made(kind, live, "86"), fed=fed, **LATCH)
    check = past_both(answer, kind, "relay")
    assert (check.detail, check.verdict) == ("link", "fail")
    assert answer.weakest == check
    assert not [c for c in answer.checks if c.code == "always_closed"]


@pytest.mark.parametrize("kind", ["wire", "poor"])
def test_on_the_ground_side_it_is_named_as_well(run, kind):
    """A second pump hangs between the two switches, so that they are no plain row."""
    second = load("second pump", "30", "middle", resistance_ohm=9)
    answer = ask(run, made(kind, "86 b", "ground"), ground=True, also=[second])
    check = past_both(answer, kind, "relay")
    assert (check.detail, check.verdict) == ("link", "fail")
    assert answer.weakest == check


@pytest.mark.parametrize("kind", ["wire", "poor"])
def test_a_solenoid_without_a_relay_is_asked_the_same(run, kind):
    """A lamp hangs between key and gear switch, and a link leads past both to the solenoid."""
    lamp = load("lamp", "middle", "ground", resistance_ohm=48)
    direct = {**SOLENOID, "nodes": ["86", "ground"]}
    answer = ask(run, made(kind, "30", "86"), also=[direct, lamp], coil_nodes=["middle", "ground"])
    assert past_both(answer, kind, "solenoid").detail == answer.weakest.detail == "link"
    answer = ask(run, also=[direct, lamp], coil_nodes=["middle", "ground"])
    assert not told(answer)


def test_a_relay_that_is_always_on_is_still_asked_about(run):
    """Its coil hangs on the battery, and the switches before its load only."""
    answer = ask(run, wire("feed", "30", "86 c", "16 AWG", 1), coil_nodes=["86 c", "ground"],
                 names=("key", "other"))  # fmt: skip
    assert not told(answer)
    assert [c.part for c in answer.checks if c.code == "always_closed"] == ["relay"]
