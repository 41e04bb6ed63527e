"""A poor contact in a path whose sound wires lose too much: both are told, the larger loss first.

Common practice: 0.5 V on the way of a lamp of 12 V, 1 V on that of a starter's solenoid.
"""

import pytest


def wire(name, measured_v, size="16 AWG", length_m=8):
    return {"name": name, "kind": "wire", "size": size, "length_m": length_m,
            "measured_v": measured_v}  # fmt: skip


def contact(name, part, measured_v):
    return {"name": name, "kind": "contact", "part": part, "measured_v": measured_v}


def lamps(run, wire_v, ground_v, *, length_m=8, current_a=9, **fields):
    """New 16 AWG has 13.2 milliohm a metre: 8 m drop 0.95 V at 9 A."""
    fields = {"circuit": "continuous", "supply_v": 12.5, "nominal_v": 12} | fields
    readings = [wire("feed", wire_v, length_m=length_m), contact("g", "ground", ground_v)]
    lost_v = round(12.5 - wire_v - ground_v, 2)
    return run(
        "drop-diagnosis", readings=readings, current_a=current_a, load_voltage_v=lost_v, **fields
    )


def test_wires_that_lose_ten_times_as_much_come_first(run):
    """0.96 V of wire are 0.46 V over the 0.5 V allowed; the ground has 0.07 V too many."""
    found = lamps(run, 0.96, 0.17)
    assert found.mend_first == ("g",)
    assert found.sound_path_beyond_v == pytest.approx(0.96 + 0.1 - 0.5, abs=0.01)
    thin = found.headline.index("Take larger wires")
    assert thin < found.headline.index("g drops")
    assert "a relay near the load" in found.headline
    assert not found.headline.startswith("Poor parts found")


def test_wires_that_lose_a_little_too_much_come_after(run):
    """0.55 V of wire; the ground has 0.9 V too many."""
    found = lamps(run, 0.55, 1.0, length_m=4.6)
    assert found.headline.startswith("Poor parts found: g drops")
    assert found.headline.index("g drops") < found.headline.index("take larger wires")


def test_a_path_that_mending_cures_needs_no_wire(run):
    """0.3 V of wire and 0.1 V of a sound ground are within 0.5 V."""
    found = lamps(run, 0.3, 0.5, length_m=2.5)
    assert found.sound_path_beyond_v is None
    assert "larger wires" not in found.headline


def test_without_a_poor_part_nothing_is_said_twice(run):
    found = lamps(run, 0.96, 0.05)
    assert (found.reason, found.sound_path_beyond_v) == ("too_thin", None)
    assert found.headline.count("Take larger wires") == 1


@pytest.mark.parametrize("feed_v", [0.12, 0.15, 0.17])
def test_where_all_contacts_are_sound_larger_wires_help_and_no_switch(run, feed_v):
    """6 V lamps, 14 A in 3 m of 10 AWG, 0.14 V: what a sound switch drops no new one spares."""
    feed = {"kind": "wire", "name": "feed", "size": "10 AWG", "length_m": 3, "measured_v": feed_v}
    contacts = [
        {"kind": "contact", "name": part, "part": part, "measured_v": volts}
        for part, volts in (("switch", 0.09), ("ground", 0.08))
    ]
    found = run(
        "drop-diagnosis", circuit="continuous", nominal_v=6, current_a=14, supply_v=6.2,
        load_voltage_v=round(6.03 - feed_v, 2), readings=[feed, *contacts],
    )  # fmt: skip
    assert (found.reason, found.largest_drop) == ("too_thin", "feed")
    assert "Take larger wires" in found.headline
    assert "Clean and tighten" not in found.headline
