"""A choke cable carries a starter's current where the strap is off: the strap is named.

From the trade: such a cable glows; whoever tightens it makes it carry more.
"""

import pytest

from .circuit_parts import ask, contact, resistance

MOTOR = {
    "name": "motor", "kind": "motor", "nodes": ["t50", "block"], "resistance_ohm": 0.02,
    "back_v": 5, "circuit": "starter_motor",
}  # fmt: skip


def checked(run, *branches, without=()):
    clamp = contact("clamp", "post", "t50", 0.0002, part="terminal")
    return ask(run, [clamp, *branches], [MOTOR], {"name": "c", "without": list(without)})[0]


def strap(ohm):
    return contact("strap", "block", "ground", ohm, part="ground")


def poor(state):
    return {(c.code, c.part, c.detail) for c in state.checks if c.verdict == "fail"}


@pytest.mark.parametrize("ohm", [0.05, 0.1, 0.3])
@pytest.mark.parametrize(("strap_ohm", "without"), [(5.0, ()), (50.0, ()), (0.0005, ("strap",))])
def test_the_strap_is_named_and_nobody_tightens_the_cable(run, ohm, strap_ohm, without):
    cable = contact("choke cable", "block", "ground", ohm)
    state = checked(run, strap(strap_ohm), cable, without=without)
    found = poor(state)
    assert ("diverted_current", "choke cable", "strap") in found
    assert not {code for code, part, _ in found if part == "choke cable"} - {"diverted_current"}
    for check in state.checks:
        assert check.part != "choke cable" or "tighten" not in check.message


def test_beside_a_sound_strap_nothing_is_said_of_it(run):
    found = poor(checked(run, strap(0.0003), contact("choke cable", "block", "ground", 0.3)))
    assert not {part for _, part, _ in found} & {"choke cable", "strap"}


def test_a_poor_strap_with_nothing_beside_it_is_cleaned_as_before(run):
    assert ("contact_drop", "strap", "ground") in poor(checked(run, strap(0.02)))


def test_of_two_grounds_neither_is_a_stray(run):
    second = contact("second strap", "block", "ground", 0.05, part="ground")
    found = poor(checked(run, strap(5.0), second))
    assert "diverted_current" not in {code for code, _, _ in found}


def test_a_cable_that_is_drawn_as_ohms_leaves_the_strap_to_be_told(run):
    found = poor(checked(run, strap(5.0), resistance("choke cable", "block", "ground", 0.3)))
    assert "strap" in {part for _, part, _ in found}
