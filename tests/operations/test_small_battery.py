"""A battery of no rating may be a small one: what it lacks beside a usual one says nothing then.

From the trade: a motorcycle's has 25 to 30 mohm and is sound, and its horn button is not. A usual
one with as much cranks no engine, and takes a volt from whatever draws 40 A.
"""

import pytest

from .circuit_parts import contact, load


def ask(run, amps, *, volts=12, ohm=0.03, button_ohm=0.002, **more):
    horn = load("horn", "pressed", "ground", resistance_ohm=volts / amps) | more
    button = contact("button", "post", "pressed", button_ohm, part="switch", rating_a=100)
    source = {"plus": "post", "open_circuit_v": 1.05 * volts, "internal_resistance_ohm": ohm}
    return run(
        "circuit-check",
        circuit={"source": source, "branches": [button], "loads": [horn]},
        cases=[{"name": "pressed"}],
        nominal_v=volts,
    )


def named(answer):
    return "battery_resistance" in {each.code for each in answer.cases[0].checks}


@pytest.mark.parametrize(("volts", "ohm", "amps"), [(12, 0.03, 5), (6, 0.015, 8), (24, 0.06, 4)])
def test_a_small_battery_is_not_blamed_before_a_worn_button(run, volts, ohm, amps):
    """By hand: 5 A over some 20 mohm more than a usual one has are a tenth of a volt."""
    answer = ask(run, amps, volts=volts, ohm=ohm, button_ohm=2.5 * volts / 12 / amps)
    assert not named(answer)
    assert answer.weakest.part == "button"


@pytest.mark.parametrize(("volts", "ohm", "amps"), [(12, 0.03, 40), (6, 0.015, 40), (24, 0.06, 40)])
def test_one_that_lacks_what_its_load_wants_is_weak(run, volts, ohm, amps):
    """By hand: 40 A over 19 mohm more are 0.76 V of 12, and as large a share of 6 and 24."""
    assert named(ask(run, amps, volts=volts, ohm=ohm))


def test_no_small_one_has_a_fifth_of_an_ohm(run):
    assert named(ask(run, 1, ohm=0.2))


def test_one_that_is_to_start_an_engine_is_weak_whatever_its_solenoid_takes(run):
    assert named(ask(run, 10, circuit="starter_control", needed_v=9))
