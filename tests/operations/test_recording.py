"""What is said of a recording at its edges: short, constant, clipped, reversed, with gaps."""

import math

import numpy as np
import pytest

from lastvolt_service.api.problems import Refused

from ..explain.requests import POSTED, example
from .recordings_drawn import Channel, Recorder, Truth

OPERATION = POSTED["recording"]
STEP_S = 1e-3


def ask(**body):
    return OPERATION.compute(OPERATION.arguments(body))


def refused(**body):
    with pytest.raises(Refused) as found:
        OPERATION.arguments(body)
    return {each["pointer"]: each["detail"] for each in found.value.errors}


def codes(answer):
    return {(each.code, each.verdict) for each in answer.checks}


def said(answer, code):
    return next(each.message for each in answer.checks if each.code == code)


def plain(count=200, height=10.0, noise=0.02, seed=1, **more):
    """On for the middle half."""
    random = np.random.default_rng(seed)
    on = (np.arange(count) >= count // 4) & (np.arange(count) < 3 * count // 4)
    values = on * height + noise * random.normal(size=count)
    return {
        "time_s": (np.arange(count) * STEP_S).tolist(), "current_a": values.tolist(),
        "current_resolution_a": 0.01, **more,
    }  # fmt: skip


def test_the_example_tells_what_its_circuit_has():
    """It was drawn from 0.17 ohm before the load, 0.62 ohm in it, 12.4 V, home after 9.93 ms."""
    answer = ask(**example("recording"))
    assert answer.resistance.low_ohm <= 0.17 <= answer.resistance.high_ohm
    assert answer.load_resistance.low_ohm <= 0.62 <= answer.load_resistance.high_ohm
    assert answer.line.at_no_current.low_v <= 12.4 <= answer.line.at_no_current.high_v
    assert answer.timing.on_s == pytest.approx(0.12, abs=0.002)
    assert [each.event for each in answer.events] == ["on", "pull_in", "off"]
    on, home, _ = answer.events
    assert home.earliest_s - on.latest_s <= 0.00993 <= home.latest_s - on.earliest_s
    assert answer.headline.startswith("15.7 A flow, between 15.3 A and 16.1 A, 19 times of 20.")


def test_a_plateau_is_half_of_what_its_accuracy_leaves_open():
    """By hand: 2 % of 10 A and 0.01 A, rectangular: u = sqrt(0.2^2 + 0.01^2) / sqrt(3) = 0.1156."""
    answer = ask(**plain(noise=0.0))
    assert answer.current.plateau.value_a == pytest.approx(10.0)
    assert answer.current.plateau.standard_uncertainty_a == pytest.approx(0.11561, rel=1e-3)
    assert answer.current.plateau.coverage_factor == pytest.approx(1.96, abs=1e-3)
    (reading,) = answer.readings
    assert reading.reading == "amperes_on"
    assert reading.values.keys() == {"value_a", "standard_uncertainty_a", "duration_s"}
    assert reading.values["duration_s"] == pytest.approx(0.05, abs=0.003)


@pytest.mark.parametrize("values", [[5.0] * 40, [5.0] * 3, [0.0] * 16])
def test_a_constant_is_an_answer(values):
    answer = ask(time_s=[STEP_S * k for k in range(len(values))], current_a=values)
    assert not answer.switched
    assert answer.events == ()
    assert answer.readings == ()
    assert ("switching", "unknown") in codes(answer)
    assert answer.current.plateau.value_a == values[0]
    assert "Nothing is switched on or off" in answer.headline


def test_noise_alone_is_an_answer():
    random = np.random.default_rng(8)
    for _ in range(30):
        answer = ask(
            time_s=[STEP_S * k for k in range(300)],
            volts_v=(12 + 0.05 * random.normal(size=300)).tolist(),
            current_a=(3 + 0.1 * random.normal(size=300)).tolist(),
            between="path",
        )
        assert not answer.switched
        assert answer.resistance is None
        assert "change too little" in said(answer, "resistance")


def test_three_samples_are_an_answer():
    answer = ask(time_s=[0, 1, 2], volts_v=[12.6, 12.6, 11.9], current_a=[0, 0, 35],
                 between="battery")  # fmt: skip
    assert answer.current.plateau.value_a == 35
    assert answer.timing.on_s is None
    assert answer.resistance is None


def test_one_channel_alone_is_enough():
    volts = [12.6] * 20 + [10.1] * 40 + [12.5] * 20
    answer = ask(time_s=[0.1 * k for k in range(80)], volts_v=volts, between="battery")
    assert [each.event for each in answer.events] == ["on", "off"]
    assert answer.timing.on_s == pytest.approx(4.0)
    assert answer.current is None
    assert answer.resistance is None
    assert not [each for each in answer.checks if each.code == "resistance"]
    assert answer.volts.rest.value_v == 12.6
    assert {each.reading for each in answer.readings} == {"volts_on", "volts_at_rest"}


def test_a_clamp_the_wrong_way_round_is_said_and_turned():
    body = example("recording")
    right = ask(**body)
    wrong = ask(**{**body, "current_a": [-each for each in body["current_a"]]})
    assert not right.is_reversed
    assert wrong.is_reversed
    assert ("clamp_direction", "marginal") in codes(wrong)
    assert "clamp_direction" not in {code for code, _ in codes(right)}
    assert wrong.current == right.current
    assert wrong.resistance == right.resistance


def test_leads_the_wrong_way_round_at_a_path_blame_no_part():
    time = STEP_S * np.arange(200)
    current = np.where(time >= 0.05, 10 + 20 * np.exp(-(time - 0.05) / 0.05), 0.0)
    body = {"time_s": time.tolist(), "current_a": current.tolist()}
    answer = ask(**body, volts_v=(-0.1 * current).tolist(), between="path")
    assert answer.resistance is None
    assert "not swapped" in said(answer, "resistance")


@pytest.mark.parametrize("turned", [("volts_v",), ("volts_v", "current_a")])
def test_volts_below_zero_at_a_load_tell_the_same(turned):
    body = {**example("recording"), "needed_v": 8.0}
    right = ask(**body)
    wrong = ask(**{**body, **{name: [-each for each in body[name]] for name in turned}})
    assert ("load_voltage", "pass") in codes(right) & codes(wrong)
    assert ("leads_direction", "pass") in codes(wrong)
    assert "leads_direction" not in {code for code, _ in codes(right)}
    assert (wrong.volts, wrong.resistance, wrong.warming) == (
        right.volts, right.resistance, right.warming)  # fmt: skip
    # What is posted on has the sign that the leads had.
    posted = {each.reading: each.values.get("value_v") for each in wrong.readings}
    assert posted["volts_on"] == -right.volts.plateau.value_v


def test_a_sound_battery_on_positive_ground_is_not_called_flat():
    # 6.35 V at rest and 0.005 ohm inside: 200 A leave 5.35 V, more than the 4.8 V of a load test.
    current = np.where((np.arange(300) >= 30) & (np.arange(300) < 250), 200.0, 0.0)
    body = {"time_s": [0.01 * k for k in range(300)], "between": "battery", "nominal_v": 6}
    volts = (0.005 * current - 6.35).round(2)
    for amperes in ({}, {"current_a": current.tolist()}, {"current_a": (-current).tolist()}):
        answer = ask(**body, volts_v=volts.tolist(), **amperes)
        assert ("supply", "pass") in codes(answer)
        assert "-" not in said(answer, "supply")
    assert answer.resistance.value_ohm == pytest.approx(0.005, rel=0.01)


@pytest.mark.parametrize("sign", [1, -1])
def test_an_inrush_that_is_cut_off_is_said(sign):
    time = np.arange(200) * STEP_S
    values = np.where(time >= 0.05, 10 + 60 * np.exp(-(time - 0.05) / 0.02), 0.0)
    body = {"time_s": time.tolist(), "current_resolution_a": 0.1}
    whole = ask(**body, current_a=(sign * np.round(values, 1)).tolist())
    cut = ask(**body, current_a=(sign * np.round(np.minimum(values, 40), 1)).tolist())
    assert ("range", "pass") in codes(whole)
    assert ("range", "fail") in codes(cut)
    assert "cut off is not known" in said(cut, "range")
    along = ask(**body, current_a=np.minimum(values, 40).tolist(), between="path",
                volts_v=(0.1 * values).tolist())  # fmt: skip
    assert along.resistance is None
    assert "within the range" in said(along, "resistance")


def test_an_inrush_on_one_sample_is_not_believed():
    values = [0.0] * 20 + [55.0] + [5.0] * 60
    answer = ask(time_s=[0.01 * k for k in range(81)], current_a=values)
    assert answer.current.is_inrush
    assert answer.current.peak_limit_a is None
    assert ("sampling", "fail") in codes(answer)
    assert "How much more that was is not known." in answer.headline


def test_a_slow_meter_may_have_missed_an_inrush():
    values = [0.0] * 20 + [5.0] * 60
    times = [0.3 * k for k in range(80)]
    answer = ask(time_s=times, current_a=values)
    assert ("sampling", "marginal") in codes(answer)
    assert "no longer than 0.3 s" in said(answer, "sampling")
    assert answer.timing.bounces.times == 0
    assert "bounces" not in {code for code, _ in codes(answer)}  # nobody could have seen them


def test_a_gap_is_said():
    body = plain()
    times = body["time_s"]
    body["time_s"] = [t + (0.5 if k > 100 else 0.0) for k, t in enumerate(times)]
    answer = ask(**body)
    assert answer.sampling.gaps == 1
    assert answer.sampling.longest_step_s == pytest.approx(0.501)
    assert ("gaps", "marginal") in codes(answer)
    assert "gaps" not in {code for code, _ in codes(ask(**plain()))}


@pytest.mark.parametrize(
    ("bounces", "verdict"),
    [((), "pass"), (((0.001, 0.002), (0.0035, 0.0045)), "pass"), (((0.005, 0.03),), "fail")],
)
def test_bounces_of_the_contact(bounces, verdict):
    truth = Truth(bounces=bounces, moves=False)
    meter = Recorder(step_s=2e-4, amperes=Channel(noise=0.005, digit=0.001))
    body, _ = meter.record(truth, np.random.default_rng(3))
    answer = ask(**body)
    assert answer.timing.times_on == 1
    assert answer.timing.bounces.times == len(bounces)
    assert ("bounces", verdict) in codes(answer)
    if bounces:
        longest = max(b - a for a, b in bounces)
        # The current of a winding is back to a few percent only after the contact is.
        assert longest - 2e-4 <= answer.timing.bounces.longest_s <= longest + 6e-4


def test_the_second_time_on_is_counted():
    body = plain()
    body["current_a"] += body["current_a"]
    body["time_s"] = [STEP_S * k for k in range(400)]
    assert ask(**body).timing.times_on == 2


def test_times_that_do_not_rise_are_pointed_at():
    body = plain()
    body["time_s"][7] = body["time_s"][6]
    assert refused(**body).keys() == {"#/time_s/7"}
    body["time_s"][7] = -1.0
    assert "-1 s" in refused(**body)["#/time_s/7"]


@pytest.mark.parametrize("value", [None, "5 A", math.nan, True, 1e5])
def test_what_is_no_number_is_pointed_at(value):
    body = plain()
    body["current_a"][3] = value
    assert refused(**body).keys() == {"#/current_a/3"}


def test_channels_of_other_lengths_are_refused():
    body = plain()
    body["current_a"].pop()
    found = refused(**body)
    assert found.keys() == {"#/current_a"}
    assert "199 samples" in found["#/current_a"]


def test_volts_need_their_place():
    time = [0, 1, 2]
    assert refused(time_s=time, volts_v=[1, 2, 3]).keys() == {"#/between"}
    assert refused(time_s=time, current_a=[1, 2, 3], between="path").keys() == {"#/volts_v"}
    assert refused(time_s=time)


@pytest.mark.parametrize("count", [2, 16_001])
def test_the_bound_is_told(count):
    found = refused(time_s=[float(k) for k in range(count)], current_a=[1.0] * count)
    assert found["#/time_s"] == "This must list from 3 to 16000 items."
    assert "16,000 samples" in OPERATION.schema.bound


def test_the_longest_recording_is_answered():
    count = 16_000
    body = plain(count=count)
    body["volts_v"] = [12.6 - 0.02 * each for each in body["current_a"]]
    assert ask(**body, between="battery").resistance.value_ohm == pytest.approx(0.02, rel=0.01)


def pulsed(closings_per_s, until_s=2.0, height=10.0):
    time = np.arange(0, 2, 2e-3)
    on = (time >= 0.1) & (time < until_s) & ((time - 0.1) * closings_per_s % 1 < 0.5)
    current = height * on + 0.05 * np.random.default_rng(2).normal(size=len(time))
    return {"time_s": time.tolist(), "current_a": current.tolist()}


@pytest.mark.parametrize("per_s", [5, 10, 20, 30])
def test_what_chatters_is_told(per_s):
    """By hand: over 1.9 s it closes 9.5 times at 5 a second, 57 times at 30."""
    answer = ask(**pulsed(per_s))
    assert answer.timing.times_on == math.ceil(1.9 * per_s)
    assert answer.timing.chatters_every_s == pytest.approx(1 / per_s, rel=0.03)
    assert ("bounces", "fail") in codes(answer)
    assert answer.verdict == "fail"
    assert "chatters" in said(answer, "bounces")


# A lamp that flashes 90 times a minute, and a horn that is pressed three times.
@pytest.mark.parametrize(("per_s", "until_s"), [(1.5, 2.0), (5, 0.65)])
def test_what_is_switched_on_purpose_does_not_chatter(per_s, until_s):
    answer = ask(**pulsed(per_s, until_s))
    assert answer.timing.chatters_every_s is None
    assert answer.timing.times_on == 3
    assert ("bounces", "pass") in codes(answer)


@pytest.mark.parametrize(("zero_a", "told"), [(3.0, True), (-3.0, True), (0.05, False)])
def test_amperes_at_rest_are_told(zero_a, told):
    body = plain()
    answer = ask(**{**body, "current_a": [each + zero_a for each in body["current_a"]]})
    assert (("rest_current", "marginal") in codes(answer)) == told
    assert (answer.verdict == "pass") != told
    if told:
        assert said(answer, "rest_current").startswith("3 A are read while it is off")


@pytest.mark.parametrize("between", ["path", "battery"])
def test_no_resistance_is_below_zero(between):
    """0.3 V of noise hide the 0.1 V that 0.01 ohm drop at 10 A: the most that it has is known."""
    base, sign = (0.0, 1) if between == "path" else (12.6, -1)
    untold = 0
    for seed in range(20):
        body, random = plain(noise=0.05, seed=seed), np.random.default_rng(seed)
        volts = [base + sign * 0.01 * each + 0.3 * random.normal() for each in body["current_a"]]
        answer = ask(**body, volts_v=volts, between=between)
        if answer.resistance is None:
            continue
        assert answer.resistance.low_ohm >= 0.0
        if answer.resistance.low_ohm == 0.0:
            untold += 1
            assert not answer.resistance.is_told
            assert ("resistance", "unknown") in codes(answer)
            assert "no more than" in answer.headline
            assert "between 0 " not in answer.headline
    assert untold >= 5


def test_rest_is_not_taken_from_the_time_that_it_is_on_again():
    """It begins on, is off for 20 samples, and on again for the rest: those say nothing of off."""
    current = np.concatenate([np.full(60, 10.0), np.zeros(20), np.full(120, 10.0)])
    current += 0.02 * np.random.default_rng(3).normal(size=200)
    time_s = (np.arange(200) * 0.02).tolist()
    answer = ask(time_s=time_s, current_a=current.tolist(), current_resolution_a=0.01)
    assert answer.timing.times_on == 2
    assert answer.current.rest is None or abs(answer.current.rest.value_a) < 0.1
    assert answer.current.plateau.value_a == pytest.approx(10.0, abs=0.1)
