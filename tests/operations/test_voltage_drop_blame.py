"""What a path that drops too much is blamed on: its load, a poor contact, or the wire.

Volts by hand, amperes times ohms; 14 AWG has 8.3 mohm a metre at 20 degC, 12 AWG 5.2, 1 AWG 0.41.
"""

import pytest

from lastvolt_service.errors import CalculationError


def wire(name, size, length_m, **fields):
    return {"name": name, "kind": "wire", "size": size, "length_m": length_m, **fields}


def contact(name, part, ohm, **fields):
    return {"name": name, "kind": "contact", "part": part, "resistance_ohm": ohm, **fields}


def drop(run, *segments, **fields):
    return run("voltage-drop", segments=list(segments), **{"supply_v": 13.5, **fields})


def the(found, code, part=None):
    return next((each for each in found.checks if (each.code, each.part) == (code, part)), None)


LAID = {"insulation": "GXL", "ambient_c": 40}


# Seized fans behind a fuse: at its rating the holder drops 0.06 to 0.18 V of 0.2 V, the switch
# 0.06 to 0.12 V of 0.1 V, by half more at the most.
@pytest.mark.parametrize(
    ("load_ohm", "fuse_a", "fuse_ohm"),
    [(0.15, 30, 0.006), (0.1, 30, 0.004), (0.2, 20, 0.008), (0.05, 15, 0.006), (0.001, 15, 0.003)],
)
def test_heat_of_a_current_that_blows_the_fuse_is_the_loads(run, load_ohm, fuse_a, fuse_ohm):
    found = drop(
        run, contact("f", "fuse", fuse_ohm, rating_a=fuse_a), wire("a", "12 AWG", 3, **LAID),
        contact("sw", "switch", 0.004, rating_a=30), contact("g", "ground", 0.002),
        load_resistance_ohm=load_ohm,
    )  # fmt: skip
    assert found.headline.startswith("f: it carries ")
    assert "What else fails: current through a contact (sw)" in found.headline
    said = [check.message for check in found.checks if check.verdict == "fail"]
    assert not [each for each in said if "clean" in each or "Start" in each or ": take a l" in each]
    assert "look for what draws so much before any part" in the(found, "path_drop").message
    assert the(found, "contact_heat", "f") is the(found, "contact_heat", "sw") is None


def test_a_contact_that_is_poor_whatever_draws_is_told(run):
    """At the fuse's 30 A the switch drops 1.5 V, the ground 0.06 V."""
    found = drop(
        run, contact("f", "fuse", 0.003, rating_a=30), wire("a", "12 AWG", 3),
        contact("sw", "switch", 0.05, rating_a=100), contact("g", "ground", 0.002),
        load_resistance_ohm=0.1,
    )  # fmt: skip
    assert "clean, tighten or replace" in the(found, "contact_heat", "sw").message
    assert "clean, tighten or replace" in the(found, "contact_drop", "sw").message
    assert the(found, "contact_drop", "g") is None


def test_a_fuse_that_holds_excuses_no_contact(run):
    found = drop(
        run, contact("f", "fuse", 0.003, rating_a=30), contact("sw", "switch", 0.04, rating_a=30),
        load_current_a=20,
    )  # fmt: skip
    assert the(found, "contact_drop", "sw").verdict == "fail"
    assert the(found, "contact_heat", "sw").value == pytest.approx(16)


FUSE = contact("f", "fuse", 0.003, rating_a=20)
CONTROL = {"circuit": "starter_control", "load_current_a": 20, "supply_v": 24.5}
POOR_CLAMP = {"circuit": "starter_motor", "load_current_a": 250, "supply_v": 10.8}


# With the contact at 0.1 V, as a sound one, each path drops less than it may; the wire drops most.
@pytest.mark.parametrize(
    ("segments", "fields", "wire_name", "poor"),
    [
        (
            [wire("a", "12 AWG", 7), contact("key", "switch", 0.03, rating_a=25),
             wire("b", "12 AWG", 7)],
            CONTROL, "a", "key",
        ),
        (
            [FUSE, wire("a", "14 AWG", 3), contact("sw", "switch", 0.025, rating_a=20),
             contact("g", "ground", 0.002)],
            {"load_current_a": 10}, "a", "sw",
        ),
        (
            [FUSE, wire("a", "14 AWG", 3), contact("sw", "switch", 0.004, rating_a=20),
             contact("g", "ground", 0.024)],
            {"load_current_a": 10}, "a", "g",
        ),
        (
            [wire("main", "1 AWG", 2.5), contact("clamp", "terminal", 0.001),
             contact("strap", "ground", 0.0003)],
            POOR_CLAMP, "main", "clamp",
        ),
    ],
)  # fmt: skip
def test_a_sound_wire_is_not_where_to_start(run, segments, fields, wire_name, poor):
    found = drop(run, *segments, **fields)
    assert (found.worst_segment, found.begin_with) == (wire_name, poor)
    message = the(found, "path_drop").message
    assert f"Start with {poor}." in message
    assert "Start there" not in message


@pytest.mark.parametrize("length_m", [12, 30])
def test_a_wire_that_is_too_long_is_where_to_start(run, length_m):
    """12 m of 14 AWG drop 1 V at 10 A: a sound switch makes no good path of it."""
    found = drop(
        run, wire("a", "14 AWG", length_m), contact("sw", "switch", 0.025, rating_a=20),
        load_current_a=10,
    )  # fmt: skip
    assert found.begin_with == "a"
    assert '"a" drops most' in the(found, "path_drop").message


def test_a_relay_is_no_matter_of_a_limit_for_cables(run):
    """Main 0.25 V and clamp 0.3 V are 0.05 V over what cables may; the relay drops 1 V besides."""
    found = drop(
        run, wire("main", "1 AWG", 2.5), contact("clamp", "terminal", 0.0012),
        contact("mc", "relay", 0.004), **POOR_CLAMP,
    )  # fmt: skip
    assert (found.worst_segment, found.begin_with) == ("mc", "clamp")


def test_columns_say_where_to_start_as_well(client):
    columns = {
        "segments_1_size": ["14 AWG"] * 3, "segments_1_length_m": [3.0, 12.0, 1.0],
        "segments_2_resistance_ohm": [0.025, 0.025, 0.06],
    }  # fmt: skip
    constants = {
        "supply_v": 13.5, "load_current_a": 10, "segments_1_name": "a", "segments_1_kind": "wire",
        "segments_2_name": "sw", "segments_2_kind": "contact", "segments_2_part": "switch",
    }  # fmt: skip
    answer = client.post(
        "/v1/batch/voltage-drop", json={"columns": columns, "constants": constants}
    ).get_json()
    assert answer["columns"]["begin_with"] == ["sw", "a", "sw"]


@pytest.mark.parametrize(
    ("switch_ohm", "asked", "most"),
    [
        (0.4, {"load_power_w": 200}, "switch resists most, 0.4 Ω of 0.5"),
        (0.4, {"load_current_a": 40}, "switch resists most, 0.4 Ω of 0.5"),
        (0.002, {"load_power_w": 1000}, "feed resists most, 0.0"),  # of 7 m of 14 AWG, 58 mohm
    ],
)
@pytest.mark.parametrize("laid", [LAID, {"temperature_c": 20}])
def test_of_a_load_that_cannot_be_fed_the_part_that_resists_most_is_named(
    run, switch_ohm, asked, most, laid
):
    """By hand: 12 V * 12 V / (4 * 0.5 ohm) are 72 W at most."""
    parts = [
        wire("feed", "14 AWG", 7, **laid), contact("switch", "switch", switch_ohm),
        wire("to the pump", "14 AWG", 3, **laid), contact("ground", "ground", 0.02),
    ]  # fmt: skip
    with pytest.raises(CalculationError) as refused:
        drop(run, *parts, supply_v=12, **asked)
    assert most in str(refused.value)
    assert refused.value.path == tuple(asked)


def test_columns_name_it_row_by_row(client):
    columns = {"segments_1_resistance_ohm": [0.5, 0.1], "segments_2_name": ["g", "frame"]}
    constants = {
        "supply_v": 12, "load_power_w": 200, "segments_1_name": "switch",
        "segments_1_kind": "contact", "segments_1_part": "switch", "segments_2_kind": "contact",
        "segments_2_part": "ground", "segments_2_resistance_ohm": 0.3,
    }  # fmt: skip
    answer = client.post(
        "/v1/batch/voltage-drop", json={"columns": columns, "constants": constants}
    ).get_json()
    told = str(answer["errors"])
    assert "switch resists most, 0.5 Ω of 0.8 Ω" in told
    assert "frame resists most, 0.3 Ω of 0.4 Ω" in told
