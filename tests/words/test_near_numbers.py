"""Sentences about two numbers that are the same, or nearly."""


def test_what_reaches_a_limit_is_not_below_it(run):
    """16 V are the most that a 12 V system has, and gas its battery all the same."""
    found = run(
        "voltage-drop", supply_v=16, nominal_v=12, load_current_a=1,
        segments=[{"name": "a", "kind": "wire", "size": "12 AWG", "length_m": 1}],
    )  # fmt: skip
    (said,) = (check.message for check in found.checks if check.code == "source_voltage")
    assert said.startswith("16 V are no more than 16 V, the most for this system")


def test_ends_of_a_range_are_told_apart(run):
    """At 0.05 A a few thousandths of an ohm are less than a millivolt."""
    found = run(
        "battery-voltage", nominal_v=12, cold_cranking_a=500, temperature_c=0, current_a=0.05,
        state_of_charge_percent=0,
    )  # fmt: skip
    assert 11.77 < found.terminal_low_v <= found.terminal_high_v < 11.78
    assert "between 11.77 V and 11.78 V" in found.headline
