"""Relays of a list in places, beside the single operations, each relay in each place by itself."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError

from ..cost import some
from .relay_lists import headlamps_of, kindness, one_by_one, place, post, question, relay

ALONE = {
    "relay-coil": {
        "pick_up_at_ambient", "pick_up_warm", "continuous_voltage", "highest_ambient",
    },
    "relay-contact": {"steady_current", "rated_voltage"},
}  # fmt: skip


@st.composite
def lists(draw):
    """Loads of any system, relays that do or do not, and places that do or do not."""
    volts = draw(st.sampled_from([6, 12, 12, 24]))
    load = {
        "name": "headlamps", "kind": "resistance", "resistance_ohm": draw(
            st.floats(0.5, 4)) * volts / 12, "needed_v": draw(st.floats(0.7, 0.95)) * volts,
    }  # fmt: skip
    built = headlamps_of(load, volts, draw(st.sampled_from([0.003, 0.03, 0.15, 0.3])))
    candidates = []
    for number in range(draw(st.integers(1, 4))):
        more = {
            "rating_a": draw(st.sampled_from([10, 20, 40, 60])),
            "highest_ambient_c": draw(st.sampled_from([70, 105, 125])),
            "contact_resistance_ohm": draw(st.sampled_from([0.001, 0.005, 0.05])),
            "coil_limit_c": draw(st.sampled_from([155, 180, 180])),
            "derating": [],
        }
        if draw(st.booleans()):
            more["derating"] = [{"ambient_c": 125, "current_a": more["rating_a"] / 2}]
        if draw(st.integers(0, 3)):
            more["cost"] = draw(st.sampled_from([3, 5, 5, 12]))
        one = relay(f"relay {number}", volts=draw(st.sampled_from([*[volts] * 5, 6, 12])), **more)
        if not draw(st.integers(0, 5)):
            del one["rating_a"], one["derating"]
        candidates.append(one)
    zones = {
        "front": draw(st.sampled_from([-20, 30, 80])),
        "engine": 80,
        "near exhaust": 115,
        "exhaust": 130,
    }
    usual = [*["front", "engine"] * 3, "near exhaust", "exhaust"]
    drawn = draw(st.lists(st.sampled_from(usual), min_size=1, max_size=3))
    places = [
        place(
            f"place {number}", zone, draw(st.sampled_from(["dry", "splash", "stones"])),
            draw(st.sampled_from([0.3, 1, 6])), draw(st.sampled_from([0.3, 2])),
        )
        for number, zone in enumerate(drawn)
    ]  # fmt: skip
    for number in range(draw(st.integers(0, 2))):
        built["cases"].append({
            "name": f"case {number}", "ambient_c": draw(st.sampled_from([-20, 40])),
            "ageing_factor": draw(st.sampled_from([1, 2.5])),
        })  # fmt: skip
    return question(built, candidates, places, zones=zones, load_kind="resistive")


def tried(body):
    try:
        return post("relay-choice", body)
    except (CalculationError, Refused):
        return None


def hold_ranking(body, answer, found):
    """What is ranked is what single operations let pass."""
    ranked = {(row["candidate"], row["place"]): row for row in answer["ranking"]}
    rejected = {
        (each["candidate"] or name, where): each
        for each in answer["rejected"]
        for where in each["places"]
        for name in ([each["candidate"]] if each["candidate"] else names(body))
    }
    # Nothing is lost, nothing is told twice.
    everything = {(one, where["name"]) for one in names(body) for where in body["places"]}
    assert ranked.keys() | rejected.keys() == everything
    assert not ranked.keys() & rejected.keys()
    has_rating = {each["name"]: "rating_a" in each for each in body["candidates"]}
    for pair, single in found.items():
        row = ranked.get(pair)
        works = single is not None and relay_works(single) and has_rating[pair[0]]
        if works and single["advice"] != "unsafe" and row is None:
            # What no maker was asked: relay-coil or relay-contact does not know it either.
            why = rejected[pair]
            assert why["verdict"] == "unknown", why
            assert knows_alone(body, pair, single, why) == "unknown"
        if row is not None:
            assert single is not None
            assert has_rating[pair[0]]
            assert row["has_reserve"] == relay_works(single)
            told = [case["proposed"] for case in single["cases"]]
            poorest = min(told, key=lambda each: each["load_voltage_v"] / each["needed_v"])
            assert row["load_voltage_v"] == pytest.approx(poorest["load_voltage_v"], abs=1e-6)
            assert row["margin_v"] == pytest.approx(poorest["margin_v"], abs=1e-6)
            assert min(each["margin_v"] for each in told) >= 0


def in_each_case(body, pair, single):
    """Verdicts of relay-coil and relay-contact on a relay where relay-retrofit has put it."""
    (load,) = body["circuit"]["loads"]
    one = next(each for each in body["candidates"] if each["name"] == pair[0])
    zone = next(each["zone"] for each in body["places"] if each["name"] == pair[1])
    for told, case in zip(single["cases"], body["cases"], strict=True):
        amps = told["proposed"]["load_voltage_v"] / load["resistance_ohm"]
        ambient_c = case["zone_ambients_c"].get(zone, case["ambient_c"])
        aged = one["contact_resistance_ohm"] * case.get("ageing_factor", 1)
        there = one | {"contact_resistance_ohm": aged}
        yield alone(body, there, ambient_c, told["proposed"]["coil_v"], amps)


def knows_alone(body, pair, single, why):
    """Verdict of a single operation on what a relay was rejected for."""
    verdicts = {each[why["code"]] for each in in_each_case(body, pair, single)}
    return "unknown" if "unknown" in verdicts else verdicts


def is_sure(body, pair, single):
    """Whether what it carries there is known, and it drops no more than a sound one, old, too."""
    told = in_each_case(body, pair, single)
    return all(
        each["steady_current"] != "unknown" and each["contact_drop"] == "pass" for each in told
    )


def names(body):
    return [each["name"] for each in body["candidates"]]


def relay_works(single):
    (way,) = (each for each in single["ways"] if each["code"] == "relay")
    return way["works"]


def hold_best(body, answer, found):
    """The best stands first and can be posted; what is still to be asked about stands behind."""
    rows = answer["ranking"]
    pairs = [(row["candidate"], row["place"]) for row in rows]
    asks = {pair for pair in pairs if pair in found and found[pair]["advice"] == "find_out_first"}
    known = [
        row
        for pair, row in zip(pairs, rows, strict=True)
        if pair in found and pair not in asks and is_sure(body, pair, found[pair])
    ]
    for group in (True, False):
        keys = [kindness(body, row) for row in known if row["has_reserve"] is group]
        assert keys == sorted(keys)
    assert [row["has_reserve"] for row in rows] == sorted(
        (row["has_reserve"] for row in rows), reverse=True
    )
    best = answer["best"]
    assert (best is None) == (rows == [])
    if best is None:
        # Each is held to relay-coil and relay-contact below.
        relays = [each["verdict"] for each in answer["rejected"] if each["candidate"]]
        is_open = not {"unknown", "undecided"}.isdisjoint(relays)
        assert answer["verdict"] == ("unknown" if is_open else "fail")
        return
    kept = {key: body[key] for key in ("circuit", "cases", "load", "switch", "nominal_v")}
    single = post("relay-retrofit", kept | {"proposal": best["proposal"]})
    assert single["advice"] == answer["advice"] != "unsafe"
    assert (best["candidate"], best["place"]) == (rows[0]["candidate"], rows[0]["place"])


def hold_rejected(body, answer, found):
    """What fails alone fails by relay-coil or relay-contact, too.

    With the volts at the coil, and the amperes, that relay-retrofit finds with that relay.
    """
    by_name = {each["name"]: each for each in body["candidates"]}
    zone = {each["name"]: each["zone"] for each in body["places"]}
    (load,) = body["circuit"]["loads"]
    for each in answer["rejected"]:
        one = by_name.get(each["candidate"])
        if one is None or each["verdict"] != "fail" or each["part"] != one["name"]:
            continue
        for where in each["places"]:
            single = found.get((each["candidate"], where))
            if single is not None and any(each["code"] in codes for codes in ALONE.values()):
                told, case = (
                    next(one for one in told_of if one["name"] == each["case"])
                    for told_of in (single["cases"], body["cases"])
                )
                ambient_c = case["zone_ambients_c"].get(zone[where], case["ambient_c"])
                amps = told["proposed"]["load_voltage_v"] / load["resistance_ohm"]
                if each["code"] == "steady_current" and amps == 0:
                    continue  # there it does not close, which is told of its coil
                found_alone = alone(body, one, ambient_c, told["proposed"]["coil_v"], amps)
                assert found_alone[each["code"]] == "fail", each


def alone(body, one, ambient_c, coil_v, load_a):
    """Verdicts of relay-coil and relay-contact; of no rating all but the steady current counts."""
    rest_v = body["circuit"]["source"]["open_circuit_v"]
    known = {key: value for key, value in one.items() if key in COIL}
    known |= {"ambient_c": ambient_c, "available_v": coil_v, "maximum_v": rest_v}
    checks = post("relay-coil", known)["checks"]
    known = {"rating_a": 1000.0}  # told of none: its steady current is not asked for then
    known |= {key: value for key, value in one.items() if key in CONTACT}
    known |= {"ambient_c": ambient_c, "supply_v": rest_v, "load_current_a": max(load_a, 1e-3)}
    checks += post("relay-contact", known | {"load_kind": "resistive"})["checks"]
    return {check["code"]: check["verdict"] for check in checks}


COIL = {
    "nominal_v", "coil_resistance_ohm", "pick_up_v", "drop_out_v", "thermal_resistance_k_per_w",
    "coil_limit_c", "highest_ambient_c", "suppression",
}  # fmt: skip
CONTACT = {
    "rating_a", "rating_ambient_c", "derating", "make_rating_a", "rated_v",
    "contact_resistance_ohm",
}  # fmt: skip


def hold(body):
    """All of it of one list, whose relays are posted one by one but once."""
    answer = tried(body)
    if answer is None:
        return
    found = dict(one_by_one(body, answer))
    hold_ranking(body, answer, found)
    hold_best(body, answer, found)
    hold_rejected(body, answer, found)


@settings(max_examples=some(2, 10), deadline=None, suppress_health_check=[*HealthCheck])
@given(lists())
def test_lists_beside_single_operations(body):
    hold(body)


@pytest.mark.long
@settings(max_examples=300, deadline=None, suppress_health_check=[*HealthCheck])
@given(lists())
def test_many_lists_beside_single_operations(body):
    hold(body)
