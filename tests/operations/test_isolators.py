"""An isolator on the live side, with a second battery past it.

From the trade: with the isolator open that battery feeds all on, and a man who trusts it welds,
or undoes the starter's cable, on a live harness. One that parts two batteries is another thing.
"""

import pytest

from .circuit_parts import contact, load, wire

STATE = {"open_circuit_v": 12.6, "internal_resistance_ohm": 0.006}
ISOLATES = {"part": "switch", "rating_a": 300, "isolates": True}


def ask(run, *more, at, left_out=(), positive_ground=False, main_at="bus", starter=False):
    """A lamp behind its switch on the bus, and batteries before the isolator or past it."""
    nodes, ends = [at, "ground"], {"plus": "post"}
    if positive_ground:
        nodes, ends = nodes[::-1], {"plus": "ground", "minus": "post"}
    branches = [
        contact("isolator", "post", "bus", 0.0003, **ISOLATES),
        contact("lamp switch", main_at, "lamp", 0.002, part="switch", rating_a=20), *more,
    ]  # fmt: skip
    loads = [load("lamp", "lamp", "ground", resistance_ohm=4) | {"needed_v": 10.8}]
    if starter:
        branches.append(contact("start switch", "post", "s", 0.001, part="switch", rating_a=300))
        loads.append(load("heater", "s", "ground", resistance_ohm=1))
    circuit = {
        "source": ends | STATE, "branches": branches, "loads": loads,
        "further_sources": [{"name": "second", "kind": "battery", "nodes": nodes, **STATE}],
    }  # fmt: skip
    return run("circuit-check", circuit=circuit, cases=[{"name": "now", "without": [*left_out]}])


def told(answer):
    return {(c.part, c.detail, c.verdict) for c in answer.checks if c.code == "fed_past_isolator"}


LINK = wire("link", "bus", "second post", "2 AWG", 0.5, insulation="SGX")
SWITCH = contact("split switch", "bus", "second post", 0.0005, part="switch", rating_a=200)


@pytest.mark.parametrize("left_out", [[], ["isolator"]])
@pytest.mark.parametrize("positive_ground", [False, True])
@pytest.mark.parametrize("link", [[LINK], []])
def test_a_second_battery_past_an_isolator_keeps_all_live(run, left_out, positive_ground, link):
    at = "second post" if link else "bus"
    answer = ask(run, *link, at=at, left_out=left_out, positive_ground=positive_ground)
    assert told(answer) == {("isolator", "second", "fail")}
    assert (answer.weakest.code, answer.weakest.part) == ("fed_past_isolator", "isolator")
    assert "nothing is dead" in answer.headline
    assert "ground clamp" in answer.headline


def test_one_that_parts_two_batteries_with_loads_of_their_own_is_asked_about(run):
    answer = ask(run, LINK, at="second post", starter=True)
    assert told(answer) == {("isolator", "second", "unknown")}


@pytest.mark.parametrize(
    ("more", "at"),
    [
        ([wire("link", "post", "second post", "2 AWG", 0.5, insulation="SGX")], "second post"),
        ([SWITCH], "second post"),  # a battery of its own, that a switch parts
        ([], "post"),
    ],
)
def test_one_before_it_or_behind_a_switch_of_its_own_is_sound(run, more, at):
    assert not told(ask(run, *more, at=at))
