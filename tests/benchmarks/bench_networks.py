"""What the network engine alone costs: shapes, sizes and scenarios beside each other in one run.

Run it by hand, when nothing else runs; it prints times and ratios, and judges nothing.
"""

import argparse
import time
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from bench_single import say

import lastvolt_service  # noqa: F401  # before numpy, which then has one thread
from lastvolt_service.physics.network.elements import (
    Coils,
    Contacts,
    Network,
    Resistors,
    Sources,
    Wires,
)
from lastvolt_service.physics.network.rest import rest_states

COPPER_PER_K = 0.00393
HEATING_K_PER_A2 = 0.002


class Warm:
    """Temperatures by the square of the current: what is measured is not the heat of wires."""

    def __init__(self, wires: int) -> None:
        self.singles = [lambda amps: 20.0 + HEATING_K_PER_A2 * amps * amps] * wires

    def __call__(self, current_a: np.ndarray) -> np.ndarray:
        """Temperature of each wire at its current."""
        return 20.0 + HEATING_K_PER_A2 * current_a**2


def harness(branches: int, *, relay: bool = False) -> Network:
    """A battery, and branches of two wires, a switch and a lamp each; or the first by a relay."""
    wires: list[tuple[int, int, float]] = []
    others: list[tuple[int, int, float]] = []
    nodes = 2
    for branch in range(branches):
        wires += [(1, nodes, 0.01), (nodes + 1, nodes + 2, 0.02)]
        others += [(nodes, nodes + 1, 0.005), (nodes + 2, 0, 4.0 + branch % 7)]
        nodes += 3
    if relay:
        others = others[1:]
    start, end, ohm = zip(*wires, strict=True)
    first, last, other_ohm = zip(*others, strict=True)
    return Network(
        node_names=tuple(f"n{node}" for node in range(nodes)),
        wires=Wires(
            start=start,
            end=end,
            resistance_20_ohm=ohm,
            temperature_coefficient_per_k=COPPER_PER_K,
            temperature_of=Warm(len(wires)),
        ),
        resistors=Resistors(start=first, end=last, resistance_ohm=other_ohm),
        sources=Sources(start=[1], end=[0], emf_v=[12.6], internal_resistance_ohm=[0.01]),
        **(relay_of_first() if relay else {}),
    )


def relay_of_first() -> dict[str, Coils | Contacts]:
    """A relay whose contact takes the place of the first switch."""
    return {
        "coils": Coils(
            start=[1], end=[0], resistance_ohm=[90.0], pick_up_v=[7.0], drop_out_v=[1.5]
        ),
        "contacts": Contacts(
            start=[2], end=[3], resistance_ohm=[0.005], relay=[0], normally_closed=[False]
        ),
    }


def scattered(network: Network, count: int) -> list[Network]:
    """As many scenarios, each with other resistances."""
    ohm = network.resistors.resistance_ohm
    return [
        replace(
            network, resistors=replace(network.resistors, resistance_ohm=ohm * (1 + 0.02 * place))
        )
        for place in range(count)
    ]


def least_s(works: Sequence[Callable[[], object]], rounds: int) -> list[float]:
    """Least time of each, taken in turn."""
    found = [float("inf")] * len(works)
    for work in works:
        work()
    for _ in range(rounds):
        for place, work in enumerate(works):
            begun = time.perf_counter()
            work()
            found[place] = min(found[place], time.perf_counter() - begun)
    return found


def main() -> None:
    """Measure, and print a table with the goals."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=60)
    rounds = parser.parse_args().rounds
    small, relayed, middling, large = harness(1), harness(1, relay=True), harness(5), harness(125)
    works = [
        lambda: [rest_states(network=small) for _ in range(2)],
        lambda: [rest_states(network=relayed) for _ in range(2)],
        lambda: rest_states(network=middling),
        lambda: rest_states(network=large),
    ]
    two, by_relay, of_21, of_501 = least_s(works, rounds)
    say(f"5 parts, 2 cases                    {two * 1e3:8.3f} ms   goal 0.15 ms")
    say(f"the same with a relay               {by_relay * 1e3:8.3f} ms")
    say(f"501 / 21 parts                      {of_501 / of_21:8.2f}      goal <= 12")
    for network in (small, middling, harness(20), large):
        parts = 1 + len(network.wires) + len(network.resistors)
        many = scattered(network, 16)
        one, sixteen = least_s(
            [lambda n=network: rest_states(network=n), lambda m=many: rest_states(network=m)],
            rounds,
        )
        say(f"16 scenarios / 1, {parts:3} parts           {sixteen / one:8.2f}      goal <= 3")


if __name__ == "__main__":
    main()
