"""How much work a request about a circuit asks for, told before any of it is done.

One unit is about 25 us of one core of 2026. What was measured, and `units` follows:

- A solution of a whole circuit (read, built, solved with wires that heat themselves, looked at)
  takes 0.8 ms, 25 us more for each part, and what a dense matrix of nodes and branches takes: 15 ms
  with 500 parts.
- Relays that pull in one after the other take a solution each, the cheaper the smaller the circuit,
  for the rest is done once.
- A case takes a solution, and one for each relay, to know its coil's voltage before it closed. With
  intervals it takes two more for the middle, two for the ends of each, and up to two corners for
  each voltage that is judged, of which each load and each relay have two.
- A retrofit is two circuits in each case, and searches in both for what the switch and the winding
  stand: about 12 solutions in each, those with the relay with the voltages before closing.

A search or a network that is ill-natured can take several times as long: the deadline is for that.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from lastvolt_service.units import Interval

# About 1.5 s; remedies may ask for half as much again.
MOST_UNITS = 60_000
SEARCHED = 12
BOUND = (
    f"One request may ask for {MOST_UNITS:,} units of work: the sum over its cases of "
    "solutions x (1 + relays / 4) x (30 + parts + (parts / 55)^3), where solutions is 1 + relays, "
    "and with intervals 2 + 2 x intervals + the lesser of 2^intervals and 4 x (loads + relays) "
    "more. Parts are branches, loads and relays."
)
BOUND_OF_RETROFITS = (
    f"{BOUND} A proposal's relay and parts count as well; solutions count twice, and "
    f"{SEARCHED} x (2 + relays) come on top."
)


def leaves(value: Any) -> Iterator[Any]:
    """Walk the values of a request.

    Parameters
    ----------
    value : mapping, list or value
        As loaded.

    Yields
    ------
    object
    """
    if isinstance(value, Mapping):
        for inner in value.values():
            yield from leaves(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from leaves(inner)
    else:
        yield value


def intervals_in(value: Any) -> int:
    """Count the intervals of a request.

    Parameters
    ----------
    value : mapping, list or value
        As loaded.

    Returns
    -------
    int
    """
    return sum(isinstance(each, Interval) for each in leaves(value))


def weight(arguments: Mapping[str, Any]) -> float:
    """Tell what one solution of the circuit of a request comes to.

    Parameters
    ----------
    arguments : mapping
        A request of ``circuit-check`` or ``relay-retrofit`` as loaded.

    Returns
    -------
    float
        In units of work.
    """
    circuit, proposal = arguments["circuit"], arguments.get("proposal")
    parts = sum(len(circuit[group]) for group in ("branches", "loads", "relays"))
    if proposal is not None:
        parts += 1 + len(proposal["feed"]) + len(proposal["outlet"])
    return (1.0 + _relays(arguments) / 4.0) * (30.0 + parts + (parts / 55.0) ** 3)


def units(arguments: Mapping[str, Any]) -> int:
    """Tell how much work a request asks for.

    Parameters
    ----------
    arguments : mapping
        A request of ``circuit-check`` or ``relay-retrofit`` as loaded.

    Returns
    -------
    int
        In units of work.
    """
    relays = _relays(arguments)
    judged = 4 * (len(arguments["circuit"]["loads"]) + relays)
    retrofit = "proposal" in arguments
    everywhere = intervals_in(arguments["circuit"]) + intervals_in(arguments.get("proposal"))
    solutions = 0
    for case in arguments["cases"]:
        here = 1 + relays
        if intervals := everywhere + intervals_in(case):
            here += 2 + 2 * intervals + min(2**intervals, judged)
        solutions += 2 * here + SEARCHED * (2 + relays) if retrofit else here
    return round(solutions * weight(arguments))


def _relays(arguments: Mapping[str, Any]) -> int:
    return len(arguments["circuit"]["relays"]) + ("proposal" in arguments)
