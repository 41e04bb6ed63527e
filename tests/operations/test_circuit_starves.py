"""Safe first; but what keeps a load dark is not hidden by a wire that its fuse guards too late."""

import pytest

from .circuit_parts import SOURCE, contact, wire

MOTOR = {
    "name": "window motor", "kind": "motor", "nodes": ["motor", "pillar"], "resistance_ohm": 0.4,
    "back_v": 7, "needed_v": 9.5, "circuit": "continuous",
}  # fmt: skip
SUMMER = {"name": "summer", "ambient_c": 40}


def window(run, *more, size="16 AWG", **ohms):
    """A window motor behind 25 A, which guard 12 AWG and no 16 AWG."""
    branches = [
        contact("fuse", "post", "fused", 0.003, part="fuse", rating_a=25, fuse_family="blade C"),
        wire("feed", "fused", "in", "10 AWG", 2, insulation="GXL"),
        contact("switch", "in", "out", ohms.get("switch", 0.004), part="switch", rating_a=30),
        wire("door wire", "out", "motor", size, 2, insulation="GXL"),
        contact("ground", "pillar", "ground", ohms.get("ground", 0.003), part="ground"), *more,
    ]  # fmt: skip
    circuit = {"source": SOURCE, "branches": branches, "loads": [MOTOR]}
    return run("circuit-check", circuit=circuit, cases=[SUMMER], nominal_v=12)


@pytest.mark.parametrize("part", ["switch", "ground"])
@pytest.mark.parametrize("ohm", [5, 100])
def test_an_open_contact_is_told_after_the_wire(run, part, ohm):
    answer = window(run, **{part: ohm})
    assert answer.weakest.part == "door wire"
    assert (answer.starves.code, answer.starves.part) == ("contact_drop", part)
    assert answer.headline.index("door wire") < answer.headline.index(f"{part}: it alone drops")


def test_nothing_is_told_after_it_where_all_else_is_sound(run):
    answer = window(run)
    assert answer.weakest.part == "door wire"
    assert answer.starves is None
    assert "After that" not in answer.headline


def test_where_nothing_burns_the_contact_leads(run):
    answer = window(run, size="10 AWG", ground=5)
    assert answer.weakest.part == "ground"
    assert answer.starves is None


def test_a_contact_that_burns_is_told_once(run):
    """By hand: some 8 A over 0.3 ohm are 20 W."""
    answer = window(run, size="10 AWG", switch=0.3)
    assert (answer.weakest.code, answer.weakest.part) == ("contact_heat", "switch")
    assert answer.starves is None


def test_what_runs_on_leads_and_what_keeps_it_slow_comes_after(run):
    """A jumper left across the switch, and a poor ground: he asks why the window is slow."""
    jumper = wire("jumper", "in", "out", "12 AWG", 0.2, insulation="GXL")
    answer = window(run, jumper, size="10 AWG", ground=0.4)
    assert (answer.weakest.code, answer.weakest.part) == ("bridged", "switch")
    assert (answer.starves.code, answer.starves.part) == ("contact_drop", "ground")
    assert "After that" in answer.headline
    assert window(run, jumper, size="10 AWG").starves is None


@pytest.mark.parametrize(("ground_ohm", "starves"), [(0.3, "ground"), (0.003, None)])
def test_after_a_switch_that_is_rated_for_less_comes_what_keeps_it_slow(run, ground_ohm, starves):
    """Some 8 A through a switch for 3 A, which it does not bear for hours; the ground takes 2 V."""
    weak = contact("switch", "in", "out", 0.004, part="switch", rating_a=3)
    branches = [weak, contact("ground", "pillar", "ground", ground_ohm, part="ground")]
    motor = {**MOTOR, "nodes": ["out", "pillar"]}
    source = {**SOURCE, "plus": "in"}
    circuit = {"source": source, "branches": branches, "loads": [motor]}
    answer = run("circuit-check", circuit=circuit, cases=[SUMMER], nominal_v=12)
    assert (answer.weakest.code, answer.weakest.part) == ("contact_current", "switch")
    assert (answer.starves and answer.starves.part) == starves
