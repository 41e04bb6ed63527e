"""What a start does with a fault in what carries the heavy current. Common practice."""

import pytest

from .circuit_parts import contact, wire
from .test_start_sequence import ask

GROUNDED = {"ground_node": "block", "motor_resistance_ohm": 0.02}
STRAP = contact("strap", "block", "ground", 0.0004, part="ground")
CHOKE = wire("choke cable", "block", "ground", "14 AWG", 2, insulation="GXL")
# Of 190 A in 14 AWG, for ten seconds.
SECONDS = {"name": "start", "duration_s": 10, "ambient_c": 40}


@pytest.mark.parametrize(
    ("ohm", "case"),
    [(1000, SECONDS), (0.1, SECONDS), (0.0004, {**SECONDS, "without": ["strap"]})],
)
def test_a_choke_cable_that_carries_the_starter_is_no_reason_for_a_thicker_one(run, ohm, case):
    branches = [{**STRAP, "resistance_ohm": ohm}, CHOKE]
    answer = ask(run, case, branches=branches, needed_v=5.1, **GROUNDED)
    found = {c.code for c in answer.checks if c.part == "choke cable" and c.verdict == "fail"}
    assert "diverted_current" in found
    assert found.isdisjoint({"duty_current", "conductor_temperature"})
    assert "see to strap first" in answer.headline


def test_beside_a_sound_strap_a_wire_is_judged_as_any(run):
    answer = ask(run, SECONDS, branches=[STRAP, CHOKE], needed_v=5.1, **GROUNDED)
    found = {check.code for check in answer.checks if check.part == "choke cable"}
    assert "diverted_current" not in found
    assert "duty_current" in found


@pytest.mark.parametrize("motor_ohm", [0.3, 0.5])
def test_brushes_that_let_24_a_through_turn_no_engine(run, motor_ohm):
    """By hand: 7.6 V over 0.31 or 0.51 ohm are 24.5 or 14.9 A; a short would get 1,260 A."""
    answer = ask(run, motor_resistance_ohm=motor_ohm, needed_v=5.1)
    (check,) = [each for each in answer.checks if each.code == "motor_current"]
    assert (answer.outcome, check.verdict) == ("slow", "fail")
    assert check.value == pytest.approx(7.6 / (0.01 + motor_ohm), rel=0.1)
    assert "brushes" in check.message


@pytest.mark.parametrize(("rating_a", "verdict"), [(100, "unknown"), (20, "fail"), (400, "pass")])
def test_an_isolator_is_rated_for_hours_and_cranked_through_for_seconds(run, rating_a, verdict):
    """250 A: two and a half times what it bears for hours is its maker's word, twelve no one's."""
    isolator = contact("isolator", "post", "stud", 0.0002, part="switch", isolates=True)
    branches = [{**isolator, "rating_a": rating_a}]
    answer = ask(run, SECONDS, branches=branches, stud_node="stud", needed_v=5.1)
    verdicts = {c.verdict for c in answer.checks
                if (c.code, c.part) == ("contact_current", "isolator")}  # fmt: skip
    assert verdict in verdicts
    assert ("fail" in verdicts) == (verdict == "fail")
