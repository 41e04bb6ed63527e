"""Answers redone from their steps alone."""

import json
import math
import re
from contextlib import suppress

import pytest
from hypothesis import HealthCheck, given, settings

from lastvolt_service import laws
from lastvolt_service.api.answers import to_json
from lastvolt_service.errors import CalculationError
from lastvolt_service.laws import named, published, recording
from lastvolt_service.operations.steps import Steps
from lastvolt_service.units import UNITS, unit_of

from ..cost import some, tries
from .calculator import redo
from .headlines import headlines
from .requests import POSTED, VARIED, example

# Followed step by step in time, which no few formulas verify.
IN_TIME = {
    "overload_temperature_c",
    "overload_current_a",
    "overload_time_s",
    "temperature_after_on_time_c",
    "duty_current_a",
}
SYMBOLS = {unit.symbol for unit in UNITS} | {"m/s2", "cmil", "N/A2", "W/(m2*K4)"}
# A path of as many parts as a request may have, all different, is the longest there is.
MOST_BYTES = 400_000


def explained(name, body):
    operation = POSTED[name]
    arguments = operation.arguments(body)
    answer = operation.compute(arguments)
    steps = operation.steps(arguments, answer)
    return json.loads(to_json(answer)), json.loads(to_json(steps))


def hold(name, body):
    answer, steps = explained(name, body)
    known = redo(steps)
    for symbol, value in headlines(name, answer).items():
        # Where terms cancel, what is left is rounded as they are: `redo` has held it so.
        near = math.isclose(known[symbol], value, rel_tol=1e-9)
        step = next(each for each in steps if each["symbol"] == symbol)
        assert near or (step["value"] == value and "-" in (step["formula"] or "")), symbol
    for place, step in enumerate(steps):
        check_step(step)
        if "_left_" in step["symbol"]:
            # The solver closes its balances within 1e-10 of what goes through them.
            most = max(abs(value) for value in step["inputs"].values())
            assert abs(step["value"]) <= 1e-8 * most + 1e-12, step["symbol"]
        if step["kind"] == "solved" and not step["symbol"].endswith(tuple(IN_TIME)):
            later = [each["inputs"] for each in steps[place + 1 :]]
            used = any(step["symbol"] in inputs for inputs in later)
            assert used or step["symbol"].endswith(("coil_v", "pick_up_v", "load_current_a"))
    return answer, steps


def check_step(step):
    unit = unit_of(step["symbol"])
    assert unit is None or step["unit"] == unit.symbol, step["symbol"]
    assert step["unit"] in SYMBOLS | {"1"}
    assert step["meaning"]
    assert step["source"]
    assert (step["formula"] is None) == (step["kind"] != "computed")
    assert step["formula"] is not None or not step["inputs"]
    assert not re.search(r"(?<!\w)\(\w+\)", step["formula"] or ""), "round a mere name"


def test_what_a_part_needs_is_named_after_it():
    _, steps = explained("voltage-drop", example("voltage-drop"))
    symbols = {step["symbol"] for step in steps}
    assert {"segments_3_gauge", "segments_3_area_mm2", "segments_3_ratio"} <= symbols
    assert "gauge" in symbols  # of the first wire, which had no other beside it


def test_heat_is_told_of_the_wires_that_drop_most():
    wires = [
        {"name": f"{length_m} m", "kind": "wire", "size": "14 AWG", "length_m": length_m,
         "ambient_c": 40, "insulation": "GXL"}
        for length_m in (1, 2, 6, 3, 5, 4)
    ]  # fmt: skip
    body = example(
        "voltage-drop",
        segments=wires,
        load_resistance_ohm=None,
        load_current_a=8,
        circuit="continuous",
    )
    _, steps = explained("voltage-drop", body)
    told = [step["symbol"] for step in steps if step["symbol"].endswith("_heat_in_w_per_m")]
    assert {symbol.removesuffix("_heat_in_w_per_m") for symbol in told} == {
        "segments_3", "segments_5", "segments_6",
    }  # fmt: skip


def test_every_operation_is_explained():
    assert POSTED.keys() == VARIED.keys()


@pytest.mark.parametrize("name", POSTED)
def test_the_worked_example_is_redone(name):
    hold(name, example(name))


@pytest.mark.parametrize("name", POSTED)
def test_any_answer_is_redone(name):
    @settings(
        max_examples=tries(name, some(5, 25)),
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(VARIED[name])
    def check(body):
        with suppress(CalculationError):  # it has no answer to explain
            hold(name, body)

    check()


def test_a_wrong_number_is_found():
    _, steps = explained("wire-resistance", example("wire-resistance"))
    (alpha,) = (step for step in steps if step["symbol"] == "temperature_coefficient_per_k")
    alpha["value"] *= 1.001
    with pytest.raises(AssertionError, match=r"^ratio = "):
        redo(steps)


def test_a_heated_path_shows_the_heat_balance():
    wire = {
        "name": "feed", "kind": "wire", "size": "12 AWG", "length_m": 5, "ambient_c": 60,
        "insulation": "GXL",
    }  # fmt: skip
    body = example(
        "voltage-drop",
        segments=[wire],
        load_resistance_ohm=None,
        load_current_a=25,
        circuit="continuous",
    )
    answer, steps = hold("voltage-drop", body)
    values = {step["symbol"]: step["value"] for step in steps}
    kinds = {step["symbol"]: step["kind"] for step in steps}
    assert kinds["segments_1_temperature_c"] == "solved"
    made, lost = (values[f"segments_1_heat_{way}_w_per_m"] for way in ("in", "out"))
    assert made == pytest.approx(lost, rel=1e-8)
    assert made * 5 == pytest.approx(answer["segments"][0]["power_w"], rel=1e-9)


def test_a_heated_wire_shows_both_balances_with_every_number_by_name():
    _, steps = hold("wire-heating", example("wire-heating"))
    found = {step["symbol"]: step for step in steps}
    for prefix, heats in (("", "current_a"), ("limit_", "permissible_model_a")):
        left = found[f"{prefix}heat_left_w_per_m"]["inputs"]
        assert left.keys() == {f"{prefix}heat_in_w_per_m", f"{prefix}heat_out_w_per_m"}
        made = found[f"{prefix}heat_in_w_per_m"]["inputs"]
        assert {heats, "grouping_factor", "resistance_20_ohm_per_m"} <= made.keys()
    assert found["conductor_left_k"]["inputs"].keys() >= {"surface_temperature_c"}
    # What both balances have in common stands once.
    assert "limit_outer_diameter_mm" not in found
    assert "limit_pressure_pa" not in found


def test_numbers_of_a_part_bear_its_prefix_and_shared_ones_stand_once():
    steps = Steps()
    for prefix, amps in (("first_", 2.0), ("second_", 3.0)):
        with recording(), steps.within(prefix):
            ohm = published("ohm", 5.0, "of the same table", "a table")
            own = laws.given("amps", amps, "its own")
            steps.result("drop_v", named("drop_v", own * ohm, "across it"), "")
    symbols = [step.symbol for step in steps.all()]
    assert symbols == [
        "first_amps", "first_ohm", "first_drop_v", "second_amps", "second_drop_v",
    ]  # fmt: skip
    assert steps.all()[-1].inputs == {"second_amps": 3.0, "first_ohm": 5.0}


def test_the_same_number_of_another_part_is_told_by_its_symbol():
    steps = Steps()
    for prefix in ("first_", "second_"):
        with recording(), steps.within(prefix):
            steps.result("limit_v", published("limit_v", 1.5, "of a table", "a table"), "")
    assert steps.all()[-1].symbol == "second_limit_v"
    assert steps.all()[-1].formula == "first_limit_v"


def test_what_is_left_over_is_shared_with_nothing():
    """Differences that vanish agree by chance."""
    steps = Steps()
    for prefix, amps in (("", 2.0), ("limit_", 3.0)):
        with recording(), steps.within(prefix):
            own = laws.given("amps", amps, "its own")
            steps.result("left_v", named("left_v", own - amps, "nothing"), "")
    assert [step.formula for step in steps.all() if step.kind == "computed"] == [
        "amps - 2",
        "limit_amps - 3",
    ]


def test_a_number_that_is_not_there_is_told_of_no_part():
    steps = Steps()
    with recording():
        missing = published("limit_v", math.nan, "of a table that has none", "a table")
        for prefix in ("first_", "second_"):
            with steps.within(prefix):
                steps.result("limit_v", missing, "")
    assert steps.all() == ()


@pytest.mark.parametrize(
    ("work", "written"),
    [
        (lambda a, b: a * b + a, "a * b + a"),
        (lambda a, b: (a + b) * a, "(a + b) * a"),
        (lambda a, b: a - b - a, "a - b - a"),
        (lambda a, b: a - (b - a), "a - (b - a)"),
        (lambda a, b: a / b / a, "a / b / a"),
        (lambda a, b: a / (b * a), "a / (b * a)"),
        (lambda a, b: a * (b / a), "a * b / a"),
        (lambda a, b: a + (b - a), "a + b - a"),
        (lambda a, b: (a**b) ** a, "(a ** b) ** a"),
        (lambda a, b: a ** (b**a), "a ** (b ** a)"),
        (lambda a, b: (a * b) ** 2, "(a * b) ** 2"),
    ],
)
def test_a_formula_has_the_parentheses_that_it_needs(work, written):
    steps = Steps()
    with recording():
        found = work(laws.given("a", 3.0, "one"), laws.given("b", 2.0, "another"))
        steps.result("found", named("found", found, "what comes out"), "")
    told = steps.all()[-1]
    assert told.formula == written
    assert eval(written, {}, {"a": 3.0, "b": 2.0}) == told.value  # the language has the same rules


def test_what_follows_from_a_number_that_is_not_there_has_no_step():
    steps = Steps()
    steps.given("amps", 2.0, "known")
    steps.given("ohm", math.nan, "not known")
    steps.computed("drop_v", "amps * ohm", 3.0, "follows from both", "a law")
    steps.computed("twice_a", "2 * amps", 4.0, "follows from what is known", "arithmetic")
    assert [step.symbol for step in steps.all()] == ["amps", "twice_a"]


def test_a_size_shows_why_the_next_smaller_fails():
    answer, steps = hold("wire-sizing", example("wire-sizing", limit_drop_percent=2.2))
    values = {step["symbol"]: step["value"] for step in steps}
    before = f"candidates_{len(answer['candidates']) - 1}_margin_of_"
    failing = answer["candidates"][-2]["failing"]
    short = [value for symbol, value in values.items() if symbol.startswith(before)]
    assert len(short) == len(failing) > 0
    assert all(value < 0 for value in short)
    assert values[f"{before}loop_drop_v"] == pytest.approx(
        answer["limit_drop_v"] - answer["candidates"][-2]["drop_v"]
    )


def test_no_size_is_explained_by_the_largest():
    answer, steps = hold("wire-sizing", example("wire-sizing", load_current_a=2000))
    assert answer["size"] is None
    last = len(answer["candidates"])
    symbols = {step["symbol"] for step in steps}
    assert f"candidates_{last}_permissible_current_a" in symbols
    assert not any(symbol.startswith(f"candidates_{last - 1}_") for symbol in symbols)


@pytest.mark.parametrize(("limit_v", "sizes"), [(0.12, ["18 SAE"]), (0.09, ["18 SAE", "16 SAE"])])
def test_a_size_is_explained_with_the_one_before_it_if_there_is_any(limit_v, sizes):
    """SAE J1128: 18 gauge has 1537 cmil, 0.78 mm2, and 16 gauge 2336 cmil, 1.18 mm2.

    Of copper at 90 degC 1 A loses 0.11 and 0.07 V in 4 m of them.
    """
    body = example(
        "wire-sizing", standard="SAE", load_current_a=1, length_m=2, return_path="wire",
        limit_drop_v=limit_v, limit_drop_percent=None, inrush_current_a=None,
        contacts_resistance_ohm=0,
    )  # fmt: skip
    answer, steps = hold("wire-sizing", body)
    assert [each["size"] for each in answer["candidates"]] == sizes
    symbols = {step["symbol"] for step in steps}
    assert "heat_left_w_per_m" in symbols  # how warm it gets was found by trial
    before = {symbol for symbol in symbols if symbol.startswith("candidates_1_margin_of")}
    assert before == ({"candidates_1_margin_of_loop_drop_v"} if len(sizes) > 1 else set())


@pytest.mark.parametrize("name", ["circuit-check", "relay-retrofit"])
def test_a_steady_circuit_shows_its_laws_and_heat(name):
    body = example(name)
    body["circuit"]["loads"][0]["circuit"] = "intermittent"  # a starter's would last a time
    for case in body["cases"]:
        del case["duration_s"]
    _, steps = hold(name, body)
    left = [step["symbol"] for step in steps if "_left_" in step["symbol"]]
    for wanted in ("voltage_left_v", "node_2_left_a", "heat_left_w_per_m"):
        assert any(symbol.endswith(wanted) for symbol in left)


def test_a_way_is_told_from_post_to_post_however_its_parts_are_named():
    """A wire given from its far end is passed all the same."""
    body = example("circuit-check")
    feed, _, rear, *_ = body["circuit"]["branches"]
    feed["temperature_c"] = 60
    rear["nodes"].reverse()
    for case in body["cases"]:
        del case["duration_s"]
    _, steps = hold("circuit-check", body)
    found = {step["symbol"]: step for step in steps}
    assert [found[f"part_{place}_current_a"]["meaning"] for place in range(1, 6)] == [
        "through key fuse",
        "through feed to key switch",
        "through key switch",
        "through wire to the rear",
        "through engine strap",
    ]
    assert "part_6_current_a" not in found
    # What comes through the feed goes on through the switch.
    into = {
        step["meaning"]: step["value"]
        for step in steps
        if re.match(r"node_\d+_into", step["symbol"])
    }
    assert into["into key in from feed to key switch"] > 0
    assert into["into key in from key switch"] < 0
    assert into["into battery post from the source"] > 0
    assert "voltage_left_v" in found
    # One temperature was given, the other is what the heat comes to.
    assert found["part_2_temperature_c"]["kind"] == "given"
    assert found["part_2_temperature_c"]["value"] == 60
    assert found["part_4_temperature_c"]["kind"] == "solved"


def plain_circuit(branches, loads):
    source = {"plus": "post", "open_circuit_v": 12, "internal_resistance_ohm": 0.01}
    return {
        "circuit": {"source": source, "branches": branches, "loads": loads},
        "cases": [{"name": "only"}],
    }


def test_a_way_through_another_load_is_not_gone_along():
    """Of two lamps in a row neither has a way of its own there and back."""
    lamp = {"kind": "resistance", "resistance_ohm": 2, "needed_v": 5}
    loads = [
        {"name": "first", "nodes": ["post", "middle"], **lamp},
        {"name": "second", "nodes": ["middle", "ground"], **lamp},
    ]
    _, steps = hold("circuit-check", plain_circuit([], loads))
    found = {step["symbol"]: step["value"] for step in steps}
    assert found["load_voltage_v"] == pytest.approx(12 * 2 / 4.01)
    assert not any(symbol.startswith(("part_", "node_", "voltage_left")) for symbol in found)


@pytest.mark.parametrize("amps", [1.0, 2.0])
def test_a_way_is_gone_along_whatever_its_current(amps):
    switch = {
        "name": "switch", "kind": "contact", "part": "switch", "nodes": ["post", "a"],
        "resistance_ohm": 0.5,
    }  # fmt: skip
    lamp = {"name": "lamp", "kind": "current", "current_a": amps, "nodes": ["a", "ground"]}
    _, steps = hold("circuit-check", plain_circuit([switch], [lamp]))
    found = {step["symbol"]: step["value"] for step in steps}
    assert found["part_1_current_a"] == pytest.approx(amps)
    assert found["part_1_drop_v"] == pytest.approx(0.5 * amps)


def test_the_longest_explanation_is_bounded():
    segments = [
        {"name": str(n), "kind": "wire", "size": f"{n % 20 + 5} AWG", "length_m": 0.01,
         "ambient_c": 20, "material": ("copper", "aluminium")[n % 2]}
        for n in range(100)
    ]  # fmt: skip
    _, steps = hold("voltage-drop", example("voltage-drop", segments=segments))
    assert len(to_json(steps)) < MOST_BYTES
    reading = {"kind": "contact", "part": "switch", "measured_v": 0.1}
    readings = [{**reading, "name": str(n)} for n in range(100)]
    _, steps = hold("drop-diagnosis", example("drop-diagnosis", readings=readings))
    assert len(to_json(steps)) < MOST_BYTES
    positions = [f"position {n}" for n in range(10)]
    loads = [{"name": str(n), "current_a": 1 + n, "positions": positions} for n in range(50)]
    _, steps = hold("switch-loading", example("switch-loading", loads=loads, supply_v=None))
    assert len(to_json(steps)) < MOST_BYTES
