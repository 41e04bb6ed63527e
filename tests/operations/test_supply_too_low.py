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
    assert ("voltage of the supply" in found.headline) == said


def test_no_size_is_sought_in_vain_without_a_word(run):
    found = run(
        "wire-sizing", supply_v=11, nominal_v=12, load_current_a=10, length_m=3, needed_v=12,
        insulation="GXL", zone="engine_bay", return_path="wire", load_profile="steady",
    )  # fmt: skip
    assert found.size is None
    assert "voltage of the supply" in found.headline


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
