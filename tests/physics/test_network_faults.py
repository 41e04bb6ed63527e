"""Networks without a solution: which fault, and at which nodes."""

import numpy as np
import pytest

from lastvolt_service.errors import (
    FloatingPart,
    ImpossibleLoad,
    NetworkFault,
    NoSteadyTemperature,
    SourceShort,
    UndeterminedCurrent,
)
from lastvolt_service.physics.network_first import solve
from lastvolt_service.physics.network_equations import Branches, solve_linear

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


def test_one_value_out_of_reach_is_enough_to_refuse(network):
    """Of two nodes on 1 ohm each, 1 A lifts one to a volt and 1e101 A the other out of reach."""
    built = network("g a b", resistors=[(1, 0, 1.0), (2, 0, 1.0)])
    ends = np.array([1, 2]), np.array([0, 0])
    branches = Branches(
        *ends, np.ones(2), np.zeros(2), (0, 2, 0, 0, 0), references=np.array([0]), part=np.zeros(3)
    )
    fed = {"network": built, "branches": branches, "resistance_ohm": np.ones(2)}
    right = np.array([[0.0], [1.0], [2.0], [0.0], [0.0]])
    assert np.allclose(solve_linear(**fed, right=right)[:, 0], [0, 1, 2, 1, 2])
    right[2] = 1e101
    with pytest.raises(NetworkFault, match="too far apart"):
        solve_linear(**fed, right=right)
