"""What lies beside the way of a load, and poor parts of a proposal: both in relay-retrofit."""

import pytest

from .retrofit_circuits import asked, contact, headlamps, told
from .test_remedy_choice import named


def thin(**more):
    """9 A through 8 m of 16 AWG."""
    body = headlamps(**more)
    for name in ("feed", "to the lamps"):
        named(body, name).update(size="16 AWG", length_m=4)
    return body


def beside(body, ohm):
    """A resistor from the feed to the lamps, round switch and plug: it feeds them dimly."""
    ends = [named(body, "switch")["nodes"][0], named(body, "to the lamps")["nodes"][1]]
    resistor = {"name": "dim", "kind": "resistance", "resistance_ohm": ohm, "nodes": ends}
    body["circuit"]["branches"].append(resistor)
    return body


@pytest.mark.parametrize("ohm", [1.0, 3.0])
def test_what_feeds_beside_the_switch_takes_nothing_from_the_load(run, ohm):
    """Through 3 ohm flow 0.3 A of 9 A: they come to the lamps beside the switch's own."""
    answer = run("relay-retrofit", **beside(thin(switch_ohm=0.08), ohm))
    assert "by_design" not in {each.code for each in answer.checks}
    assert "from the load" not in answer.headline


def test_what_lies_in_the_way_is_still_asked_about(run):
    body = thin()
    old = named(body, "to the lamps")
    ballast = {"name": "ballast", "kind": "resistance", "resistance_ohm": 0.2}
    body["circuit"]["branches"].append(ballast | {"nodes": [old["nodes"][0], "dimmed"]})
    old["nodes"][0] = "dimmed"
    answer = run("relay-retrofit", **body)
    assert ("by_design", "ballast") in {(each.code, each.part) for each in answer.checks}


def test_where_nothing_is_needed_nothing_is_found_out_first(run):
    """Lamps of less need behind a resistor that is there by design, 0.6 V: they have enough."""
    body = headlamps()
    body["circuit"]["loads"][0]["needed_v"] = 9.5
    old = named(body, "to the lamps")
    ballast = {"name": "dimmer", "kind": "resistance", "resistance_ohm": 0.07}
    body["circuit"]["branches"].append(ballast | {"nodes": [old["nodes"][0], "dimmed"]})
    old["nodes"][0] = "dimmed"
    answer = run("relay-retrofit", **body)
    assert answer.advice == "nothing_needed"


@pytest.mark.parametrize("ohm", [0.02, 0.05])
def test_a_burnt_contact_of_the_proposal_fails(run, ohm):
    """A sound relay drops 0.1 V at most; the old one from the bench 0.18 V, or 0.45 V."""
    answer = run("relay-retrofit", **thin(relay={"contact_resistance_ohm": ohm}))
    assert answer.verdict == "fail"
    assert ("contact_drop", "relay", "fail") in {
        (each.code, each.part, each.verdict) for each in answer.checks
    }
    assert "own_contact" in told(answer)
    assert "drop of the contact (relay)" in answer.headline


def test_a_poor_plug_of_the_proposal_fails(run):
    body = thin()
    body["proposal"]["outlet"].append(contact("new plug", "connector", 0.03))
    answer = run("relay-retrofit", **body)
    assert answer.verdict == "fail"
    assert ("contact_drop", "new plug") in {(c.code, c.part) for c in answer.checks}


@pytest.mark.parametrize("ohm", [0.02, 0.5, 1.5, 3.0])
def test_behind_a_ballast_the_leak_is_the_short_though_only_the_relays_coil_hangs_there(run, ohm):
    """With the relay the load hangs elsewhere, and the ballast feeds the relay's coil alone."""
    coil = {"name": "coil", "kind": "resistance", "resistance_ohm": 1.5, "needed_v": 5.5}
    ballast = {"name": "ballast", "kind": "resistance", "resistance_ohm": 1.4}
    switch = contact("switch", "switch", 0.01, rating_a=15)
    body = asked(contact("fuse", "fuse", 0.002, rating_a=15), switch, ballast, coil, load=coil)
    leak = {"name": "leak", "kind": "resistance", "resistance_ohm": ohm, "nodes": ["n3", "ground"]}
    body["circuit"]["branches"].append(leak)
    answer = run("relay-retrofit", **body)
    told = {c.part for c in answer.checks if c.code == "short" and c.verdict != "pass"}
    assert told == {"leak"}
    assert "short (ballast)" not in answer.headline
    assert answer.advice == "find_out_first"
