"""Scenarios of one shape: networks side by side, or one network with a row for each."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from lastvolt_service.physics.network.elements import (
    BRANCH_KINDS,
    LOAD_KINDS,
    FloatArray,
    Network,
)
from lastvolt_service.physics.network.topology import Topology, compiled

_SHARED = frozenset({"start", "end", "relay", "normally_closed", "temperature_of"})


def stacked(networks: Sequence[Network]) -> Network:
    """Put scenarios of one shape into one network with a row for each.

    Parameters
    ----------
    networks : sequence of Network
        Of one shape. Temperatures of wires stay with the first.

    Returns
    -------
    Network
    """
    groups = {}
    for kind in (*BRANCH_KINDS, *LOAD_KINDS):
        first = getattr(networks[0], kind)
        if len(first):
            names = [n for n in first.__dataclass_fields__ if n not in _SHARED]
            groups[kind] = replace(
                first,
                **{
                    n: np.stack([getattr(getattr(one, kind), n) for one in networks]) for n in names
                },
            )
    return replace(networks[0], **groups)


def count_of(*, network: Network) -> int | None:
    """Count the rows of a network.

    Parameters
    ----------
    network : Network
        The network.

    Returns
    -------
    int or None
        None for one of plain values.
    """
    for kind in (*BRANCH_KINDS, *LOAD_KINDS):
        elements = getattr(network, kind)
        if len(elements.start):
            for name in elements.__dataclass_fields__:
                value = getattr(elements, name)
                if name not in _SHARED and value.ndim > 1:
                    return len(value)
    return None


def check_shapes(*, topology: Topology, networks: Sequence[Network]) -> None:
    """Refuse scenarios that are not of one shape: a slip of the program that asks.

    Parameters
    ----------
    topology : Topology
        That of the first.
    networks : sequence of Network
        All of them.

    Raises
    ------
    ValueError
        If an element of one is elsewhere than in the first.
    """
    first = [getattr(networks[0], kind) for kind in (*BRANCH_KINDS, *LOAD_KINDS)]
    for one in networks[1:]:
        alike = one.contacts.relay is networks[0].contacts.relay
        for kind, elements in zip((*BRANCH_KINDS, *LOAD_KINDS), first, strict=True):
            own = getattr(one, kind)
            same = own.start is elements.start and own.end is elements.end
            alike = alike and (own is elements or same)
        if not alike and compiled(network=one) is not topology:
            raise ValueError("The scenarios are not of one shape.")


def row_of(*, network: Network, place: int) -> Network:
    """Take one scenario out of a network with rows.

    Parameters
    ----------
    network : Network
        With rows.
    place : int
        Which one.

    Returns
    -------
    Network
    """
    groups = {}
    for kind in (*BRANCH_KINDS, *LOAD_KINDS):
        elements = getattr(network, kind)
        names = [
            name
            for name in elements.__dataclass_fields__
            if name not in _SHARED and getattr(elements, name).ndim > 1
        ]
        changed = {name: getattr(elements, name)[place] for name in names}
        if kind == "wires" and (chosen := getattr(elements.temperature_of, "chosen", None)):
            changed["temperature_of"] = _only(chosen([place]))
        if changed:
            groups[kind] = replace(elements, **changed)
    return replace(network, **groups)


def _only(tells: Any) -> Any:
    """Let temperatures of one scenario of many be told without an axis for it."""

    def temperature_of(current_a: FloatArray) -> FloatArray:
        found: FloatArray = tells(current_a[..., None, :])[..., 0, :]
        return found

    return temperature_of
