"""A circuit from its readings: values by hand, what is said of them, and what is refused."""

import copy
import json
import math

import pytest

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.answers import to_json
from lastvolt_service.operations.meter.reading_fields import MeterData, usual_meter

BY_NAME = {each.name: each for each in OPERATIONS}
ROOT3 = math.sqrt(3.0)
LAMP_OHM = 2.0


def post(name, body):
    return json.loads(to_json(BY_NAME[name].answer(copy.deepcopy(body))))


def between(low, high):
    return {"low": low, "high": high}


def contact(name, first, last, ohm, part="connector"):
    return {"name": name, "kind": "contact", "part": part, "nodes": [first, last],
            "resistance_ohm": ohm}  # fmt: skip


def volts(first, last, value, case="on", **more):
    return {"case": case, "between": [first, last], "value_v": value, **more}


TWO = [volts("post", "live", 0.6), volts("live", "ground", 10)]


def question(readings, *, switch=None, emf=None, load=LAMP_OHM, **more):
    """A battery, a switch and a heater in a ring."""
    return {
        "circuit": {
            "source": {
                "plus": "post",
                "open_circuit_v": emf or between(10.0, 12.0),
                "internal_resistance_ohm": 0.01,
            },
            "branches": [contact("switch", "post", "live", switch or between(0.0, 0.5), "switch")],
            "loads": [
                {"name": "heater", "kind": "resistance", "nodes": ["live", "ground"],
                 "resistance_ohm": load},
            ],
        },
        "cases": [{"name": "on"}, {"name": "off", "without": ["switch"]}],
        "load": "heater",
        "readings": readings,
    } | more  # fmt: skip


def estimate(answer, end):
    return next(each for each in answer["estimates"] if each["input"].endswith(end))


# Digits: two steps of the last one, rectangular, and its rounding. 0.6 V is shown in steps of a
# millivolt, 10 V in steps of ten.
OF_SWITCH = 1e-3 * math.hypot(2.0, 0.5) / ROOT3 / 0.6
OF_LOAD = 1e-2 * math.hypot(2.0, 0.5) / ROOT3 / 10.0
GAIN = 0.005 / ROOT3


def test_a_switch_by_two_readings_of_one_meter() -> None:
    """0.6 V at 10 V / 2 ohm are 0.12 ohm; what the meter errs in common falls out of the ratio."""
    answer = post("circuit-fit", question(TWO))
    found = estimate(answer, "branches/0/resistance_ohm")
    assert found["estimate"] == pytest.approx(0.12, rel=1e-4)
    wanted = 0.12 * math.hypot(OF_SWITCH, OF_LOAD)
    assert found["standard_uncertainty"] == pytest.approx(wanted, rel=2e-3)
    assert found["coverage_factor"] == pytest.approx(1.96)
    assert found["high"] - found["estimate"] == pytest.approx(1.96 * wanted, rel=2e-3)
    assert found["told_by"] == [1, 2]
    assert found["determined"]
    assert found["unit"] == "ohm"
    assert (found["given_low"], found["given_high"]) == (0.0, 0.5)
    assert found["message"] == (
        "resistance of switch: between 0.119 Ω and 0.121 Ω, 19 times of 20."
    )


def test_two_meters_have_a_factor_each() -> None:
    """Then the ratio carries both."""
    meters = [{"name": "one", "kind": "volts"}, {"name": "other", "kind": "volts"}]
    readings = [
        volts("post", "live", 0.6, meter="one"),
        volts("live", "ground", 10, meter="other"),
    ]
    answer = post("circuit-fit", question(readings, meters=meters))
    found = estimate(answer, "branches/0/resistance_ohm")
    wanted = 0.12 * math.sqrt(OF_SWITCH**2 + OF_LOAD**2 + 2.0 * GAIN**2)
    assert found["standard_uncertainty"] == pytest.approx(wanted, rel=5e-3)


def test_a_voltage_read_alone_carries_the_whole_meter() -> None:
    """11 V at rest: half a percent and two steps, beside bounds of two volts."""
    answer = post("circuit-fit", question([volts("post", "ground", 11.2, case="off")]))
    found = estimate(answer, "source/open_circuit_v")
    own = math.hypot(1e-2 * math.hypot(2.0, 0.5) / ROOT3, 11.2 * GAIN)
    alone = 1.0 / ROOT3
    weight = 1 / own**2 / (1 / own**2 + 1 / alone**2)
    assert found["estimate"] == pytest.approx(weight * 11.2 + (1 - weight) * 11.0, abs=1e-4)
    assert found["standard_uncertainty"] == pytest.approx(own * math.sqrt(weight), rel=2e-3)
    switch = estimate(answer, "branches/0/resistance_ohm")
    assert not switch["determined"]
    assert (switch["low"], switch["high"]) == (0.0, 0.5)
    assert switch["told_by"] == []
    assert answer["agreement"] == "not_checked"
    assert answer["verdict"] == "unknown"


def test_ohms_of_a_part_by_itself_include_the_leads() -> None:
    """3.3 ohm shown are 3.1 and leads of 0.2, by half uncertain; the bounds are 3.5 +- 0.866."""
    reading = {"case": "off", "of": "heater", "value_ohm": 3.3}
    answer = post("circuit-fit", question([reading], load=between(2.0, 5.0)))
    found = estimate(answer, "loads/0/resistance_ohm")
    digits = math.sqrt(0.3**2 + 0.05**2 + 0.1**2) / ROOT3
    own, alone = math.hypot(digits, 0.008 / ROOT3 * 3.1), 1.5 / ROOT3
    weight = 1 / own**2 / (1 / own**2 + 1 / alone**2)
    assert found["estimate"] == pytest.approx(weight * 3.1 + (1 - weight) * 3.5, abs=2e-3)
    assert found["standard_uncertainty"] == pytest.approx(own * math.sqrt(weight), rel=5e-3)


def test_ohms_between_nodes_take_all_ways_but_the_battery() -> None:
    """The heater beside two resistances in a row: x beside 30 ohm shows 10, so x is 15."""
    body = question([{"case": "off", "between": ["live", "ground"], "value_ohm": 10.2}],
                    load=between(5.0, 45.0))  # fmt: skip
    body["circuit"]["branches"] += [
        {"name": "first", "kind": "resistance", "nodes": ["live", "tap"], "resistance_ohm": 10.0},
        {"name": "second", "kind": "resistance", "nodes": ["tap", "ground"], "resistance_ohm": 20},
    ]
    found = estimate(post("circuit-fit", body), "loads/0/resistance_ohm")
    assert found["determined"]
    assert found["estimate"] == pytest.approx(15.0, abs=0.05)
    # (x / 30)^-2 of what the meter errs: dx = dR (x / R)^2.
    own = math.hypot(math.sqrt(0.3**2 + 0.05**2 + 0.1**2) / ROOT3, 0.008 / ROOT3 * 10)
    assert found["standard_uncertainty"] == pytest.approx(own * 1.5**2, rel=0.01)


def test_ohms_that_are_noise_name_the_loaded_reading() -> None:
    readings = [
        volts("post", "live", 0.6), volts("live", "ground", 10),
        {"case": "off", "of": "switch", "value_ohm": 0.5},
    ]  # fmt: skip
    readings[2]["case"] = "on"
    answer = post("circuit-fit", question(readings))
    (aside,) = answer["set_aside"]
    assert aside["reading"] == 3
    assert aside["least_ohm"] == pytest.approx(10 * (0.2 + 0.1))
    assert aside["between"] == ["post", "live"]
    assert aside["message"] == (
        "Reading 3 is noise: of less than 3 Ω an ohmmeter and its leads tell nothing. Read volts "
        "there in its place, the red lead at post and the black one at live, with the load on."
    )
    assert [each["reading"] for each in answer["residuals"]] == [1, 2]
    plain = post("circuit-fit", question(readings[:2]))
    assert estimate(answer, "branches/0/resistance_ohm") == estimate(
        plain, "branches/0/resistance_ohm"
    )


def test_leads_the_wrong_way_round_are_noticed_and_put_right() -> None:
    right = post("circuit-fit", question(TWO))
    wrong = post(
        "circuit-fit", question([volts("post", "live", -0.6), volts("live", "ground", 10)])
    )
    assert [each["swapped"] for each in wrong["residuals"]] == [True, False]
    assert wrong["residuals"][0]["read"] == 0.6
    assert wrong["estimates"] == right["estimates"]
    assert wrong["agreement"] != "reading_contradicts"


def test_a_clamp_and_what_is_told_twice() -> None:
    readings = [
        volts("post", "live", 0.6), volts("live", "ground", 10.0), volts("post", "ground", 10.6),
        {"case": "on", "through": "heater", "value_a": 5.02},
    ]  # fmt: skip
    answer = post("circuit-fit", question(readings))
    assert answer["agreement"] == "agrees"
    assert answer["consistency"]["probability"] > 0.05
    readings[0]["value_v"] = 0.9
    answer = post("circuit-fit", question(readings))
    # Three voltages in a ring do not add up; that of the load is held by the clamp.
    assert answer["agreement"] == "group_contradicts"
    assert sorted(answer["contradicts"]) == [1, 3]
    assert answer["checks"][0]["verdict"] == "fail"


def test_a_false_reading_is_left_out_of_the_values() -> None:
    """The same drop three times, once 0.3 V off."""
    body = question([])
    right = [volts("post", "live", 0.6), *TWO, volts("post", "ground", 10.6)]
    wrong = copy.deepcopy(right)
    wrong[1]["value_v"] = 0.9
    answer = post("circuit-fit", body | {"readings": wrong})
    assert answer["agreement"] == "reading_contradicts"
    assert answer["contradicts"] == [2]
    told = answer["residuals"][1]
    assert not told["used"]
    assert told["fitted"] == pytest.approx(0.6, abs=0.005)
    assert abs(told["normalised"]) > 100
    assert "Reading 2 contradicts the rest" in answer["checks"][0]["message"]
    without = post("circuit-fit", body | {"readings": [right[0], *right[2:]]})
    for one, other in zip(answer["estimates"], without["estimates"], strict=True):
        assert one["estimate"] == pytest.approx(other["estimate"], rel=1e-6)


def test_a_circuit_that_is_not_the_one_that_was_read() -> None:
    """The load is said to have 2 ohm and takes what 4 ohm take, at each reading of two meters."""
    readings = [
        volts("post", "live", 0.6), volts("live", "ground", 10.0), volts("post", "ground", 10.6),
        {"case": "on", "through": "heater", "value_a": 2.5},
        {"case": "on", "through": "switch", "value_a": 2.5},
    ]  # fmt: skip
    answer = post("circuit-fit", question(readings))
    assert answer["agreement"] == "model_does_not_fit"
    assert answer["contradicts"] == []
    assert answer["consistency"]["probability"] < 0.005
    assert "contradict the circuit as it is described" in answer["checks"][0]["message"]
    assert answer["headline"].startswith("These readings contradict the circuit as it is described")
    assert answer["checks"][1]["verdict"] == "unknown"
    assert answer["next_reading"] is None


def test_what_cannot_be_told_apart_is_told_together() -> None:
    body = question([volts("post", "end", 1.0), volts("end", "ground", 10.0)])
    body["circuit"]["branches"].append(contact("plug", "live", "end", between(0.0, 0.5)))
    body["circuit"]["loads"][0]["nodes"] = ["end", "ground"]
    answer = post("circuit-fit", body)
    (group,) = answer["confounded"]
    assert group["inputs"] == [f"circuit/branches/{k}/resistance_ohm" for k in (0, 1)]
    assert group["together"] == pytest.approx(0.2, rel=1e-3)  # 1 V at 5 A
    assert group["unit"] == "ohm"
    own = 0.2 * math.hypot(1e-3 * math.hypot(2.0, 0.5) / ROOT3 / 1.0, OF_LOAD)
    assert group["high"] - group["together"] == pytest.approx(1.96 * own, rel=0.01)
    assert group["measure_in"] == "on"
    assert "live" in group["measure_between"]  # the node between them
    assert group["message"].startswith(
        "resistance of switch and resistance of plug cannot be told apart; together they are 0.2 Ω"
    )


def test_a_relay_is_in_the_state_that_the_readings_say() -> None:
    """Through the middle of its bounds its coil would not close; what was read says it has."""
    body = question([volts("coil", "ground", 11.0), volts("live", "ground", 11.9)], emf=12.0)
    circuit = body["circuit"]
    circuit["source"]["internal_resistance_ohm"] = 0.0
    circuit["branches"] = [contact("key", "post", "coil", between(0.0, 200.0), "switch")]
    circuit["loads"][0]["resistance_ohm"] = between(1.0, 12.0)
    circuit["relays"] = [
        {"name": "relay", "coil_nodes": ["coil", "ground"], "contact_nodes": ["post", "live"],
         "nominal_v": 12, "coil_resistance_ohm": 90, "pick_up_v": 8.0, "drop_out_v": 1.0,
         "contact_resistance_ohm": 0.05, "thermal_resistance_k_per_w": 0.001},
    ]  # fmt: skip
    body["cases"] = [{"name": "on"}]
    found = estimate(post("circuit-fit", body), "branches/0/resistance_ohm")
    assert found["estimate"] == pytest.approx(90 * (12 / 11 - 1), abs=0.5)
    # 0.1 V over 0.05 ohm, each 0.06 V off at most, tell little of the load: more than its least.
    assert estimate(post("circuit-fit", body), "loads/0/resistance_ohm")["low"] > 1.0


def test_what_was_fitted_is_posted_on() -> None:
    example = BY_NAME["circuit-fit"].schema.example
    answer = post("circuit-fit", example)
    fitted = answer["fitted"]
    checked = post("circuit-check", fitted)
    case = next(each for each in checked["cases"] if each["name"] == "key held")
    spread = next(each for each in case["spreads"] if each["code"] == "load_voltage")
    wide = post("circuit-check", {key: example[key] for key in ("circuit", "cases")})
    case = next(each for each in wide["cases"] if each["name"] == "key held")
    before = next(each for each in case["spreads"] if each["code"] == "load_voltage")
    assert before["low_v"] < spread["low_v"] < spread["high_v"] < before["high_v"]
    more = {"load": "starter solenoid", "switch": "key switch"}
    with_switch = fitted | {"cases": fitted["cases"][1:]}
    assert post("remedy-choice", with_switch | more)["advice"]
    assert fitted["cases"][0].get("duration_s") is None  # what was left open stays so


def test_bounds_of_a_zone_are_sent_on_as_bounds() -> None:
    body = question(TWO)
    body["cases"][0]["zone_ambients_c"] = {"engine bay": between(20, 60)}
    answer = post("circuit-fit", body)
    assert answer["fitted"]["cases"][0]["zone_ambients_c"] == {"engine bay": between(20, 60)}
    zone = estimate(answer, "engine bay")
    assert (zone["unit"], zone["told_by"]) == ("degC", [])
    assert zone["name"] == "ambient of engine bay in on"
    assert post("circuit-check", answer["fitted"])["cases"]


def test_the_voltage_that_decides() -> None:
    """Before: by both ends of what is not known, by hand; after: by what was read of it."""
    body = question(TWO)
    body["circuit"]["loads"][0]["needed_v"] = 9.0
    answer = post("circuit-fit", body)
    decisive = answer["decisive"]
    assert decisive["case"] == "on"
    assert decisive["before_low_v"] == pytest.approx(10.0 * 2.0 / 2.51)
    assert decisive["before_high_v"] == pytest.approx(12.0 * 2.0 / 2.01)
    assert decisive["voltage_v"] == pytest.approx(10.0, abs=0.005)
    own = math.hypot(1e-2 * math.hypot(2.0, 0.5) / ROOT3, 10.0 * GAIN)
    assert decisive["standard_uncertainty_v"] == pytest.approx(own, rel=0.01)
    assert answer["checks"][1]["code"] == "load_voltage"
    assert answer["checks"][1]["value"] == decisive["low_v"]
    assert answer["checks"][1]["verdict"] == "pass"  # 9.94 V
    body["circuit"]["loads"][0]["needed_v"] = 9.5
    assert post("circuit-fit", body)["checks"][1]["verdict"] == "marginal"
    body["circuit"]["loads"][0]["needed_v"] = 10.0
    assert post("circuit-fit", body)["checks"][1]["verdict"] == "undecided"
    body["circuit"]["loads"][0]["needed_v"] = 11.0
    assert post("circuit-fit", body)["checks"][1]["verdict"] == "fail"


def test_the_positive_post_on_the_ground() -> None:
    """The mirror image, with the same values."""
    body = question([volts("live", "post", 0.6), volts("ground", "live", 10)])
    body["circuit"]["source"] |= {"plus": "ground", "minus": "post"}
    answer = post("circuit-fit", body)
    assert not any(each["swapped"] for each in answer["residuals"])
    found = estimate(answer, "branches/0/resistance_ohm")
    assert found["estimate"] == pytest.approx(0.12, rel=1e-4)
    assert answer["decisive"]["voltage_v"] == pytest.approx(10.0, abs=0.005)


@pytest.mark.parametrize(
    ("kind", "value", "step"),
    [("volts", 0.15, 1e-4), ("volts", 0.25, 1e-3), ("volts", 1.999, 1e-3), ("volts", 2.0, 1e-3),
     ("volts", -12.6, 1e-2), ("amperes", 3.0, 0.01), ("amperes", 180.0, 0.1), ("ohms", 4.0, 0.1)],
)  # fmt: skip
def test_the_last_digit_follows_the_range(kind, value, step) -> None:
    """2,000 counts: 200 mV in steps of 0.1 mV, 2 V of 1 mV, 20 V of 10 mV."""
    assert usual_meter(kind).step(value) == pytest.approx(step)
    finer = MeterData(name="m", kind="volts", counts=20000, leads_ohm=0.2)
    assert finer.step(12.6) == pytest.approx(1e-3)


def test_what_a_recording_read_is_taken_with_its_own_uncertainty() -> None:
    """Its ohms of the path, of a moment, narrow the switch to 1.96 times what it says, no more."""
    of_path = {
        "case": "on", "between": ["post", "live"], "value_ohm": 0.12,
        "standard_uncertainty_ohm": 0.004, "duration_s": 0.1,
    }  # fmt: skip
    body = question([of_path])
    switch = estimate(post("circuit-fit", body), "resistance_ohm")
    # The bounds, 0 to 0.5 ohm, have a middle of 0.25 and 0.144 ohm of standard uncertainty, 36
    # times that of the reading: they draw it by 0.13 / 36^2 = 1e-4 and narrow it by under 0.1 %.
    assert switch["estimate"] == pytest.approx(0.1201, abs=1e-5)
    assert switch["standard_uncertainty"] == pytest.approx(0.004, rel=1e-3)
    assert switch["high"] - switch["low"] == pytest.approx(2 * 1.96 * 0.004, rel=1e-2)


def test_readings_of_the_published_recording_are_posted_on() -> None:
    """As they come out of it, with a place and a case."""
    schema = BY_NAME["recording"].schema
    given = post("recording", schema.example)["readings"]
    of_path = [each["values"] for each in given if each["reading"] == "ohms_before_load"]
    (values,) = of_path
    body = question([{"case": "on", "between": ["post", "live"], **values}])
    assert estimate(post("circuit-fit", body), "resistance_ohm")["determined"]


def test_a_part_beyond_its_bounds_is_named_and_no_load_passes_meanwhile() -> None:
    """By hand: 5 A, and 3 V across a switch of 0.5 ohm at most: it has 0.6 ohm.

    What else is read says 5 A, too: a battery of 13 V at most, of which 10 V reach the heater.
    """
    readings = [
        volts("post", "live", 3.0), volts("live", "ground", 10.0), volts("post", "ground", 13.0),
        {"case": "on", "through": "heater", "value_a": 5.0},
    ]  # fmt: skip
    body = question(readings, emf=between(12.8, 13.2))
    body["circuit"]["loads"][0]["needed_v"] = 9.0
    answer = post("circuit-fit", body)
    assert answer["agreement"] in {"reading_contradicts", "group_contradicts", "model_does_not_fit"}
    (told,) = answer["beyond"]
    assert told["input"].endswith("branches/0/resistance_ohm")
    assert told["low"] < 0.6 < told["high"]
    assert told["low"] > 0.5
    assert answer["headline"].startswith("If all readings are right, switch takes 3 V in on, 0.5 V")
    assert answer["checks"][1]["verdict"] == "unknown"
    assert answer["next_reading"] is None


def test_no_reading_is_asked_of_years_to_come() -> None:
    """A case with ageing is solved, and nobody can read in it."""
    body = question([volts("post", "live", 0.6)])
    body["cases"].append({"name": "aged", "ageing_factor": 1.5})
    body["worst_case"] = "aged"
    answer = post("circuit-fit", body)
    assert answer["decisive"]["case"] == "aged"
    assert answer["next_reading"] is None or answer["next_reading"]["case"] != "aged"


def test_where_the_voltage_is_sure_the_part_is_asked_for() -> None:
    """Far too little arrives whatever it is: which of switch and plug is to be mended?"""
    body = question([volts("post", "end", 1.5), volts("end", "ground", 10.0)])
    body["circuit"]["branches"].append(contact("plug", "live", "end", between(0.0, 0.5)))
    body["circuit"]["loads"][0] |= {"nodes": ["end", "ground"], "needed_v": 11.0}
    answer = post("circuit-fit", body)
    assert answer["checks"][1]["verdict"] == "fail"
    following = answer["next_reading"]
    assert (following["case"], following["between"]) == ("on", ["post", "live"])
    # By hand: 1.5 V of both lie anywhere in it, and what a sound one may have is in it, too.
    assert following["expected_low"] < 0.1
    assert following["expected_high"] > 1.4
    assert following["uncertainty_then_v"] <= following["uncertainty_now_v"]
    assert answer["next_message"] == "Next, read the volts across each of switch and plug, in on."
    assert answer["next_message"] in answer["headline"]


def test_a_recording_of_few_equal_samples_is_taken_too() -> None:
    """Its scatter is nothing, and its meter as good as none is: known to a microvolt at best."""
    body = {
        "time_s": [0.1 * place for place in range(40)],
        "volts_v": [0.0] * 10 + [1.0] * 20 + [0.0] * 10,
        "between": "path",
        "volts_accuracy_percent": 0.0,
        "volts_resolution_v": 1e-6,
    }
    (values,) = [
        each["values"]
        for each in post("recording", body)["readings"]
        if each["reading"] == "volts_on"
    ]
    assert values["standard_uncertainty_v"] == 1e-6
    answer = post("circuit-fit", question([{"case": "on", "between": ["post", "live"], **values}]))
    assert answer["agreement"] == "not_checked"
