"""Random networks of an old vehicle: both polarities, switches on either side, several sources."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from lastvolt_service.physics.network.elements import Network

Row = Sequence[float]


def random_network(build: Callable[..., Network], seed: int, *, heavy: bool = False) -> Network:
    """Make a network.

    Feeding nodes hang together through wires and contacts, so do those of the return, which is
    node 0; loads lie between them. Where a relay's contact is the only way to a node, a resistor
    of a kilohm keeps what is behind it joined. `heavy` ones ask for more than there is.
    """
    rng = np.random.default_rng(seed)
    feeds, backs = int(rng.integers(2, 6)), int(rng.integers(0, 3))
    feed = list(range(1, 1 + feeds))
    back = [0, *range(1 + feeds, 1 + feeds + backs)]
    kinds: dict[str, list[Row]] = {
        name: []
        for name in (
            "wires", "resistors", "coils", "contacts", "sources", "chargers", "motors", "diodes",
            "lamps", "current_loads", "power_loads",
        )
    }  # fmt: skip

    def small() -> float:
        return float(10 ** rng.uniform(-3, -1.2))

    def across() -> tuple[int, int]:
        return int(rng.choice(feed)), int(rng.choice(back))

    coils = int(rng.integers(0, 4))
    for side in (feed, back):
        for place, node in enumerate(side[1:], start=1):
            other = side[int(rng.integers(place))]
            if coils and rng.random() < 0.35:  # fed, or led back, through a relay
                relay = int(rng.integers(coils))
                kinds["contacts"].append((other, node, small(), relay, rng.random() < 0.25))
                kinds["resistors"].append((other, node, 1000.0))
            else:
                kinds[rng.choice(["wires", "resistors"])].append((other, node, small()))
        if len(side) > 1 and rng.random() < 0.3:
            a, b = (int(node) for node in rng.choice(side, 2, replace=False))
            kinds["wires"].append((a, b, small()))
    emf_v = float(rng.choice([6.3, 12.6, 25.2]))
    kinds["sources"].append((feed[0], 0, emf_v, float(10 ** rng.uniform(-2.3, -1))))
    if rng.random() < 0.35:
        kinds["sources"].append((int(rng.choice(feed)), 0, emf_v * 0.97, 0.05))
    if rng.random() < 0.4:
        limit_a = float(rng.uniform(1, 40))
        kinds["chargers"].append((int(rng.choice(feed)), 0, emf_v * 1.13, 0.02, limit_a))
    for _ in range(coils):
        pull = emf_v * float(rng.uniform(0.4, 0.85))
        ohm = emf_v**2 / float(rng.uniform(1, 6))
        kinds["coils"].append((*across(), ohm, pull, pull * float(rng.uniform(0.2, 0.8))))
    for _ in range(int(rng.integers(0, 3))):
        kinds["resistors"].append((*across(), emf_v**2 / float(rng.uniform(5, 400))))
    if rng.random() < 0.5:
        watts = float(rng.uniform(5, 100))
        kinds["lamps"].append((*across(), emf_v, watts / emf_v, float(rng.uniform(0.5, 1.0))))
    if rng.random() < 0.4:
        ohm = emf_v / float(rng.uniform(10, 150))
        kinds["motors"].append((*across(), ohm, emf_v * float(rng.choice([0.0, 0.6, 1.05]))))
    if rng.random() < 0.3:
        start, end = across()
        ends = (start, end) if rng.random() < 0.3 else (end, start)
        kinds["diodes"].append((*ends, 0.05 if ends[0] == end else 2.0, 0.7))
    scale_w = emf_v**2 * (4.0 if heavy else 0.12)
    for kind, unit in (("current_loads", emf_v), ("power_loads", 1.0)):
        for _ in range(int(rng.integers(0, 3))):
            works_v = emf_v * float(rng.choice([0.0, 0.0, 0.6, 0.85])) if heavy else 0.0
            kinds[kind].append((*across(), float(rng.uniform(0.02, 1)) * scale_w / unit, works_v))
    names = " ".join(f"n{node}" for node in range(1 + feeds + backs))
    made = build(names, heating_k_per_a2=HEATING, **kinds)
    return mirrored(made) if rng.random() < 0.4 else made


HEATING = 0.004


def mirrored(net: Network) -> Network:
    """The same vehicle with the other pole on the ground: every element turned round."""
    kinds = [name for name in net.__dataclass_fields__ if hasattr(getattr(net, name), "start")]
    return replace(
        net,
        **{
            name: replace(
                getattr(net, name), start=getattr(net, name).end, end=getattr(net, name).start
            )
            for name in kinds
        },
    )
