"""Recordings of drawn circuits: what is true lies within what is told, 19 times of 20.

The circuits and their meters are an ODE and errors of their own (`recordings_drawn`). Scales are
exact where an interval is to hold 95 %: what is as likely anywhere within its limits it holds more.
"""

from dataclasses import replace

import numpy as np
import pytest

from ..explain.requests import POSTED
from .recordings_drawn import Channel, Recorder, Truth

OPERATION = POSTED["recording"]
EXACT = {
    "volts_accuracy_percent": 0.0, "current_accuracy_percent": 0.0,
    "volts_resolution_v": 1e-6, "current_resolution_a": 1e-6,
}  # fmt: skip


def draw(random):
    """A circuit with a solenoid, and a meter whose noise lasts or not and whose volts are late."""
    truth = Truth(
        open_v=random.uniform(11.5, 13),
        inside_ohm=random.uniform(0.01, 0.04),
        path_ohm=random.uniform(0.05, 0.3),
        winding_ohm=random.uniform(0.4, 0.8),
        start_c=random.uniform(-10, 80),
        warms_k_per_s=random.uniform(20, 80),
        off_s=0.45 + random.uniform(0, 0.2),
        end_s=0.7,
        travel_m=random.uniform(3e-3, 6e-3),
    )
    step_s, follows = random.choice([5e-4, 1e-3, 2e-3]), random.choice([0.0, 0.5, 0.8])
    meter = Recorder(
        step_s=step_s,
        volts=Channel(noise=random.uniform(0.005, 0.03), follows=follows, digit=0.001),
        amperes=Channel(noise=random.uniform(0.03, 0.15), follows=follows, digit=0.01),
        late_s=random.uniform(-1.5, 1.5) * step_s,
    )
    return truth, meter


def ask(body):
    return OPERATION.compute(OPERATION.arguments(body))


def holds(read, true, unit):
    return getattr(read, f"low_{unit}") <= true <= getattr(read, f"high_{unit}")


def one(random, between):
    """Whether each value that is told holds what is true; None where it is not told."""
    truth, meter = draw(random)
    body, traces = meter.record(truth, random, between=between)
    body |= EXACT | {"winding": between == "load", "start_temperature_c": truth.start_c}
    answer = ask(body)
    assert answer.switched
    on = answer.events[0]
    before_ohm = truth.inside_ohm + truth.path_ohm
    true = {"load": before_ohm, "battery": truth.inside_ohm, "path": truth.path_ohm}[between]
    found = {"on": on.earliest_s - 3 * meter.step_s <= truth.on_s <= on.latest_s}
    if answer.resistance is not None:
        found["resistance"] = holds(answer.resistance, true, "ohm")
        error = abs(answer.line.skew_s - meter.late_s)
        found["skew"] = error <= 2 * answer.line.skew_uncertainty_s
    if between == "load":
        warming = answer.warming
        rise_k = truth.warms_k_per_s * warming.over_s if warming else 0.0
        found["warming"] = holds(warming, rise_k, "k") if warming else None
        pulled = [each for each in answer.events if each.event == "pull_in"]
        found["home"] = bool(pulled) and pulled[0].earliest_s <= traces.home_s <= pulled[0].latest_s
    return found


def shares(count, seed, between):
    """Shares that hold of what was told, and how much was told."""
    random = np.random.default_rng(seed)
    rows = [one(random, between) for _ in range(count)]
    names = {name for row in rows for name in row}
    told = {name: [row[name] for row in rows if row.get(name) is not None] for name in names}
    for values in told.values():
        assert len(values) >= 0.9 * count
    return {name: float(np.mean(values)) for name, values in told.items()}


@pytest.mark.parametrize("between", ["load", "battery", "path"])
def test_what_is_true_is_held(between):
    """Of 30 that hold 95 % each, fewer than 25 hold in one of a thousand tries."""
    found = shares(30, 15, between)
    assert all(share >= 25 / 30 for share in found.values()), found


@pytest.mark.long
@pytest.mark.parametrize("between", ["load", "battery", "path"])
def test_what_is_true_is_held_19_times_of_20(between):
    """Of a slope between two levels 93 to 98 %, of all else 93 % at least.

    Noise that lasts counts by the larger of two estimates, which is a little too much. Along the
    rise at a load the skew has to be found, and counts to its worse side.
    """
    found = shares(2000, 16, between)
    assert all(share >= 0.93 for share in found.values()), found
    if between != "load":
        assert found["resistance"] <= 0.98, found


def off_scale(count, seed, percent):
    """Shares of resistances and plateaus that hold, with scales anywhere within their limits."""
    random = np.random.default_rng(seed)
    held = []
    for _ in range(count):
        truth, meter = draw(random)
        scales = random.uniform(-percent, percent, 2)
        meter = replace(
            meter,
            late_s=0.0,
            volts=replace(meter.volts, scale_percent=scales[0], noise=0.005, follows=0.0),
            amperes=replace(meter.amperes, scale_percent=scales[1], noise=0.02, follows=0.0),
        )
        body, traces = meter.record(truth, random, between="battery")
        body |= {"volts_accuracy_percent": percent, "current_accuracy_percent": percent}
        answer = ask(body)
        late = (traces.time_s > (truth.on_s + truth.off_s) / 2) & (traces.time_s < truth.off_s)
        level_a = float(np.median(traces.amperes[late]))
        held.append(
            (
                holds(answer.resistance, truth.inside_ohm, "ohm"),
                holds(answer.current.plateau, level_a, "a"),
            )
        )
    return np.mean(held, axis=0)


@pytest.mark.parametrize("percent", [1.0, 3.0])
def test_a_scale_that_is_off_is_held(percent):
    """Two scales leave out 4 % of resistances (1.6 of 2 limits are held), one no plateau."""
    ohms, amperes = off_scale(40, 5, percent)
    assert ohms >= 35 / 40
    assert amperes == 1.0


@pytest.mark.long
def test_scales_that_are_off_are_held_19_times_of_20():
    ohms, amperes = off_scale(1000, 6, 2.0)
    assert ohms >= 0.93
    assert amperes == 1.0


def test_amperes_alone_do_not_tell_warming():
    """The supply falls by a tenth meanwhile, and the winding stays cold: no warming is told."""
    random = np.random.default_rng(9)
    time = np.arange(0, 2, 2e-3)
    on = time >= 0.1
    volts = on * (11.0 - 0.5 * np.maximum(time - 0.1, 0)) + 0.01 * random.normal(size=len(time))
    current = on * (11.0 - 0.5 * np.maximum(time - 0.1, 0)) / 0.6 + 0.02 * random.normal(
        size=len(time)
    )
    answer = ask({
        "time_s": time.tolist(), "volts_v": volts.tolist(), "current_a": current.tolist(),
        "between": "load", "winding": True,
    })  # fmt: skip
    assert current[100] > current[-1] * 1.08
    if answer.warming is not None:
        assert not answer.warming.is_told
        assert answer.warming.low_k <= 0 <= answer.warming.high_k


@pytest.mark.parametrize("seed", range(5))
def test_a_plunger_that_does_not_move_is_not_told_to(seed):
    truth, meter = draw(np.random.default_rng(seed))
    body, _ = meter.record(replace(truth, moves=False), np.random.default_rng(seed))
    answer = ask(body | {"winding": True})
    assert [each.event for each in answer.events] == ["on", "off"]
    assert answer.timing.pull_in_after_s is None
