"""Relays of a list: what is judged before what is not, and what the first line says beside them."""

import pytest

from .relay_lists import place, post, question, relay
from .retrofit_circuits import fan, headlamps, starter

FRONT = [place("front", "front", feed_m=1.5, outlet_m=0.8)]


def thin(candidates, *, ground_ohm=0.002, rest_v=12.6, cold_c=None, switch_ohm=0.003, **more):
    """Lamps of 9 A behind 8 m of 16 AWG, and relays near them."""
    body = headlamps(switch_ohm=switch_ohm, ground_ohm=ground_ohm, rest_v=rest_v)
    for each in body["circuit"]["branches"]:
        if each["kind"] == "wire":
            each.update(size="16 AWG", length_m=4)
    if cold_c is not None:
        body["cases"][0]["ambient_c"] = cold_c
    zones = {"front": 40 if cold_c is None else cold_c}
    return post(
        "relay-choice",
        question(body, candidates, FRONT, zones=zones, **{"load_kind": "resistive"} | more),
    )


def test_wires_of_a_metric_standard():
    """ISO 6722 has 0.5 to 120 mm2: what is fitted is of it, and the proposal says so."""
    answer = thin([relay("one")], standard="ISO 6722")
    assert answer["suits"], answer["headline"]
    wires = [
        each
        for each in (*answer["best"]["proposal"]["feed"], *answer["best"]["proposal"]["outlet"])
        if each["kind"] == "wire"
    ]
    assert {each["standard"] for each in wires} == {"ISO 6722"}
    assert all(each["size"].endswith("mm2") for each in wires)


@pytest.mark.parametrize("ohm", [1000, 200])
def test_what_would_do_is_not_what_one_has(ohm):
    """An open switch: no coil of the trade gets enough, his relay is sound, the switch is not."""
    answer = thin([relay("big")], switch_ohm=ohm)
    assert not answer["suits"]
    assert answer["mend"] == ["switch"]
    assert answer["wanted"] is None
    assert "What would do" not in answer["headline"]


def test_what_would_do_is_still_told_of_relays_that_are_too_small():
    answer = thin([relay("weak", rating_a=5, derating=[])])
    assert answer["wanted"]["nominal_v"] == 12
    # 12.6 V less what the battery and some 0.1 A of the coil in 8 m of 16 AWG take.
    assert 12.3 < answer["wanted"]["coil_v"] < 12.6


def test_one_that_is_judged_comes_before_one_that_is_not():
    """Nobody says what is across the cheaper one's coil: 1000 V may stand over the old switch."""
    bare = relay("no word", cost=2)
    del bare["suppression"]
    answer = thin([bare, relay("diode", cost=9)])
    assert [each["candidate"] for each in answer["ranking"]] == ["diode", "no word"]
    assert "suppression" not in {each["code"] for each in answer["not_judged"]}


def test_a_burnt_contact_comes_after_a_sound_one_and_is_told_where_it_is_taken():
    """0.02 ohm drop 0.18 V at 9 A, a sound contact 0.1 V at most."""
    worn = relay("worn", contact_resistance_ohm=0.02, cost=1)
    answer = thin([worn, relay("sound", cost=5)])
    assert [each["candidate"] for each in answer["ranking"]] == ["sound", "worn"]
    alone = thin([worn])
    assert alone["best"]["candidate"] == "worn"
    assert alone["verdict"] == "fail"
    assert ("contact_drop", "worn") in {(c["code"], c["part"]) for c in alone["checks"]}


@pytest.mark.parametrize("milliohm", [3, 8, 11, 14])
def test_of_two_with_the_same_ohms_the_larger_is_no_worse(milliohm):
    """At 20 A 8 mohm drop 0.16 V: a sound contact of 30 A may, one of 70 A should drop 0.1 V.

    The same volts reach the load, and the larger one runs cooler: nothing speaks for the smaller.
    """
    ohm = milliohm / 1000
    both = [
        relay("small", contact_resistance_ohm=ohm, rating_a=30, derating=[]),
        relay("large", contact_resistance_ohm=ohm, rating_a=70, derating=[]),
    ]
    body = question(fan(), both, FRONT, zones={"front": 40}, load_kind="motor")
    answer = post("relay-choice", body)
    assert [each["candidate"] for each in answer["ranking"]][:1] == ["large"]


@pytest.mark.parametrize(("milliohm", "first"), [(6, "cheap"), (9, "dear")])
def test_a_cheap_relay_whose_contact_drops_more_than_half_as_much_again_comes_last(milliohm, first):
    """At some 20 A 6 mohm drop 0.12 V and 9 mohm 0.18 V; a sound contact 0.1 V, at most 0.15 V."""
    both = [
        relay("cheap", cost=1, contact_resistance_ohm=milliohm / 1000),
        relay("dear", cost=9, contact_resistance_ohm=0.003),
    ]
    body = question(fan(), both, FRONT, zones={"front": 40}, load_kind="motor")
    assert post("relay-choice", body)["ranking"][0]["candidate"] == first


def test_one_that_is_known_with_the_rest_mended_comes_before_one_that_is_not():
    """A poor ground hides the first current: mended, it may be more than 100 A.

    It may be more than what 25 A are given in lamps, too: 18 times 5 A.
    """
    small = relay("small", cost=1, make_rating_a=100, rating_a=25, derating=[])
    lamp = {"kind": "lamp", "rated_power_w": 110, "rated_v": 12}
    body = headlamps(ground_ohm=0.05, rest_v=12.6)
    for each in body["circuit"]["branches"]:
        if each["kind"] == "wire":
            each.update(size="16 AWG", length_m=4)
    load = body["circuit"]["loads"][0]
    del load["resistance_ohm"]
    load.update(lamp)

    def chosen(*candidates):
        asked = question(body, list(candidates), FRONT, zones={"front": 40})
        return post("relay-choice", asked)

    alone = chosen(small)
    assert alone["advice"] == "find_out_first"
    assert alone["first"]["message"] in alone["headline"]
    assert "small" in alone["headline"]
    assert "relay-retrofit says" not in alone["headline"]
    assert "lamp ground" in alone["headline"]
    both = chosen(small, relay("big", cost=9))
    assert both["best"]["candidate"] == "big"
    assert both["advice"] == "mend_then_relay"
    assert [each["candidate"] for each in both["ranking"]] == ["big", "small"]


def test_an_overcharging_regulator_is_named_and_the_lamps_are_not():
    answer = thin([relay("one")], rest_v=15.8)
    assert answer["advice"] == "not_the_wiring"
    assert "regulator" in answer["headline"]
    assert "headlamps itself" not in answer["headline"]


@pytest.mark.parametrize("candidate", [relay("one"), relay("weak", rating_a=5, derating=[])])
def test_a_battery_that_may_be_frozen_is_not_to_be_charged(candidate):
    """At 12.0 V and -18 degC its electrolyte freezes: it bursts when it is charged."""
    answer = thin([candidate], rest_v=11.9, cold_c=-25)
    said = answer["headline"].lower()
    assert "frozen" in said
    assert "neither charge" in said


@pytest.mark.parametrize("rating_a", [40, 5])
def test_beside_a_poor_battery_no_relay_is_held_against_another(rating_a):
    """At 12.0 V and 20 degC it is flat: whether any relay is wanted shows when it is charged."""
    candidate = relay("one", rating_a=rating_a, derating=[])
    answer = thin([candidate], rest_v=12.0)
    assert answer["suits"] == (rating_a == 40)
    assert answer["advice"] == "battery_first"
    assert answer["battery_state"] == "low"
    assert answer["headline"].startswith("Battery first: charge or replace")
    first, *_ = answer["headline"].split(" What fails")
    assert "one" not in first.split()


def test_the_first_line_says_that_no_start_was_judged():
    """How far a battery sags while the motor draws, nobody told; of lamps there is no start."""
    body = question(starter(), [relay("one")], [place("bulkhead", "bulkhead")])
    body["load_kind"] = "starter_solenoid"
    answer = post("relay-choice", body)
    said = f"Whether {body['load']} stays in while the motor draws is not judged."
    assert answer["leaves_start_open"] is True
    assert said in answer["headline"]
    assert thin([relay("one")])["leaves_start_open"] is False
    assert "motor draws" not in thin([relay("one")])["headline"]
