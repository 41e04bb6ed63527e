"""Inputs within bounds: what outputs do, what matters most, and ends without a solution."""

import copy

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import NoOperatingPoint
from lastvolt_service.operations.circuits.assembly import rest_all
from lastvolt_service.operations.circuits.bounds import CasePins
from lastvolt_service.operations.circuits.check import CircuitCheckRequest
from lastvolt_service.operations.circuits.intervals import Pins, intervals, middle, study
from lastvolt_service.operations.circuits.states import load_states, relay_states
from lastvolt_service.schemas.described import schema_class
from lastvolt_service.units import Interval

DRAWS, BATCH = 1000, 250


def between(low, high):
    return {"low": low, "high": high}


def test_bounds_are_found_and_filled_in_one_order():
    data = {"a": 1, "b": [Interval(1, 3), {"c": Interval(4, 8)}], "d": "text"}
    assert list(intervals(data)) == [(("b", 0), (1, 3)), (("b", 1, "c"), (4, 8))]
    assert middle([interval for _, interval in intervals(data)]) == (2, 6)
    assert Pins(data).put(iter([2.5, 7.0])) == {"a": 1, "b": [2.5, {"c": 7.0}], "d": "text"}


def each(function):
    """A function of one point for many, its errors among the answers."""

    def answer(values):
        try:
            return function(values)
        except NoOperatingPoint as error:
            return error

    return lambda points: [answer(values) for values in points]


def test_corners_of_a_monotone_function_by_hand():
    found = study(
        [Interval(10, 14), Interval(1, 3), Interval(2, 2)],
        each(lambda values: {"i": values[0] / values[1], "r": values[1] * values[2]}),
    )
    assert found.spreads["i"].nominal == 6
    assert (found.spreads["i"].low, found.spreads["i"].high) == (10 / 3, 14)
    assert (found.spreads["r"].low, found.spreads["r"].high) == (2, 6)
    assert_allclose(found.effects["i"], [(14 - 10) / 2, 12 / 3 - 12 / 1, 0])
    assert found.unsolved == ()


def test_an_extreme_at_an_end_of_one_input_is_not_missed():
    # Highest where the input is at either end, so that its own change from end to end is nought.
    found = study([Interval(-1, 1), Interval(0, 1)], each(lambda v: {"y": v[0] ** 2 + v[1]}))
    assert found.spreads["y"].high == 2


def test_ends_without_a_solution_are_told_and_the_rest_stands():
    def outputs(values):
        if values[0] > 8:
            raise NoOperatingPoint("too much")
        return {"y": values[0] + values[1]}

    found = study([Interval(0, 10), Interval(0, 2)], each(outputs))
    assert found.unsolved == ("too much",)
    assert (found.spreads["y"].low, found.spreads["y"].high) == (0, 7)
    # The end that has no solution counts to the middle only.
    assert found.effects["y"] == (5, 2)


def test_no_solution_in_the_middle_is_an_error():
    def never(values):
        raise NoOperatingPoint(f"{len(values)} inputs")

    with pytest.raises(NoOperatingPoint):
        study([Interval(0, 1)], each(never))


CONTACT = {"kind": "contact", "ages": True}
CIRCUIT = {
    "source": {
        "plus": "post",
        "open_circuit_v": between(11.8, 12.8),
        "internal_resistance_ohm": between(0.004, 0.03),
    },
    "branches": [
        {
            **CONTACT,
            "name": "switch",
            "part": "switch",
            "nodes": ["post", "a"],
            "resistance_ohm": between(0.005, 0.09),
        },
        {
            "name": "feed",
            "kind": "wire",
            "nodes": ["a", "b"],
            "size": "12 AWG",
            "length_m": between(5, 9),
            "insulation": "GXL",
        },
        {
            **CONTACT,
            "name": "ground",
            "part": "ground",
            "nodes": ["c", "ground"],
            "resistance_ohm": between(0.0005, 0.02),
        },
    ],
    "loads": [
        {
            "name": "solenoid",
            "kind": "solenoid",
            "zone": "starter",
            "nodes": ["b", "c"],
            "rated": {"pull_in_v": between(7.2, 8.0), "resistance_ohm": between(0.9, 1.3)},
        },
        {"name": "lamp", "kind": "power", "nodes": ["b", "ground"], "power_w": between(10, 25)},
    ],
}
CASE = {
    "name": "hot",
    "ageing_factor": between(1, 2),
    "zone_ambients_c": {"starter": between(60, 120)},
}
RELAY = {
    "name": "relay",
    "coil_resistance_ohm": between(80, 100),
    "pick_up_v": 6.5,
    "drop_out_v": 1.0,
    "contact_resistance_ohm": between(0.002, 0.01),
    "coil_nodes": ["a", "ground"],
    "contact_nodes": ["post", "d"],
}
WITH_RELAY = {
    **CIRCUIT,
    "loads": [
        *CIRCUIT["loads"],
        {"name": "pump", "kind": "resistance", "nodes": ["d", "ground"], "resistance_ohm": 1.5},
    ],
    "relays": [RELAY],
}


def ask(run, circuit=CIRCUIT, case=CASE):
    return run("circuit-check", circuit=circuit, cases=[case])


# 87a feeds a second lamp while the relay is open: within these bounds it may be either.
CHANGEOVER = {
    **CIRCUIT,
    "loads": [
        {"name": name, "kind": "resistance", "nodes": [node, "ground"], "resistance_ohm": 1.5}
        for name, node in (("working lamp", "d"), ("resting lamp", "e"))
    ],
    "branches": [{**CIRCUIT["branches"][0], "nodes": ["post", "a"]}],
    "relays": [
        {**RELAY, "pick_up_v": between(11.5, 12.3), "contact_nodes": ["a", "d"],
         "break_nodes": ["a", "e"], "drop_out_v": 2.0},
    ],
}  # fmt: skip
CIRCUITS = {"plain": CIRCUIT, "with a relay": WITH_RELAY, "changeover": CHANGEOVER}


def seen_at(state):
    """Every voltage that is told within bounds, at one point of them."""
    seen = {}
    for load in load_states(state):
        seen["load_voltage", load.name] = load.voltage_v
        if load.margin_v is not None:
            seen["load_margin", load.name] = load.margin_v
    for relay in relay_states(state):
        seen["coil_voltage", relay.name] = relay.coil_v
        seen["coil_margin", relay.name] = relay.coil_v - relay.pick_up_v
    return seen


@pytest.mark.parametrize(
    "draws", [DRAWS, pytest.param(10_000, id="10,000", marks=pytest.mark.long)]
)
@pytest.mark.parametrize("name", CIRCUITS)
def test_bounds_hold_every_inner_point(run, name, draws):
    """A relay that stays closed throughout leaves every output monotone; else it is about."""
    circuit = CIRCUITS[name]
    told = {(item.code, item.part): item for item in ask(run, circuit).cases[0].spreads}
    assert {item.is_about for item in told.values()} == {name == "changeover"}
    loaded = schema_class(CircuitCheckRequest)().load({"circuit": circuit, "cases": [CASE]})
    pins = CasePins(loaded.circuit, loaded.cases[0])
    generator = np.random.default_rng(20240607)
    missed = set()
    for _ in range(draws // BATCH):
        points = [
            pins.put([generator.uniform(*each) for _, each in pins.given]) for _ in range(BATCH)
        ]
        for state in rest_all(points):
            for key, value in seen_at(state).items():
                if key not in told:  # a relay that is open in the middle has no margin to tell
                    assert name == "changeover"
                    continue
                spread = told[key]
                if not spread.low_v - 1e-12 <= value <= spread.high_v + 1e-12:
                    missed.add(key)
    # Where something switches, what is told is about that, and says so.
    assert not missed or name == "changeover"


def test_influences_are_ranked_and_signed(run):
    found = ask(run).cases[0].influences
    changes = [abs(item.change_v) for item in found]
    assert changes == sorted(changes, reverse=True)
    by_input = {item.input: item.change_v for item in found}
    assert by_input["circuit/source/open_circuit_v"] > 0
    assert by_input["circuit/loads/0/rated/resistance_ohm"] > 0
    for name in ("circuit/branches/0/resistance_ohm", "circuit/branches/1/length_m"):
        assert by_input[name] < 0
    # What the solenoid needs does not change what reaches it.
    assert by_input["circuit/loads/0/rated/pull_in_v"] == 0
    assert "cases/hot/zone_ambients_c/starter" in by_input
    assert len(by_input) == 10


def test_change_of_an_influence_is_that_of_its_ends_alone(run):
    flat = pinned_in_the_middle([CIRCUIT, CASE])
    ends = []
    for resistance_ohm in (0.005, 0.09):
        circuit, case = copy.deepcopy(flat)
        circuit["branches"][0]["resistance_ohm"] = resistance_ohm
        ends.append(ask(run, circuit, case).cases[0].loads[0].voltage_v)
    found = {item.input: item.change_v for item in ask(run).cases[0].influences}
    assert_allclose(found["circuit/branches/0/resistance_ohm"], ends[1] - ends[0], atol=1e-9)


def pinned_in_the_middle(value):
    if isinstance(value, dict):
        if value.keys() == {"low", "high"}:
            return 0.5 * (value["low"] + value["high"])
        return {key: pinned_in_the_middle(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [pinned_in_the_middle(inner) for inner in value]
    return value


def test_the_state_itself_is_that_of_the_middle(run):
    state = ask(run).cases[0]
    flat = ask(run, *pinned_in_the_middle([CIRCUIT, CASE])).cases[0]
    assert state.loads == flat.loads
    assert state.nodes == flat.nodes
    assert flat.spreads == flat.influences == ()


def test_a_number_without_width_changes_nothing(run):
    circuit = pinned_in_the_middle(CIRCUIT)
    circuit["branches"][0]["resistance_ohm"] = between(0.03, 0.03)
    state = ask(run, circuit, pinned_in_the_middle(CASE)).cases[0]
    assert all(item.low_v == item.nominal_v == item.high_v for item in state.spreads)
    assert [item.change_v for item in state.influences] == [0]


# By hand: 14 V behind 1 ohm feed 49 W at most; the upper end asks for 60 W.
def test_an_end_that_cannot_be_fed_is_a_failed_check(run):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 14, "internal_resistance_ohm": 1},
        "branches": [],
        "loads": [
            {
                "name": "inverter",
                "kind": "power",
                "nodes": ["post", "ground"],
                "power_w": between(10, 60),
                "needed_v": 6,
            }
        ],
    }
    answer = ask(run, circuit, {"name": "only"})
    state = answer.cases[0]
    (check,) = [item for item in state.checks if item.code == "rest_within_bounds"]
    assert check.verdict == state.verdict == "fail"
    assert '"post"' in check.message
    assert (check.part, check.case) == ("inverter", "only")
    assert answer.weakest == check
    assert check in answer.checks
    # V = 7 + sqrt(49 - P) at the middle and at the low end, all that there is.
    (volts,) = [item for item in state.spreads if item.code == "load_voltage"]
    assert_allclose([volts.low_v, volts.high_v], [7 + 14**0.5, 7 + 39**0.5], rtol=1e-9)


# By hand: 12 V behind 1 ohm feed 36 W at most: the lower end can be fed, the middle cannot.
def test_a_middle_that_cannot_be_fed_is_undecided(run):
    circuit = {
        "source": {"plus": "post", "open_circuit_v": 12, "internal_resistance_ohm": 1},
        "branches": [],
        "loads": [
            {
                "name": "inverter",
                "kind": "power",
                "nodes": ["post", "ground"],
                "power_w": between(35, 39),
            }
        ],
    }
    (state,) = ask(run, circuit, {"name": "only"}).cases
    verdicts = {each.verdict for each in state.checks if each.code == "operating_point"}
    assert verdicts == {"undecided"}
