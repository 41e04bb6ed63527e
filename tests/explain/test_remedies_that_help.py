"""Remedies that must be told, and changes that must not: they would not help."""

import pytest

from lastvolt_service.operations.remedies.options import larger_sizes
from lastvolt_service.tables.practice import zones

from .requests import POSTED, example

FEED = {"name": "feed", "kind": "wire", "size": "16 AWG", "length_m": 9}


def remedies_of(client, name, **changes):
    body = {**example(name, **changes), "explain": True}
    answer = client.post(POSTED[name].path, json=body).get_json()
    return answer["remedies"]


def test_what_still_heats_without_end_is_no_remedy(client):
    """300 A are thirty times what the wire bears: no other insulation or place makes it bear."""
    found = remedies_of(client, "wire-heating", size="18 AWG", current_a=300)
    of_heat = [each for each in found if each["check_code"] == "conductor_temperature"]
    assert of_heat
    assert all(each["value_after"] is not None for each in of_heat)


def worn(**ohms):
    """The example's circuit with other contacts, in a case that ages them twofold."""
    body = example("circuit-check")
    for branch in body["circuit"]["branches"]:
        if branch.get("part") in ohms:
            branch["resistance_ohm"] = ohms[branch["part"]]
        elif branch.get("part") == "fuse":
            branch["resistance_ohm"] = 0.0001
    body["cases"] = [{**body["cases"][1], "ageing_factor": 2}]
    return {name: body[name] for name in ("circuit", "cases")}


def put_by(found, code):
    return [
        {
            change["pointer"].removeprefix("#/circuit/"): change["new_value"]
            for change in each["changes"]
        }
        for each in found
        if each["code"] == code
    ]


SWITCH, STRAP = "branches/1", "branches/3"


def test_two_worn_contacts_of_a_circuit_are_mended_alone_and_together(client):
    found = remedies_of(client, "circuit-check", **worn(switch=0.1, ground=0.1))
    alone = [set(put) for put in put_by(found, "sound_contact")]
    of_each = [{f"{each}/resistance_ohm", f"{each}/ages"} for each in (SWITCH, STRAP)]
    assert all(each in alone for each in of_each)
    drops = [each for each in found if each["check_code"] == "contact_drop"]
    (together,) = {frozenset(put) for put in put_by(drops, "sound_contacts")}
    assert together == set().union(*of_each)


def test_a_contact_known_within_bounds_is_mended_too(client):
    found = remedies_of(client, "circuit-check", **worn(switch={"low": 0.1, "high": 0.2}))
    (put,) = {tuple(put.items()) for put in put_by(found, "sound_contact")}
    (_, ohm), (_, ages) = put
    assert 0 < ohm < 0.1
    assert ages is False


def test_a_new_contact_is_no_worse_than_the_one_that_was_there(client):
    """A sound switch drops 50 mV: 5 milliohm at 10 A, more than the 1 milliohm of a good one."""
    body = worn(switch=0.001)
    body["cases"][0]["ageing_factor"] = 100
    found = remedies_of(client, "circuit-check", **body)
    put = {f"{SWITCH}/resistance_ohm": 0.001, f"{SWITCH}/ages": False}
    assert put in put_by(found, "sound_contact")


def test_a_worn_contact_that_does_not_age_is_mended(client):
    """As it would be if it aged; a good one has nothing to mend."""
    for ohm, offered in ((0.2, True), (0.001, False)):
        body = worn(switch=ohm, ground=0.2)
        body["circuit"]["branches"][1]["ages"] = False
        found = put_by(remedies_of(client, "circuit-check", **body), "sound_contact")
        assert any(f"{SWITCH}/resistance_ohm" in put for put in found) == offered


# IEC 60228 goes from 2.5 to 4 and 6 mm2, ISO 6722 has 3 mm2 between; AWG numbers fall.
@pytest.mark.parametrize(
    ("size", "standard", "next_two"),
    [
        ("2.5 mm2", None, ("4 mm2", "6 mm2")),
        ("2.5 mm2", "ISO 6722", ("3 mm2", "4 mm2")),
        ("2 AWG", None, ("1 AWG", "1/0 AWG")),
        ("3/0 AWG", None, ("4/0 AWG",)),
        ("120 mm2", None, ()),
    ],
)
def test_the_next_larger_sizes(size, standard, next_two):
    assert larger_sizes(size, standard)[:2] == next_two


def test_a_message_says_what_was_only_of_what_has_changed(client):
    """By hand: 8 A lose 0.97 V in 9 m of 16 AWG (1.31 mm2) and 0.38 V in 12 AWG (3.31 mm2)."""
    found = remedies_of(
        client,
        "voltage-drop",
        segments=[FEED],
        load_resistance_ohm=None,
        load_current_a=8,
        limit_drop_v=0.5,
    )
    (larger,) = (each for each in found if each["code"] == "size")
    assert larger["changes"][0]["new_value"] == "12 AWG"
    assert "0.38 V in place of 0.97 V, held against 0.5 V." in larger["message"]
    heated = remedies_of(client, "wire-heating", size="18 AWG", current_a=300)[0]
    assert heated["value_before"] is None
    assert "in place of" not in heated["message"]


# One of two side by side bears 0.94 of what it bears alone (MIL-W-5088B).
@pytest.mark.parametrize("conductors", [4, 2])
def test_a_wire_out_of_its_loom_is_alone(client, conductors):
    """With a load that it bears alone, and not beside others."""
    alone = client.post(
        POSTED["wire-heating"].path, json=example("wire-heating", grouped_conductors=1)
    )
    current_a = 0.97 * alone.get_json()["permissible_current_a"]
    found = remedies_of(client, "wire-heating", grouped_conductors=conductors, current_a=current_a)
    (alone,) = (each["changes"] for each in found if each["code"] == "alone")
    assert alone == [{"pointer": "#/grouped_conductors", "new_value": 1}]


def test_a_wire_is_led_past_what_is_hot_and_not_to_another_room(client):
    """Common practice: its load stays where it is; away from the exhaust it can be led."""
    found = remedies_of(client, "wire-heating", zone="engine_bay_near_exhaust", current_a=8)
    (zone,) = (each for each in found if each["code"] == "zone")
    assert zone["changes"][0]["new_value"] == "engine_bay"
    assert zones()["engine_bay"].ambient_c < zones()["engine_bay_near_exhaust"].ambient_c
    assert zone["check_verdict"] != "fail"
    found = remedies_of(client, "wire-heating", zone="engine_bay", current_a=16)
    assert not [each for each in found if each["code"] == "zone"]


def test_the_next_size_is_of_the_wires_own_standard(client):
    """ISO 6722 has 3 mm2, IEC 60228 goes from 2.5 to 4.

    17.241 ohm mm2/km (IEC 28): 8 A drop at least 0.497 V in 9 m of 2.5 mm2 and 0.414 V in 3 mm2.
    """
    feed = {**FEED, "size": "2.5 mm2", "standard": "ISO 6722"}
    found = remedies_of(
        client, "voltage-drop", segments=[feed], load_resistance_ohm=None, load_current_a=8,
        limit_drop_v=0.49,
    )  # fmt: skip
    (size,) = (each for each in found if each["code"] == "size")
    assert size["changes"] == [{"pointer": "#/segments/0/size", "new_value": "3 mm2"}]


@pytest.mark.parametrize(("current_a", "offered"), [(24, True), (25, False)])
def test_a_place_may_be_as_cool_as_a_room_and_no_cooler(client, current_a, offered):
    """What the wire bears at 20 and at 30 degC, by asking for both."""
    warm = {"zone": None, "ambient_c": 60, "grouped_conductors": 1, "insulation": "TXL"}
    warm |= {"size": "18 AWG"}  # where the table lies above what heat permits
    warm["current_a"] = current_a
    path = POSTED["wire-heating"].path
    fails = [
        client.post(
            path, json=example("wire-heating", **{**warm, "ambient_c": ambient_c})
        ).get_json()["permissible_current_a"]
        < current_a
        for ambient_c in (20, 30)
    ]
    assert fails == [not offered, True]
    found = [
        each for each in remedies_of(client, "wire-heating", **warm) if each["code"] == "ambient_c"
    ]
    assert bool(found) == offered
    assert all(20 <= change["new_value"] < 30 for each in found for change in each["changes"])
