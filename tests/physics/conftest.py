"""A builder of small networks."""

from collections.abc import Callable, Sequence
from dataclasses import fields

import numpy as np
import pytest

from lastvolt_service.physics.network.elements import (
    Chargers,
    Coils,
    Contacts,
    CurrentLoads,
    Diodes,
    Elements,
    Lamps,
    Motors,
    Network,
    PowerLoads,
    Resistors,
    Sources,
    Wires,
)

COPPER_PER_K = 0.00393
KINDS: dict[str, type[Elements]] = {
    "resistors": Resistors,
    "sources": Sources,
    "chargers": Chargers,
    "motors": Motors,
    "diodes": Diodes,
    "lamps": Lamps,
    "current_loads": CurrentLoads,
    "power_loads": PowerLoads,
    "coils": Coils,
    "contacts": Contacts,
}
Row = Sequence[float]


def build(
    nodes: str,
    *,
    wires: Sequence[Row] = (),
    heating_k_per_a2: float = 0.0,
    ceiling_c: float = np.inf,
    **kinds: Sequence[Row],
) -> Network:
    """Build a network from rows ``(start, end, value, ...)`` in the order of the fields."""

    def temperature_of(current_a):
        rise_k = heating_k_per_a2 * current_a**2
        return np.where(20.0 + rise_k <= ceiling_c, 20.0 + rise_k, np.nan)

    def group(kind: type[Elements], rows: Sequence[Row]) -> Elements:
        names = [item.name for item in fields(kind)]
        return kind(**dict(zip(names, zip(*rows, strict=True), strict=False)))

    elements = {name: group(KINDS[name], rows) for name, rows in kinds.items() if rows}
    if wires:
        start, end, ohm = zip(*wires, strict=True)
        elements["wires"] = Wires(
            start=start,
            end=end,
            resistance_20_ohm=ohm,
            temperature_coefficient_per_k=COPPER_PER_K,
            temperature_of=temperature_of,
        )
    return Network(node_names=tuple(nodes.split()), **elements)


@pytest.fixture(scope="session")
def network() -> Callable[..., Network]:
    """Builder of networks."""
    return build
