"""The network solver: conservation, loads, heat and sensitivities."""

from collections.abc import Callable, Sequence
from dataclasses import fields, replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from lastvolt_service.errors import ImpossibleLoad
from lastvolt_service.physics.network import topology
from lastvolt_service.physics.network.elements import Network
from lastvolt_service.physics.network.power import stable_voltages
from lastvolt_service.physics.network.rest import solve
from lastvolt_service.physics.network.sensitivity import sensitivities
from lastvolt_service.physics.network.solution import Solution
from lastvolt_service.physics.path import power_load_voltages

Build = Callable[..., Network]
Row = Sequence[float]
SOURCE = {"sources": [(1, 0, 12.0, 0.01)]}
COPPER_PER_K = 0.00393


def vehicle(network: Build, seed: int) -> Network:
    """A random network with a feeding and a returning side, loads of every kind between them.

    Loads are small enough for the longest path, so that there always is an operating point.
    """
    rng = np.random.default_rng(seed)
    sides = [list(range(1, rng.integers(2, 8))), [0, *range(8, 8 + rng.integers(0, 6))]]
    used = sides[1] + sides[0]
    index = {node: new for new, node in enumerate(used)}
    feed, back = ([index[node] for node in side] for side in sides)
    rows: dict[str, list[Row]] = {"wires": [], "resistors": []}
    for side in (feed, back):
        for place, node in enumerate(side[1:], start=1):
            other = side[rng.integers(place)]
            ohm = 0.0 if rng.random() < 0.2 else 10 ** rng.uniform(-4, -1)
            rows[rng.choice(["wires", "resistors"])].append((other, node, ohm))
        for _ in range(rng.integers(0, 4)):
            ends = (*rng.choice(side, 2), 10 ** rng.uniform(-4, 0))
            rows[rng.choice(["wires", "resistors"])].append(ends)
    emf_v = rng.uniform(6, 28)
    internal_ohm = rng.choice([0.0, 10 ** rng.uniform(-3, -1)])
    rows["sources"] = [(feed[0], 0, emf_v, internal_ohm)]
    if rng.random() < 0.3:
        rows["sources"].append((rng.choice(feed), 0, emf_v * 1.1, 0.05))
    longest_ohm = 1.0 + sum(row[2] for kind in ("wires", "resistors") for row in rows[kind])

    def across() -> tuple[int, int]:
        return rng.choice(feed), rng.choice(back)

    for _ in range(rng.integers(0, 3)):
        rows["resistors"].append((*across(), longest_ohm * 10 ** rng.uniform(1, 6)))
    light_a = 0.02 * emf_v / longest_ohm
    some = rng.integers(0, 3, size=2)
    rows["current_loads"] = [(*across(), rng.uniform(0, light_a)) for _ in range(some[0])]
    rows["power_loads"] = [(*across(), rng.uniform(0, light_a * emf_v)) for _ in range(some[1])]
    names = " ".join(f"n{node}" for node in range(len(used)))
    return network(names, heating_k_per_a2=rng.choice([0.0, 0.05]), **rows)


def balance(solution: Solution) -> tuple[float, float]:
    parts = {item.name: getattr(solution.power, item.name) for item in fields(solution.power)}
    return parts.pop("emf_w"), sum(parts.values())


@settings(max_examples=500, deadline=None)
@given(st.integers(0, 2**32 - 1))
def test_kirchhoff_and_power_balance(network, seed):
    net = vehicle(network, seed)
    solution = solve(network=net)
    assert solution.residual_a < 1e-9
    assert solution.residual_v < 1e-8
    given_w, taken_w = balance(solution)
    assert_allclose(taken_w, given_w, rtol=1e-9, atol=1e-12)
    assert_allclose(solution.power_loads.power_w, net.power_loads.power_w, rtol=1e-9)
    assert_allclose(solution.wires.drop_v, _ohms_law(net, solution), rtol=1e-9, atol=1e-8)


def _ohms_law(net: Network, solution: Solution):
    temperature_c = net.wires.temperature_of(np.abs(solution.wires.current_a))
    warm = 1 + COPPER_PER_K * (temperature_c - 20.0)
    return net.wires.resistance_20_ohm * warm * solution.wires.current_a


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 2**32 - 1), st.floats(0, 1))
def test_mending_any_part_never_lowers_the_voltage_of_the_one_load(network, seed, factor):
    """Rayleigh: between two nodes, less resistance anywhere is never more resistance in all."""
    rng = np.random.default_rng(seed)
    rows = []
    for side in ([1, 3, 4, 2], [0, 5, 6, 7]):  # both ends of a side are the battery and the load
        rows += [(a, b, 10 ** rng.uniform(-4, -1)) for a, b in pairwise(side)]
        rows += [(*rng.choice(side, 2), 10 ** rng.uniform(-4, 0)) for _ in range(3)]
    kind = rng.choice(["resistors", "current_loads", "power_loads"])
    load = {"resistors": 0.5, "current_loads": 8.0, "power_loads": 60.0}[kind]
    source = [(1, 0, 12.6, 0.01)]
    names = "ground plus c d load f g back"

    def load_v(chosen_rows):
        kinds = {"resistors": chosen_rows}
        kinds[kind] = [*kinds.get(kind, []), (2, 7, load)]
        voltage_v = solve(network=network(names, sources=source, **kinds)).node_voltage_v
        return voltage_v[2] - voltage_v[7]

    before_v = load_v(rows)
    chosen = rng.integers(len(rows))
    start, end, ohm = rows[chosen]
    rows[chosen] = (start, end, ohm * max(factor, 1e-6))
    assert load_v(rows) >= before_v - 1e-12


def test_series_circuit_is_the_voltage_divider(network):
    path_ohm = np.array([0.004, 0.0, 0.0213, 0.3, 0.0071])
    rows = [(node, node + 1, ohm) for node, ohm in enumerate(path_ohm, start=1)]
    net = network("g a b c d e f", wires=rows, resistors=[(6, 0, 1.7)], sources=[(1, 0, 12.6, 0)])
    solution = solve(network=net)
    current_a = 12.6 / (path_ohm.sum() + 1.7)
    assert_allclose(solution.wires.current_a, current_a, rtol=1e-14)
    assert_allclose(solution.wires.drop_v, current_a * path_ohm, rtol=1e-12, atol=1e-14)
    assert solution.iterations == 1


def test_megohms_beside_milliohms_keep_their_digits(network):
    """A divider of 1e6 ohm each way with perfect and nearly perfect wires in between."""
    net = network(
        "g plus a b c",
        resistors=[(1, 2, 1e6), (2, 3, 1e-6), (3, 4, 0.0), (4, 0, 1e6)],
        sources=[(1, 0, 12.0, 1e-3)],
    )
    assert_allclose(solve(network=net).node_voltage_v[4], 6.0, rtol=1e-9)


def test_self_heated_wire_meets_the_closed_form(network):
    """V = r (1 + a k I**2) I on one wire across a source: a cubic in I, solved by numpy."""
    net = network("g a", wires=[(1, 0, 0.5)], heating_k_per_a2=1.0, sources=[(1, 0, 12.0, 0.0)])
    roots = np.roots([0.5 * COPPER_PER_K, 0.0, 0.5, -12.0])
    expected_a = float(roots[np.abs(roots.imag) < 1e-9].real[0])
    solution = solve(network=net)
    assert_allclose(solution.wires.current_a, expected_a, rtol=1e-9)
    assert_allclose(solution.wire_temperature_c, 20 + expected_a**2, rtol=1e-9)


def test_overshoot_beyond_the_ceiling_is_no_fault(network):
    """Cold, the wire would draw 24 A and pass its ceiling; warm, it draws 13.8 A and does not."""
    net = network(
        "g a",
        wires=[(1, 0, 0.5)],
        heating_k_per_a2=1.0,
        ceiling_c=250.0,
        sources=[(1, 0, 12.0, 0.0)],
    )
    free = network("g a", wires=[(1, 0, 0.5)], heating_k_per_a2=1.0, sources=[(1, 0, 12.0, 0.0)])
    assert_allclose(
        solve(network=net).wires.current_a, solve(network=free).wires.current_a, rtol=1e-9
    )


@pytest.mark.parametrize("power_w", [0.0, 1e-6, 100.0, 359.999, 360.0])
def test_power_load_rests_at_the_higher_voltage(network, power_w):
    """12 V behind 0.1 ohm carries 12**2 / 0.4 = 360 W at most."""
    net = network(
        "g a b", resistors=[(1, 2, 0.1)], sources=[(1, 0, 12, 0)], power_loads=[(2, 0, power_w)]
    )
    stable_v, _ = power_load_voltages(supply_v=12.0, path_resistance_ohm=0.1, load_power_w=power_w)
    assert_allclose(solve(network=net).node_voltage_v[2], stable_v, rtol=1e-12)


@settings(max_examples=100, deadline=None)
@given(
    emf_v=st.floats(5, 30),
    ohm=st.floats(1e-3, 10),
    above=st.floats(-1e-3, 1e-3).filter(lambda share: abs(share) > 1e-12),
)
def test_power_load_exists_up_to_the_quarter(network, emf_v, ohm, above):
    """One load: there is an operating point if and only if V**2 >= 4 P R."""
    net = network(
        "g a b",
        resistors=[(1, 2, ohm)],
        sources=[(1, 0, emf_v, 0)],
        power_loads=[(2, 0, emf_v**2 / (4 * ohm) * (1 + above))],
    )
    if above > 0:
        with pytest.raises(ImpossibleLoad, match="at most") as caught:
            solve(network=net)
        assert caught.value.nodes == ("b", "g")
    else:
        assert solve(network=net).node_voltage_v[2] >= emf_v / 2


def test_many_power_loads_share_the_limit_of_one(network):
    """Equal loads on one node behave as one load of their sum."""
    for sum_w, possible in ((359.9999, True), (360.0001, False)):
        net = network(
            "g a b",
            resistors=[(1, 2, 0.1)],
            sources=[(1, 0, 12, 0)],
            power_loads=[(2, 0, sum_w / 5)] * 5,
        )
        if possible:
            expected_v, _ = power_load_voltages(
                supply_v=12.0, path_resistance_ohm=0.1, load_power_w=sum_w
            )
            assert_allclose(solve(network=net).node_voltage_v[2], expected_v, rtol=1e-9)
        else:
            with pytest.raises(ImpossibleLoad, match="at most 100 %"):
                solve(network=net)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 2**32 - 1), st.booleans())
def test_found_voltages_are_stable(seed, raising):
    """On the way up in power: the equations hold, and the Jacobian has positive eigenvalues."""
    rng = np.random.default_rng(seed)
    count = rng.integers(1, 6)
    factor = rng.normal(size=(count, count))
    factor = factor if raising else np.abs(factor)
    coupling_ohm = factor @ factor.T + 0.01 * np.eye(count)
    open_v, power_w = rng.uniform(3, 14, count), rng.uniform(0.01, 30, count)
    voltage_v, share = stable_voltages(
        open_circuit_v=open_v, coupling_ohm=coupling_ohm, power_w=power_w
    )
    if share < 1.0:
        assert np.isnan(voltage_v).all()
        # Just below the limit there is an operating point, which the checks below are for.
        power_w = power_w * share
        if share < 1e-3:
            return
        voltage_v, share = stable_voltages(
            open_circuit_v=open_v, coupling_ohm=coupling_ohm, power_w=power_w
        )
    assert share == 1.0
    assert_allclose(voltage_v + coupling_ohm @ (power_w / voltage_v), open_v, rtol=1e-10)
    jacobian = np.eye(count) - coupling_ohm * power_w / voltage_v**2
    assert np.linalg.eigvals(jacobian).real.min() > -1e-6


def test_loads_that_raise_each_other_are_found(network):
    """Loads on opposite sides of a bridge: each one's current lifts the other's voltage."""
    arms = [(1, 2, 1.0), (2, 0, 2.0), (1, 3, 2.0), (3, 0, 1.0)]
    net = network(
        "g plus up down",
        resistors=arms,
        sources=[(1, 0, 12, 0)],
        power_loads=[(2, 3, 2.0), (3, 0, 2.0), (1, 2, 2.0)],
    )
    solution = solve(network=net)
    assert_allclose(solution.power_loads.power_w, 2.0, rtol=1e-12)
    assert solution.power_loads.drop_v[0] > 2.0
    assert solution.residual_a < 1e-12


def test_load_lifted_above_its_open_circuit_voltage():
    """The second load lifts the first from 7 V to 11 V: found only by bringing the powers up."""
    coupling_ohm = np.array([[2.86, -1.51], [-1.51, 0.81]])
    open_v, power_w = np.array([7.0, 8.0]), np.array([3.0, 19.0])
    voltage_v, share = stable_voltages(
        open_circuit_v=open_v, coupling_ohm=coupling_ohm, power_w=power_w
    )
    assert share == 1.0
    assert voltage_v[0] > 11.0
    assert_allclose(voltage_v + coupling_ohm @ (power_w / voltage_v), open_v, rtol=1e-12)


def test_heating_takes_the_operating_point_away(network):
    """A power that the cold wire carries, and the warm one does not."""
    parts = {"wires": [(1, 2, 0.1)], "sources": [(1, 0, 12, 0)], "power_loads": [(2, 0, 355.0)]}
    assert solve(network=network("g a b", **parts)).node_voltage_v[2] > 6.0
    with pytest.raises(ImpossibleLoad):
        solve(network=network("g a b", heating_k_per_a2=0.1, **parts))


def test_solenoid_with_two_windings(network):
    """Pull-in winding to the motor's terminal, hold-in to ground: hand calculation."""
    net = network(
        "ground solenoid motor",
        resistors=[(1, 2, 0.25), (2, 0, 0.05), (1, 0, 1.2)],
        sources=[(1, 0, 12.0, 0.1)],
    )
    both_ohm = 1 / (1 / 0.3 + 1 / 1.2)
    at_v = 12.0 * both_ohm / (both_ohm + 0.1)
    assert_allclose(solve(network=net).resistors.current_a, [at_v / 0.3, at_v / 0.3, at_v / 1.2])


def test_sensitivity_equals_the_central_difference(network):
    rows = {
        "wires": [(1, 2, 0.05), (2, 3, 0.02), (1, 3, 0.2), (5, 0, 0.03)],
        "resistors": [(3, 5, 1.5), (2, 4, 0.01), (4, 0, 20.0)],
        "coils": [(3, 0, 90.0, 7.0, 1.5), (4, 5, 90.0, 70.0, 1.5)],
        "contacts": [(1, 4, 0.05, 0, False), (2, 5, 0.05, 1, False)],
        "sources": [(1, 0, 12.6, 0.01), (4, 0, 12.2, 0.05)],
        "current_loads": [(4, 5, 7.0)],
        "power_loads": [(3, 5, 80.0), (2, 0, 20.0)],
    }
    net = network("g a b c d e", heating_k_per_a2=0.3, **rows)
    plus, minus = [3, 4], [5, 0]
    solution = solve(network=net)
    assert solution.closed.tolist() == [True, False]
    found = sensitivities(network=net, solution=solution, plus=plus, minus=minus)
    for name, kind, value in (
        ("wires", "wires", "resistance_20_ohm"),
        ("resistors", "resistors", "resistance_ohm"),
        ("coils", "coils", "resistance_ohm"),
        ("contacts", "contacts", "resistance_ohm"),
        ("source_emfs", "sources", "emf_v"),
        ("source_resistances", "sources", "internal_resistance_ohm"),
        ("current_loads", "current_loads", "current_a"),
        ("power_loads", "power_loads", "power_w"),
    ):
        values = getattr(getattr(net, kind), value)
        for chosen, at in enumerate(values):
            step = 1e-5 * at
            ends = []
            for moved in (at - step, at + step):
                changed = values.copy()
                changed[chosen] = moved
                group = replace(getattr(net, kind), **{value: changed})
                voltage_v = solve(network=replace(net, **{kind: group})).node_voltage_v
                ends.append(voltage_v[plus] - voltage_v[minus])
            difference = (ends[1] - ends[0]) / (2 * step)
            # Central differences keep about ten digits of a voltage here; the slope of the
            # temperature itself is a difference of one part in a thousand.
            got = getattr(found, name)[:, chosen]
            assert_allclose(got, difference, rtol=1e-3, atol=1e-8, err_msg=f"{name} {chosen}")


def test_sensitivity_of_a_perfect_contact_is_the_current_it_interrupts(network):
    """One loop, dV/dR at R = 0 is ``-I * R_load / (R_load + r)``: ageing from a new part on."""
    net = network("g a b", resistors=[(1, 2, 0.0), (2, 0, 2.0)], sources=[(1, 0, 12.0, 1.0)])
    found = sensitivities(network=net, solution=solve(network=net), plus=2, minus=0)
    assert_allclose(found.resistors[0, 0], -4.0 * 2.0 / 3.0, rtol=1e-13)


def test_limits(network):
    assert solve(network=network("g")).node_voltage_v.tolist() == [0.0]
    dead = solve(network=network("g a", wires=[(1, 0, 1.0)]))
    assert dead.wires.current_a.tolist() == [0.0]
    huge = solve(network=network("g a", resistors=[(1, 0, 1e-6)], sources=[(1, 0, 12.0, 0.0)]))
    assert_allclose(huge.resistors.current_a, 12e6, rtol=1e-14)
    loop = solve(network=network("g a", resistors=[(1, 1, 5.0), (1, 0, 1.0)], **SOURCE))
    assert loop.resistors.current_a[0] == 0.0


def test_reference_is_where_it_is_put(network):
    net = network("minus plus", resistors=[(1, 0, 1.0)], sources=[(1, 0, 12.0, 0.0)])
    assert solve(network=replace(net, reference=1)).node_voltage_v.tolist() == [-12.0, 0.0]


def test_what_was_solved_before_leaves_no_trace(network):
    """A shape is kept for the next values: alone and after others they have the same digits."""
    rng = np.random.default_rng(1)
    for one, other in rng.uniform(0.01, 1.0, size=(100, 2)):
        mine, others = (
            network(
                "g a b c",
                resistors=[(1, 2, x), (1, 2, y), (2, 3, 0.3), (1, 3, 1.7 * x), (3, 0, 1.5)],
                **SOURCE,
            )
            for x, y in ((one, other), (other, one))
        )
        topology._compiled.cache_clear()
        alone = solve(network=mine)
        topology._compiled.cache_clear()
        solve(network=others)
        assert solve(network=mine).node_voltage_v.tolist() == alone.node_voltage_v.tolist()
