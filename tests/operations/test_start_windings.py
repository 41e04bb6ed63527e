"""A starter that is at fault itself, and what it burdens: what the trade mends, and what it leaves.

A solenoid one of whose windings is open or shorted is replaced. Sound windings take 0.5 ohm and
1.5 ohm. A pull-in winding shorted to 0.01 ohm leaves most of 12.6 V to the key and the wires, which
are sound, and to the motor's 0.02 ohm.
"""

import pytest

from .circuit_parts import contact
from .test_start_sequence import ask

SHORTED = {"pull_in_resistance_ohm": 0.01, "pull_in_turns": 4}
HEATS = ("contact_heat", "fail")


def told(answer, code="made_for"):
    return next((each for each in answer.checks if each.code == code), None)


@pytest.mark.parametrize(
    "starter",
    [
        SHORTED,
        {"hold_in_resistance_ohm": 0.01, "hold_in_turns": 2},
        {"hold_in_resistance_ohm": 1e4},
        {"pull_in_resistance_ohm": 1e4},
    ],
    ids=["pull-in shorted", "hold-in shorted", "hold-in open", "pull-in open"],
)
@pytest.mark.parametrize("key_ohm", [0.02, 0.3], ids=["sound key", "worn key"])
def test_the_solenoid_is_replaced_and_no_key_blamed(run, starter, key_ohm):
    answer = ask(run, key_ohm=key_ohm, key_contact_ohm=key_ohm - 0.01, **starter)
    assert answer.outcome in {"silent", "hums", "buzzes"}
    assert answer.weakest.code == "made_for"
    assert "Replace the solenoid" in answer.headline


def test_what_the_winding_beside_it_lets_expect_is_told(run):
    found = told(ask(run, key_ohm=0.02, **SHORTED))
    # Three times the pull-in winding is usual, ten times as much as that no sound one has.
    assert (found.value, found.limit, found.unit) == (1.5, pytest.approx(0.3), "Ω")
    found = told(ask(run, key_ohm=0.02, hold_in_resistance_ohm=0.01, hold_in_turns=2))
    assert (found.value, found.limit) == (0.5, pytest.approx(0.1))


def test_a_solenoid_of_one_winding_that_works_is_sound(run):
    # 12.6 V over 1.5 ohm in 600 turns make some 4,700 A; 3,000 A move it.
    one = {"pull_in_resistance_ohm": 1e3, "pull_in_turns": 1, "hold_in_turns": 600}
    answer = ask(run, key_ohm=0.02, **one)
    assert answer.outcome == "starts"
    assert told(answer).verdict == "pass"


def test_a_flat_battery_is_charged_before_a_solenoid_is_replaced(run):
    answer = ask(run, source={"open_circuit_v": 11.2, "internal_resistance_ohm": 0.03}, **SHORTED)
    assert answer.weakest.code == "charge"


@pytest.mark.parametrize(
    ("clamp_ohm", "is_poor"), [(0.0003, False), (0.01, True)], ids=["sound clamp", "corroded clamp"]
)
def test_a_shorted_motor_is_no_fault_of_a_sound_clamp(run, clamp_ohm, is_poor):
    """Some 1,500 A make 700 W in 0.3 mohm: the motor is mended, and no clamp but a corroded one."""
    clamp = contact("clamp", "stud", "post", clamp_ohm, part="connector", rating_a=2000)
    shorted = {"stud_node": "stud", "motor_resistance_ohm": 0.003, "back_v": 0.0}
    answer = ask(run, branches=[clamp], source={"internal_resistance_ohm": 0.005}, **shorted)
    assert answer.weakest.code == "motor_stands"
    hazard = answer.hazard and (answer.hazard.code, answer.hazard.part)
    assert hazard == (("contact_heat", "clamp") if is_poor else None)


@pytest.mark.parametrize(("contact_ohm", "is_poor"), [(0.01, False), (0.1, True)])
def test_what_a_shorted_winding_drives_through_a_sound_key_is_no_fault_of_the_key(
    run, contact_ohm, is_poor
):
    """100 A and more make 100 W in the 10 mohm of a sound key: the solenoid is replaced first."""
    answer = ask(run, key_ohm=contact_ohm + 0.004, key_contact_ohm=contact_ohm, **SHORTED)
    assert answer.weakest.code == "made_for"
    heats = {each.part for each in answer.checks if (each.code, each.verdict) == HEATS}
    assert "key" in heats
    hazard = answer.hazard and (answer.hazard.code, answer.hazard.part)
    assert hazard == (("contact_heat", "key") if is_poor else None)
    assert ("Whatever else is done" in answer.headline) == is_poor
