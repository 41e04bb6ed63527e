"""Networks without a solution: which fault, and at which nodes."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import (
    FloatingPart,
    ImpossibleLoad,
    NetworkFault,
    NoSteadyTemperature,
    SourceShort,
    UndeterminedCurrent,
)
from lastvolt_service.physics.network.rest import rest_states, solve

SOURCE = {"sources": [(1, 0, 12.0, 0.01)]}


def circuit(nodes, **parts):
    """What the builder of networks takes."""
    return nodes, parts


@pytest.mark.parametrize(
    ("built", "fault", "nodes"),
    [
        (circuit("g a b c", wires=[(2, 3, 1.0)], **SOURCE), FloatingPart, ("b", "c")),
        (circuit("g a alone", **SOURCE), FloatingPart, ("alone",)),
        (circuit("g a b alone", current_loads=[(1, 2, 1.0)], **SOURCE), FloatingPart, ("alone",)),
        (circuit("g a b", current_loads=[(1, 2, 1.0)], **SOURCE), ImpossibleLoad, ("b",)),
        (circuit("g a b", power_loads=[(2, 0, 1.0)], **SOURCE), ImpossibleLoad, ("b",)),
        (circuit("g a", wires=[(1, 0, 1.0)], current_loads=[(1, 0, 1.0)]),
         ImpossibleLoad, ("a", "g")),
        (circuit("g a", current_loads=[(1, 0, 1201.0)], **SOURCE), ImpossibleLoad, ("a", "g")),
        (circuit("g a", current_loads=[(0, 1, 1.0)], **SOURCE), ImpossibleLoad, ("g", "a")),
        (circuit("g a", power_loads=[(0, 1, 1.0)], **SOURCE), ImpossibleLoad, ("g", "a")),
        (circuit("g a", power_loads=[(1, 0, 3601.0)], **SOURCE), ImpossibleLoad, ("a", "g")),
        (circuit("g a", wires=[(1, 0, 0.0)], **SOURCE), SourceShort, ("a", "g")),
        (circuit("g a b", resistors=[(1, 2, 0.0), (2, 0, 0.0)], **SOURCE),
         SourceShort, ("a", "g")),
        (circuit("g a", resistors=[(1, 0, 0.0)], sources=[(1, 0, 12.0, 0.0)]),
         SourceShort, ("a", "g")),
        (circuit("g a", sources=[(1, 0, 12.0, 0.0), (1, 0, 12.5, 0.0)]), SourceShort, ("a", "g")),
        (circuit("g a", sources=[(1, 1, 12.0, 0.0), (1, 0, 12.5, 0.0)]), SourceShort, ("a",)),
        (circuit("g a", sources=[(1, 0, 12.0, 0.0), (1, 0, 12.0, 0.0)]),
         UndeterminedCurrent, ("a", "g")),
        (circuit("g a b", resistors=[(1, 2, 0.0), (1, 2, 0.0), (2, 0, 1.0)], **SOURCE),
         UndeterminedCurrent, ("a", "b")),
        (circuit("g a b", sources=[(1, 0, 12.0, 0.0), (2, 1, 12.0, 0.0), (2, 0, 24.0, 0.0)]),
         UndeterminedCurrent, ("b", "g")),
        (circuit("g a b", sources=[(1, 0, 12.0, 0.0), (2, 1, 12.0, 0.0), (2, 0, 25.0, 0.0)]),
         SourceShort, ("b", "g")),
        (circuit("g a", resistors=[(1, 1, 0.0), (1, 0, 1.0)], **SOURCE),
         UndeterminedCurrent, ("a",)),
        (circuit("g a", wires=[(1, 0, 1e-3)], heating_k_per_a2=1.0, ceiling_c=200.0, **SOURCE),
         NoSteadyTemperature, ("a", "g")),
        (circuit("g a", wires=[(1, 0, 1.0)], ceiling_c=0.0, **SOURCE),
         NoSteadyTemperature, ("a", "g")),
        (circuit("g a b", wires=[(1, 2, 0.0)], resistors=[(2, 0, 1.0)], heating_k_per_a2=1.0,
                 ceiling_c=100.0, **SOURCE), NoSteadyTemperature, ("a", "b")),
        (circuit("g a b", resistors=[(1, 2, np.inf), (2, 0, np.inf)], **SOURCE),
         NetworkFault, ()),
    ],
)  # fmt: skip
def test_fault_is_named(network, built, fault, nodes):
    with pytest.raises(NetworkFault) as caught:
        solve(network=network(built[0], **built[1]))
    assert type(caught.value) is fault
    assert caught.value.nodes == nodes
    for name in nodes:
        assert f'"{name}"' in caught.value.detail
    seen = caught.value.below("cases", 0)
    assert (type(seen), seen.path, seen.nodes) == (fault, ("cases", 0), nodes)


def test_an_island_is_dead_where_it_may_be_one(network):
    """Nothing flows there, a constant current included; beside it 12 V over 0.01 + 1 ohm do."""
    parts = {"wires": [(2, 3, 1.0), (1, 0, 1.0)], "current_loads": [(3, 0, 2.0)], **SOURCE}
    built = network("g a b c", **parts)
    with pytest.raises(ImpossibleLoad):
        solve(network=built)
    found = solve(network=replace(built, islands=True))
    assert_allclose(found.wires.current_a, [0.0, 12.0 / 1.01], rtol=1e-12)
    assert found.current_loads.current_a.tolist() == [0.0]


def test_long_list_of_nodes_is_cut_in_words_only(network):
    names = " ".join(f"n{node}" for node in range(30))
    with pytest.raises(FloatingPart, match="and 20 more nodes") as caught:
        solve(network=network(names, **SOURCE))
    assert len(caught.value.nodes) == 28


@pytest.mark.parametrize("ends", [(0, 1), (2, 0)])
def test_power_without_voltage_is_told_apart_from_too_much_power(network, ends):
    """Against the polarity, and across a perfect joint to ground."""
    net = network("g a b", resistors=[(2, 0, 0.0)], power_loads=[(*ends, 1.0)], **SOURCE)
    with pytest.raises(ImpossibleLoad, match="right sign"):
        solve(network=net)


@pytest.mark.parametrize("plain", [True, False])
def test_one_value_out_of_reach_is_enough_to_refuse(network, plain):
    """Of two sources on 1 ohm each, one is a battery and one has 1e102 V: that scenario falls."""
    rows = {"resistors": [(1, 0, 1.0), (2, 0, 1.0)]}
    scenarios = [
        network("g a b", sources=[(1, 0, 12.0, 1.0), (2, 0, volts, 1.0)], **rows)
        for volts in (24.0, 1e102)
    ]
    found = rest_states(network=scenarios, plain=plain)
    assert_allclose(found.node_voltage_v[0], [0.0, 6.0, 12.0])
    assert found.fault[0] is None
    assert type(found.fault[1]) is NetworkFault
    assert "too far apart" in found.fault[1].detail
    assert np.isnan(found.node_voltage_v[1]).all()
