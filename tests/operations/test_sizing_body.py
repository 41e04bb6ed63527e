"""The return through the body: what nobody measured sends nobody to mend it.

A ground return of 5 milliohm at most is satisfactory (FAA AC 43.13-1B), of small currents; a sound
ground drops 0.1 V at most under its load (common practice).
"""

import pytest

STARTER = {
    "supply_v": 11, "load_current_a": 300, "length_m": 1.5, "return_path": "body",
    "load_profile": "cranking", "circuit": "starter_motor", "zone": "engine_bay",
    "insulation": "SGX",
}  # fmt: skip
GLOW_PLUGS = {
    **STARTER, "supply_v": 11.5, "load_current_a": 60, "load_profile": "glow_plug",
    "circuit": "continuous", "insulation": "SXL", "source_resistance_ohm": 0.02,
}  # fmt: skip
LAMP = {
    "supply_v": 12, "load_current_a": 60, "length_m": 3, "return_path": "body",
    "insulation": "GXL", "zone": "cabin", "load_profile": "steady", "source_resistance_ohm": 0.02,
}  # fmt: skip


@pytest.mark.parametrize(
    "asked", [STARTER, {**STARTER, "supply_v": 5.5, "load_current_a": 250}, GLOW_PLUGS]
)
def test_a_starter_returns_through_the_block(run, asked):
    found = run("wire-sizing", **asked)
    assert found.size is not None
    assert found.no_size_helps is None
    assert found.body_resistance_ohm * asked["load_current_a"] == pytest.approx(0.1)


def test_a_small_current_has_the_published_body(run):
    assert run("wire-sizing", **{**LAMP, "load_current_a": 10}).body_resistance_ohm == 0.005


def test_a_guess_decides_nothing(run):
    """0.1 V of a sound body are more than the 0.09 V allowed: whether, nobody measured."""
    asked = {**LAMP, "limit_drop_v": 0.09, "needed_v": 9, "contacts_resistance_ohm": 0}
    found = run("wire-sizing", **asked)
    judged = {check.code: check for check in found.checks}
    assert judged["loop_drop"].verdict == "unknown"
    assert "body_resistance_ohm" in judged["loop_drop"].message
    assert "drop of the loop" in found.headline
    measured = run("wire-sizing", **asked, body_resistance_ohm=0.002)
    assert measured.no_size_helps == "fixed_drop"


def test_nothing_arrives_where_more_is_lost_than_there_is(run):
    """By hand: 60 A would drop 18 V in 0.3 ohm, of 12 V; no wire is at fault."""
    found = run("wire-sizing", **LAMP, body_resistance_ohm=0.3, needed_v=9, circuit="continuous")
    judged = {check.code: check for check in found.checks}
    assert judged["load_voltage"].value == 0
    assert "18" not in judged["loop_drop"].message
    assert "mend what resists" in judged["far_short"].message


def test_a_wire_that_finds_no_temperature_has_a_message(run):
    found = run(
        "wire-sizing", supply_v=12, load_current_a=9000, length_m=1, return_path="wire",
        insulation="GXL", zone="cabin", needed_v=5, limit_drop_v=2, load_profile="steady",
    )  # fmt: skip
    assert all(check.message for check in found.checks)


SIX = {
    "supply_v": 6.9, "load_current_a": 20, "length_m": 4, "return_path": "body",
    "insulation": "GXL", "zone": "cabin", "circuit": "continuous", "load_profile": "steady",
    "source_resistance_ohm": 0.02,
}  # fmt: skip
CONTROL = {
    **SIX, "supply_v": 12.6, "load_current_a": 12, "length_m": 6, "circuit": "starter_control",
    "load_profile": "starter_solenoid",
}  # fmt: skip


def drop_of(found):
    return next(check for check in found.checks if check.code == "loop_drop")


def test_a_size_that_only_an_assumed_body_asks_for_is_undecided(run):
    """0.1 V of a sound body are two fifths of the 0.25 V that a 6 V circuit may drop."""
    found = run("wire-sizing", **SIX)
    assert drop_of(found).verdict == "undecided"
    assert "body_resistance_ohm" in drop_of(found).message
    assert "Not decided: drop of the loop" in found.headline
    measured = run("wire-sizing", **SIX, body_resistance_ohm=0.0005)
    assert drop_of(measured).verdict in {"pass", "marginal"}
    assert measured.area_mm2 < found.area_mm2
    # Of 0.5 V it is a fifth, as of any cable: nobody needs to measure that first.
    assert drop_of(run("wire-sizing", **{**SIX, "supply_v": 13.8})).verdict != "undecided"


def test_a_size_that_only_an_assumed_first_current_asks_for_is_undecided(run):
    """12 A at terminal 50 may be of both windings already, or of the one that holds."""
    found = run("wire-sizing", **CONTROL)
    assert drop_of(found).verdict == "undecided"
    assert "inrush_current_a" in drop_of(found).message
    told = run("wire-sizing", **CONTROL, inrush_current_a=12)
    assert drop_of(told).verdict in {"pass", "marginal"}
    assert told.area_mm2 < found.area_mm2 / 3
    # What the thinnest wire that lasts bears anyway no measurement makes thinner.
    short = run("wire-sizing", **{**CONTROL, "load_current_a": 2, "length_m": 0.5})
    assert drop_of(short).verdict != "undecided"


@pytest.mark.parametrize("current_a", [10, 20, 38])
def test_no_terminal_50_takes_more_than_both_windings_do(run, current_a):
    """25 to 40 A until it has pulled in: five times that is of no solenoid (common practice)."""
    asked = {**CONTROL, "load_current_a": current_a, "length_m": 4, "on_time_s": 5}
    found = run("wire-sizing", **asked)
    most = run("wire-sizing", **asked, inrush_current_a=40)
    assert found.size == most.size == "10 AWG"  # 40 A over 4 m: 0.53 V of wire, 0.4 V kept back
    body = {"contacts_resistance_ohm": 0.01, "body_resistance_ohm": 0.002}
    assert run("wire-sizing", **asked, **body).no_size_helps is None


def test_a_way_of_no_length_is_sized(run):
    found = run("wire-sizing", **{**SIX, "length_m": 0}, contacts_resistance_ohm=0)
    assert found.size is not None
    bare = {**SIX, "length_m": 0, "return_path": "wire", "contacts_resistance_ohm": 0}
    assert drop_of(run("wire-sizing", **bare)).value == 0
