"""The first line of a single part begins with what is wrong, and says what was not judged.

Common practice: who reads one line must not go away with "it carries", where a contact welds shut.
"""

import pytest

CONTACT = {
    "rating_a": 30, "make_rating_a": 60, "rated_v": 14, "supply_v": 14, "load_current_a": 20,
    "ambient_c": 20, "contact_resistance_ohm": 0.002, "load_kind": "resistive",
}  # fmt: skip
COIL = {
    "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 7.2, "drop_out_v": 1.2, "dip_v": 6,
    "maximum_v": 15, "thermal_resistance_k_per_w": 30, "coil_limit_c": 155, "available_v": 11,
    "highest_ambient_c": 85, "suppression": {"kind": "diode"}, "ambient_c": 60,
}  # fmt: skip
BARE = {"suppression": {"kind": "none"}}
FUSE = {
    "load_current_a": 10, "load_profile": "steady", "size": "1.5 mm2", "ambient_c": 40,
    "insulation": "ISO class B", "supply_v": 12.6, "source_resistance_ohm": 0.03,
    "loop_resistance_ohm": 0.05,
}  # fmt: skip
WIRE = {
    "load_current_a": 10, "load_profile": "steady", "supply_v": 12.6, "length_m": 3,
    "return_path": "wire", "ambient_c": 40, "insulation": "ISO class B",
    "source_resistance_ohm": 0.03, "contacts_resistance_ohm": 0.01,
}  # fmt: skip
ALUMINIUM = {
    "size": "6 mm2", "insulation": "ISO class B", "ambient_c": 40, "material": "aluminium",
    "current_a": 20,
}  # fmt: skip
SWITCH = {
    "rating_a": 10, "contact_resistance_ohm": 0.005,
    "loads": [{"name": "lamps", "current_a": 5, "positions": ["on"]}],
}  # fmt: skip
PATH = {
    "supply_v": 12.6, "load_current_a": 10, "needed_v": 11.5,
    "segments": [
        {"name": "feed", "kind": "wire", "size": "2.5 mm2", "length_m": 1,
         "insulation": "ISO class B", "ambient_c": 40},
    ],
}  # fmt: skip
SOLENOID = {
    "rated": {"pull_in_v": 8, "hold_in_v": 4}, "temperature_c": 60, "available_v": 11, "dip_v": 7,
}  # fmt: skip
BATTERY = {
    "nominal_v": 12, "cold_cranking_a": 500, "temperature_c": 20, "current_a": 50,
    "state_of_charge_percent": 100, "internal_resistance_ohm": 0.006,
}  # fmt: skip


@pytest.mark.parametrize(
    ("operation", "sound", "change", "code"),
    [
        # 20 A of cold filaments start with some ten times as much.
        ("relay-contact", CONTACT, {"load_kind": "lamp"}, "inrush"),
        ("relay-contact", CONTACT, {"contact_resistance_ohm": 0.02}, "contact_drop"),
        ("relay-coil", COIL, {"dip_v": 0.5}, "hold"),
        ("relay-coil", COIL, {"ambient_c": 90}, "highest_ambient"),
        ("relay-coil", COIL, {**BARE, "switch_limit_v": 60}, "suppression"),
        # 12.65 V over 4 milliohms are 3 kA; a blade interrupts 1 kA.
        ("fuse-selection", FUSE, {"source_resistance_ohm": 0.004}, "breaking_capacity"),
        ("fuse-selection", FUSE, {"loop_resistance_ohm": 1.0}, "far_short"),
        ("wire-sizing", WIRE, {"source_resistance_ohm": 0.004}, "breaking_capacity"),
        ("wire-sizing", WIRE, {"supply_v": 18, "nominal_v": 12}, "source_voltage"),
        # 6 mm2 of aluminium stay below 100 degC at 45 A, and no table allows as much.
        ("wire-heating", ALUMINIUM, {"current_a": 45}, "permissible_current"),
        ("switch-loading", SWITCH, {"contact_resistance_ohm": 0.06}, "drop"),
        ("voltage-drop", PATH, {"needed_v": 12.55}, "load_voltage"),
        ("solenoid-pull-in", SOLENOID, {"dip_v": 3}, "hold_in"),
        # 12.7 V less 20 milliohms times 250 A are 7.7 V; a load test asks for 9.6 V.
        ("battery-voltage", BATTERY, {"internal_resistance_ohm": 0.02, "current_a": 250}, "sag"),
    ],
)  # fmt: skip
def test_what_fails_leads_and_the_rest_follows(run, operation, sound, change, code):
    well = run(operation, **sound)
    assert not [check.code for check in well.checks if check.verdict in {"fail", "unknown"}]
    answer = run(operation, **{**sound, **change})
    failed = {check.code: check for check in answer.checks if check.verdict == "fail"}
    assert answer.headline.startswith(failed[code].message)


def test_what_can_hurt_leads_over_what_only_loses(run):
    """Common practice: 60 A in 1.5 mm2 smoke; what its metre drops is the lesser evil."""
    feed = {**PATH["segments"][0], "size": "1.5 mm2"}
    answer = run("voltage-drop", **{**PATH, "load_current_a": 60, "segments": [feed]})
    assert "path_drop" in {check.code for check in answer.checks if check.verdict == "fail"}
    assert answer.headline.startswith("feed: it heats up without end")


@pytest.mark.parametrize(
    ("operation", "asked", "left_out"),
    [
        ("relay-contact", CONTACT, "contact_resistance_ohm"),
        ("relay-coil", COIL, "suppression"),
        ("fuse-selection", FUSE, "source_resistance_ohm"),
        ("fuse-selection", FUSE, "loop_resistance_ohm"),
        ("wire-sizing", WIRE, "source_resistance_ohm"),
        ("solenoid-pull-in", SOLENOID, "dip_v"),
        ("battery-voltage", BATTERY, "state_of_charge_percent"),
    ],
)
def test_what_was_not_judged_is_said_with_what_is_well(run, operation, asked, left_out):
    answer = run(operation, **{name: each for name, each in asked.items() if name != left_out})
    well, not_judged, _ = answer.headline.partition(" Not judged: ")
    assert well
    assert not_judged


@pytest.mark.parametrize(
    ("operation", "asked", "begins"),
    [
        ("relay-contact", {**CONTACT, "load_current_a": 40}, "The contact may carry 30 A"),
        ("relay-coil", {**COIL, "available_v": 8}, "With its coil at"),
        ("fuse-selection", {**FUSE, "load_current_a": 40}, "No standard rating fits"),
        ("wire-sizing", {**WIRE, "ambient_c": 110}, "No size helps"),
    ],
)
def test_a_sentence_that_tells_what_fails_is_not_said_twice(run, operation, asked, begins):
    assert run(operation, **asked).headline.startswith(begins)


def test_no_thicker_wire_is_asked_for_where_there_is_none(run):
    """300 A of a winch need a fuse of more than the thickest wire bears: two wires do."""
    winch = {**WIRE, "load_profile": "winch", "load_current_a": 300, "length_m": 0.3}
    answer = run("wire-sizing", **{**winch, "contacts_resistance_ohm": 0.0005})
    assert {check.code for check in answer.checks if check.verdict == "fail"} == {"fuse_window"}
    assert answer.headline.startswith("The load needs a fuse of ")
    assert "split the load between wires with a fuse each" in answer.headline
    assert "larger wire" not in answer.headline


def test_a_relay_for_another_voltage_is_to_be_replaced_and_not_fed_better(run):
    """A relay of 6 V in a system of 12 V, whose dip lets it go, and its coil stands 15 V."""
    coil = {"nominal_v": 6, "coil_resistance_ohm": 44, "pick_up_v": 3.5, "drop_out_v": 0.6}
    answer = run("relay-coil", **{**COIL, **coil, "maximum_v": 15, "dip_v": 0, "ambient_c": 20})
    assert "hold" in {check.code for check in answer.checks if check.verdict == "fail"}
    assert answer.headline.startswith("This relay of 6 V is for another voltage")


def test_no_larger_wire_is_asked_for_where_none_helps(run):
    """80 A over 20 milliohms of contacts lose 1.6 V of a quarter, whatever the wire."""
    six = {"supply_v": 6.0, "nominal_v": 6, "load_current_a": 80, "contacts_resistance_ohm": 0.02}
    answer = run("wire-sizing", **{**WIRE, **six, "length_m": 12})
    assert answer.no_size_helps == "fixed_drop"
    assert "far_short" in {check.code for check in answer.checks if check.verdict == "fail"}
    assert answer.headline.startswith("No size helps: the contacts alone take more")
    assert "fault at the far end" in answer.headline
    assert "larger wire" not in answer.headline
