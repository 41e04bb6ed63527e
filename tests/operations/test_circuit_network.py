"""Networks against scipy on the same nonlinear equations, and against the circuit laws."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.optimize import root

from lastvolt_service.operations.wires.heated_wire import heated_wire, side_by_side
from lastvolt_service.physics.heating import conductor_temperature

AMBIENT_C = 70.0


def wire(name, start, end, size, length_m):
    return {
        "name": name,
        "kind": "wire",
        "nodes": [start, end],
        "size": size,
        "length_m": length_m,
        "ambient_c": AMBIENT_C,
        "insulation": "GXL",
    }


def contact(name, start, end, ohm, part="connector", **fields):
    return {
        "name": name,
        "kind": "contact",
        "part": part,
        "nodes": [start, end],
        "resistance_ohm": ohm,
        **fields,
    }


def load(name, start, end, **value):
    (quantity,) = value
    kind = {"resistance_ohm": "resistance", "current_a": "current", "power_w": "power"}[quantity]
    return {"name": name, "kind": kind, "nodes": [start, end], **value}


def circuit(branches, loads, emf_v=12.6, ohm=0.008):
    source = {"plus": "post", "open_circuit_v": emf_v, "internal_resistance_ohm": ohm}
    return {"source": source, "branches": branches, "loads": loads}


def check(run, made, **case):
    return run("circuit-check", circuit=made, cases=[{"name": "only", **case}])


# Two grounds in parallel, a feed shared by two loads, and a ring of wires fed at one corner.
PARALLEL_GROUNDS = circuit(
    [
        wire("feed", "post", "load", "14 AWG", 3.0),
        wire("ground wire", "frame", "ground", "16 AWG", 1.5),
        contact("ground strap", "frame", "ground", 0.03, "ground"),
    ],
    [load("blower", "load", "frame", resistance_ohm=0.6)],
)
SHARED_FEED = circuit(
    [
        wire("feed", "post", "hub", "12 AWG", 4.0),
        wire("to pump", "hub", "pump", "16 AWG", 2.0),
        wire("to lamps", "hub", "lamps", "18 AWG", 2.5),
        contact("pump ground", "pump back", "ground", 0.01, "ground"),
    ],
    [
        load("pump", "pump", "pump back", power_w=110),
        load("lamps", "lamps", "ground", resistance_ohm=1.9),
        load("clock", "lamps", "ground", current_a=0.4),
    ],
)
RING = circuit(
    [
        wire("left", "post", "west", "16 AWG", 3.0),
        wire("right", "post", "east", "14 AWG", 5.0),
        wire("across", "west", "east", "18 AWG", 2.0),
        wire("down", "east", "south", "16 AWG", 1.0),
    ],
    [
        load("heater", "west", "ground", resistance_ohm=1.1),
        load("radio", "south", "ground", power_w=60),
    ],
)


def by_scipy(made):
    """Node voltages and wire currents, and temperatures by `physics.heating`."""
    wires = [part for part in made["branches"] if part["kind"] == "wire"]
    contacts = [part for part in made["branches"] if part["kind"] == "contact"]
    warm = [
        heated_wire(size=part["size"], ambient_c=AMBIENT_C, insulation_kind=part["insulation"])
        for part in wires
    ]
    lengths = np.array([part["length_m"] for part in wires])
    ohm_20 = np.array([item.conductor.resistance_20_ohm_per_m for item in warm]) * lengths
    per_k = np.array([item.conductor.temperature_coefficient_per_k for item in warm])
    parts = [*wires, *contacts, *made["loads"]]
    names = list(dict.fromkeys(node for part in parts for node in part["nodes"]))
    names.remove("ground")
    place = {name: index for index, name in enumerate(names)}
    emf_v = made["source"]["open_circuit_v"]
    inside_ohm = made["source"]["internal_resistance_ohm"]

    def temperatures(amps):
        return conductor_temperature(
            current_a=np.abs(amps),
            wire=side_by_side(warm).physics,
            ceiling_c=np.full(len(warm), 400.0),
        ).conductor_temperature_c

    def balance(unknown):
        volts = {name: unknown[index] for name, index in place.items()} | {"ground": 0.0}
        amps = unknown[len(names) :]
        into = dict.fromkeys(volts, 0.0)
        into["post"] += (emf_v - volts["post"]) / inside_ohm

        def flow(part, current_a):
            into[part["nodes"][0]] -= current_a
            into[part["nodes"][1]] += current_a

        def across(part):
            return volts[part["nodes"][0]] - volts[part["nodes"][1]]

        for part, current_a in zip(wires, amps, strict=True):
            flow(part, current_a)
        for part in contacts:
            flow(part, across(part) / part["resistance_ohm"])
        for part in made["loads"]:
            if "power_w" in part:
                flow(part, part["power_w"] / across(part))
            elif "current_a" in part:
                flow(part, part["current_a"])
            else:
                flow(part, across(part) / part["resistance_ohm"])
        ohm = ohm_20 * (1.0 + per_k * (temperatures(amps) - 20.0))
        drops = [across(part) for part in wires] - ohm * amps
        return [*(into[name] for name in names), *drops]

    grounds = {"frame", "pump back"}
    start = [*(0.1 if name in grounds else 0.9 * emf_v for name in names), *np.ones(len(wires))]
    found = root(balance, start, method="hybr", tol=1e-12)
    assert np.max(np.abs(balance(found.x))) < 1e-8
    amps = found.x[len(names) :]
    return dict(zip(names, found.x, strict=False)), amps, temperatures(amps)


@pytest.mark.parametrize(
    "made", [PARALLEL_GROUNDS, SHARED_FEED, RING], ids=["grounds", "shared feed", "ring"]
)
def test_self_heating_network_is_the_root_that_scipy_finds(run, made):
    volts, amps, warm_c = by_scipy(made)
    state = check(run, made).cases[0]
    told = {node.name: node.voltage_v for node in state.nodes}
    # Of scipy 1e-8 A and V are left unbalanced, times milliohms and the loads' ohms.
    for name, expected_v in volts.items():
        assert_allclose(told[name], expected_v, atol=1e-7)
    wires = [part for part in state.parts if part.kind == "wire"]
    assert_allclose([part.current_a for part in wires], amps, atol=1e-6)
    assert_allclose([part.temperature_c for part in wires], warm_c, atol=1e-4)
    assert max(warm_c) > AMBIENT_C + 5  # or there would be nothing to find
    assert state.residual_a < 1e-9


@pytest.mark.parametrize(
    "made", [PARALLEL_GROUNDS, SHARED_FEED, RING], ids=["grounds", "shared feed", "ring"]
)
def test_what_leaves_the_source_arrives_somewhere(run, made):
    state = check(run, made).cases[0]
    parts = [*state.parts, *state.loads]
    assert_allclose(
        state.source_v * state.source_current_a, sum(part.power_w for part in parts), rtol=1e-9
    )
    for part in made["branches"] + made["loads"]:
        told = next(item for item in parts if item.name == part["name"])
        volts = {node.name: node.voltage_v for node in state.nodes}
        across_v = volts[part["nodes"][0]] - volts[part["nodes"][1]]
        assert_allclose(getattr(told, "drop_v", None) or told.voltage_v, across_v, atol=1e-9)


def resistors(ohms):
    """A ladder of given resistances: feed, switch, two grounds in parallel, and a side load."""
    feed, switch, first, second, side = ohms
    return circuit(
        [
            {"name": "feed", "kind": "resistance", "nodes": ["post", "a"], "resistance_ohm": feed},
            contact("switch", "a", "b", switch, "switch"),
            contact("first ground", "c", "ground", first, "ground"),
            contact("second ground", "c", "ground", second, "ground"),
        ],
        [
            {**load("main", "b", "c", resistance_ohm=1.2), "needed_v": 9.0},
            load("side", "a", "ground", resistance_ohm=side),
        ],
    )


OHMS = st.tuples(*[st.floats(0.001, 0.5)] * 4, st.floats(0.5, 20))


def bridged(made, name):
    branches = [
        {**part, "resistance_ohm": 0.0} if part["name"] == name else part
        for part in made["branches"]
    ]
    return {**made, "branches": branches}


def main_v(checked):
    return checked.cases[0].loads[0].voltage_v


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(OHMS)
def test_what_a_part_costs_is_what_a_jumper_brings(run, ohms):
    made = resistors(ohms)
    checked = check(run, made)
    now_v = main_v(checked)
    regained = {mend.name: mend.costs_v for mend in checked.mend_first}
    for part in made["branches"]:
        # Mending never lowers the load's voltage.
        better_v = main_v(check(run, bridged(made, part["name"])))
        assert better_v >= now_v - 1e-9
        if part["name"] in regained:
            assert_allclose(regained[part["name"]], better_v - now_v, atol=1e-9)
        # A sound contact is no perfect one.
    for mend in checked.mend_first:
        assert 0 <= mend.regained_v <= mend.costs_v + 1e-9
    order = [(-mend.regained_v, -mend.costs_v) for mend in checked.mend_first]
    assert order == sorted(order)


# By hand, 12 V through 0.2 + 0.1 + 0.3 + 5.4 ohm: 2 A. Without the 0.3 ohm the load has
# 12 V * 5.4 / 5.7, without the 0.2 ohm 12 V * 5.4 / 5.8, and without the 0.1 ohm 12 V * 5.4 / 5.9.
def test_order_of_mending_by_hand(run):
    made = circuit(
        [
            contact("switch", "post", "a", 0.2, "switch"),
            contact("plug", "a", "b", 0.1),
            contact("ground", "c", "ground", 0.3, "ground"),
        ],
        [load("lamp", "b", "c", resistance_ohm=5.4)],
        emf_v=12.0,
        ohm=0.0,
    )
    mends = check(run, made).mend_first
    assert [mend.name for mend in mends] == ["ground", "switch", "plug"]
    assert_allclose(
        [mend.costs_v for mend in mends],
        [64.8 / 5.7 - 10.8, 64.8 / 5.8 - 10.8, 64.8 / 5.9 - 10.8],
        atol=1e-9,
    )


# 12 V through little and 12 ohm: 1 A, and a contact costs its milliohms in millivolts.
def test_what_costs_a_millivolt_is_worth_mending(run):
    made = circuit(
        [contact("poor", "post", "a", 0.0015), contact("sound", "a", "b", 0.0005)],
        [load("lamp", "b", "ground", resistance_ohm=12.0)],
        emf_v=12.0,
        ohm=0.0,
    )
    assert [mend.name for mend in check(run, made).mend_first] == ["poor"]


def test_a_jumper_beside_a_perfect_part_is_still_told(run):
    made = circuit(
        [
            contact("plug", "post", "a", 0.2),
            contact("link", "post", "b", 0.1),
            contact("bar", "a", "b", 0.0),
        ],
        [load("lamp", "b", "ground", resistance_ohm=5.0)],
    )
    mends = {mend.name: mend.costs_v for mend in check(run, made).mend_first}
    now_v = main_v(check(run, made))
    assert_allclose(mends["link"], main_v(check(run, bridged(made, "link"))) - now_v, atol=1e-6)


def test_a_load_that_is_off_has_nothing_to_mend(run):
    made = resistors((0.1, 0.1, 0.1, 0.1, 5.0))
    checked = check(run, made, without=["main"])
    assert checked.mend_first == ()
    assert [part.name for part in checked.cases[0].loads] == ["side"]


def test_decisive_load_is_the_first_that_needs_a_voltage_or_the_one_asked_for(run):
    made = resistors((0.1, 0.1, 0.1, 0.1, 5.0))
    made["loads"].reverse()
    assert check(run, made).decisive_load == "main"
    asked = run("circuit-check", circuit=made, cases=[{"name": "only"}], decisive_load="side")
    assert asked.decisive_load == "side"
    assert {mend.name for mend in asked.mend_first} == {"feed"}
