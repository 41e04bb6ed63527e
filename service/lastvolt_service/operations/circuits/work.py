"""How much work a request about a circuit asks for, told before any of it is done.

One unit is about 25 us of one core of 2026. What was measured, and `units` follows:

- A solution of a whole circuit (read, built, solved with wires that heat themselves, looked at)
  takes 0.8 ms, 25 us more for each part, and what a dense matrix of nodes and branches takes: 15 ms
  with 500 parts.
- Relays that pull in one after the other take a solution each, the cheaper the smaller the circuit,
  for the rest is done once.
- A case takes a solution, and one for each relay, to know its coil's voltage before it closed. With
  intervals it takes as many again, and the work of one for its checks, twice for the middle, twice
  for the ends of each, and for up to two corners of each voltage that is judged, of which each load
  and each relay have two.
- A retrofit is two circuits in each case, and a third time the way that is taken; it searches in
  both for what the switch and the winding stand: about 12 solutions in each, those with the relay
  with the voltages before closing; and it tries up to eight other ways.

A search or a network that is ill-natured can take several times as long: the deadline is for that.
"""

from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.circuits.intervals import intervals

# About 1.5 s; remedies may ask for half as much again.
MOST_UNITS = 60_000
SEARCHED = 20
BOUND = (
    f"One request may ask for {MOST_UNITS:,} units of work: the sum over its cases of "
    "solutions x (1 + relays / 4) x (30 + parts + (parts / 55)^3), where solutions is 1 + relays, "
    "and with intervals (2 + relays) x (2 + 2 x intervals + the lesser of 2^intervals and "
    "4 x (loads + relays)) more. Parts are branches, loads and relays."
)
BOUND_OF_RETROFITS = (
    f"{BOUND} A proposal's relay and parts count as well; solutions count three times, and "
    f"{SEARCHED} x (2 + relays) come on top."
)


@dataclass(frozen=True, slots=True)
class Work:
    """What makes the work of a request.

    Attributes
    ----------
    parts, loads, relays : int
        Of the circuit, those of a proposal among them.
    everywhere : int
        Intervals of circuit and proposal.
    in_cases : tuple of int
        Intervals of each case.
    is_retrofit : bool
        Whether each case is of two circuits, and searched.
    """

    parts: int
    loads: int
    relays: int
    everywhere: int
    in_cases: tuple[int, ...]
    is_retrofit: bool

    @classmethod
    def of(cls, asked: Any) -> "Work":
        """Look at a request of ``circuit-check`` or ``relay-retrofit``."""
        circuit, proposal = asked.circuit, getattr(asked, "proposal", None)
        proposed = 0 if proposal is None else 1 + len(proposal.feed) + len(proposal.outlet)
        return cls(
            parts=len(circuit.parts) + proposed,
            loads=len(circuit.loads),
            relays=len(circuit.relays) + (proposal is not None),
            everywhere=_count(circuit) + _count(proposal),
            in_cases=tuple(map(_count, asked.cases)),
            is_retrofit=proposal is not None,
        )

    @property
    def intervals(self) -> int:
        """Of the whole request."""
        return self.everywhere + sum(self.in_cases)

    @property
    def weight(self) -> float:
        """What one solution of the circuit comes to, in units of work."""
        return (1.0 + self.relays / 4.0) * (30.0 + self.parts + (self.parts / 55.0) ** 3)

    @property
    def units(self) -> int:
        """Units of work that the request asks for."""
        judged = 4 * (self.loads + self.relays)
        solutions = 0
        for own in self.in_cases:
            here = 1 + self.relays
            if intervals_here := self.everywhere + own:
                points = 2 + 2 * intervals_here + min(2**intervals_here, judged)
                here += (2 + self.relays) * points
            searched = SEARCHED * (2 + self.relays)
            solutions += 3 * here + searched if self.is_retrofit else here
        return round(solutions * self.weight)


def _count(asked: Any) -> int:
    return sum(1 for _ in intervals(asked))
