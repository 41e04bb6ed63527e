"""Remedies that must be told, and changes that must not: they would not help."""

from .requests import POSTED, example


def remedies_of(client, name, **changes):
    body = {**example(name, **changes), "explain": True}
    answer = client.post(POSTED[name].path, json=body).get_json()
    return answer["remedies"]


def wire(name, size, length_m):
    return {"name": name, "kind": "wire", "size": size, "length_m": length_m}


DRAWN = {"load_resistance_ohm": None, "load_current_a": 8, "limit_drop_v": 0.5}


def test_what_still_heats_without_end_is_no_remedy(client):
    """300 A are thirty times what the wire bears: no other insulation or place makes it bear."""
    found = remedies_of(client, "wire-heating", size="18 AWG", current_a=300)
    of_heat = [each for each in found if each["check_code"] == "conductor_temperature"]
    assert of_heat
    assert all(each["value_after"] is not None for each in of_heat)


def test_where_two_wires_are_too_thin_both_are_changed(client):
    """By hand: 8 A lose 0.97 V in 9 m of 16 AWG, so that each wire alone is over the 0.5 V.

    16 AWG has 1.31 mm2, 12 AWG 3.31 and 8 AWG 8.37 (ASTM B258): two sizes leave 0.77 V of 1.94 V,
    four 0.30 V.
    """
    path = [wire("out", "16 AWG", 9), wire("back", "16 AWG", 9)]
    found = remedies_of(client, "voltage-drop", segments=path, **DRAWN)
    (both,) = (each for each in found if each["code"] == "all_larger")
    put = {change["pointer"]: change["new_value"] for change in both["changes"]}
    assert put == {"#/segments/0/size": "8 AWG", "#/segments/1/size": "8 AWG"}
    assert "4" in both["change"]
    assert both["check_verdict"] == "pass"


def test_all_wires_are_not_changed_where_one_will_do(client):
    path = [wire("out", "16 AWG", 9), wire("back", "8 AWG", 9)]
    found = remedies_of(client, "voltage-drop", segments=path, **DRAWN)
    assert {each["code"] for each in found} >= {"size"}
    assert "all_larger" not in {each["code"] for each in found}
