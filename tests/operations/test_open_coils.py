"""Relays whose coil has lost its feed or its ground: what waits for them stays dark."""

import pytest

from .circuit_parts import contact
from .test_letting_go import RELAY
from .test_off_by_design import lamp


@pytest.mark.parametrize("lost", ["coil ground", "coil feed"])
@pytest.mark.parametrize("left_out", [[], ["other switch"]])
def test_a_relay_whose_coil_leads_nowhere_is_named_before_its_dark_load(run, lost, left_out):
    """Its ground or its feed was forgotten, or is lost: nothing that is switched on closes it."""
    ends = {"coil feed": ("at switch", "86"), "coil ground": ("85", "ground")}
    joints = [contact(name, *at, 0.002, part="terminal") for name, at in ends.items()]
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [
            contact("lamp switch", "post", "at switch", 0.01, part="switch", rating_a=15),
            contact("other switch", "post", "other", 0.01, part="switch", rating_a=15),
        ],
        "relays": [{**RELAY, "coil_nodes": ["86", "85"], "contact_nodes": ["post", "lamp"]}],
        "loads": [lamp("head lamp", "lamp", "ground", 55, 10.8),
                  lamp("other lamp", "other", "ground", 5)],
    }  # fmt: skip
    case = {"name": "lights on", "without": left_out}
    for missing in (lost, None):
        left = [each for each in joints if each["name"] != missing]
        whole = {**circuit, "branches": [*circuit["branches"], *left]}
        answer = run("circuit-check", circuit=whole, cases=[case], nominal_v=12)
        told = [c for c in answer.checks if c.code == "coil_open"]
        assert [c.detail for c in told] == ([ends[lost][lost == "coil feed"]] if missing else [])
        assert (answer.weakest.code == "coil_open") is (missing is not None)


def test_a_relay_whose_coil_leads_nowhere_is_to_blame_for_the_drop_of_what_it_feeds(run):
    """Nobody said what the fan needs: its relay is not worn for that."""
    joints = [contact("fan fuse", "post", "30", 0.002, part="fuse", rating_a=30),
              contact("ignition", "post", "86", 0.02, part="switch", rating_a=10)]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": joints,
        "relays": [{**RELAY, "coil_nodes": ["86", "85"], "contact_nodes": ["30", "87"]}],
        "loads": [{"name": "fan", "kind": "motor", "nodes": ["87", "ground"], "back_v": 8,
                   "resistance_ohm": 0.3, "circuit": "continuous"}],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "hot"}], nominal_v=12)
    assert (answer.weakest.code, answer.weakest.detail) == ("coil_open", "85")


def test_a_changeover_relay_whose_coil_leads_nowhere_keeps_its_main_beam_dark(run):
    """No wire of the dipped beam is to blame, though over the lamps metal leads on to it."""
    joints = [contact("light switch", "post", "30", 0.005, part="switch", rating_a=30)]
    grounds = [contact(f"{side} ground", side, "ground", 0.002, part="ground")
               for side in ("left", "right")]  # fmt: skip
    lamps = [{**lamp(f"{side} {beam}", beam, side, 55), "circuit": "continuous"}
             for side in ("left", "right") for beam in ("dip", "main")]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [*joints, *grounds],
        "relays": [{**RELAY, "coil_nodes": ["86", "ground"], "contact_nodes": ["30", "main"],
                    "break_nodes": ["30", "dip"]}],
        "loads": lamps,
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "main"}], nominal_v=12)
    assert (answer.weakest.code, answer.weakest.detail) == ("coil_open", "86")


@pytest.mark.parametrize("at", ["87", "start", "held"])
def test_a_relay_that_is_fed_over_its_own_contact_alone_never_closes(run, at):
    """Its coil's feed was put on 87; a button beside it, or what closed it before, makes it one
    that holds itself."""
    button = contact("button", "30", "87", 0.02, part="switch", rating_a=10)
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [contact("horn fuse", "post", "30", 0.002, part="fuse", rating_a=20),
                     contact("horn button", "85", "ground", 0.02, part="switch", rating_a=10),
                     *([button] if at == "start" else [])],
        "relays": [{**RELAY, "coil_nodes": ["87", "85"], "contact_nodes": ["30", "87"]}],
        "loads": [{"name": "horn", "kind": "resistance", "nodes": ["87", "ground"],
                   "resistance_ohm": 1.5, "circuit": "intermittent"}],
    }  # fmt: skip
    case = {"name": "horn", **({"held": [RELAY["name"]]} if at == "held" else {})}
    answer = run("circuit-check", circuit=circuit, cases=[case], nominal_v=12)
    told = [c for c in answer.checks if c.code == "coil_open"]
    assert len(told) == (at == "87")
    assert (answer.weakest.code == "coil_open") is (at == "87")


@pytest.mark.parametrize("lost", ["inhibitor", "key", None])
def test_a_solenoid_waits_for_its_relay_whatever_is_said_of_what_it_needs(run, lost):
    joints = [contact("key", "post", "86", 0.02, part="switch", rating_a=10),
              contact("inhibitor", "85", "ground", 0.02, part="switch", rating_a=10)]  # fmt: skip
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [each for each in joints if each["name"] != lost],
        "relays": [{**RELAY, "coil_nodes": ["86", "85"], "contact_nodes": ["post", "50"]}],
        "loads": [{"name": "starter solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
                   "rated": {"resistance_ohm": 0.6, "pull_in_v": 7}}],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "start"}], nominal_v=12)
    told = [c.detail for c in answer.checks if c.code == "coil_open"]
    assert told == {"inhibitor": ["85"], "key": ["86"], None: []}[lost]
    assert (answer.weakest.code == "coil_open") is bool(lost)


def test_a_relay_whose_coil_leads_nowhere_and_that_no_load_waits_for_is_let_be(run):
    """A split-charge relay with the engine at rest, its D+ not given: each side has a battery."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.005},
        "branches": [contact("light switch", "second", "lamp", 0.01, part="switch", rating_a=15)],
        "relays": [{**RELAY, "coil_nodes": ["D+", "ground"], "contact_nodes": ["post", "second"]}],
        "loads": [lamp("lamp", "lamp", "ground", 55, 10.8)],
        "further_sources": [{"name": "second battery", "kind": "battery", "open_circuit_v": 12.6,
                             "nodes": ["second", "ground"], "internal_resistance_ohm": 0.005}],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[{"name": "parked"}], nominal_v=12)
    assert "coil_open" not in {c.code for c in answer.checks}
