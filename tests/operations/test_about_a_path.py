"""A rule of thumb for a whole path is no knife's edge, and a wire that surely bears is not asked.

Common practice: 0.5 V on the way of 12 V; a tenth more is no fault of a lamp that has enough. 18
AWG bears some 10 A in any insulation and place but a thick loom.
"""

import pytest

from .test_by_design import checked


def wire(name="lamp wire", size="14 AWG", length_m=6.8, **more):
    return {"name": name, "kind": "wire", "size": size, "length_m": length_m, **more}


def drop(run, *segments, **fields):
    fields = {"supply_v": 12.546, "load_current_a": 9.05, "needed_v": 10.8} | fields
    return run("voltage-drop", segments=segments, **fields)


def verdict(found, code="path_drop"):
    return next((c.verdict for c in found.checks if c.code == code), None)


@pytest.mark.parametrize(
    # By hand 8.3 milliohm a metre and 9.05 A: 0.51, 0.6 and 0.75 V.
    ("length_m", "judged"), [(6.8, "marginal"), (8.0, "marginal"), (10.0, "fail")],
)  # fmt: skip
def test_a_little_over_the_rule_of_thumb_is_no_fault(run, length_m, judged):
    assert verdict(drop(run, wire(length_m=length_m))) == judged


def test_a_limit_of_ones_own_is_kept(run):
    assert verdict(drop(run, wire(), limit_drop_v=0.5)) == "fail"


def test_a_load_that_gets_too_little_fails_all_the_same(run):
    found = drop(run, wire(), needed_v=12.3)
    assert (verdict(found, "load_voltage"), found.verdict) == ("fail", "fail")


@pytest.mark.parametrize(
    ("size", "load_current_a", "judged"),
    [("18 AWG", 0.0, None), ("18 AWG", 0.2, None), ("18 AWG", 8, None), ("18 AWG", 18, "unknown"),
     ("18 AWG", 40, "fail")],
)  # fmt: skip
def test_a_wire_that_surely_bears_its_current_is_not_asked_about(run, size, load_current_a, judged):
    found = drop(run, wire(size=size, length_m=1), load_current_a=load_current_a)
    assert verdict(found, "wires_heat") == judged
    if judged is None:
        assert found.verdict == "pass"


def ballasted(run, ohm, *more, **fields):
    ballast = {"name": "ballast", "kind": "resistance", "resistance_ohm": ohm}
    segments = [wire(length_m=4), *more, ballast]
    fields = {"supply_v": 13.8, "load_resistance_ohm": 1.5, "needed_v": 5} | fields
    return run("voltage-drop", segments=segments, **fields)


def test_a_ballast_is_no_loss(run):
    """By hand 13.8 V over 3.03 ohm are 4.55 A: 0.15 V over the wire, 6.8 V over the ballast."""
    found = ballasted(run, 1.5)
    assert found.verdict == "pass"
    assert found.limited_drop_v == pytest.approx(4.55 * 0.033, abs=0.02)
    assert (found.by_design, found.by_design_v) == ("ballast", pytest.approx(6.83, abs=0.05))
    assert "may be meant, as in ballast" in found.headline


def test_where_to_start_is_the_worn_switch_and_not_the_ballast(run):
    switch = {"name": "switch", "kind": "contact", "part": "switch", "resistance_ohm": 0.3}
    found = ballasted(run, 1.5, switch)
    assert (verdict(found), found.begin_with) == ("fail", "switch")
    assert "Start with switch" in str([c.message for c in found.checks])


def test_what_may_be_a_ballast_is_asked_about(run):
    found = ballasted(run, 0.6)
    assert verdict(found) == "undecided"
    assert "whether ballast is there by design" in str([c.message for c in found.checks])


def test_a_path_without_resistors_has_none_by_design(run):
    found = drop(run, wire())
    assert (found.by_design, found.by_design_v) == (None, None)


def test_circuits_say_the_same(run):
    assert checked(run, 0.6)[1].verdict == verdict(ballasted(run, 0.6))
    assert checked(run, 1.5)[1].verdict == verdict(ballasted(run, 1.5))


def test_a_limit_of_ones_own_is_for_all_of_the_path(run):
    """6.8 V of 5 V allowed: whoever says so means the ballast, too."""
    found = ballasted(run, 1.5, limit_drop_v=5)
    assert (verdict(found), found.by_design) == ("fail", None)
