"""First-order changes of voltages and currents, against networks solved anew."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics.network.rest import rest_states
from lastvolt_service.physics.network.sensitivity import changes

from .random_networks import random_network

FIELDS = (
    ("wires", "resistance_20_ohm"), ("wires", "temperature_coefficient_per_k"),
    ("resistors", "resistance_ohm"), ("coils", "resistance_ohm"), ("contacts", "resistance_ohm"),
    ("sources", "emf_v"), ("sources", "internal_resistance_ohm"), ("chargers", "regulated_v"),
    ("chargers", "limit_a"), ("motors", "back_v"), ("diodes", "forward_v"), ("lamps", "rated_a"),
    ("current_loads", "current_a"), ("power_loads", "power_w"),
)  # fmt: skip
STEP = 1e-5


def varied(net, kind, field, place, factor):
    elements = getattr(net, kind)
    values = np.array(getattr(elements, field))
    values[place] *= factor
    return replace(net, **{kind: replace(elements, **{field: values})})


def at_rest(network, seed):
    """The next random network that comes to rest with all its loads on."""
    while True:
        net = random_network(network, seed)
        solution = rest_states(network=net)
        if not solution.chatter and not solution.without_operating_point:
            return net, solution
        seed += 100


@pytest.mark.parametrize("seed", range(20))
def test_each_value_of_a_random_network(network, seed):
    net, solution = at_rest(network, seed)
    nodes = len(net.node_names)
    topology = solution.topology
    plus, minus = list(range(1, nodes)), [0] * (nodes - 1)
    # A diode or charger that blocks is open, and a charger at its limit gives that.
    through = list(range(topology.spans["sources"].stop))
    moved = [
        (kind, field, place)
        for kind, field in FIELDS
        for place in range(len(getattr(net, kind)))
    ]  # fmt: skip
    found = changes(
        network=net,
        solution=solution,
        variants=[varied(net, *each, 1.0 + STEP) for each in moved],
        plus=plus,
        minus=minus,
        through=through,
    )

    def outputs(one):
        assert (one.energised == solution.energised).all()
        volts = np.where(one.connected, one.node_voltage_v, 0.0)
        return np.concatenate([volts[plus] - volts[minus], one.branch_a[through]])

    for column, each in enumerate(moved):
        up, down = (
            outputs(rest_states(network=varied(net, *each, 1.0 + sign * STEP)))
            for sign in (1.0, -1.0)
        )
        # The slope of a wire's temperature is a difference of one part in a thousand, and its
        # balance leaves a nanovolt.
        size = max(1e-9, float(np.max(np.abs(up - down))))
        assert_allclose(
            found[:, column],
            0.5 * (up - down),
            rtol=2e-3,
            atol=2e-3 * size + 2e-8,
            err_msg=str(each),
        )
