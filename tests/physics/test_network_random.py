"""1,000 random networks against a solver that shares nothing with the one under test."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.errors import NoSteadyTemperature
from lastvolt_service.physics.network.rest import rest_states

from .nodal_oracle import NoSolution, TooHot, nodal, tabulate
from .random_networks import HEATING, mirrored, random_network

QUICK = 40
SEEDS = [
    pytest.param(range(0, QUICK), id="40"),
    pytest.param(range(QUICK, 1000), id="960 more", marks=pytest.mark.long),
]


def starts(net):
    relays = len(net.coils)
    return [(False,) * relays, (True,) * relays] if relays else [()]


@pytest.mark.parametrize("seeds", SEEDS)
def test_every_state_is_that_of_the_nodal_equations(network, seeds):
    """Relays from released and from held, in either kind of numbers, by one table of all states."""
    resting = chattering = limited = 0
    for seed in seeds:
        net = random_network(network, seed)
        on = [True] * (len(net.current_loads) + len(net.power_loads))
        table = tabulate(net, on, heating=HEATING)
        for before, plain in product(starts(net), (True, False)):
            found = rest_states(network=net, energised=before, plain=plain)
            context = f"seed {seed} from {before}, plain {plain}"
            assert found.fault is None, context
            if found.without_operating_point:
                # It went off because some state on the way, or the last, is none with all on.
                assert None in table.solved.values(), context
                continue
            try:
                state, cycle = table.rest(before)
            except NoSolution:  # a load was off on the way, and came on again at the end
                if found.chatter:
                    continue
                state, cycle = tuple(found.energised.tolist()), set()
                assert table.follows[state] == state, context
            if state is None:
                chattering += 1
                assert set(found.cycle) == cycle, context
                moving = {k for k in range(len(before)) if len({one[k] for one in cycle}) > 1}
                assert set(found.chatter) == moving, context
                continue
            assert found.chatter == (), context
            assert tuple(found.energised.tolist()) == state, context
            resting += 1
            expected = table.solved[state]
            here = ~expected.apart
            assert_allclose(
                found.node_voltage_v[here], expected.volts[here], atol=1e-6, err_msg=context
            )
            assert found.residual_a < 1e-12 * max(1.0, np.max(np.abs(found.branch_a))), context
            limited += bool(len(net.chargers)) and np.isclose(
                found.chargers.current_a[0], net.chargers.limit_a[0]
            )
    assert resting > 2 * len(seeds)
    assert chattering >= max(1, 2 * (len(seeds) // 100))
    assert limited >= max(1, 2 * (len(seeds) // 50))


@pytest.mark.parametrize("seeds", SEEDS)
def test_loads_that_are_off_cannot_be_on(network, seeds):
    """By enumeration of all sets of loads: what draws can, and what is off could not join it."""
    off = waiting = 0
    for seed in seeds:
        net = random_network(network, seed, heavy=True)
        works_v = np.concatenate([net.current_loads.works_from_v, net.power_loads.works_from_v])
        loads = len(works_v)
        for begin in (True, False):
            found = rest_states(network=net, loads_on=[begin] * loads)
            context = f"seed {seed}, loads {begin} before"
            assert found.fault is None, context
            if found.chatter:
                continue
            on = found.drawing.tolist()
            expected = _valid(net, found.closed.tolist(), on, works_v)
            assert expected is not None, context
            here = ~expected.apart
            assert_allclose(
                found.node_voltage_v[here], expected.volts[here], atol=2e-6, err_msg=context
            )
            volts = np.abs(found.coils.drop_v)
            assert (volts[found.energised] >= net.coils.drop_out_v[found.energised]).all()
            assert (volts[~found.energised] < net.coils.pick_up_v[~found.energised]).all()
            load_v = np.concatenate([found.current_loads.drop_v, found.power_loads.drop_v])
            for load in np.flatnonzero(~found.drawing).tolist():
                off += 1
                if load not in found.without_operating_point:
                    waiting += 1
                    assert load_v[load] < works_v[load] or load_v[load] == 0.0, context
                    continue
                with_it = [draws or other == load for other, draws in enumerate(on)]
                joined = _valid(net, found.closed.tolist(), with_it, works_v)
                assert joined is None, f"{context}: load {load} could draw"
    assert off > len(seeds) // 2
    assert waiting > 0


def _valid(net, closed, on, works_v):
    """The solution with these loads on, if each of them has the voltage that it works from."""
    found = nodal(net, closed, on, heating=HEATING)
    if found is None:
        return None
    load_v = np.concatenate([found.across(net.current_loads), found.across(net.power_loads)])
    drawing = np.array(on, dtype=bool)
    short = load_v[drawing] < works_v[drawing] - 1e-7
    return None if short.any() else found


@pytest.mark.parametrize("seeds", SEEDS)
def test_the_other_pole_on_the_ground_changes_signs_only(network, seeds):
    for seed in seeds:
        net = random_network(network, seed, heavy=seed % 2 == 1)
        one, other = (rest_states(network=each) for each in (net, mirrored(net)))
        assert_allclose(other.node_voltage_v, -one.node_voltage_v, atol=2e-8, err_msg=f"{seed}")
        assert (other.energised == one.energised).all()
        assert (other.drawing == one.drawing).all()
        assert other.chatter == one.chatter
        assert_allclose(other.before_v, one.before_v, atol=2e-8)


@pytest.mark.parametrize("seeds", SEEDS)
def test_plain_numbers_and_arrays_agree(network, seeds):
    for seed in seeds:
        net = random_network(network, seed, heavy=seed % 2 == 1)
        few, many = (rest_states(network=net, plain=plain) for plain in (True, False))
        scale = np.max(np.abs(few.node_voltage_v))
        assert_allclose(many.node_voltage_v, few.node_voltage_v, atol=1e-12 * scale)
        assert (many.energised == few.energised).all()
        assert (many.drawing == few.drawing).all()
        assert (many.before_v == pytest.approx(few.before_v, abs=1e-11 * scale)) or not len(
            few.before_v
        )


@pytest.mark.parametrize("seeds", SEEDS)
def test_wires_that_heat_without_end_are_those_of_the_oracle(network, seeds):
    """A ceiling in the way: refused where the currents of some state on the way are beyond it."""
    refused = 0
    for seed in seeds:
        net = random_network(network, seed)
        ceiling_c = 20.0 + 0.5
        capped = _with_ceiling(net, ceiling_c)
        on = [True] * (len(net.current_loads) + len(net.power_loads))
        found = rest_states(network=capped)
        if found.without_operating_point:
            continue
        table = tabulate(net, on, heating=HEATING, ceiling_c=ceiling_c)
        try:
            table.rest((False,) * len(net.coils))
        except TooHot:
            refused += 1
            assert type(found.fault) is NoSteadyTemperature, seed
            assert found.runaway.any()
        except NoSolution:  # for another reason: a load that went off on the way
            continue
        else:
            assert found.fault is None, seed
            assert not found.runaway.any()
    assert refused > len(seeds) // 20


def _with_ceiling(net, ceiling_c):
    def temperature_of(current_a):
        warm_c = 20.0 + HEATING * current_a**2
        return np.where(warm_c <= ceiling_c, warm_c, np.nan)

    return replace(net, wires=replace(net.wires, temperature_of=temperature_of))
