"""What a meter shows with the relay where that is wired wrong, or does not close."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Annotated, Literal

from lastvolt_service.errors import CalculationError
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.switching import switched_side
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest, with_relay
from lastvolt_service.operations.meter.miswired import Miswired, miswired
from lastvolt_service.operations.meter.plan_bands import Band, Held, at
from lastvolt_service.operations.meter.plan_places import Place
from lastvolt_service.operations.meter.plan_stages import Staged, as_warm, hanging
from lastvolt_service.operations.meter.plan_told import as_shown, sentence

WrongCode = Literal[
    "coil_swapped", "old_wire_left_on", "fed_from", "coil_not_switched", "does_not_close"
]
# Of the nodes that a feed may be taken from by mistake: behind the switch, and before it.
MOST_FED_FROM = 2
_WHY: Mapping[WrongCode, str] = {
    "coil_swapped": "wrong_coil_swapped",
    "old_wire_left_on": "wrong_old_wire_left_on",
    "fed_from": "wrong_fed_from",
    "coil_not_switched": "wrong_coil_not_switched",
    "does_not_close": "wrong_does_not_close",
}
# What is told apart: by so much of the larger, or so many volts. Common practice.
TELLING_SHARE, TELLING_V = 0.25, 0.1
# The stage in which a place is read, where it is not that with the load on.
_STAGE = {"pulling_in": "pulls", "switched_off": "after"}
_AT_THE_RELAY = frozenset({"across_contact", "across_coil", "new_feed"})


@dataclass(frozen=True, slots=True)
class WiredWrong:
    """A fault of the new wiring, and what this reading shows with it."""

    code: Annotated[
        WrongCode,
        "coil_swapped with the contact; old_wire_left_on the load; fed_from another node; "
        "coil_not_switched: joined past the switch; does_not_close: its coil is open, or without "
        "feed or ground",
    ]
    node: Annotated[str | None, "where the relay's contact is fed from then"]
    shows: Annotated[float, "what the meter shows, with all inputs in the middle"]
    text: Annotated[str, "what is wrong, in words"]


@dataclass(frozen=True, slots=True)
class Wrong:
    """A circuit with a fault, and what is at each place of it."""

    code: WrongCode
    node: str | None
    at: Mapping[int, float]


class Wrongs:
    """All that may be wrong with a relay in one case."""

    def __init__(
        self,
        asked: RelayRetrofitRequest,
        staged: Staged,
        places: Sequence[Place],
        warm: Sequence[State],
    ) -> None:
        """Solve the case with each fault, the wires as in `warm`; without those at no rest."""
        self._asked, self._staged, self._places, self._warm = asked, staged, places, warm
        self.found = [*self._solved()]

    def of(self, key: int, band: Band | None, unit: str, *, turned: bool) -> tuple[WiredWrong, ...]:
        """Faults with which a reading does not pass."""
        told = []
        for each in self.found:
            value = each.at.get(key)
            if value is None or band is None:
                continue
            value = 0.0 - value if turned else value
            if not band.low <= value <= band.high and _tells(value, band.usual, unit):
                told.append(WiredWrong(each.code, each.node, value, self._why(each)))
        return tuple(told)

    def _why(self, each: Wrong) -> str:
        proposal = self._asked.proposal
        return sentence(
            _WHY[each.code],
            part=proposal.relay.name,
            load=self._asked.load,
            switch=self._asked.switch,
            node=each.node,
            feed_node=proposal.feed_node,
        )

    def _solved(self) -> Iterator[Wrong]:
        circuit = self._staged.circuit
        relay = circuit.relays[-1]
        (first, second), (at_30, _) = relay.coil_nodes, relay.contact_nodes
        faults = list(miswired(self._asked, circuit, self._fed_from))
        fed = islice((each for each in faults if each.wired == "fed_from"), MOST_FED_FROM)
        for each in (*(e for e in faults if e.wired != "fed_from"), *fed):
            turned = {at_30: first, first: at_30} if each.wired == "coil_swapped" else {}
            yield from self._wrong(each.circuit, each.wired, each, turned)
        old = next(each for each in self._asked.circuit.loads if each.name == self._asked.load)
        side = switched_side(self._asked.circuit, old, self._asked.switch)
        past = [first, circuit.posts[1]] if side == "ground" else [at_30, second]
        relays = [*circuit.relays[:-1], changed(relay, coil_nodes=past)]
        yield from self._wrong(changed(circuit, relays=relays), "coil_not_switched")
        yield from self._wrong(circuit, "does_not_close")

    def _wrong(
        self,
        circuit: Circuit,
        code: WrongCode,
        made: Miswired | None = None,
        turned: Mapping[str, str] | None = None,
    ) -> Iterator[Wrong]:
        staged = replace(self._staged, circuit=as_warm(circuit, *self._warm))
        values: dict[int, float] = {}
        for stage, case in staged.cases().items():
            if stage == "off":
                continue
            if code == "does_not_close":
                case = _without(case, str(staged.relay))
            case = changed(case, without=[*case.without, *hanging(staged.circuit, case)])
            held = {
                key: _where(place, turned or {})
                for key, place in enumerate(self._places)
                if place.code != "at_rest" and _STAGE.get(place.code, "on") == stage
            }
            try:
                values |= at(rest(*plain(staged.circuit, case)), held)
            except CalculationError:
                continue
        yield Wrong(code, made.node if made else None, values)

    def _fed_from(self, node: str) -> Circuit:
        proposal = changed(self._asked.proposal, feed_node=node)
        return with_relay(changed(self._asked, proposal=proposal))


def _tells(value: float, usual: float, unit: str) -> bool:
    """Whether a person sees the difference for what it is, and not for a warmer wire."""
    apart, most = abs(value - usual), max(abs(value), abs(usual))
    return apart > TELLING_SHARE * most or (unit == "V" and apart >= TELLING_V)


def _without(case: Case, relay: str) -> Case:
    held = [each for each in case.held if each != relay]
    return changed(case, without=[*case.without, relay], held=held)


def _where(place: Place, turned: Mapping[str, str]) -> Held:
    """Where the meter is held: what is marked 30 and 86 on the relay may be at the other's node."""
    held = place.then
    if place.code not in _AT_THE_RELAY or held.red is None or held.black is None:
        return held
    return Held(turned.get(held.red, held.red), turned.get(held.black, held.black))


def first_seen(wrongs: Sequence[WiredWrong], own: str, relay: str, unit: str) -> str:
    """What a reading means with the relay: how it is wired comes before what may be worn."""
    if not wrongs:
        return own
    by_value: dict[str, list[str]] = {}
    for each in wrongs:
        by_value.setdefault(as_shown(each.shows, unit), []).append(each.text)
    said = [
        sentence("shows_where", shown=shown, why="; or ".join(whys))
        for shown, whys in by_value.items()
    ]
    return " ".join((sentence("see_wiring", part=relay), *said, sentence("wired_right", own=own)))
