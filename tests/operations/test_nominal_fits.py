"""A supply that cannot be of the system that is said is no runaway, and no limit of it counts.

A full battery keeps 7.2 V of 12 V at its cold rating (SAE J537); a 12 V system reaches 16 V.
"""

import pytest

FEED = {"kind": "wire", "name": "feed", "size": "12 AWG", "length_m": 2}


def verdict(found, code):
    return next((each.verdict for each in found.checks if each.code == code), None)


@pytest.mark.parametrize(
    ("supply_v", "nominal_v", "fits"),
    [
        (12.6, 24, False), (25, 6, False), (25, 12, False), (12.6, 6, False), (6.3, 12, False),
        (40, 12, False), (12.6, 12, True), (8, 12, True), (24.5, 24, True), (18, 24, True),
        (6.3, 6, True), (17, 12, True), (40, 24, True),
    ],
)  # fmt: skip
def test_the_system_that_is_given_must_be_that_of_the_supply(run, supply_v, nominal_v, fits):
    path = run(
        "voltage-drop", supply_v=supply_v, nominal_v=nominal_v, load_current_a=10, segments=[FEED]
    )
    sized = run(
        "wire-sizing", supply_v=supply_v, nominal_v=nominal_v, load_current_a=10, length_m=2,
        insulation="GXL", zone="cabin", return_path="wire", load_profile="steady",
    )  # fmt: skip
    for found in (path, sized):
        assert verdict(found, "nominal_voltage") == (None if fits else "fail")
        told = [each.message for each in found.checks if each.code == "nominal_voltage"]
        told += ["nominal voltage for this supply"]
        assert any(each in found.headline for each in told) == (not fits)
        # No regulator makes 25 V of 6 V; one of 12 V may make 17 V.
        runs_away = fits and supply_v in {17, 40}
        assert (verdict(found, "source_voltage") == "fail") == runs_away


@pytest.mark.parametrize(("supply_v", "fits"), [(25, False), (12.6, True)])
def test_readings_of_another_system_say_so_first(run, supply_v, fits):
    key = {"kind": "contact", "name": "key", "part": "switch", "measured_v": 0.02}
    found = run(
        "drop-diagnosis", supply_v=supply_v, nominal_v=12, current_a=10, readings=[key],
        circuit="continuous", load_voltage_v=supply_v - 0.02,
    )  # fmt: skip
    assert verdict(found, "nominal_voltage") == (None if fits else "fail")
    assert ("no system of 12 V" in found.headline) == (not fits)
    assert "regulator" not in found.headline
