"""Answers in words: the verdict first, the whole plan, the JSON's numbers, and what they rest on.

Exact by definition: the foot is 0.3048 m (NIST Special Publication 811, 2008, appendix B.8), and
t/°F = 1.8 t/°C + 32 (the same, appendix B.8).
"""

import math
import re
from copy import deepcopy
from decimal import Decimal
from itertools import takewhile
from typing import Any

import pytest

from lastvolt_service.operations.results import DEFERENCE
from lastvolt_service.words import catalogue
from lastvolt_service.words.amounts import amount

from .conftest import POSTED, Tell, solve

# Fields that the words must tell, by operation.
TOLD = {
    "wire-resistance": ("resistance_ohm", "area_mm2"),
    "voltage-drop": ("load_voltage_v", "current_a", "drop_v", "limit_drop_v"),
    "wire-heating": (
        "conductor_temperature_c",
        "ambient_c",
        "insulation_limit_c",
        "permissible_current_a",
    ),
    "wire-sizing": ("drop_v", "conductor_temperature_c", "fuse_rating_a"),
    "fuse-selection": ("fuse_rating_a", "lower_a", "upper_a", "permissible_current_a"),
    "relay-coil": ("coil_temperature_c", "hot_pick_up_v", "pick_up_margin_v", "hot_drop_out_v"),
    "relay-contact": ("derated_current_a", "first_current_a", "contact_drop_v"),
    "solenoid-pull-in": ("hot_pull_in_v", "available_v", "margin_v", "maximum_temperature_c"),
    "battery-voltage": ("terminal_v", "open_circuit_v"),
    "switch-loading": (),
    "drop-diagnosis": ("regained_v", "total_measured_v"),
    "circuit-check": (),
    "start-sequence": (),
    "circuit-fit": (),  # its numbers stand in objects
    "meter-plan": (),  # so do its own
    "gain-proof": (),  # its numbers stand in objects
    "relay-retrofit": (),
    "work-sheet": (),
    "quick-answer": (),  # its numbers stand in objects
    "relay-choice": (),
    "remedy-choice": (),
    "recording": (),  # its numbers stand in objects
}
TO_A_SIDE = {"permissible_current_a", "lower_a", "upper_a", "maximum_temperature_c"}
UNITS = {"_v": "V", "_a": "A", "_c": "°C", "_ohm": "Ω", "_mm2": "mm²"}
STEP = re.compile(r"(\d+)\. (.*)")
NUMBER = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?) (°C|°F|V|A|Ω|mm²|ft|m|W)(?![\w²])")


def numbers(text: str) -> list[tuple[float, float, str]]:
    """Every quantity of a text with the half step of its last digit and its unit."""
    return [
        (float(digits), 0.5 * 10.0 ** -len(digits.partition(".")[2]), unit)
        for digits, unit in NUMBER.findall(text)
    ]


def tells(text: str, value: float, unit: str, *, steps: float = 1.0) -> bool:
    # Values above 1000 and to three digits may lose more than the last digit that is written.
    return any(
        told_unit == unit
        and abs(number - value)
        <= max(steps * half, 0.005 * abs(value) if abs(value) >= 100 else 0) + 1e-12
        for number, half, told_unit in numbers(text)
    )


def test_every_operation_is_covered() -> None:
    assert set(TOLD) == set(POSTED) == set(catalogue())


@pytest.mark.parametrize("markdown", [True, False])
@pytest.mark.parametrize("name", POSTED)
def test_three_to_six_lines_that_end_in_basis_and_caution(
    tell: Tell, name: str, markdown: bool
) -> None:
    text = tell(name, POSTED[name].schema.example, markdown=markdown)
    steps, lines = steps_and_lines(text)
    assert 3 <= len(lines) <= 6
    assert lines[-2].startswith("- Basis: ")
    assert "lastvolt" in lines[-2]
    assert lines[-1].startswith("- Caution: ")
    assert lines[-1].endswith(DEFERENCE)
    assert all(line.startswith("- ") for line in lines[1:])
    if not steps:
        assert len(text) < 2000  # what the shortest of the usual chats takes


@pytest.mark.parametrize("markdown", [True, False])
@pytest.mark.parametrize(
    "body",
    [
        {
            "system_v": 12,
            "load": "starter_solenoid",
            "distance_m": 5,
            "wear": "old",
            "fails": "hot",
        },
        {"system_v": 6, "load": "headlamps", "distance_m": 3, "fails": "always"},
        {"system_v": 24, "load": "glow_plugs", "distance_m": 4, "fails": "always"},
        {"system_v": 12, "load": "starter_solenoid", "distance_m": 3, "fails": "sometimes"},
    ],
    ids=["starter", "lamps", "plugs", "comes and goes"],
)
def test_a_plan_is_told_to_its_end(tell: Tell, body: dict[str, Any], markdown: bool) -> None:
    _, answer = solve("quick-answer", body)
    text = tell("quick-answer", body, markdown=markdown)
    steps, (first, *_) = steps_and_lines(text)
    look, *_ = plan = [shown(step.message) for step in answer.plan]
    if answer.plan[0].code == "look_first":
        assert look in shown(first)
        plan.remove(look)
    assert [shown(step) for step in steps] == plan
    assert shown(answer.headline) in shown(first).replace("**", "")


def test_a_step_of_a_way_says_what_is_done_and_what_it_brings(tell: Tell) -> None:
    body = POSTED["remedy-choice"].schema.example
    _, answer = solve("remedy-choice", body)
    steps, _ = steps_and_lines(tell("remedy-choice", body))
    assert len(steps) == len(answer.plan)
    for step, text in zip(answer.plan, steps, strict=True):
        assert text.startswith(f"Fit {step.part}." if step.code == "relay" else "Clean")
        assert tells(text, step.brings_v, "V")
        assert tells(text, step.load_voltage_v, "V")


def steps_and_lines(text: str) -> tuple[list[str], list[str]]:
    """The numbered steps of a plan, which follow upon the first line, and all other lines."""
    first, *rest = [line for line in text.splitlines() if line]
    found = [STEP.match(line) for line in rest]
    steps = list(takewhile(bool, found))
    assert [int(step[1]) for step in steps if step] == list(range(1, len(steps) + 1))
    return [step[2] for step in steps if step], [first, *rest[len(steps) :]]


def shown(text: str) -> str:
    """What a reader sees of a line."""
    return text.replace("\\", "").replace("\u200b", "").replace("**", "")


@pytest.mark.parametrize("name", POSTED)
def test_the_numbers_are_those_of_the_answer(tell: Tell, name: str) -> None:
    _, answer = solve(name, POSTED[name].schema.example)
    text = tell(name, POSTED[name].schema.example)
    for field in TOLD[name]:
        unit = next(unit for end, unit in UNITS.items() if field.endswith(end))
        # What is to spare is the difference of two numbers as they are printed; what may be at most
        # is rounded down, what must be at least up.
        steps = 2.0 if field.endswith("margin_v") or field in TO_A_SIDE else 1.0
        value = getattr(answer, field)
        assert tells(text, value, unit, steps=steps), (field, value, text)


def test_a_retrofit_tells_both_versions(tell: Tell) -> None:
    body = POSTED["relay-retrofit"].schema.example
    _, answer = solve("relay-retrofit", body)
    case = min(answer.cases, key=lambda each: each.as_is.margin_v / each.as_is.needed_v)
    text = tell("relay-retrofit", body)
    assert text.startswith("Fit the relay: ")
    for value in (case.as_is.load_voltage_v, case.as_is.needed_v, case.proposed.load_voltage_v):
        assert tells(text, value, "V")
    assert tells(text, case.as_is.switch_current_a, "A")
    assert case.name in text


def test_a_switch_tells_its_worst_position(tell: Tell) -> None:
    body = POSTED["switch-loading"].schema.example
    _, answer = solve("switch-loading", body)
    worst = next(each for each in answer.positions if each.name == answer.worst_position)
    text = tell("switch-loading", body)
    assert tells(text, worst.current_a, "A")
    assert answer.cumulative[0].name in text


def test_a_size_tells_why_the_next_smaller_is_too_small(tell: Tell) -> None:
    body = {**POSTED["wire-sizing"].schema.example, "limit_drop_percent": 3}
    _, answer = solve("wire-sizing", body)
    smaller, found = answer.candidates[-2:]
    assert smaller.failing == ("loop_drop", "fuse_window")
    text = tell("wire-sizing", body)
    wanted = f"{smaller.size}, the next below {found.size}, is too small: drop of the loop, fuse "
    assert wanted + "window." in text
    assert "too small" not in tell("wire-sizing", {**body, "load_current_a": 2000})


def test_a_size_that_only_the_fuse_keeps_out_is_said_to_carry_the_load(tell: Tell) -> None:
    hot = {
        "supply_v": 12.4, "load_current_a": 40, "length_m": 0.5, "return_path": "body",
        "insulation": "TXL", "zone": "engine_bay",
    }  # fmt: skip
    _, answer = solve("wire-sizing", hot)
    smaller, found = answer.candidates[-2:]
    assert (smaller.failing, smaller.wants_fuse_only) == (("fuse_window",), True)
    assert smaller.permissible_current_a > hot["load_current_a"]
    text = tell("wire-sizing", hot)
    assert f"{smaller.size}, the next below {found.size}, would carry the load, but not" in text
    assert "too small" not in text


def test_where_no_size_passes_the_largest_tells_why(tell: Tell) -> None:
    body = {**POSTED["wire-sizing"].schema.example, "load_current_a": 2000}
    text = tell("wire-sizing", body)
    assert text.startswith("Fails: No size helps: body and contacts alone take more than")
    assert "4/0 AWG fails: conductor temperature, permissible current, fuse window." in text


def test_intervals_are_told_with_their_ends(tell: Tell) -> None:
    body = POSTED["circuit-check"].schema.example
    branches = [dict(branch) for branch in body["circuit"]["branches"]]
    branches[1]["resistance_ohm"] = {"low": 0.02, "high": 0.05}
    body = {**body, "circuit": {**body["circuit"], "branches": branches}}
    _, answer = solve("circuit-check", body)
    case = next(each for each in answer.cases if each.name == answer.worst_case)
    spread = next(item for item in case.spreads if item.code == "load_voltage")
    text = tell("circuit-check", body)
    assert tells(text, spread.low_v, "V")
    assert tells(text, spread.high_v, "V")


VERDICTS = [
    ({"dip_v": 7.0}, "Passes"),
    ({}, "Passes as far as it was judged"),
    ({"path_resistance_ohm": 0.15}, "Passes by little"),
    ({"path_resistance_ohm": 0.5}, "Fails"),
]


@pytest.mark.parametrize(("change", "word"), VERDICTS)
def test_the_verdict_comes_first(tell: Tell, change: dict[str, Any], word: str) -> None:
    body = {**POSTED["solenoid-pull-in"].schema.example, **change}
    if not change:
        del body["dip_v"]
    assert tell("solenoid-pull-in", body).startswith(f"{word}: ")
    assert tell("solenoid-pull-in", body, markdown=True).startswith(f"**{word}:** ")


def test_us_units_stand_beside(tell: Tell) -> None:
    body = {"size": "14 AWG", "length_m": 4.5, "temperature_c": 35}
    plain, us = (tell("wire-resistance", body, us=each) for each in (False, True))
    assert "ft" not in plain
    assert "°F" not in plain
    assert "4.5 m (14.8 ft)" in us  # 4.5 / 0.3048 = 14.76
    assert "35 °C (95 °F)" in us  # 1.8 * 35 + 32


@pytest.mark.parametrize("name", POSTED)
def test_us_units_change_nothing_else(tell: Tell, name: str) -> None:
    body = POSTED[name].schema.example
    plain, us = (tell(name, body, us=each) for each in (False, True))
    assert re.sub(r" \(-?[\d.]+ (?:°F|ft)\)", "", us) == plain
    basis = us.splitlines()[-2]
    assert "°F" not in basis  # what a publication prints stays as it is printed
    for celsius, fahrenheit in re.findall(r"(-?\d+) °C \((-?\d+) °F\)", us):
        # Both are rounded to whole degrees: half of one in each.
        assert abs(1.8 * float(celsius) + 32 - float(fahrenheit)) <= 0.5 * 1.8 + 0.5


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (10.7046, "V", "10.7 V"),
        (9.2862, "V", "9.29 V"),
        (0.0053, "V", "0.005 V"),
        (0.0012, "V", "0.001 V"),
        (0.0004, "V", "less than 0.001 V"),
        (0.0, "V", "0 V"),
        (-0.004, "A", "-0.004 A"),
        (320.4, "A", "320.4 A"),
        (1234.0, "A", "1234 A"),
        (20.0, "A", "20 A"),
        (147.11, "degC", "147 °C"),
        (-0.2, "degC", "0 °C"),
        (-8.81, "degC", "-9 °C"),
        (99.96, "V", "99.96 V"),
        (0.16742, "ohm", "0.167 Ω"),
    ],
)
def test_no_more_digits_than_a_meter_shows(value: float, unit: str, text: str) -> None:
    assert amount(value, unit) == text


def test_symbols_and_us_units() -> None:
    assert amount(3, "m", us=True) == f"3 m ({3 / 0.3048:.1f} ft)"
    assert amount(-8.81, "degC", us=True) == "-9 °C (16 °F)"
    assert amount(2.5, "mm2", us=True) == "2.5 mm²"


def test_failed_checks_beyond_the_lines_are_counted(tell: Tell) -> None:
    segments = [
        {"name": f"plug {i}", "kind": "contact", "part": "connector", "resistance_ohm": 0.05}
        for i in range(5)
    ]
    body = {"supply_v": 12.6, "load_current_a": 10, "segments": segments}
    text = tell("voltage-drop", body)
    assert "3 more checks did not pass" in text  # five fail, two have a line of their own
    assert math.isclose(solve("voltage-drop", body)[1].drop_v, 2.5)


WEIGHED = re.compile(
    r"(-?[\d.]+|less than 0\.01) V arrive.*?, (?:and ([\d.]+) V are needed, )?"
    r"([\d.]+|less than 0\.01) V (to spare|short)"
)


def adds_up(text: str, needed_v: float, margins_v: list[float]) -> None:
    """Hold that what arrives is as far from what is needed as a sentence says, and which way."""
    found = WEIGHED.findall(text)
    assert len(found) == len(margins_v), text
    for (arrives, needs, apart, which), margin_v in zip(found, margins_v, strict=True):
        assert which == ("short" if margin_v < 0 else "to spare"), text
        printed = Decimal(needs or f"{needed_v:.2f}")
        assert abs(Decimal(arrives) - printed) == Decimal(apart), text


@pytest.mark.parametrize("switch_ohm", [0.0, 0.0155, 0.016, 0.02, 0.05, 0.3])
def test_a_circuit_is_short_where_its_numbers_are(tell: Tell, switch_ohm: float) -> None:
    for name in ("circuit-check", "relay-retrofit"):
        body = deepcopy(POSTED[name].schema.example)
        body["circuit"]["branches"][1]["resistance_ohm"] = switch_ohm
        _, answer = solve(name, body)
        line = tell(name, body).splitlines()[1]
        if name == "circuit-check":
            state = next(each for each in answer.cases if each.name == answer.worst_case)
            (load,) = state.loads
            adds_up(line, load.needed_v, [load.margin_v])
        else:
            case = next(each for each in answer.cases if each.name == answer.poorest_case)
            margins_v = [case.as_is.margin_v, case.proposed.margin_v]
            adds_up(line, case.as_is.needed_v, margins_v)


GROUND, SWITCH, RELAY_FUSE = ("branches", 3), ("branches", 1), ("feed", 0)


@pytest.mark.parametrize(
    ("changes", "advice", "verdict"),
    [
        ({}, "relay", "Fit the relay"),
        ({("branches", 0): {"size": "8 AWG", "length_m": 2},
          ("branches", 2): {"size": "8 AWG", "length_m": 2},
          ("branches", 4): {"rating_a": 30},
          SWITCH: {"resistance_ohm": 0.002, "rating_a": 40}}, "insurance", "Insurance"),
        ({GROUND: {"resistance_ohm": 0.3}}, "mend_then_relay", "Mend, then fit the relay"),
        ({RELAY_FUSE: {"rating_a": 7.5}}, "unsafe", "Do not build it so"),
    ],
)  # fmt: skip
def test_an_advice_says_no_more_than_its_numbers(
    tell: Tell, changes: dict[tuple[str, int], dict[str, Any]], advice: str, verdict: str
) -> None:
    body = deepcopy(POSTED["relay-retrofit"].schema.example)
    for (group, place), change in changes.items():
        parts = body["proposal"] if group == "feed" else body["circuit"]
        parts[group][place].update(change)
    _, answer = solve("relay-retrofit", body)
    assert answer.advice == advice
    text = tell("relay-retrofit", body)
    assert text.startswith(f"{verdict}: ")
    assert answer.headline == text.partition("\n")[0]
    as_is = [case.as_is for case in answer.cases]
    if "has little to spare" in text:
        assert min(each.margin_v / each.needed_v for each in as_is) < 0.1
    if "more than needed" in text:
        assert answer.plan.margin_v >= 0
        assert tells(text, answer.plan.load_voltage_v, "V")
    if "nothing is short as it is" in text:
        assert min(each.margin_v / each.needed_v for each in as_is) >= 0.1
    if "Do not build it so" in text:
        assert any(check.verdict == "fail" and check.way == "relay" for check in answer.checks)


def test_a_quick_answer_tells_its_interval_and_what_to_read(tell: Tell) -> None:
    body = POSTED["quick-answer"].schema.example
    _, answer = solve("quick-answer", body)
    text = tell("quick-answer", body)
    for within in (answer.load_voltage_v.low_v, answer.load_voltage_v.high_v):
        assert tells(text, within, "V")
    assert answer.plan[0].message in text
