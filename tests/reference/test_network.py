"""The network solver against a textbook and against general-purpose libraries."""

import networkx
import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import root

from lastvolt_service.physics.network.elements import (
    CurrentLoads,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.physics.network.rest import solve


# OpenStax, College Physics (2012), chapter 21, problems of section 21.2: a starter motor on a
# battery, and again with corroded connections. Three digits are printed (80 A: two).
@pytest.mark.parametrize(
    ("corrosion_ohm", "current_a", "motor_v", "motor_w"),
    [(0.0, 200.0, 10.0, 2000.0), (0.0900, 80.0, 4.00, 320.0)],
)
def test_starter_motor(corrosion_ohm, current_a, motor_v, motor_w):
    net = Network(
        node_names=("ground", "post", "motor"),
        sources=Sources(start=[1], end=[0], emf_v=[12.0], internal_resistance_ohm=[0.0100]),
        resistors=Resistors(start=[1, 2], end=[2, 0], resistance_ohm=[corrosion_ohm, 0.0500]),
    )
    solution = solve(network=net)
    assert_allclose(solution.resistors.current_a[1], current_a, rtol=0.0025)
    assert_allclose(solution.resistors.drop_v[1], motor_v, atol=0.005)
    assert_allclose(solution.resistors.power_w[1], motor_w, rtol=0.0025)


@pytest.mark.parametrize("seed", range(20))
def test_resistance_distance(seed):
    """networkx.resistance_distance, from the pseudo-inverse of the Laplacian."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 25))
    graph = networkx.gnm_random_graph(count, 2 * count, seed=seed)
    networkx.add_path(graph, rng.permutation(count).tolist())
    edges = np.array(graph.edges)
    ohm = 10 ** rng.uniform(-2, 2, size=len(edges))
    for (start, end), value in zip(edges.tolist(), ohm, strict=True):
        graph.edges[start, end]["ohm"] = value
    a, b = (int(node) for node in rng.choice(count, 2, replace=False))
    net = Network(
        node_names=tuple(str(node) for node in range(count)),
        reference=b,
        sources=Sources(start=[a], end=[b], emf_v=[12.0], internal_resistance_ohm=[0.0]),
        resistors=Resistors(start=edges[:, 0], end=edges[:, 1], resistance_ohm=ohm),
    )
    seen_ohm = 12.0 / solve(network=net).sources.current_a[0]
    # The pseudo-inverse loses about the spread of the conductances, 1e4, of sixteen digits.
    expected_ohm = networkx.resistance_distance(graph, a, b, weight="ohm")
    assert_allclose(seen_ohm, expected_ohm, rtol=1e-10)


@pytest.mark.parametrize("seed", range(20))
def test_nonlinear_equations(seed):
    """scipy.optimize.root on Kirchhoff's law and the heat of each wire, from the idle state."""
    rng = np.random.default_rng(seed)
    feed, back = rng.integers(2, 6, size=2)
    ground, plus = 0, back
    count = feed + back
    pairs = [(rng.integers(plus, node), node) for node in range(plus + 1, count)]
    pairs += [(rng.integers(0, node), node) for node in range(1, back)]
    pairs += [tuple(rng.choice(np.arange(plus, count), 2, replace=False)) for _ in range(2)]
    start, end = np.array(pairs).T
    ohm = rng.uniform(0.01, 0.1, size=len(pairs))
    alpha, ambient_c, heat_k_per_a2 = 0.00393, 60.0, rng.uniform(0.05, 0.5, size=len(pairs))

    def temperature_of(current_a):
        return ambient_c + heat_k_per_a2 * np.abs(current_a) ** 1.8

    loads = [(rng.integers(plus, count), rng.integers(0, back)) for _ in range(6)]
    load_start, load_end = np.array(loads).T
    load_ohm, load_a, load_w = (rng.uniform(5, 50, 2), rng.uniform(0, 4, 2), rng.uniform(0, 30, 2))
    emf_v, internal_ohm = 12.6, 0.01

    def residual(unknown):
        node_v, warm_c = np.append(0.0, unknown[: count - 1]), unknown[count - 1 :]
        wire_a = (node_v[start] - node_v[end]) / (ohm * (1 + alpha * (warm_c - 20)))
        across_v = node_v[load_start] - node_v[load_end]
        taken_a = np.concatenate([across_v[:2] / load_ohm, load_a, load_w / across_v[4:]])
        out_a = np.zeros(count)
        np.add.at(out_a, start, wire_a)
        np.add.at(out_a, end, -wire_a)
        np.add.at(out_a, load_start, taken_a)
        np.add.at(out_a, load_end, -taken_a)
        out_a[plus] -= (emf_v - node_v[plus]) / internal_ohm
        return np.append(out_a[1:], warm_c - temperature_of(wire_a))

    idle = np.concatenate(
        [np.zeros(back - 1), np.full(feed, emf_v), np.full(len(pairs), ambient_c)]
    )
    expected = root(residual, idle, tol=1e-12)
    assert np.max(np.abs(expected.fun)) < 1e-8

    net = Network(
        node_names=tuple(str(node) for node in range(count)),
        sources=Sources(
            start=[plus], end=[ground], emf_v=emf_v, internal_resistance_ohm=internal_ohm
        ),
        wires=Wires(
            start=start,
            end=end,
            resistance_20_ohm=ohm,
            temperature_coefficient_per_k=alpha,
            temperature_of=temperature_of,
        ),
        resistors=Resistors(start=load_start[:2], end=load_end[:2], resistance_ohm=load_ohm),
        current_loads=CurrentLoads(start=load_start[2:4], end=load_end[2:4], current_a=load_a),
        power_loads=PowerLoads(start=load_start[4:], end=load_end[4:], power_w=load_w),
    )
    solution = solve(network=net)
    assert_allclose(solution.node_voltage_v[1:], expected.x[: count - 1], atol=1e-8)
    # A wire's temperature follows its current, of which it takes the tolerance in volts over ohms.
    assert_allclose(solution.wire_temperature_c, expected.x[count - 1 :], atol=1e-5)
