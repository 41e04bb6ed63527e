"""What cures a path: contacts, ground, wires, a relay, each where it is needed."""

import pytest

from .requests import POSTED, example

# By hand, of copper strands at 20 degC (ASTM B258 and B8): ohm/m, and 8 A through 9 m.
# 16 AWG 0.01344, 0.97 V; 12 AWG 0.00531, 0.38 V; 8 AWG 0.00210, 0.15 V.
DRAWN = {"load_resistance_ohm": None, "load_current_a": 8, "limit_drop_v": 0.5}


def wire(name, size, length_m, **fields):
    return {"name": name, "kind": "wire", "size": size, "length_m": length_m, **fields}


def contact(name, part, ohm):
    return {"name": name, "kind": "contact", "part": part, "resistance_ohm": ohm}


def remedies_of(client, *segments, **fields):
    body = example("voltage-drop", segments=list(segments), **{**DRAWN, **fields})
    answer = client.post(POSTED["voltage-drop"].path, json={**body, "explain": True}).get_json()
    found = {}
    for each in answer["remedies"]:
        found.setdefault(each["code"], each)
    return found


def puts(remedy):
    return {
        change["pointer"].removeprefix("#/segments/"): change["new_value"]
        for change in remedy["changes"]
    }


def test_the_wire_that_drops_most_is_changed(client):
    found = remedies_of(client, wire("short", "16 AWG", 1), wire("long", "16 AWG", 9))
    assert puts(found["size"]) == {"1/size": "12 AWG"}
    assert puts(found["length_m"]).keys() == {"1/length_m"}


def test_a_run_of_less_than_a_metre_is_found(client):
    """8 A through 16 AWG drop 0.05 V in 0.465 m."""
    ((_, length_m),) = puts(
        remedies_of(client, wire("feed", "16 AWG", 9), limit_drop_v=0.05)["length_m"]
    ).items()
    assert 0.45 < length_m < 0.466


@pytest.mark.parametrize(
    ("limit_v", "steps", "size"), [(0.8, 2, "12 AWG"), (0.5, 4, "8 AWG"), (0.25, 6, "4 AWG")]
)
def test_where_two_wires_are_too_thin_both_are_changed(client, limit_v, steps, size):
    """Each alone drops 0.97 V. Two sizes leave 0.77 V of both, four 0.30 V, six 0.12 V."""
    path = wire("out", "16 AWG", 9), wire("back", "16 AWG", 9)
    both = remedies_of(client, *path, limit_drop_v=limit_v)["all_larger"]
    assert puts(both) == {"0/size": size, "1/size": size}
    assert f" {steps} sizes" in both["change"]
    assert both["check_verdict"] != "fail"


def test_sizes_of_their_own_standard_are_taken(client):
    """ISO 6722 goes 2.5, 3, 4, 5, 6 mm2, where IEC 60228 goes 2.5, 4, 6.

    A cable has at least the resistance of its copper, 17.241 ohm mm2/km (IEC 28), and at most that
    of class 5 (IEC 60228: 7.98, 4.95 and 3.30 ohm/km for 2.5, 4 and 6 mm2). 8 A drop 0.50 to
    0.57 V in 9 m of 2.5 mm2, so that one alone does not do; both 0.62 to 0.71 V with 4 mm2 and
    0.41 to 0.48 V with 6 mm2.
    """
    sized = {"standard": "ISO 6722"}
    path = wire("out", "2.5 mm2", 9, **sized), wire("back", "2.5 mm2", 9, **sized)
    both = remedies_of(client, *path, limit_drop_v=0.48)["all_larger"]
    assert puts(both) == {"0/size": "6 mm2", "1/size": "6 mm2"}
    assert " 4 sizes" in both["change"]


def test_wires_at_the_end_of_the_sizes_go_as_far_as_there_are_any(client):
    """By hand, 8 A through 9 m of 16 AWG and 200 m each of 3/0 and 2/0 AWG drop 1.7 V.

    NBS Handbook 100, ohm/1000 ft: 2/0 0.078, 3/0 0.0618, 4/0 0.049. With 4/0 AWG for both long
    ones and 8 AWG for the short one 0.67 V are left; the short one alone leaves 0.75 V at best.
    """
    path = (
        wire("thin", "16 AWG", 9),
        wire("out", "3/0 AWG", 200),
        wire("back", "2/0 AWG", 200),
        wire("largest", "4/0 AWG", 1),
    )
    found = remedies_of(client, *path, limit_drop_v=0.7)
    assert puts(found["all_larger"]) == {
        "0/size": "8 AWG",
        "1/size": "4/0 AWG",
        "2/size": "4/0 AWG",
    }


def test_all_wires_are_not_changed_where_one_will_do(client):
    found = remedies_of(client, wire("out", "16 AWG", 9), wire("back", "8 AWG", 9))
    assert "size" in found
    assert "all_larger" not in found


def test_one_wire_alone_is_not_all_wires(client):
    """Even 4/0 AWG, 0.16 milliohm a metre, drops 0.13 V in 100 m at 8 A."""
    assert "all_larger" not in remedies_of(client, wire("out", "16 AWG", 100), limit_drop_v=0.1)


def test_the_hot_wire_is_changed_and_no_other(client):
    """A trunk of 4 AWG bears 22 A at 80 degC, 16 AWG of 85 degC insulation does not."""
    warm = {"ambient_c": 80, "insulation": "GPT"}
    path = wire("trunk", "4 AWG", 4, **warm), wire("feed", "16 AWG", 4, **warm)
    found = remedies_of(client, *path, load_current_a=22, limit_drop_v=5)
    assert all(key.startswith("1/") for code in ("size", "insulation") for key in puts(found[code]))


@pytest.mark.parametrize("order", [(0, 1, 2), (1, 0, 2), (2, 0, 1)])
def test_an_own_ground_is_as_thick_as_the_thickest_wire_and_as_long_as_all(client, order):
    wires = [wire("a", "16 AWG", 1), wire("b", "8 AWG", 2.5), wire("c", "14 AWG", 0.5)]
    path = [*(wires[place] for place in order), contact("joint", "ground", 0.3)]
    own = puts(remedies_of(client, *path)["own_ground"])
    assert own["3/size"] == "8 AWG"
    assert own["3/length_m"] == 4
    assert own["3/kind"] == "wire"


def test_a_relay_shortens_what_is_longer_than_its_feed(client):
    path = (
        wire("short", "16 AWG", 0.3),
        contact("key", "switch", 0.2),
        wire("long", "16 AWG", 5),
        contact("joint", "ground", 0.001),
    )
    relay = puts(remedies_of(client, *path)["relay_past_worn_switch"])
    assert {key: value for key, value in relay.items() if key.endswith("length_m")} == {
        "2/length_m": 0.5
    }


def test_two_worn_contacts_are_mended_together(client):
    """Half an ohm and a fifth drop 4.0 and 1.6 V at 8 A: the poorer one is named first."""
    joints = contact("strap", "ground", 0.2), contact("lug", "ground", 0.5)
    both = remedies_of(client, wire("out", "8 AWG", 1), *joints)["sound_contacts"]
    assert both["change"] == "sound contacts at lug, strap"
    assert len(both["changes"]) == 2
