"""A supply that has less than the load needs: no wire is to blame for it. Ohm's law by hand."""

import pytest

WIRE = {"kind": "wire", "name": "feed", "size": "14 AWG", "length_m": 2}


@pytest.mark.parametrize(("supply_v", "said"), [(10.8, True), (12.6, False)])
def test_a_path_from_too_low_a_supply_says_so_first(run, supply_v, said):
    found = run(
        "voltage-drop", supply_v=supply_v, nominal_v=12, load_current_a=5, needed_v=11,
        segments=[WIRE],
    )  # fmt: skip
    supply = [check for check in found.checks if check.code == "supply"]
    assert bool(supply) == said
    for check in supply:
        assert (check.verdict, check.value, check.limit) == ("fail", supply_v, 11)
        assert found.headline.startswith(check.message)


def test_no_size_is_sought_in_vain_without_a_word(run):
    found = run(
        "wire-sizing", supply_v=11, nominal_v=12, load_current_a=10, length_m=3, needed_v=12,
        insulation="GXL", zone="engine_bay", return_path="wire", load_profile="steady",
    )  # fmt: skip
    assert (found.size, found.no_size_helps) == (None, "low_supply")
    assert found.headline.startswith("No size helps: the supply has 11 V and 12 V are needed")


@pytest.mark.parametrize("needed_v", [None, 11.5])
def test_what_loses_a_little_more_than_practice_allows_is_asked_what_it_needs(run, needed_v):
    """By hand: 16 AWG has 13.2 mohm/m and more, so 8.6 m at 5 A lose some 0.57 V of 0.5 V."""
    wire = {"kind": "wire", "name": "feed", "size": "16 AWG", "length_m": 8.6, "temperature_c": 20}
    needed = {"needed_v": needed_v} if needed_v else {}
    found = run("voltage-drop", supply_v=12.6, load_current_a=5, segments=[wire],
                circuit="continuous", **needed)  # fmt: skip
    (drop,) = [check for check in found.checks if check.code == "path_drop"]
    assert drop.verdict == "marginal"
    assert ("give needed_v" in drop.message) == (needed_v is None)
    assert ("11.5 V that the load needs" in drop.message) == (needed_v is not None)


def test_a_body_that_nobody_measured_takes_no_voltage_that_is_needed(run):
    """12.2 V, 80 A, 11.9 V needed: 0.3 V are left, and an assumed body of 2.5 mohm takes 0.2 V."""
    asked = {
        "supply_v": 12.2, "load_current_a": 80, "length_m": 3, "needed_v": 11.9,
        "insulation": "GXL", "zone": "engine_bay", "return_path": "body", "load_profile": "steady",
    }  # fmt: skip
    found = run("wire-sizing", **asked)
    assert found.size is not None
    assert "load_voltage" in {each.code for each in found.not_judged}
    measured = run("wire-sizing", **asked, body_resistance_ohm=0.01)
    assert measured.size is None


def test_a_contact_whose_first_current_is_measured_needs_no_kind_of_load(run):
    found = run(
        "relay-contact", rating_a=40, rated_v=16, supply_v=14, load_current_a=10,
        inrush_current_a=60, make_rating_a=50, ambient_c=20,
    )  # fmt: skip
    inrush = next(check for check in found.checks if check.code == "inrush")
    assert (inrush.verdict, inrush.value, inrush.limit) == ("fail", 60, 50)


FEED = {"kind": "wire", "name": "feed", "size": "10 AWG", "length_m": 3, "insulation": "GXL",
        "ambient_c": 40}  # fmt: skip


def supply_of(found):
    return next((each for each in found.checks if each.code == "supply"), None)


# An empty battery of 12 V has 11.9 V at rest and gives 10 A at some 11.7; a dead cell leaves 10.4.
@pytest.mark.parametrize("supply_v", [8, 9.5, 10.4, 11])
def test_a_flat_battery_is_said_before_the_path_that_it_feeds(run, supply_v):
    asked = {"supply_v": supply_v, "nominal_v": 12, "load_current_a": 10, "segments": [FEED]}
    found = run("voltage-drop", **asked)
    assert found.verdict == "fail"
    assert found.headline.startswith(supply_of(found).message)
    assert "Charge the battery and test it" in supply_of(found).message
    # What is needed decides where it is known.
    enough = run("voltage-drop", **asked, needed_v=7)
    assert (enough.verdict, supply_of(enough).verdict) == ("marginal", "marginal")
    assert "7 V are needed" in supply_of(enough).message
    both = run("voltage-drop", **asked, needed_v=11.8)
    assert "no wire, contact or relay" in supply_of(both).message


@pytest.mark.parametrize("supply_v", [11.8, 12.6, 14.2])
def test_of_a_battery_that_is_not_flat_nothing_is_said(run, supply_v):
    found = run("voltage-drop", supply_v=supply_v, load_current_a=10, segments=[FEED])
    assert supply_of(found) is None


# At the key a battery that cranks has 9.6 V (load test), and below 7.2 V has failed.
@pytest.mark.parametrize(("supply_v", "verdict"), [(10, None), (8, "marginal"), (6.8, "fail")])
def test_a_battery_at_work_may_be_lower(run, supply_v, verdict):
    found = run(
        "voltage-drop", supply_v=supply_v, nominal_v=12, load_resistance_ohm=0.4,
        circuit="starter_control", segments=[{**FEED, "size": "6 mm2"}],
    )  # fmt: skip
    told = supply_of(found)
    assert (told and told.verdict) == verdict


@pytest.mark.parametrize(("supply_v", "said"), [(9, True), (12.2, False)])
def test_a_low_supply_is_said_though_the_solenoid_pulls_in(run, supply_v, said):
    found = run(
        "solenoid-pull-in", rated={"pull_in_v": 7.8, "resistance_ohm": 0.35}, temperature_c=20,
        supply_v=supply_v, path_resistance_ohm=0.04,
    )  # fmt: skip
    assert found.margin_v > 0
    told = supply_of(found)
    assert (told is not None) == said
    if said:
        assert (told.verdict, told.limit) == ("marginal", 9.6)
        assert "cold, flat or too small" in told.message
