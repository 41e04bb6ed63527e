"""Circuits worked by hand: the derivation stands beside each."""

import numpy as np
import pytest
from numpy.testing import assert_allclose

from lastvolt_service.physics.network.rest import rest_states, solve

BOTH = pytest.mark.parametrize("plain", [True, False])


@BOTH
def test_bridge_by_wye_and_delta(network, plain):
    """Delta plus-a-b of 10, 20, 30 ohm: a star of 10*20/60 = 10/3, 10*30/60 = 5 and 20*30/60 = 10.

    Behind its centre 5 + 5 = 10 ohm over a beside 10 + 15 = 25 ohm over b: 50/7 ohm, in all
    10/3 + 50/7 = 220/21 ohm. 22 V drive 2.1 A, the centre is at 2.1 * 50/7 = 15 V, a at
    15 * 5/10 = 7.5 V, b at 15 * 15/25 = 9 V, and the bridge carries (7.5 - 9) / 30 = -0.05 A.
    """
    net = network(
        "g plus a b",
        resistors=[(1, 2, 10.0), (1, 3, 20.0), (2, 3, 30.0), (2, 0, 5.0), (3, 0, 15.0)],
        sources=[(1, 0, 22.0, 0.0)],
    )
    found = rest_states(network=net, plain=plain)
    assert_allclose(found.sources.current_a, 2.1, rtol=1e-14)
    assert_allclose(found.node_voltage_v, [0, 22, 7.5, 9], rtol=1e-14)
    assert_allclose(found.resistors.current_a[2], -0.05, rtol=1e-12)


@BOTH
def test_two_sources_share_a_load(network, plain):
    """Kirchhoff: (14 - V) / 0.1 + (12 - V) / 0.05 = V / 0.5, so V = 380 / 32 = 11.875 V."""
    net = network(
        "g plus",
        resistors=[(1, 0, 0.5)],
        sources=[(1, 0, 14.0, 0.1), (1, 0, 12.0, 0.05)],
    )
    found = rest_states(network=net, plain=plain)
    assert_allclose(found.node_voltage_v[1], 11.875, rtol=1e-14)
    assert_allclose(found.sources.current_a, [21.25, 2.5], rtol=1e-12)


@BOTH
@pytest.mark.parametrize(
    ("battery_v", "limit_a", "volts", "charging_a"),
    [
        # (14 - V) / 0.05 + (12 - V) / 0.05 = V / 0.5: V = 520 / 42, and the charger gives 32 A.
        (12.0, 100.0, 520 / 42, (14.0 - 520 / 42) / 0.05),
        # Held to 10 A: 10 + (12 - V) / 0.05 = V / 0.5, V = 250 / 22.
        (12.0, 10.0, 250 / 22, 10.0),
        # A battery at 15 V: the charger's diodes block, V = 15 / 0.55 * 0.5.
        (15.9, 10.0, 15.9 / 0.55 * 0.5, 0.0),
    ],
)
def test_charger_regulates_keeps_to_its_limit_or_blocks(
    network, plain, battery_v, limit_a, volts, charging_a
):
    net = network(
        "g plus",
        resistors=[(1, 0, 0.5)],
        sources=[(1, 0, battery_v, 0.05)],
        chargers=[(1, 0, 14.0, 0.05, limit_a)],
    )
    found = rest_states(network=net, plain=plain)
    assert_allclose(found.node_voltage_v[1], volts, rtol=1e-13)
    assert_allclose(found.chargers.current_a[0], charging_a, rtol=1e-12, atol=1e-12)
    taken = found.power.resistors_w + found.power.internal_w
    assert_allclose(taken, found.power.emf_w, rtol=1e-12)


@BOTH
def test_charger_alone_feeds_what_it_can(network, plain):
    """Without a battery 14 V behind 0.05 ohm on 0.5 ohm would give 25.5 A; 10 A make 5 V."""
    net = network("g plus", resistors=[(1, 0, 0.5)], chargers=[(1, 0, 14.0, 0.05, 10.0)])
    assert_allclose(rest_states(network=net, plain=plain).node_voltage_v, [0, 5], rtol=1e-14)


@BOTH
@pytest.mark.parametrize(("back_v", "amps"), [(0.0, 80.0), (9.0, 20.0), (12.5, 0.0)])
def test_motor_takes_what_its_back_voltage_leaves(network, plain, back_v, amps):
    """(12 - back) / (0.1 + 0.05), and nothing in reverse."""
    net = network("g plus", motors=[(1, 0, 0.05, back_v)], sources=[(1, 0, 12.0, 0.1)])
    found = rest_states(network=net, plain=plain)
    assert_allclose(found.motors.current_a, [amps], rtol=1e-12, atol=1e-15)
    assert_allclose(found.node_voltage_v[1], 12.0 - 0.1 * amps, rtol=1e-13)


@BOTH
def test_lamp_behind_a_resistance(network, plain):
    """4 A at 12 V, and as the root of the voltage: 3 A at 6.75 V, what 1.75 ohm leave of 12 V."""
    net = network(
        "g plus lamp",
        resistors=[(1, 2, 1.75)],
        lamps=[(2, 0, 12.0, 4.0, 0.5)],
        sources=[(1, 0, 12.0, 0.0)],
    )
    found = rest_states(network=net, plain=plain)
    assert_allclose(found.lamps.current_a, 3.0, rtol=1e-9)
    assert_allclose(found.lamps.drop_v, 6.75, rtol=1e-9)


@BOTH
def test_lamp_in_a_dead_part_has_no_current(network, plain):
    net = network("g plus", resistors=[(1, 0, 1.0)], lamps=[(1, 0, 12.0, 4.0, 0.5)])
    assert rest_states(network=net, plain=plain).lamps.current_a.tolist() == [0.0]


@BOTH
def test_diode_across_a_coil_conducts_only_forwards(network, plain):
    """Reversed supply: 0.7 V and what its 0.1 ohm take of (12 - 0.7) / (1 + 0.1) A."""
    for emf_v, amps in ((12.0, 0.0), (-12.0, 11.3 / 1.1)):
        net = network(
            "g plus coil",
            resistors=[(1, 2, 1.0)],
            diodes=[(0, 2, 0.1, 0.7)],
            sources=[(1, 0, emf_v, 0.0)],
        )
        found = rest_states(network=net, plain=plain)
        assert_allclose(found.diodes.current_a, [amps], rtol=1e-13, atol=1e-15)


@BOTH
@pytest.mark.parametrize(
    ("works_from_v", "drawn_a", "without", "volts"),
    [
        (6.0, 10.0, set(), 7.0),  # 12 - 10 * 0.5 = 7 V is enough
        (8.0, 0.0, {0}, 12.0),  # it starts at 12 V, sags to 7 V, and goes off again
        (13.0, 0.0, set(), 12.0),  # it waits for more than there is
    ],
)
@pytest.mark.parametrize("before", [True, False])
def test_load_draws_from_its_working_voltage_on(
    network, plain, works_from_v, drawn_a, without, volts, before
):
    net = network(
        "g plus load",
        resistors=[(1, 2, 0.5)],
        current_loads=[(2, 0, 10.0, works_from_v)],
        sources=[(1, 0, 12.0, 0.0)],
    )
    found = rest_states(network=net, plain=plain, loads_on=[before])
    assert found.current_loads.current_a.tolist() == [drawn_a]
    assert set(found.without_operating_point) == without
    assert_allclose(found.node_voltage_v[2], volts, rtol=1e-14)


@BOTH
def test_a_load_without_operating_point_spoils_no_other(network, plain):
    """4 * 500 W * 0.1 ohm > 12**2: it goes off; 20 W beside it rest at 12 V - 20 / V * 0.1."""
    net = network(
        "g plus load",
        resistors=[(1, 2, 0.1)],
        power_loads=[(2, 0, 500.0), (2, 0, 20.0)],
        sources=[(1, 0, 12.0, 0.0)],
    )
    found = rest_states(network=net, plain=plain)
    assert found.power_loads.current_a[0] == 0.0
    assert set(found.without_operating_point) == {0}
    assert "at most" in found.without_operating_point[0].detail
    assert_allclose(found.node_voltage_v[2], 6 + np.sqrt(36 - 2.0), rtol=1e-12)


def starter(network, internal_ohm, *, key=True, drop_out_v=4.0):
    """Post 1, solenoid terminal 2, motor 3; pull-in 0.5 ohm, hold-in 1 ohm, motor 0.1 ohm."""
    return network(
        "g post solenoid motor",
        resistors=[(1, 2, 0.1)] * key + [(2, 3, 0.5), (3, 0, 0.1)],
        coils=[(2, 0, 1.0, 6.0, drop_out_v)],
        contacts=[(1, 3, 0.0, 0, False)],
        sources=[(1, 0, 12.0, internal_ohm)],
    )


@BOTH
def test_stages_of_a_solenoid_with_two_windings(network, plain):
    """Before the main contact closes, the solenoid's terminal S has S/0.6 + S/1 = 8/3 S amperes
    through 0.1 + 0.02 ohm: S = 12 / 1.32. After, with the post P at the motor:
    12 (P - S) = S, and (12 - P) / 0.02 = 10 P + S, so P = 7800 / 792 and S = 12/13 P.
    """
    found = rest_states(network=starter(network, 0.02), plain=plain)
    assert found.energised.tolist() == [True]
    assert_allclose(found.before_v, [12 / 1.32], rtol=1e-13)
    assert_allclose(found.node_voltage_v[1:3], np.array([1, 12 / 13]) * 7800 / 792, rtol=1e-13)


@BOTH
def test_key_released_turns_the_pull_in_winding_round(network, plain):
    """Fed from the motor's side: 2 (P - S) = S, and (12 - P) / 0.02 = 10 P + 2/3 P."""
    net = starter(network, 0.02, key=False)
    post_v = 600 / (50 + 32 / 3)
    found = rest_states(network=net, energised=[True], plain=plain)
    assert found.energised.tolist() == [True]
    assert_allclose(found.resistors.current_a[0], -post_v / 3 / 0.5, rtol=1e-12)
    assert_allclose(found.before_v, [2 / 3 * post_v], rtol=1e-13)
    assert not rest_states(network=net, plain=plain).energised.any()


@BOTH
def test_solenoid_on_a_flat_battery_buzzes(network, plain):
    """0.2 ohm: S = 12 / 1.8 = 6.7 V pull it in; then P = 780 / 207 = 3.8 V, S = 3.5 V drop it."""
    found = rest_states(network=starter(network, 0.2), plain=plain)
    assert found.chatter == (0,)
    assert found.cycle == ((False,), (True,))
    assert_allclose(found.before_v, [12 / 13 * 60 / (5 + 142 / 13)], rtol=1e-12)
    holds = rest_states(network=starter(network, 0.2, drop_out_v=3.4), plain=plain)
    assert holds.chatter == holds.cycle == ()


@BOTH
def test_pick_up_is_judged_with_its_held_neighbour(network, plain):
    """A pump's relay fed through the ignition's: 12 * 60 / 60.5 V with it held, nothing without.

    The ignition's coil hangs behind 90 ohm on 12 V: 6 V hold it and do not pull it in.
    """
    net = network(
        "g plus ignition feed",
        resistors=[(1, 2, 90.0)],
        coils=[(2, 0, 90.0, 7.0, 2.0), (3, 0, 60.0, 7.0, 2.0)],
        contacts=[(1, 3, 0.5, 0, False)],
        sources=[(1, 0, 12.0, 0.0)],
    )
    held = rest_states(network=net, energised=[True, False], plain=plain)
    assert held.energised.tolist() == [True, True]
    assert_allclose(held.before_v, [6.0, 12 * 60 / 60.5], rtol=1e-13)
    released = rest_states(network=net, plain=plain)
    assert released.energised.tolist() == [False, False]
    assert_allclose(released.before_v, [6.0, 0.0])


def test_horn_button_on_the_ground_side_of_a_positive_ground_car(network):
    """Ground is plus: the horn hangs on the live minus side and the button leads it to ground."""
    net = network(
        "ground minus horn",
        resistors=[(1, 2, 1.0), (2, 0, 0.05)],
        sources=[(0, 1, 6.3, 0.02)],
    )
    found = solve(network=net)
    assert_allclose(found.sources.current_a, [6.3 / 1.07], rtol=1e-14)
    assert_allclose(found.node_voltage_v[1:], [-6.3 / 1.07 * 1.05, -6.3 / 1.07 * 0.05], rtol=1e-13)
