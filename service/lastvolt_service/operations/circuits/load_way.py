"""What lies in the way of a load: over what its current comes to it, and goes on from it."""

from functools import cached_property
from typing import NamedTuple

from lastvolt_service.operations.circuits.model import Part, State

_CONDUCTS = frozenset({"wires", "resistors", "contacts"})
# Less is a computer's last digits. [A]
NOTHING_A = 1e-9
# Of the load's current: what carries less is not in its way, as a pilot lamp is not.
IN_ITS_WAY_SHARE = 0.5
# Of the same: a battery that gives less does not feed it.
A_BATTERYS_SHARE = 0.1


class Carries(NamedTuple):
    """A part with the voltage across it, its current, and where that comes from and goes to."""

    part: Part
    across_v: float
    amps: float
    ends: tuple[str, str]


class Currents:
    """The currents of a circuit at rest, followed from where they come to where they go.

    Parameters
    ----------
    state : State
        The circuit.
    """

    def __init__(self, state: State) -> None:
        self._state = state

    @cached_property
    def of(self) -> dict[Part, Carries]:
        """Every part, as it carries."""
        return {
            part: Carries(
                part, abs(drop_v), abs(amps), part.nodes if amps > 0 else part.nodes[::-1]
            )
            for part, drop_v, amps in self._state.carrying(*self._state.model.parts)
        }

    @cached_property
    def _at(self) -> dict[tuple[int, str], list[Carries]]:
        """What carries from a node, 0, or to it, 1; sources apart."""
        found: dict[tuple[int, str], list[Carries]] = {}
        for each in self.of.values():
            if each.part.group not in {"sources", "chargers"}:
                for end in (0, 1):
                    found.setdefault((end, each.ends[end]), []).append(each)
        return found

    def through(self, load: Part, least_a: float = NOTHING_A) -> list[Carries]:
        """What the current of a load runs through, before it and after it; the load apart.

        Parameters
        ----------
        load : Part
            The load; without a current it has no way.
        least_a : float
            What carries less is not followed. [A]
        """
        own, found = self.of[load], list[Carries]()
        if own.amps < NOTHING_A:
            return found
        seen = {load}
        for come_from, go_to in ((0, 1), (1, 0)):
            reached = [own.ends[come_from]]
            while reached:
                for each in self._at.get((go_to, reached.pop()), ()):
                    if each.part not in seen and each.amps >= least_a:
                        seen.add(each.part)
                        reached.append(each.ends[come_from])
                        found.append(each)
        return found

    def leading(self, load: Part) -> list[Carries]:
        """What conducts on the way of a load, whatever it carries; without a current everything."""
        on_it = self.through(load) or self.of.values()
        return [each for each in on_it if each.part.group in _CONDUCTS and not each.part.is_load]

    def in_the_way(self, load: Part) -> list[Carries]:
        """What conducts on the way of a load, and carries as much as costs it anything."""
        least_a = self.least_a(load)
        return [each for each in self.leading(load) if each.amps >= least_a]

    def least_a(self, load: Part) -> float:
        """The least that a part in the way of a load carries. [A].

        Of what several batteries give together the least one's leads carry no more than its share.
        """
        load_a = self.of[load].amps
        batteries = [abs(amps) for _, _, amps in self._state.carrying("sources")]
        share_a = [amps for amps in batteries if amps >= A_BATTERYS_SHARE * load_a]
        return IN_ITS_WAY_SHARE * min([load_a, *share_a])


def in_the_way(state: State, load: str) -> list[Carries]:
    """What conducts on the way of a load by name; nothing where its case leaves it out."""
    part = state.named(load)
    return Currents(state).in_the_way(part) if part is not None else []
