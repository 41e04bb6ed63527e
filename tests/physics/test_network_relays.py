"""Relays in the network solver: pick-up, hold, drop-out and chatter."""

import pytest

from lastvolt_service.errors import SourceShort
from lastvolt_service.physics.network.rest import solve


# Relays: node 1 the battery, 2 the coil's feed, 3 the load's.
def relay_circuit(network, emf_v: float, *, normally_closed: bool = False, load: str = "resistors"):
    rows = {
        "resistors": [(1, 2, 0.5)],
        "coils": [(2, 0, 90.0, 7.0, 1.5)],
        "contacts": [(1, 3, 0.01, 0, normally_closed)],
        "sources": [(1, 0, emf_v, 0.005)],
    }
    rows[load] = [*rows.get(load, []), (3, 0, 2.0)]
    return network("ground battery coil load", **rows)


@pytest.mark.parametrize(
    ("emf_v", "before", "after"),
    [
        (12.0, False, True),
        (6.9, False, False),
        (6.9, True, True),
        (1.6, True, True),
        (1.4, True, False),
    ],
)
def test_relay_picks_up_holds_and_drops_out(network, emf_v, before, after):
    solution = solve(network=relay_circuit(network, emf_v), energised=[before])
    assert solution.energised.tolist() == solution.closed.tolist() == [after]
    assert solution.chatter == ()
    assert (solution.node_voltage_v[3] > 1.0) == after
    assert solution.coils.drop_v[0] == pytest.approx(emf_v * 90 / 90.5, rel=5e-3)


def test_pick_up_and_drop_out_count_at_their_very_voltage(network):
    coil = {"coils": [(1, 0, 90.0, 7.0, 1.5)]}
    for emf_v, before, after in ((7.0, False, True), (1.5, True, True)):
        net = network("g plus", sources=[(1, 0, emf_v, 0)], **coil)
        assert solve(network=net, energised=[before]).energised.tolist() == [after]


def test_normally_closed_contact_opens(network):
    solution = solve(network=relay_circuit(network, 12.0, normally_closed=True))
    assert not solution.closed[0]
    assert solution.contacts.current_a[0] == 0.0
    assert solution.contacts.drop_v[0] == pytest.approx(12.0, abs=0.01)
    assert solve(network=relay_circuit(network, 5.0, normally_closed=True)).closed[0]


@pytest.mark.parametrize("load", ["current_loads", "power_loads"])
def test_load_behind_an_open_contact_is_off(network, load):
    solution = solve(network=relay_circuit(network, 6.0, load=load))
    assert getattr(solution, load).current_a.tolist() == [0.0]
    assert solution.connected.tolist() == [True, True, True, False]
    assert solution.node_voltage_v[3] == 0.0
    on = solve(network=relay_circuit(network, 12.0, load=load))
    assert getattr(on, load).current_a[0] > 0.0
    assert on.connected.all()


@pytest.mark.parametrize("load", ["current_loads", "power_loads"])
def test_load_within_or_towards_a_part_that_is_cut_off_is_off(network, load):
    """Contacts on both sides leave nodes 2 and 3 joined to each other only."""
    rows = {
        "coils": [(1, 0, 90.0, 7.0, 1.5)],
        "contacts": [(1, 2, 0.01, 0, False), (3, 0, 0.01, 0, False)],
        "resistors": [(2, 3, 10.0)],
        load: [(2, 3, 2.0), (1, 3, 2.0)],
    }
    solution = solve(network=network("g plus a b", sources=[(1, 0, 6.0, 0.01)], **rows))
    assert getattr(solution, load).current_a.tolist() == [0.0, 0.0]
    assert solution.resistors.current_a.tolist() == [0.0]
    assert solution.connected.tolist() == [True, True, False, False]
    on = solve(network=network("g plus a b", sources=[(1, 0, 12.0, 0.01)], **rows))
    assert (getattr(on, load).current_a > 0.1).all()


def test_changeover_relay_feeds_one_or_the_other(network):
    contacts = [(1, 3, 0.01, 0, False), (1, 4, 0.01, 0, True)]
    loads = [(1, 2, 0.5), (3, 0, 2.0), (4, 0, 3.0)]
    for emf_v, flowing in ((12.0, [True, False]), (5.0, [False, True])):
        net = network(
            "g plus coil a b",
            resistors=loads,
            contacts=contacts,
            coils=[(2, 0, 90.0, 7.0, 1.5)],
            sources=[(1, 0, emf_v, 0)],
        )
        assert (solve(network=net).contacts.current_a > 1.0).tolist() == flowing


def test_relays_in_a_chain_pull_in_one_after_the_other(network):
    count = 6
    names = " ".join(["g"] + [f"n{i}" for i in range(1, count + 2)])
    net = network(
        names,
        coils=[(node, 0, 90.0, 7.0, 1.5) for node in range(1, count + 1)],
        contacts=[(node, node + 1, 0.01, node - 1, False) for node in range(1, count + 1)],
        resistors=[(count + 1, 0, 10.0)],
        sources=[(1, 0, 12.0, 0.01)],
    )
    solution = solve(network=net)
    assert solution.energised.all()
    assert solution.iterations == count + 1
    assert solution.chatter == ()


def test_coil_reversed_pulls_in_as_well(network):
    net = network("g plus", coils=[(0, 1, 90.0, 7.0, 1.5)], sources=[(1, 0, 12.0, 0)])
    assert solve(network=net).energised[0]


def test_buzzer_chatters(network):
    """A coil fed through its own break contact; the relay beside it is at rest."""
    net = network(
        "g plus coil",
        coils=[(1, 0, 90.0, 7.0, 1.5), (2, 0, 90.0, 7.0, 1.5)],
        contacts=[(1, 2, 0.01, 1, True)],
        sources=[(1, 0, 12.0, 0.01)],
    )
    for before in ([False, False], [True, True]):
        solution = solve(network=net, energised=before)
        assert solution.chatter == (1,)
        assert solution.energised[0]


def test_rings_of_relays_that_never_repeat_soon_are_stopped(network):
    """Rings of 3, 5 and 7 relays, each with one break contact: together 210 states round."""
    coils, contacts = [], []
    for size in (3, 5, 7):
        first = len(coils)
        for place in range(size):
            node = len(coils) + 2
            before = first + (place - 1) % size
            coils.append((node, 0, 90.0, 7.0, 1.5))
            contacts.append((1, node, 0.01, before, place == 0))
    names = " ".join(["g", "plus", *(f"coil{index}" for index in range(len(coils)))])
    net = network(names, coils=coils, contacts=contacts, sources=[(1, 0, 12.0, 0.01)])
    solution = solve(network=net)
    assert solution.chatter == tuple(range(15))
    assert solution.iterations < 100


def test_load_that_pulls_the_coil_down_chatters(network):
    """Relay fed from the stud that sags below drop-out once the motor runs, and recovers."""
    rows = {
        "coils": [(1, 0, 90.0, 7.0, 4.0)],
        "contacts": [(1, 2, 0.001, 0, False)],
        "sources": [(1, 0, 12.0, 0.04)],
    }
    motor = network("g stud motor", resistors=[(2, 0, 0.015)], **rows)
    assert solve(network=motor).chatter == (0,)
    lighter = network("g stud motor", resistors=[(2, 0, 0.03)], **rows)
    assert solve(network=lighter).chatter == ()
    assert solve(network=lighter).energised[0]


def test_a_perfect_short_made_by_a_relay_is_found_when_it_closes(network):
    rows = {"coils": [(1, 0, 90.0, 7.0, 1.5)], "contacts": [(1, 0, 0.0, 0, False)]}
    with pytest.raises(SourceShort):
        solve(network=network("g plus", sources=[(1, 0, 12.0, 0.01)], **rows))
    assert not solve(network=network("g plus", sources=[(1, 0, 6.0, 0.01)], **rows)).closed[0]
