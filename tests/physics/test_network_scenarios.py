"""Many scenarios of one shape at once: as each by itself, and none spoils another."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import FloatingPart, NoSteadyTemperature, SourceShort
from lastvolt_service.physics.network.rest import rest_states, solve
from lastvolt_service.physics.network.scenarios import stacked
from lastvolt_service.physics.network.sensitivity import sensitivities

from .random_networks import random_network

BOTH = pytest.mark.parametrize("plain", [True, False])
VALUES = (
    ("wires", "resistance_20_ohm"),
    ("resistors", "resistance_ohm"),
    ("coils", "resistance_ohm"),
    ("contacts", "resistance_ohm"),
    ("sources", "emf_v"),
    ("chargers", "limit_a"),
    ("motors", "back_v"),
    ("lamps", "rated_a"),
    ("current_loads", "current_a"),
    ("power_loads", "power_w"),
)


def scattered(net, rng):
    """The network with all its values up to a fifth off."""
    groups = {}
    for kind, field in VALUES:
        elements = getattr(net, kind)
        factor = rng.uniform(0.8, 1.2, len(elements))
        groups[kind] = replace(elements, **{field: getattr(elements, field) * factor})
    return replace(net, **groups)


@BOTH
@pytest.mark.parametrize("seed", range(40))
def test_side_by_side_as_each_by_itself(network, seed, plain):
    rng = np.random.default_rng(seed)
    net = random_network(network, seed, heavy=seed % 2 == 1)
    nets = [scattered(net, rng) for _ in range(7)]
    before = rng.random((7, len(net.coils))) < 0.5
    together = rest_states(network=nets, energised=before, plain=plain)
    rows = rest_states(network=stacked(nets), energised=before, plain=plain)
    for place, one in enumerate(nets):
        alone = rest_states(network=one, energised=before[place], plain=True)
        scale = np.max(np.abs(alone.node_voltage_v))
        for many in (together, rows):
            # Where the search begins is not the same: wires agree to a nanovolt of their balance.
            assert_allclose(many.node_voltage_v[place], alone.node_voltage_v, atol=1e-9 * scale)
            assert many.energised[place].tolist() == alone.energised.tolist()
            assert many.drawing[place].tolist() == alone.drawing.tolist()
            assert many.chatter[place] == alone.chatter
            assert_allclose(many.before_v[place], alone.before_v, atol=1e-9 * scale)
            assert_allclose(many.residual_a[place], 0.0, atol=1e-12 * scale / 1e-3)
            assert_allclose(many.power.emf_w[place], alone.power.emf_w, rtol=1e-6, atol=1e-6)


@BOTH
def test_bad_scenarios_are_named_and_spoil_no_other(network, plain):
    """Sound, wires that heat without end (24 A would make 20 + 24**2 degC),
    a short, sound again.
    """
    nets = [
        network(
            "g plus load",
            wires=[(1, 2, ohm), (2, 0, ohm)],
            sources=[(1, 0, 12.0, 0.01)],
            resistors=[(1, 0, across)],
            heating_k_per_a2=1.0,
            ceiling_c=250.0,
        )
        for ohm, across in ((1.0, 10.0), (0.05, 10.0), (1.0, 0.0), (1.5, 10.0))
    ]
    found = rest_states(network=nets, plain=plain)
    kinds = [type(fault) for fault in found.fault]
    assert kinds == [type(None), NoSteadyTemperature, SourceShort, type(None)]
    assert found.runaway.tolist() == [[False] * 2, [True] * 2, [False] * 2, [False] * 2]
    for place in (0, 3):
        alone = solve(network=nets[place])
        assert_allclose(found.node_voltage_v[place], alone.node_voltage_v, rtol=1e-9)
    assert np.isnan(found.node_voltage_v[1:3]).all()


def test_a_shape_that_floats_is_refused_before_any_value(network):
    net = network("g plus a b", wires=[(2, 3, 1.0)], sources=[(1, 0, 12.0, 0.1)])
    with pytest.raises(FloatingPart):
        rest_states(network=[net, net])


@BOTH
def test_relays_of_each_scenario_go_their_own_way(network, plain):
    """Pick-up at 7 V: with 12, 6.9, 6.9 V held, and 1 V held."""
    nets = [
        network(
            "g plus load",
            coils=[(1, 0, 90.0, 7.0, 1.5)],
            contacts=[(1, 2, 0.01, 0, False)],
            resistors=[(2, 0, 5.0)],
            sources=[(1, 0, volts, 0.0)],
        )
        for volts in (12.0, 6.9, 6.9, 1.0)
    ]
    found = rest_states(network=nets, energised=[[False], [False], [True], [True]], plain=plain)
    assert found.energised[:, 0].tolist() == [True, False, True, False]
    assert_allclose(found.before_v[:, 0], [12.0, 6.9, 6.9, 1.0])
    assert_allclose(found.contacts.drop_v[:, 0], [12 * 0.01 / 5.01, 6.9, 6.9 * 0.01 / 5.01, 1.0])


SLOPES = (
    ("wires", "wires", "resistance_20_ohm"),
    ("resistors", "resistors", "resistance_ohm"),
    ("contacts", "contacts", "resistance_ohm"),
    ("coils", "coils", "resistance_ohm"),
    ("motors", "motors", "resistance_ohm"),
    ("diodes", "diodes", "resistance_ohm"),
    ("source_emfs", "sources", "emf_v"),
    ("source_resistances", "sources", "internal_resistance_ohm"),
    ("charger_voltages", "chargers", "regulated_v"),
    ("charger_resistances", "chargers", "internal_resistance_ohm"),
    ("charger_limits", "chargers", "limit_a"),
    ("back_voltages", "motors", "back_v"),
    ("forward_voltages", "diodes", "forward_v"),
    ("lamps", "lamps", "rated_a"),
    ("current_loads", "current_loads", "current_a"),
    ("power_loads", "power_loads", "power_w"),
)


def test_sensitivities_of_all_elements_are_the_differences(network):
    """Three scenarios: the charger regulates, keeps to its limit, and blocks as the diode does."""
    rows = {
        "wires": [(1, 2, 0.05), (2, 3, 0.02), (1, 3, 0.2), (4, 0, 0.03)],
        "resistors": [(3, 4, 1.5), (2, 0, 7.0)],
        "coils": [(3, 0, 90.0, 7.0, 1.5)],
        "contacts": [(1, 5, 0.05, 0, False)],
        "motors": [(5, 0, 0.8, 8.0), (3, 0, 1.0, 40.0)],
        "lamps": [(2, 4, 12.0, 3.0, 0.6)],
        "current_loads": [(3, 4, 5.0)],
        "power_loads": [(3, 4, 40.0), (2, 0, 20.0)],
    }
    nets = [
        network(
            "g a b c d e",
            heating_k_per_a2=0.05,
            sources=[(1, 0, emf_v, 0.02)],
            chargers=[(2, 0, charge_v, 0.1, limit_a)],
            diodes=[(2, 4, 1.0, forward_v)],
            **rows,
        )
        for emf_v, charge_v, limit_a, forward_v in (
            (12.6, 13.4, 80.0, 0.7), (12.6, 14.2, 8.0, 0.7), (12.6, 10.0, 80.0, 20.0),
        )
    ]  # fmt: skip
    plus, minus = [3, 5], [4, 0]
    whole = stacked(nets)
    solution = rest_states(network=whole)
    assert [modes[0] for modes in solution.modes] == [0, 2, 1]
    found = sensitivities(network=whole, solution=solution, plus=plus, minus=minus)
    for name, kind, value in SLOPES:
        values = getattr(getattr(whole, kind), value)
        for chosen in range(values.shape[1]):
            step = 1e-5 * values[:, chosen]
            ends = []
            for sign in (-1.0, 1.0):
                changed = values.copy()
                changed[:, chosen] += sign * step
                group = replace(getattr(whole, kind), **{value: changed})
                volts = rest_states(network=replace(whole, **{kind: group})).node_voltage_v
                ends.append(volts[:, plus] - volts[:, minus])
            difference = (ends[1] - ends[0]) / (2 * step[:, None])
            # The wires' balance leaves a nanovolt; the slope of their temperature is itself a
            # difference of one part in a thousand.
            got = getattr(found, name)[:, :, chosen]
            assert_allclose(got, difference, rtol=1e-3, atol=3e-5, err_msg=f"{name} {chosen}")
            alone = sensitivities(
                network=nets[1], solution=rest_states(network=nets[1]), plus=plus, minus=minus
            )
            assert_allclose(getattr(alone, name)[:, chosen], got[1], rtol=1e-6, atol=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_harness_of_any_resistances_is_solved_alike_in_arrays(network, seed):
    """Loops that share few branches, from microhms to megohms: another way to the same currents."""
    rng = np.random.default_rng(seed)

    def ohm(low, high):
        return float(10 ** rng.uniform(low, high))

    feeds, loads = 3, 20
    names = " ".join(f"n{node}" for node in range(2 + feeds + loads))
    rows = [(1, 2 + feed, ohm(-6, 3)) for feed in range(feeds)]
    for load in range(loads):
        node, feed = 2 + feeds + load, 2 + int(rng.integers(feeds))
        rows += [(feed, node, ohm(-6, 3)), (node, 0, ohm(-3, 6))]
    net = network(names, resistors=rows, sources=[(1, 0, 12.0, ohm(-4, 0))])
    few, many = (rest_states(network=net, plain=plain) for plain in (True, False))
    assert_allclose(many.resistors.current_a, few.resistors.current_a, rtol=1e-11)
    assert_allclose(many.node_voltage_v, few.node_voltage_v, rtol=1e-11, atol=1e-14)
    assert many.residual_a < 1e-13 * max(1.0, few.sources.current_a[0])


@BOTH
def test_a_jumper_across_one_of_many_parallel_contacts(network, plain):
    """40 contacts of 1.5 ohm side by side, in each scenario another one perfect."""
    nets = []
    for perfect in range(40):
        ohms = [0.0 if place == perfect else 1.5 for place in range(40)]
        rows = [(1, 2, ohm) for ohm in ohms]
        nets.append(network("g plus a", resistors=[*rows, (2, 0, 6.0)], sources=[(1, 0, 12.0, 0)]))
    found = rest_states(network=nets, plain=plain)
    assert found.fault == [None] * 40
    assert_allclose(found.resistors.current_a[:, :40], 2.0 * np.eye(40), atol=1e-13)
    assert_allclose(found.node_voltage_v[:, 2], 12.0, rtol=1e-14)


class Warm:
    """Temperatures by the square of the current, side by side and one by one."""

    def __init__(self, wires, k_per_a2):
        self.singles = [lambda amps: 20.0 + k_per_a2 * amps**2] * wires
        self._k_per_a2 = k_per_a2

    def __call__(self, current_a):
        return 20.0 + self._k_per_a2 * current_a**2


@pytest.mark.parametrize("seed", range(20))
def test_wires_one_by_one_as_side_by_side(network, seed):
    net = random_network(network, seed)
    rows = len(net.wires)
    together = rest_states(network=net, plain=True)
    one_by_one = replace(net, wires=replace(net.wires, temperature_of=Warm(rows, 0.004)))
    found = rest_states(network=one_by_one, plain=True)
    assert_allclose(found.node_voltage_v, together.node_voltage_v, rtol=1e-12, atol=1e-12)
    assert_allclose(found.wire_temperature_c, together.wire_temperature_c, rtol=1e-12)


@BOTH
@pytest.mark.parametrize("seed", range(20))
def test_where_a_search_begins_does_not_matter(network, seed, plain):
    """From the lines of a state with other values: the same rest, in fewer steps at the least."""
    rng = np.random.default_rng(seed)
    net = random_network(network, seed)
    other = scattered(net, rng)
    cold = rest_states(network=net, plain=plain)
    warm = rest_states(network=net, near=rest_states(network=other), plain=plain)
    scale = np.max(np.abs(cold.node_voltage_v))
    assert_allclose(warm.node_voltage_v, cold.node_voltage_v, atol=1e-9 * scale)
    assert warm.energised.tolist() == cold.energised.tolist()
    again = rest_states(network=net, near=cold, plain=plain)
    assert again.iterations <= cold.iterations


def test_a_state_nearby_that_is_too_hot_here_does_not_count(network):
    """12 V on 1 ohm make 20 + 144 degC at the most; the one nearby has 10 times the current."""
    rows = {"sources": [(1, 0, 12.0, 0.0)], "heating_k_per_a2": 1.0, "ceiling_c": 170.0}
    near = solve(network=network("g a", wires=[(1, 0, 0.1)], **rows | {"ceiling_c": 1e9}))
    net = network("g a", wires=[(1, 0, 1.0)], **rows)
    assert_allclose(
        rest_states(network=net, near=near).wires.current_a,
        solve(network=net).wires.current_a,
        rtol=1e-9,
    )


@BOTH
def test_relays_that_moved_are_told(network, plain):
    """In a chain both pull in, the second by the first; held, none moves; a buzzer moves on."""
    chain = network(
        "g plus a b",
        coils=[(1, 0, 90.0, 7.0, 1.5), (2, 0, 90.0, 7.0, 1.5)],
        contacts=[(1, 2, 0.01, 0, False), (2, 3, 0.01, 1, False)],
        resistors=[(3, 0, 5.0)],
        sources=[(1, 0, 12.0, 0.0)],
    )
    found = rest_states(network=[chain] * 2, energised=[[False] * 2, [True] * 2], plain=plain)
    assert found.moved == [(0, 1), ()]
    assert_allclose(found.before_v[0], [12.0, 12.0 * 90 / 90.01], rtol=1e-12)
    assert found.scenario(0).moved == (0, 1)
