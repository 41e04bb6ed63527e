"""What a start takes from other loads for its seconds is no fault of the car.

By practice headlamps that are left on dim while any engine is cranked.
"""

import pytest

from .circuit_parts import load, wire
from .test_start_sequence import ask


def test_headlamps_that_dim_fail_no_start(run):
    """By hand 7.6 V over 0.03 ohm are 253 A, of which 0.01 ohm keep 2.5 V: some 10 V are left."""
    lamps = load("headlamps", "post", "ground", resistance_ohm=1.3)
    sound = ask(run)
    answer = ask(run, loads=[{**lamps, "needed_v": 10.8, "circuit": "continuous"}])
    (dim,) = [c for c in answer.checks if (c.code, c.part) == ("load_voltage", "headlamps")]
    assert (dim.verdict, dim.value < dim.limit) == ("marginal", True)
    assert answer.outcome == sound.outcome == "starts"
    assert answer.verdict != "fail"
    assert "headlamps" not in answer.headline
    assert "short, as long as the start lasts" in dim.message


@pytest.mark.parametrize("needed_v", [9.8, 10.0, 10.2, 10.4])
def test_nor_is_a_wire_of_them_too_thin_for_that(run, needed_v):
    """By hand: 2.5 V are the battery's own, and 7 A over 3 m of 14 AWG, 25 mohm, lose 0.2 V."""
    lamps = {**load("headlamps", "lit", "ground", resistance_ohm=1.3), "needed_v": needed_v}
    lead = wire("lamp wire", "post", "lit", "14 AWG", 3, insulation="GXL")
    answer = ask(run, branches=[lead], loads=[lamps])
    assert answer.verdict != "fail"
    assert "lamp wire" not in answer.headline


def test_a_valve_on_terminal_50_fails_no_start(run):
    """By hand some 3 A more over the key's 0.1 ohm, for a tenth of a second."""
    valve = load("cold valve", "50", "ground", resistance_ohm=4)
    answer = ask(run, loads=[{**valve, "needed_v": 8, "circuit": "continuous"}])
    (lost,) = [c for c in answer.checks if (c.code, c.part) == ("path_drop", "cold valve")]
    assert lost.verdict == "marginal"
    assert answer.verdict != "fail"
    assert "cold valve" not in answer.headline


@pytest.mark.parametrize("key_ohm", [0.45])
def test_a_start_that_fails_still_does(run, key_ohm):
    assert ask(run, key_ohm=key_ohm).verdict == "fail"
