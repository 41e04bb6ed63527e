"""How much work a request about a circuit asks for, told before any of it is done.

One unit is about 40 us of one core of 2026. What was measured, and `units` follows:

- A solution of the network takes 0.1 ms, 0.7 us more for each part, and what a dense matrix of its
  loops takes: 0.7 ms with 400 parts of a ladder.
- A case is built, solved, judged and told: 8 ms, and 0.3 ms for each part. Relays that pull in one
  after the other take a solution each, and the voltage of each coil before it closed as many again.
- With intervals a case takes points: twice the middle, both ends of each, and up to two corners of
  each voltage that is judged, of which each load and each relay have two. Solved and judged side by
  side each takes a third of a case at most, and half of its solutions.
- A start is four states of rest in each case, of which two are judged.
- A retrofit is three circuits in each case, as it is, with the relay, and the ways beside these, of
  which two are weighed at all points; it searches in two of them for what the switch and the
  winding stand: about 24 steps. A sheet for it solves these two once more.

A network that is ill-natured can take several times as long: the deadline is for that.
"""

from dataclasses import dataclass
from typing import Any

from lastvolt_service.operations.circuits.intervals import intervals

# About 1.7 s; remedies may ask for what a request leaves of it, and a quarter more.
MOST_UNITS = 42_000
# Of relays in places most are dropped early: measured these take 0.7 s.
MOST_OF_CHOICES = 2 * MOST_UNITS
STEPS = 24
STARTER_PARTS = 4  # main contact, two windings, motor
STAGES, WAYS_MADE = 3, 12
BOUND = (
    f"One request may ask for {MOST_UNITS:,} units of work: the sum over its cases of "
    "200 + 8 x parts + s, where s is (1 + relays)^2 x (4 + parts / 36 + (parts / 140)^3), and with "
    "intervals, for each of (2 + 2 x intervals + the lesser of 2^intervals and "
    "4 x (loads + relays)) points, 36 + parts + s / 2 more. Parts are branches, loads, "
    "relays and further sources."
)
BOUND_OF_STARTS = (
    f"{BOUND} The starter counts as four parts; each case counts twice, and 2 x s come on top."
)
BOUND_OF_RETROFITS = (
    f"{BOUND} A proposal's relay and parts count as well; each case counts three times, its points "
    f"twice, and 2 x {STEPS} x (12 + 0.7 x parts + s) come on top."
)
BOUND_OF_REMEDIES = (
    f"{BOUND} The largest of the relays given, with its parts, counts as well. Each case counts "
    "three times for each relay, its points twice; 200 + 8 x parts + s for each way, and "
    f"(2 + ways / 4) x {STEPS} x (12 + 0.7 x parts + s) come on top. With a starter, which counts "
    f"as four parts, {STAGES} x ({WAYS_MADE} x relays given + ways) x (20 + 1.2 x parts + s) more."
)
BOUND_OF_SHEETS = (
    f"{BOUND_OF_RETROFITS} For a sheet each case counts five times, its points thrice."
)

BOUND_OF_CHOICES = (
    f"{BOUND} Here one may ask for twice as many, and a relay and three parts more count. All "
    "relays in all places are looked at alone first; those that are left are put into the circuit, "
    "the best place and the cheapest first, for as long as the units last: the answer says how "
    "many were not. The circuit as it is counts as much as one of them, and so does "
    "each place; the relay that is advised counts once more as in relay-retrofit."
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
    again : int
        How many circuits more of each case are solved for a sheet.
    is_start : bool
        Whether each case is gone through in stages.
    relay_ways, ways : int
        How many relays are weighed one by one, and how many ways are given at all.
    """

    parts: int
    loads: int
    relays: int
    everywhere: int
    in_cases: tuple[int, ...]
    is_retrofit: bool
    is_start: bool
    again: int = 0
    relay_ways: int = 1
    ways: int = 0

    @classmethod
    def of(cls, asked: Any) -> "Work":
        """Look at a request about a circuit in cases."""
        circuit, ways = asked.circuit, getattr(asked, "ways", None)
        one = getattr(asked, "proposal", None)
        given = [one] if one else [way.relay for way in ways or () if way.relay is not None]
        sizes = [1 + len(each.feed) + len(each.outlet) for each in given]
        proposed = max(sizes, default=0)
        is_start = getattr(asked, "starter", None) is not None
        return cls(
            parts=len(circuit.parts) + proposed + STARTER_PARTS * is_start,
            loads=len(circuit.loads),
            relays=len(circuit.relays) + bool(given),
            everywhere=_count(circuit) + _count(one) + _count(ways),
            in_cases=tuple(map(_count, asked.cases)),
            is_retrofit=one is not None or ways is not None,
            is_start=is_start,
            again=getattr(asked, "judged_again", 0),
            relay_ways=max(len(given), 1),
            ways=len(ways or ()),
        )

    @property
    def intervals(self) -> int:
        """Of the whole request."""
        return self.everywhere + sum(self.in_cases)

    @property
    def solutions(self) -> float:
        """What bringing the circuit to rest comes to, in units of work."""
        once = 4.0 + self.parts / 36.0 + (self.parts / 140.0) ** 3
        return (1.0 + self.relays) ** 2 * once

    @property
    def _plain(self) -> float:
        """What a case without intervals comes to, in units of work."""
        return 200.0 + 8.0 * self.parts + self.solutions

    def _within(self, intervals_here: int) -> float:
        """What the points of its intervals come to in a case, in units of work."""
        if not intervals_here:
            return 0.0
        points = 2 + 2 * intervals_here + min(2.0**intervals_here, 4 * (self.loads + self.relays))
        return points * (36.0 + self.parts + self.solutions / 2.0)

    @property
    def _searched(self) -> float:
        """What is searched in a case, and the ways beside, in units of work."""
        step = 12.0 + 0.7 * self.parts + self.solutions
        return STEPS * (2.0 + self.ways / 4.0) * step + self.ways * self._plain

    @property
    def _started(self) -> float:
        """What a start in every way comes to, in units of work."""
        once = 20.0 + 1.2 * self.parts + self.solutions
        return STAGES * (WAYS_MADE * self.relay_ways + self.ways) * once

    @property
    def units(self) -> int:
        """Units of work that the request asks for."""
        total = 0.0
        for own in self.in_cases:
            here, within = self._plain, self._within(self.everywhere + own)
            if self.is_retrofit:
                here = (3.0 * self.relay_ways + self.again) * here + self._searched
                here += (2.0 * self.relay_ways + self.again / 2.0) * within
                here += self.is_start * self._started
            elif self.is_start:
                here = 2.0 * (here + within) + 2.0 * self.solutions
            else:
                here += within
            total += here
        return round(total)


def _count(asked: Any) -> int:
    return sum(1 for _ in intervals(asked))
