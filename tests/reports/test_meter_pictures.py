"""Pictures of what a meter tells: the numbers drawn are the answer's, whatever comes in."""

import copy
import json
import math
from dataclasses import replace
from typing import Any

import pytest

from lastvolt_service.reports import svg
from lastvolt_service.reports.drawing import PICTURES

from .conftest import POSTED, solve
from .drawn import NAMESPACE, apart, draw, read, texts

FIT = POSTED["circuit-fit"].schema.example
PROOF = POSTED["gain-proof"].schema.example
RECORDING = POSTED["recording"].schema.example


def long_names(body: dict[str, Any]) -> dict[str, Any]:
    """The same with names of 60 letters, capitals among them."""
    text = json.dumps(body)
    named = ("battery post", "key in", "key switch", "firewall connector", "engine block")
    for name in (*named, "starter solenoid", "key held", "hot restart, aged", "wire to the rear"):
        longer = f"{name} of the library coach by the WIDE LOCKER behind the door"[:60]
        text = text.replace(json.dumps(name), json.dumps(longer))
    changed: dict[str, Any] = json.loads(text)
    return changed


def contradicting() -> dict[str, Any]:
    """A first digit misread, another reading with its leads changed about, and ohms that are noise.

    Fits that contradict themselves take seconds: one of them serves all that is asked of it here.
    """
    body = copy.deepcopy(FIT)
    more = (
        ("key out", "key in", 1.43),
        ("key out", "firewall", 1.43),
        ("terminal 50", "engine block", 8.4),
    )
    for red, black, value in more:
        volts = {"between": [red, black], "value_v": value, "meter": "shop meter"}
        body["readings"].append({"case": "key held", **volts})
    body["readings"][4]["value_v"] = 1.86  # it was 2.86
    noise = {"between": ["firewall", "key out"], "value_ohm": 0.3}
    body["readings"].append({"case": "key off", **noise})
    return long_names(body)


def boxes(picture: str) -> list[dict[str, float]]:
    """Rectangles with an outline, in order."""
    return [
        {side: float(each.attrib[side]) for side in ("x", "width", "y", "height")}
        for each in read(picture).iter(f"{NAMESPACE}rect")
        if "stroke" in each.attrib
    ]


FITS = {"sound": FIT, "long": long_names(FIT), "contradicting": contradicting()}


@pytest.mark.parametrize("body", FITS.values(), ids=FITS)
@pytest.mark.parametrize("kind", ["values", "readings"])
def test_nothing_of_a_fit_overlaps(body: dict[str, Any], kind: str) -> None:
    apart(draw("circuit-fit", body, kind))


def test_values_are_drawn_at_their_share_of_what_was_given() -> None:
    _, answer = solve("circuit-fit", FIT)
    picture = draw("circuit-fit", FIT, "values")
    shown = texts(picture)
    # Three of the key, then two for each value: what was given, and what is left of it.
    drawn = boxes(picture)[3:]
    assert len(drawn) == 2 * (1 + len(answer.estimates))
    for place, each in enumerate(answer.estimates, 1):
        assert each.name in shown
        given, left = drawn[2 * place : 2 * place + 2]
        wide = each.given_high - each.given_low
        assert left["width"] == pytest.approx(
            max(given["width"] * (each.high - each.low) / wide, 3.0), abs=0.2
        )
        middle = left["x"] + left["width"] / 2 - given["x"]
        share = ((each.low + each.high) / 2 - each.given_low) / wide
        assert middle == pytest.approx(given["width"] * share, abs=2.0)  # half of the least width
        assert f"{each.given_high:.3g} {'V' if each.unit == 'V' else 'Ω'}" in shown
    decisive = answer.decisive
    low, high = (f"{each:.2f}".rstrip("0") for each in (decisive.low_v, decisive.high_v))
    assert f"{low} V to {high} V" in shown
    assert f"needed {decisive.needed_v:.2f} V" in shown


def bands(body: dict[str, Any]) -> list[str]:
    """How what is left of each value is filled: such bars are 12 high."""
    rectangles = read(draw("circuit-fit", body, "values")).iter(f"{NAMESPACE}rect")
    return [each.attrib["fill"] for each in rectangles if each.get("height") == "12"]


def test_what_is_left_open_is_hatched_and_what_contradicts_tells_nothing() -> None:
    _, answer = solve("circuit-fit", FIT)
    told = [True, *(each.determined for each in answer.estimates)]
    assert bands(FIT) == [svg.INK if each else "#ffffff" for each in told]
    assert told.count(False) == 2
    _, answer = solve("circuit-fit", contradicting())
    told = [True, *(each.determined for each in answer.estimates)]  # lengths are open there, too
    assert bands(contradicting()) == ["#ffffff"] * len(told)
    hatched = [*read(draw("circuit-fit", contradicting(), "values")).iter(f"{NAMESPACE}polyline")]
    assert len(hatched) == len(told) + 1  # the key has one


def test_readings_are_drawn_by_their_standard_uncertainty() -> None:
    body = copy.deepcopy(FIT)
    body["readings"].append(
        {"case": "key held", "between": ["terminal 50", "engine block"], "value_v": 8.45,
         "meter": "shop meter"}
    )  # fmt: skip
    _, answer = solve("circuit-fit", body)
    picture = draw("circuit-fit", body, "readings")
    shown = texts(picture)
    usual = boxes(picture)
    marks = [float(each.attrib["cx"]) for each in read(picture).iter(f"{NAMESPACE}circle")]
    assert len(usual) == len(marks) == len(answer.residuals) == 7
    for each, band, x in zip(answer.residuals, usual, marks, strict=True):
        assert any(text.startswith(f"{each.where}; ") for text in shown)
        off = (each.read - each.fitted) / each.standard_uncertainty
        # The box is as wide as 19 times of 20: 1.96 to each side.
        centre = band["x"] + band["width"] / 2
        assert x - centre == pytest.approx(off * band["width"] / 2 / 1.96, abs=0.1)
    last = answer.residuals[-1]
    assert math.isclose(last.read, 8.45)
    assert f"8.45 V, should be {last.fitted:.3f} V".replace("0 V", " V") in shown


def test_the_reading_that_contradicts_is_named() -> None:
    _, answer = solve("circuit-fit", contradicting())
    assert answer.contradicts == (5,)
    picture = draw("circuit-fit", contradicting(), "readings")
    shown = texts(picture)
    assert shown.count("contradicts the rest") == 1
    assert shown[shown.index("contradicts the rest") - 2] == "5"
    assert "1 of ohms left out: less than leads and last digit tell" in shown
    # Both nodes and the case are named, however long their names.
    (told,) = [text for text in shown if text.startswith("red lead at engine block")]
    assert ", black at ground; key held" in told


def fit_of_many() -> dict[str, Any]:
    """A row of plugs, as many of them unknown as may be, and sixty readings."""
    name = '& <plug> "of the long row" ' * 3
    unknown = {"low": 0.0, "high": 0.1}
    branches = [
        {"kind": "contact", "part": "connector", "resistance_ohm": unknown if index < 16 else 0.01,
         "name": f"{name[:70]} {index}", "nodes": [f"n{index}", f"n{index + 1}"]}
        for index in range(20)
    ]  # fmt: skip
    load = {"name": "lamp", "kind": "resistance", "resistance_ohm": 2.0, "needed_v": 10}
    source = {"plus": "n0", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.01}
    return {
        "circuit": {
            "source": source,
            "branches": branches,
            "loads": [{**load, "nodes": ["n20", "ground"]}],
        },
        "cases": [{"name": "day"}],
        "load": "lamp",
        "readings": [
            {"case": "day", "between": [f"n{k % 20}", f"n{k % 20 + 1}"], "value_v": 0.05}
            for k in range(60)
        ],
    }


@pytest.mark.parametrize("kind", ["values", "readings"])
def test_the_largest_fit_stays_light(kind: str) -> None:
    apart(draw("circuit-fit", fit_of_many(), kind))


def test_a_recording_is_drawn_with_its_events() -> None:
    _, answer = solve("recording", RECORDING)
    picture = draw("recording", RECORDING)
    root, shown = read(picture), texts(picture)
    assert {"on 0.019 s", "pull-in 0.028 s", "off 0.139 s"} <= set(shown)
    level = answer.current.plateau
    said = f"settles to {level.value_a:.1f} A, {level.low_a:.1f} A to {level.high_a:.1f} A"
    assert said in shown
    assert f"largest {answer.current.peak_a:.1f} A" in shown  # no inrush, so no peak
    curves = [
        [tuple(map(float, point.split(","))) for point in each.attrib["points"].split()]
        for each in root.iter(f"{NAMESPACE}polyline")
    ]
    assert [len(each) for each in curves] == [80, 80]
    volts, amperes = curves
    # Pixels are straight in time and in each channel, amperes upwards.
    times, currents = RECORDING["time_s"], RECORDING["current_a"]
    (x0, y0), (x1, y1) = amperes[0], amperes[-20]
    for place in (15, 40, 79):
        share = (times[place] - times[0]) / (times[-20] - times[0])
        assert amperes[place][0] == pytest.approx(x0 + share * (x1 - x0), abs=0.2)
        share = (currents[place] - currents[0]) / (currents[-20] - currents[0])
        assert amperes[place][1] == pytest.approx(y0 + share * (y1 - y0), abs=0.2)
    assert volts[0][0] == amperes[0][0]
    diamonds = [
        [tuple(map(float, point.split(","))) for point in each.attrib["points"].split()]
        for each in root.iter(f"{NAMESPACE}polygon")
    ]
    top, _, bottom, _ = diamonds[-1]
    at = times.index(answer.current.peak_time_s)
    assert (top[0], (top[1] + bottom[1]) / 2) == pytest.approx(amperes[at], abs=0.1)
    upright = {
        float(each.attrib["x1"])
        for each in root.iter(f"{NAMESPACE}line")
        if each.get("stroke") == svg.WARN
    }
    for event in answer.events:
        x = x0 + (event.time_s - times[0]) / (times[-20] - times[0]) * (x1 - x0)
        assert min(abs(x - each) for each in upright) < 0.2


def inrush(samples: int, bounces: int = 0, sign: float = 1.0) -> dict[str, Any]:
    """A lamp's current of 2 s at equal steps: 80 A that fall to 20 A with 50 ms."""
    times = [2.0 * place / (samples - 1) for place in range(samples)]

    def current(at: float) -> float:
        since = at - 0.3
        opened = any(0.002 * k + 0.001 <= since < 0.002 * k + 0.0015 for k in range(bounces))
        is_on = 0.0 <= since < 1.3 and not opened
        return sign * (20.0 + 60.0 * math.exp(-since / 0.05)) if is_on else 0.0

    return {"time_s": times, "current_a": [round(current(at), 2) for at in times]}


def test_a_long_recording_keeps_its_peak_and_stays_light() -> None:
    body = inrush(16_000, bounces=2)
    _, answer = solve("recording", body)
    picture = draw("recording", body)
    apart(picture)
    shown = texts(picture)
    bounces = answer.timing.bounces
    assert bounces.times == 2
    assert any(text.startswith("bounced 2 times until 0.303") for text in shown)
    (curve,) = [
        [tuple(map(float, point.split(","))) for point in each.attrib["points"].split()]
        for each in read(picture).iter(f"{NAMESPACE}polyline")
    ]
    _, diamond = read(picture).iter(f"{NAMESPACE}polygon")  # the first is of the key
    ys = [float(point.split(",")[1]) for point in diamond.attrib["points"].split()]
    assert min(y for _, y in curve) == pytest.approx((min(ys) + max(ys)) / 2, abs=0.2)
    assert any(text.startswith(f"peak {answer.current.peak_a:.3g} A, no more") for text in shown)


def test_a_clamp_the_wrong_way_round_is_drawn_as_it_is_told() -> None:
    assert draw("recording", inrush(500, sign=-1.0)) == draw("recording", inrush(500))


def test_a_gap_in_a_recording_is_one_in_its_curve() -> None:
    body = {"time_s": [0, 1, 2, 30, 31], "volts_v": [12.0] * 5, "between": "path"}
    picture = draw("recording", body)
    apart(picture)
    lines = [each.attrib["points"] for each in read(picture).iter(f"{NAMESPACE}polyline")]
    assert [len(points.split()) for points in lines] == [3, 2]
    assert "level 12 V, 11.93 V to 12.07 V" in texts(picture)


def test_events_beside_each_other_have_a_line_each() -> None:
    apart(draw("recording", RECORDING))
    short = {
        "time_s": [0, 1e-6, 2e-6, 3e-6, 4e-6, 5e-6, 1.0],
        "current_a": [0, 0, 5, 5, 5, 0, 0],
    }
    apart(draw("recording", short))


def levels(picture: str) -> list[tuple[float, float]]:
    """Error bars, as the pixels of their ends: what is level and as heavy."""
    return [
        (float(each.attrib["x1"]), float(each.attrib["x2"]))
        for each in read(picture).iter(f"{NAMESPACE}line")
        if each.get("y1") == each.get("y2") and each.get("stroke-width") == "2"
    ]


def test_before_and_after_are_drawn_with_their_intervals() -> None:
    _, answer = solve("gain-proof", PROOF)
    picture = draw("gain-proof", PROOF)
    apart(picture)
    root, shown = read(picture), texts(picture)
    compared, other = sorted(answer.by_case, key=lambda each: each.case != answer.gain.case)
    gain = answer.gain
    for value, error, ends in (
        (gain.before_v, gain.before_standard_uncertainty_v,
         (compared.before_low_v, compared.before_high_v)),
        (gain.after_v, gain.after_standard_uncertainty_v,
         (compared.after_low_v, compared.after_high_v)),
    ):  # fmt: skip
        half = gain.coverage_factor * error
        assert ends == pytest.approx((value - half, value + half), abs=2e-4)
    assert shown.index("hot restart, aged, predicted") < shown.index("key held")
    assert f"needed {compared.needed_v:.2f} V" in shown
    assert f"gain {gain.low_v:.2f} V to {gain.high_v:.2f} V" in shown
    ends = [
        end
        for each in (compared, other)
        for end in ((each.before_low_v, each.before_high_v), (each.after_low_v, each.after_high_v))
    ]
    for low, high in ends:
        assert f"{low:.2f} V to {high:.2f} V".replace("0 V", " V") in shown
    # All on one scale: pixels are straight in volts.
    bars = levels(picture)
    pairs = [(volts, x) for both, drawn in zip(ends, bars, strict=True)
             for volts, x in zip(both, drawn, strict=True)]  # fmt: skip
    (v0, x0), (v1, x1) = min(pairs), max(pairs)
    marks = [float(each.attrib["cx"]) for each in root.iter(f"{NAMESPACE}circle")]
    volts = [compared.before_v, compared.after_v, other.before_v, other.after_v]
    for value, x in (*pairs, *zip(volts, marks, strict=True)):
        assert x == pytest.approx(x0 + (value - v0) / (v1 - v0) * (x1 - x0), abs=0.15)


def test_a_proof_of_cases_that_do_not_come_to_rest() -> None:
    request, answer = solve("gain-proof", PROOF)
    nothing = dict.fromkeys(
        f"{which}{end}_v" for which in ("before", "after", "gain") for end in ("", "_low", "_high")
    )
    name = "a case of sixty letters, IN CAPITALS, that goes on and on ..."
    lost = replace(answer.by_case[0], case=name, **nothing)
    more = tuple(replace(lost, case=f"{index} {name}") for index in range(31))
    picture = PICTURES["gain-proof"]["voltage"](
        request, replace(answer, by_case=(*answer.by_case, lost, *more))
    )
    apart(picture)
    shown = texts(picture)
    assert shown.count("does not come to rest") == 2 * (30 - 2)
    assert shown[-1] == "and 4 more cases"
