"""What a sound part shows, beside the band of what was given: that may be no good, and pass."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.assembly import rest, rest_all
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import JUMPER_OHM
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.contact_checks import sound_contact
from lastvolt_service.operations.circuits.intervals import Spread
from lastvolt_service.operations.circuits.loads import ResistanceLoad, SolenoidLoad
from lastvolt_service.operations.circuits.mended import with_ohms
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.parts import ChainContact, ChainPart, CircuitContact
from lastvolt_service.operations.curves import read_off
from lastvolt_service.operations.judging import WORN_MULTIPLE
from lastvolt_service.operations.meter.fit_outputs import SAME_SHARE
from lastvolt_service.operations.meter.plan_bands import MARGIN, Shown
from lastvolt_service.operations.meter.plan_places import Place
from lastvolt_service.operations.meter.plan_stages import (
    RESTS_AT_MOST_V,
    Phase,
    Staged,
    Stages,
    as_warm,
)
from lastvolt_service.operations.meter.plan_told import as_shown, sentence
from lastvolt_service.operations.meter.reading_fields import MeterData
from lastvolt_service.operations.meter.walk import Link, Walk
from lastvolt_service.operations.remedies.options import sound_ohm
from lastvolt_service.tables import battery as table
from lastvolt_service.tables.curves import Curve
from lastvolt_service.tables.limits import MOMENT_S, contact_limits
from lastvolt_service.units import high_end, low_end

GivenAs = Literal["sound", "may_be_poor", "poor"]
_AS_GIVEN: Mapping[GivenAs, str] = {"may_be_poor": "given_may_be_poor", "poor": "given_poor"}


@dataclass(frozen=True, slots=True)
class SoundReading:
    """What a meter shows where what it is held to is sound, whatever was given of it."""

    least: Annotated[float | None, "not less; of a load, of a coil: what it works from"]
    most: Annotated[float | None, "not more"]
    at_a: Annotated[
        float | None,
        "current that it is for, of a contact as it is: what flows with all sound; else null",
    ]
    given: Annotated[
        GivenAs,
        "what the circuit has there: sound; may_be_poor, where some of what was given is; poor: "
        "what passes is at fault",
    ]
    costs_v: Annotated[
        float | None,
        "what the load gains at most once this part is sound, all others being so; null where it "
        "is, or is no single contact",
    ]
    shown: Annotated[str, "`most`, else `least`, as a meter shows it"]
    text: Annotated[str, "the same in words"]


@dataclass(frozen=True, slots=True)
class Bar:
    """What a sound one shows, before any meter errs; `by_meter` where the meter's error counts.

    Of a contact with the current that it is for, and what it drops then as it was given.
    """

    code: str
    least: float | None = None
    most: float | None = None
    by_meter: bool = False
    is_contact: bool = False
    at_a: float | None = None
    drops: Spread | None = None


class Bars:
    """What is sound at each place of a case, as it is or with the relay."""

    def __init__(
        self, staged: Staged, stages: Stages, ways: Walk, keys: Mapping[str, int], system_v: float
    ) -> None:
        """Look at a circuit; `keys` are those of its parts in `Shown.spreads`."""
        self._staged, self._stages, self._keys = staged, stages, keys
        self._ways, self._scale = ways, system_v / table.TABLE_NOMINAL_V
        cases = staged.cases()
        self._mended = Mended.of(staged, cases["on"], stages.on.state, ways)
        self._decides = self._mended
        if stages.pulls is not None:
            self._decides = Mended.of(staged, cases["pulls"], stages.pulls.state, ways)

    def costs_v(self, name: str) -> float | None:
        """What a part costs the load at its worst. [V]."""
        return None if self._decides is None else self._decides.costs_v.get(name)

    def of(self, place: Place, phase: Phase, *, runs: bool) -> Bar | None:
        """What is sound at a place in a phase; None where nobody can say."""
        shown, code = self._stages.of(place), place.code
        if shown is None:
            return None
        state, moves = shown.state, phase == "pull_in"
        if code in {"at_rest", "supply", "cranking"}:
            return self._of_battery(state, code, phase, runs=runs)
        if code in {"across_load", "pulling_in"}:
            part = state.named(self._staged.load.name)
            needed_v = None if part is None else part.needed_v
            return None if needed_v is None else Bar("sound_load", least=needed_v)
        if code == "through_part":
            return self._amperes(state, place)
        if code == "across_coil":
            index = next(k for k, e in enumerate(state.model.relays) if e.name == place.part)
            relay = state.model.relays[index]
            if state.model.held[index]:  # it has closed before
                return Bar("sound_coil_holds", least=relay.drop_out_v)
            return Bar("sound_coil", least=relay.pick_up_v)
        links = self._links(place)
        if not links:
            return None
        parts = [self._of_part(each, shown, moves=moves) for each in links]
        if len(parts) == 1 and code != "new_feed":
            return parts[0]
        most, by_meter = sum(each.most or 0.0 for each in parts), any(e.by_meter for e in parts)
        return Bar("sound_side", most=most, by_meter=by_meter)

    def _links(self, place: Place) -> Sequence[Link]:
        """The parts that a reading is over."""
        name, moved = place.part, place.pair is not None and place.as_is != place.then
        if place.code in {"across_switch", "across_part"} and name and place.kind:
            return [Link(name, place.kind, "", "")]
        relay = self._staged.relay
        new = {"across_contact": self._contact, "new_feed": self._feed}
        if relay is not None and place.code in new:
            return new[place.code]
        if place.code == "live_side":
            return (
                self._ways.there
                if relay is None or not moved
                else (*self._feed, *self._contact, *self._outlet)
            )
        if place.code == "ground_side" and (relay is None or not moved):
            return self._ways.back
        return ()

    @property
    def _contact(self) -> tuple[Link, ...]:
        return (Link(str(self._staged.relay), "relay", "", ""),)

    @property
    def _feed(self) -> tuple[Link, ...]:
        return _chain(self._staged.proposal.feed if self._staged.proposal else ())

    @property
    def _outlet(self) -> tuple[Link, ...]:
        return _chain(self._staged.proposal.outlet if self._staged.proposal else ())

    def _of_part(self, link: Link, shown: Shown, *, moves: bool) -> Bar:
        """Of a contact what a sound one drops; of a wire, or what is by design, its own."""
        states = [shown.state, *([self._mended.state] if self._mended else [])]
        if link.kind in contact_limits():
            amps = max(abs(state.current_a(link.name)) for state in states)
            limit = sound_contact(link.kind, amps, MOMENT_S / 2 if moves else math.inf)
            drops = None if self._mended is None else self._mended.drops.get(link.name)
            return Bar(
                "sound_part",
                most=limit.limit_v,
                is_contact=True,
                at_a=None if drops is None else amps,
                drops=drops,
            )
        spread = shown.spreads.get(self._keys.get(link.name, -1))
        volts = [abs(state.across_v(link.name)) for state in states]
        ends = [] if spread is None else [abs(spread.low), abs(spread.high)]
        return Bar("sound_wire", most=max(volts + ends), by_meter=True)

    def _amperes(self, state: State, place: Place) -> Bar | None:
        """With what a load of constant resistance gets that it works from, where nothing else."""
        name, load = place.then.through or place.as_is.through, self._staged.load
        part = state.named(load.name)
        amps, volts = abs(state.current_a(load.name)), abs(state.across_v(load.name))
        if part is None or part.needed_v is None or not volts or name is None:
            return None
        alone = math.isclose(abs(state.current_a(name)), amps, rel_tol=SAME_SHARE)
        if not alone or not isinstance(load, ResistanceLoad | SolenoidLoad):
            return None
        return Bar("sound_amperes", least=part.needed_v * amps / volts)

    def _of_battery(self, state: State, code: str, phase: Phase, *, runs: bool) -> Bar:
        if runs and code != "at_rest":
            return Bar("sound_charging", least=RESTS_AT_MOST_V * self._scale)
        ambient_c = self._staged.battery_c
        if phase == "cranking":
            volts = _read(table.load_test(), ambient_c, "temperature_c")
            return Bar("sound_cranking", least=volts * self._scale)
        charged_v = _read(table.open_circuit(), table.CHARGED_PERCENT, "state_of_charge_percent")
        if code == "at_rest":
            return Bar("sound_at_rest", least=charged_v * self._scale)
        amps = abs(float(state.flow("sources").current_a[0]))
        share = _read(table.cranking_power(), ambient_c, "temperature_c") / 100.0
        # Of another system both the volts and the ohms are as many times more.
        own_v = amps * table.SOUND_OHM / share
        return Bar("sound_supply", least=(charged_v - own_v) * self._scale)


def _chain(parts: Sequence[ChainPart]) -> tuple[Link, ...]:
    kinds = (str(e.part if isinstance(e, ChainContact) else e.kind) for e in parts)
    return tuple(Link(e.name, kind, "", "") for e, kind in zip(parts, kinds, strict=True))


def _read(curve: Curve, at: float, along: str) -> float:
    return float(read_off(curve, at, "sound", "of a sound battery", along=along))


def told(
    bar: Bar,
    spread: Spread | None,
    margin: Spread | None,
    meter: MeterData,
    costs_v: float | None,
    *,
    is_of_relay: bool,
    **texts: str | None,
) -> SoundReading:
    """Hold what was given against what is sound, and say both; of what a relay is there for so."""
    spread = bar.drops or spread
    given = "sound" if spread is None else _given(bar, spread, margin)
    least, most = bar.least, bar.most
    if bar.by_meter and most is not None:
        most = meter.least_and_most(most, most)[1]
    worst_v = costs_v if bar.is_contact and given != "sound" else None
    unit = "A" if bar.code == "sound_amperes" else "V"
    ends = {
        "least": None if least is None else as_shown(least, unit, "up"),
        "most": None if most is None else as_shown(most, unit, "down" if bar.is_contact else "up"),
    }
    said = [sentence(bar.code, **ends, at_a=bar.at_a, **texts)]
    if given != "sound":
        said.append(sentence("described_poor" if is_of_relay else _AS_GIVEN[given]))
    if bar.is_contact and given != "sound" and most is not None:
        worn = as_shown(WORN_MULTIPLE * most, unit)
        said.append(sentence("mend_from", worn=worn, costs_v=worst_v, **texts))
    shown = ends["most"] or ends["least"] or ""
    return SoundReading(least, most, bar.at_a, given, worst_v, shown, " ".join(said))


def _given(bar: Bar, spread: Spread, margin: Spread | None) -> GivenAs:
    """Whether what was given is sound: all of it, some, or none."""
    low, high = spread.low, spread.high
    if spread.nominal < 0.0:
        low, high = -high, -low
    if margin is not None and bar.least is not None:
        low, high = margin.low + bar.least, margin.high + bar.least
    if bar.most is not None:
        worn = bar.most * (WORN_MULTIPLE if bar.is_contact else 1.0)
        worn *= 1.0 + SAME_SHARE
        return "poor" if low > worn else "may_be_poor" if high > worn else "sound"
    least = (bar.least or 0.0) * (1.0 - SAME_SHARE)
    return "poor" if high < least else "may_be_poor" if low < least else "sound"


@dataclass(frozen=True, slots=True)
class Mended:
    """The circuit with every contact of the way sound, and what each costs the load at its worst.

    Attributes
    ----------
    state : State
        All in the middle of its bounds, but for these contacts.
    costs_v : mapping of str to float
        More at the load with all sound than with this one contact as bad as it was given. [V]
    drops : mapping of str to Spread
        Of each contact as it was given, all others being sound. [V]
    """

    state: State
    costs_v: Mapping[str, float]
    drops: Mapping[str, Spread]

    @classmethod
    def of(cls, staged: Staged, case: Case, warm: State, ways: Walk) -> "Mended | None":
        """Mend the circuit as it is, its wires as warm; None with a relay in it, too."""
        if staged.relay is not None:
            return None
        circuit, case = plain(as_warm(staged.circuit, warm), case)
        names = {each.name for each in (*ways.there, *ways.back)}
        contacts = {
            each.name: each
            for each in staged.circuit.branches
            if each.name in names and isinstance(each, CircuitContact)
        }
        try:
            free = rest(with_ohms(circuit, dict.fromkeys(contacts, JUMPER_OHM)), case)
        except CalculationError:
            return None
        ohms = {
            name: min(sound_ohm(each.part, abs(free.current_a(name))), low_end(each.resistance_ohm))
            for name, each in contacts.items()
        }
        ends = [
            ohms | {name: end(each.resistance_ohm)}
            for name, each in contacts.items()
            for end in (low_end, high_end)
        ]
        first, *found = rest_all([(with_ohms(circuit, each), case) for each in (ohms, *ends)])
        if not isinstance(first, State):
            return None
        load = staged.load.name
        costs, drops = dict[str, float](), dict[str, Spread]()
        for name, best, worst in zip(contacts, found[::2], found[1::2], strict=True):
            if isinstance(best, State) and isinstance(worst, State):
                costs[name] = max(0.0, abs(first.across_v(load)) - abs(worst.across_v(load)))
                low, high = (abs(each.across_v(name)) for each in (best, worst))
                drops[name] = Spread(low, low, high)
        return cls(first, costs, drops)


def margin_of(place: Place, shown: Shown) -> Spread | None:
    """What a load has over what it needs, where a reading is of that."""
    return shown.spreads.get(MARGIN) if place.code in {"across_load", "pulling_in"} else None
