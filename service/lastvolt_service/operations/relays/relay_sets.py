"""Which loads of a switch get relays: of all sets that do, the smallest, then the coolest."""

import math
from collections.abc import Callable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from itertools import accumulate
from typing import NamedTuple

# Sets that are looked at, with those that cannot do left out at once: about half a second.
MOST_SETS = 20_000


class Relief(NamedTuple):
    """What a relay for one load takes off the switch.

    Attributes
    ----------
    name : str
        The load.
    positions : frozenset of str
        In which it is fed.
    saved_a : float
        Less current in each of them, above zero. [A]
    """

    name: str
    positions: frozenset[str]
    saved_a: float


class Chosen(NamedTuple):
    """A set of loads to get relays.

    Attributes
    ----------
    names : frozenset of str
        Of the loads.
    proven : bool
        Whether no smaller or cooler set does; else the search was ended.
    """

    names: frozenset[str]
    proven: bool


# Currents by position with relays for some loads.
Currents = Callable[[AbstractSet[str]], Mapping[str, float]]


def fewest(currents: Currents, reliefs: Sequence[Relief], most_a: Mapping[str, float]) -> Chosen:
    """Find the fewest relays with which every position does, and of these sets the coolest.

    The coolest has the least current in its worst position, then in the next one.

    Parameters
    ----------
    currents : callable
        Gives the current in each position with relays for some loads. [A]
    reliefs : sequence of Relief
        What may get a relay; all of them together must suffice.
    most_a : mapping of str to float
        The largest current at which each position does. [A]
    """
    search = _Search(currents, reliefs, most_a)
    for count in range(len(reliefs) + 1):
        search.look(count)
        if search.best is not None or search.ended:
            break
    if search.best is None:
        search.best = _greedy(search)
    return Chosen(search.best, proven=not search.ended)


def _greedy(search: "_Search") -> frozenset[str]:
    """One relay after the other, the best choice at each step: a set that does, perhaps large."""
    chosen: frozenset[str] = frozenset()
    while not search.does(search.currents(chosen)):
        left = (each.name for each in search.reliefs if each.name not in chosen)
        chosen |= {min(left, key=lambda name: heaviest_first(search.currents(chosen | {name})))}
    return chosen


def heaviest_first(currents: Mapping[str, float]) -> list[float]:
    """Order sets: the worst position decides, then the next one. [A]."""
    # Sums in another order differ in their last digits, which decide nothing.
    return sorted((round(amps, 9) for amps in currents.values()), reverse=True)


class _Search:
    """Every set of a size, but those that cannot do or cannot be cooler than one found.

    Of loads that are fed in the same positions the largest come first: another one in the place of
    a larger never does more.
    """

    def __init__(
        self, currents: Currents, reliefs: Sequence[Relief], most_a: Mapping[str, float]
    ) -> None:
        self.currents, self.reliefs, self.most_a = currents, reliefs, most_a
        self.best: frozenset[str] | None = None
        self.coolest: list[float] = []
        self.looked_at = 0
        self.carried_a = dict(currents(frozenset()))
        groups: dict[frozenset[str], list[int]] = {}
        for place in sorted(range(len(reliefs)), key=lambda place: -reliefs[place].saved_a):
            groups.setdefault(reliefs[place].positions, []).append(place)
        self.groups = [*groups.items()]
        # The most that so many of the groups from one on can take off each position.
        self.most_saved = [
            {
                position: [
                    0.0,
                    *accumulate(
                        sorted(
                            (
                                reliefs[place].saved_a
                                for positions, places in self.groups[first:]
                                if position in positions
                                for place in places
                            ),
                            reverse=True,
                        )
                    ),
                ]
                for position in self.carried_a
            }
            for first in range(len(self.groups) + 1)
        ]

    @property
    def ended(self) -> bool:
        """Whether there were too many."""
        return self.looked_at >= MOST_SETS

    def does(self, currents: Mapping[str, float]) -> bool:
        """Whether every position does."""
        return all(amps <= self.most_a[position] for position, amps in currents.items())

    def look(self, count: int) -> None:
        """Look at all sets of a size."""
        self._from(0, count, self.carried_a, ())

    def _from(
        self, first: int, count: int, now_a: Mapping[str, float], chosen: tuple[int, ...]
    ) -> None:
        self.looked_at += 1
        if self.ended or not self._may_do(first, count, now_a):
            return
        if not count:
            self._take(frozenset(self.reliefs[place].name for place in chosen))
        elif first < len(self.groups):
            positions, places = self.groups[first]
            for taken in range(min(count, len(places)), -1, -1):
                saved_a = sum(self.reliefs[place].saved_a for place in places[:taken])
                after_a = {
                    position: amps - saved_a if position in positions else amps
                    for position, amps in now_a.items()
                }
                self._from(first + 1, count - taken, after_a, (*chosen, *places[:taken]))

    def _take(self, names: frozenset[str]) -> None:
        """Keep a set, if it does and is the coolest so far."""
        found = self.currents(names)
        order = heaviest_first(found)
        if self.does(found) and (self.best is None or order < self.coolest):
            self.best, self.coolest = names, order

    def _may_do(self, first: int, count: int, now_a: Mapping[str, float]) -> bool:
        """Whether the rest can bring every position down, and below the coolest so far."""
        for position, amps in now_a.items():
            most = self.most_saved[first][position]
            goal_a = min(self.most_a[position], *self.coolest[:1], math.inf)
            # Sums in another order differ in their last digits.
            slack_a = 1e-9 * (1.0 + self.carried_a[position])
            if amps - most[min(count, len(most) - 1)] > goal_a + slack_a:
                return False
        return True
