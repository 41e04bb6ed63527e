"""A solenoid that no path, battery or cooling helps: which part is at fault is said first."""

import pytest

WINDINGS = {
    "pull_in_turns": 200,
    "pull_in_resistance_ohm": 0.35,
    "hold_in_turns": 200,
    "hold_in_resistance_ohm": 1.1,
    "motor_resistance_ohm": 0.02,
    "ampere_turns": 4500,
    "hold_ampere_turns": 700,
}


def solenoid(run, **fields):
    return run("solenoid-pull-in", **fields)


def message(found, code):
    return next((check.message for check in found.checks if check.code == code), "")


def test_brushes_in_the_way_of_the_pull_in_winding_are_named(run):
    """2 ohm in series with 0.35 ohm leave the pull-in winding a seventh of its current."""
    asked = {"temperature_c": 110, "supply_v": 12.2, "path_resistance_ohm": 0.06}
    worn = solenoid(run, windings={**WINDINGS, "motor_resistance_ohm": 2}, **asked)
    assert worn.fault == "brushes"
    assert "look at the brushes" in worn.headline
    assert "look at the brushes" in message(worn, "pull_in")
    assert "No path helps" not in message(worn, "pull_in")
    sound = solenoid(run, windings=WINDINGS, **asked)
    assert sound.fault is None
    assert "brushes" not in sound.headline


def test_an_open_hold_in_winding_is_named(run):
    open_one = {**WINDINGS, "hold_in_resistance_ohm": 1000}
    found = solenoid(run, windings=open_one, temperature_c=20, available_v=12, dip_v=9)
    assert found.fault == "hold_in_open"
    assert "hold-in winding is as good as open: replace the solenoid" in found.headline
    assert "replace the solenoid" in message(found, "hold_in")


@pytest.mark.parametrize("hold", [{}, {"hold_ampere_turns": None}])
def test_an_open_pull_in_winding_is_named(run, hold):
    """1000 ohm beside a hold-in winding of 1.1 ohm, where 0.2 to 0.5 ohm are usual."""
    windings = {**WINDINGS, "pull_in_resistance_ohm": 1000, **hold}
    windings = {name: value for name, value in windings.items() if value is not None}
    found = solenoid(run, windings=windings, temperature_c=20, available_v=12.2, dip_v=9)
    assert found.fault == "pull_in_open"
    assert "pull-in winding is as good as open: replace the solenoid" in found.headline
    assert "replace the solenoid" in message(found, "pull_in")
    assert "charge the battery" not in message(found, "pull_in")


@pytest.mark.parametrize("typed", [{"hold_ampere_turns": 2400}, {"hold_in_turns": 50}])
def test_a_typing_error_is_no_open_winding(run, typed):
    """A hold-in winding of 1.1 ohm is not open; what was typed needs 13 V and more to hold."""
    found = solenoid(
        run, windings={**WINDINGS, **typed}, temperature_c=20, available_v=12.2, dip_v=9
    )
    assert found.fault == "hold_in_data"
    assert "replace the solenoid" not in found.headline + message(found, "hold_in")
    assert "check what was given" in found.headline
    assert "check what was given" in message(found, "hold_in")


@pytest.mark.parametrize("pull_in_v", [4.2, 4.5, 4.7])
@pytest.mark.parametrize("dip", [{}, {"dip_v": 9}])
def test_one_that_may_be_for_6_v_is_said_on_12_v(run, pull_in_v, dip):
    """70 % of 6 V are 4.2 V: on 12 V its windings burn."""
    found = solenoid(
        run, rated={"pull_in_v": pull_in_v, "hold_in_v": 2}, temperature_c=20, available_v=12.2,
        **dip,
    )  # fmt: skip
    assert found.fault == "perhaps_for_less"
    assert (
        "Look at its plate: if it is made for a lower voltage, its windings burn" in found.headline
    )


# 24 V solenoid on a 12 V battery; 12 V one on 7 V; 6 V one on 12 V, 12 V one on 24 V.
@pytest.mark.parametrize(
    ("pull_in_v", "available_v", "fault"),
    [(16, 12.2, "for_more"), (7.8, 7, "for_more"), (3.6, 12.4, "for_less"), (7.8, 24, "for_less"),
     (7.8, 12.2, None), (16, 24.5, None)],
)  # fmt: skip
def test_one_for_another_voltage_is_said_first(run, pull_in_v, available_v, fault):
    found = solenoid(run, rated={"pull_in_v": pull_in_v}, temperature_c=20, available_v=available_v)
    assert found.fault == fault
    assert ("made for a higher voltage, or the supply" in found.headline) == (fault == "for_more")
    assert ("made for a lower voltage" in found.headline) == (fault == "for_less")
    assert ("to spare" in found.headline) == (fault is None)
    if fault == "for_more":
        told = message(found, "pull_in")
        for useless in ("let it cool", "charge the battery", "windings up to", "path"):
            assert useless not in told


# The same sound solenoid, on the battery and on its charger.
@pytest.mark.parametrize("supply_v", [11, 11.8, 12.6, 14.4])
def test_a_charger_makes_no_solenoid_one_for_less(run, supply_v):
    found = solenoid(run, rated={"pull_in_v": 5.0}, temperature_c=20, available_v=supply_v)
    assert found.fault is None
    assert message(found, "made_for") == ""


def test_behind_a_terminal_whose_voltage_is_known_there_is_no_path(run):
    rated = {"pull_in_v": 7.5, "resistance_ohm": 0.3}
    at_terminal = solenoid(run, rated=rated, temperature_c=60, available_v=9.8)
    assert "path" not in message(at_terminal, "pull_in")
    from_post = solenoid(
        run, rated=rated, temperature_c=60, supply_v=12.2, path_resistance_ohm=0.03
    )
    assert "From 12.2 V the path may have up to" in message(from_post, "pull_in")
