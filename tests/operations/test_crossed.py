"""What joins what two switches should switch apart: each then runs what the other feeds, too.

From the trade: two wires of a loom rub through to each other; the brake lights the turn lamps, and
nothing on either way is poor.
"""

import pytest

from .circuit_parts import contact, load, resistance, wire
from .test_letting_go import RELAY

BOTH, FIRST = {"name": "both"}, {"name": "first", "without": ["stop switch"]}


def switched(run, *more, cases=(BOTH, FIRST), ground_side=False, relays=(), volts=12.6, left=()):
    """Tail and stop lamps, each behind a switch and a wire of its own."""
    far = "ground" if not ground_side else "post"
    near = "post" if not ground_side else "ground"
    branches = [
        contact("light switch", near, "a", 0.005, part="switch", rating_a=15),
        contact("stop switch", near, "b", 0.005, part="switch", rating_a=15),
        wire("tail wire", "a", "tail", "14 AWG", 3, insulation="GXL"),
        wire("stop wire", "b", "stop", "14 AWG", 3, insulation="GXL"), *more,
    ]  # fmt: skip
    loads = [
        load("tail lamps", "tail", far, resistance_ohm=6) | {"needed_v": 0.85 * volts},
        load("stop lamps", "stop", far, resistance_ohm=4) | {"needed_v": 0.85 * volts},
    ]
    circuit = {
        "source": {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.01},
        "branches": [each for each in branches if each["name"] not in left],
        "loads": loads, "relays": list(relays),
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=list(cases))


def told(answer):
    return {(c.part, c.detail, c.verdict) for c in answer.checks if c.code == "crossed"}


@pytest.mark.parametrize("ohm", [0, 0.003, 0.2])
@pytest.mark.parametrize("ends", [("a", "b"), ("tail", "stop"), ("stop", "a")])
@pytest.mark.parametrize("more", [{}, {"ground_side": True}, {"volts": 6.3}])
def test_a_chafe_between_two_wires_is_told_first(run, ohm, ends, more):
    answer = switched(run, resistance("chafe", *ends, ohm), **more)
    names = ["light switch", "stop switch"]
    detail = ", ".join(names if ends[0] != "stop" else names[::-1])
    assert told(answer) == {("chafe", detail, "fail")}
    assert (answer.weakest.code, answer.weakest.part) == ("crossed", "chafe")
    assert "runs what the other" in answer.headline


@pytest.mark.parametrize("cases", [[BOTH], [FIRST]])
def test_it_is_told_in_any_case(run, cases):
    assert told(switched(run, resistance("chafe", "tail", "stop", 0.01), cases=cases))


def test_of_three_that_chafe_together_both_places_are_told(run):
    """Past one of them the other still joins two, and no switch alone rules either."""
    switches = [contact(f"{n} switch", "post", n, 0.005, part="switch", rating_a=15) for n in "abc"]
    lamps = [load(f"lamp {n}", n, "ground", resistance_ohm=6) for n in "abc"]
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
        "branches": [*switches, resistance("one", "a", "b", 0.01), resistance("two", "b", "c", 0)],
        "loads": lamps,
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[BOTH])
    assert told(answer) == {
        ("one", "a switch, b switch", "fail"), ("two", "b switch, c switch", "fail")
    }  # fmt: skip


@pytest.mark.parametrize(("ohm", "volts"), [(1.4, 12.6), (0.7, 12.6), (0.4, 6.3)])
def test_a_ballast_with_a_start_contact_past_it_is_no_chafe(run, ohm, volts):
    """The ignition feeds instruments beside the ballast, and the start contact the coil."""
    circuit = {
        "source": {"plus": "post", "open_circuit_v": volts, "internal_resistance_ohm": 0.006},
        "branches": [
            contact("ignition", "post", "15", 0.01, part="switch", rating_a=15),
            resistance("ballast", "15", "coil", ohm),
            contact("start contact", "post", "coil", 0.01, part="switch", rating_a=15),
        ],
        "loads": [load("ignition coil", "coil", "ground", resistance_ohm=1.5),
                  load("instruments", "15", "ground", resistance_ohm=12)],
    }  # fmt: skip
    drive, start = {"name": "run", "without": ["start contact"]}, {"name": "start"}
    answer = run("circuit-check", circuit=circuit, cases=[drive, start])
    assert told(answer) == {("ballast", "ignition, start contact", "unknown")}
    assert "fail" not in {c.verdict for c in answer.checks}


@pytest.mark.parametrize(("at", "verdict"), [("50", "fail"), ("contact", None)])
def test_a_ballasts_bypass_that_was_joined_to_terminal_50_runs_the_starter(run, at, verdict):
    """With the key on it takes the coil's current, and the solenoid may pull in: it wants a contact
    of its own."""
    own = contact("coil contact", "post", "contact", 0.01, part="switch", rating_a=15)
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.006},
        "branches": [
            contact("ignition", "post", "15", 0.01, part="switch", rating_a=15),
            resistance("ballast", "15", "coil", 1.5), wire("bypass", at, "coil", "14 AWG", 1.5),
            contact("start switch", "post", "s", 0.01, part="switch", rating_a=40), own,
            wire("start wire", "s", "50", "10 AWG", 1.5),
        ],
        "loads": [
            load("ignition coil", "coil", "ground", resistance_ohm=1.5) | {"needed_v": 5},
            {"name": "solenoid", "kind": "solenoid", "nodes": ["50", "ground"],
             "circuit": "starter_control", "rated": {"pull_in_v": 8, "resistance_ohm": 0.4}},
        ],
    }  # fmt: skip
    drive = {"name": "run", "without": ["start switch", "coil contact"]}
    answer = run("circuit-check", circuit=circuit, cases=[drive], nominal_v=12)
    found = [c for c in answer.checks if c.code == "crossed" and c.verdict == "fail"]
    assert [(c.part, c.verdict) for c in found] == ([("bypass", "fail")] if verdict else [])
    assert (answer.weakest.code == "crossed") is (verdict == "fail")


def test_a_trickle_is_none(run):
    """12.6 V over 20 ohm are less than an ampere: a pilot lamp, or a resistor by design."""
    assert not told(switched(run, resistance("pilot", "tail", "stop", 20)))


def test_nor_is_what_lies_on_the_way_of_one(run):
    other = contact("other switch", "post", "a", 0.005, part="switch", rating_a=15)
    in_a_row = resistance("dim", "a", "tail", 1.0)
    assert not told(switched(run, other))
    assert not told(switched(run, in_a_row, left=["tail wire"]))
    assert not told(switched(run, resistance("pigtail", "a", "b", 0.01), left=["light switch"]))


@pytest.mark.parametrize(
    "joint", [contact("joint", "a", "b", 0.002), wire("bridge", "a", "b", "14 AWG", 0.1)]
)
@pytest.mark.parametrize("rating_a", [30, 200])
def test_of_a_joint_it_is_asked_first(run, joint, rating_a):
    """Two door switches that light both lamps are joined so by design; a plug may be mated wrongly.

    What the fuse of the one is for the wire of the other comes of that.
    """
    fuse = contact(
        "fuse", "post", "f", 0.003, part="fuse", rating_a=rating_a, fuse_family="bolt-in SF30"
    )
    switch = contact("third switch", "f", "a", 0.005, part="switch", rating_a=15)
    for more in ((), (fuse, switch)):
        answer = switched(run, joint, *more, left=["light switch"] if more else ())
        first = "third switch" if more else "light switch"
        assert told(answer) == {(joint["name"], f"{first}, stop switch", "undecided")}
        assert (answer.weakest.code, answer.weakest.part) == ("crossed", joint["name"])
        assert "Switch each on alone" in answer.headline


def test_so_are_the_outputs_of_two_relays(run):
    """Behind its switch a relay, and behind that the stop lamps."""
    relay = {**RELAY, "name": "stop relay", "coil_nodes": ["b", "ground"],
             "contact_nodes": ["post", "stop"]}  # fmt: skip
    chafe = resistance("chafe", "tail", "stop", 0.01)
    answer = switched(run, chafe, relays=[relay], left=["stop wire"])
    assert told(answer) == {("chafe", "light switch, stop relay", "fail")}


@pytest.mark.parametrize("case", [{"name": "lights", "without": ["key"]}, {"name": "all"}])
def test_a_light_that_cranks_the_engine_is_told(run, case):
    """Its switch feeds the solenoid over the chafe, though each has a fuse and a way of its own."""
    case = case | {"duration_s": 5}
    key = contact("key", "post", "k", 0.01, part="switch", rating_a=30)
    solenoid = {
        "name": "solenoid",
        "kind": "solenoid",
        "nodes": ["k", "ground"],
        "circuit": "starter_control",
        "rated": {"resistance_ohm": 1, "pull_in_v": 8},
    }
    lights = contact("lights", "post", "a", 0.01, part="switch", rating_a=30)
    lamp = load("lamp", "a", "ground", resistance_ohm=3)
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01},
        "branches": [key, lights, resistance("chafe", "k", "a", 0.01)], "loads": [solenoid, lamp],
    }  # fmt: skip
    answer = run("circuit-check", circuit=circuit, cases=[case])
    assert (answer.weakest.code, answer.weakest.part) == ("crossed", "chafe")


def test_a_relay_that_holds_itself_is_told_as_that(run):
    relay = {
        **RELAY,
        "name": "relay",
        "coil_nodes": ["b", "ground"],
        "contact_nodes": ["post", "c"],
    }
    out = wire("lead", "c", "stop", "14 AWG", 1)
    hold = resistance("hold", "b", "c", 0.01)
    answer = switched(run, hold, out, relays=[relay], left=["stop wire"])
    assert not told(answer)
