"""The readings of one case: places, bands, what is sound, phases, and what is told of each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lastvolt_service.errors import CalculationError, NetworkFault
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.intervals import Spread
from lastvolt_service.operations.decision.proposal import at_the_proposal, case_with_relay
from lastvolt_service.operations.decision.wiring_table import Fitting, of_a_starter
from lastvolt_service.operations.fuses.profile import CRANKING, STARTER_SOLENOID
from lastvolt_service.operations.meter.plan_answer import PlannedReading
from lastvolt_service.operations.meter.plan_bands import MARGIN, Band, Held
from lastvolt_service.operations.meter.plan_places import Place, at_rest, places
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_sound import Bars, SoundReading, margin_of, told
from lastvolt_service.operations.meter.plan_stages import (
    Phase,
    Staged,
    Stages,
    chargers,
    moves_a_plunger,
    rests,
    turns,
)
from lastvolt_service.operations.meter.plan_told import cautions, means, sentence, what
from lastvolt_service.operations.meter.plan_wrong import Wrongs, first_seen
from lastvolt_service.operations.meter.reading_fields import Kind, MeterData, usual_meter
from lastvolt_service.operations.meter.walk import own_coil, walk
from lastvolt_service.tables.load_profiles import load_profiles
from lastvolt_service.words import case_name

# What a plunger takes at least to move, and what a meter takes to settle. Common practice. [s]
LEAST_PULL_IN_S, SETTLES_S = 0.1, 1.0
# A load with less is off. [A]
OFF_A = 1e-3


@dataclass(frozen=True, slots=True)
class Column:
    """A circuit in a case as it is, or with the relay, and what is sound in it."""

    staged: Staged
    stages: Stages
    bars: Bars

    def band(self, key: int, place: Place, meter: MeterData, *, turned: bool) -> Band | None:
        """What passes at a place; None where there is nothing to read, or nobody knows what."""
        shown = self.stages.of(place)
        if shown is None or place.code == "cranking":
            return None
        return shown.band(key, meter, turned)

    def spread(self, key: int, place: Place) -> Spread | None:
        """What is at a place before any meter errs."""
        shown = self.stages.of(place)
        return None if shown is None else shown.spreads.get(key)

    def on(self, place: Place) -> tuple[str, ...]:
        """Loads that are on."""
        shown = self.stages.of(place)
        names = [each.name for each in self.staged.circuit.loads]
        if shown is None or place.code in {"at_rest", "switched_off"}:
            return ()
        return tuple(name for name in names if abs(shown.state.current_a(name)) > OFF_A)


@dataclass(frozen=True, slots=True)
class Walked:
    """The readings of a case, and what is at the load in it.

    Attributes
    ----------
    case : Case
        As requested.
    ambient_c : float
        At the load. [degC]
    readings : sequence of PlannedReading
        In order.
    on : tuple of str
        Loads that are on.
    number : int
        Of the reading at the load that decides.
    volts : Spread
        There, as it is, before any meter errs, as a meter shows it. [V]
    as_is : Column
        The circuit as it is.
    then : Column or None
        With the relay.
    runs, rests : bool
        Whether the engine runs, and whether the battery is read at rest.
    """

    case: Case
    ambient_c: float
    readings: Sequence[PlannedReading]
    on: tuple[str, ...]
    number: int
    volts: Spread
    as_is: Column
    then: Column | None
    runs: bool
    rests: bool

    @property
    def margin(self) -> Spread | None:
        """Of the volts over what the load needs. [V]."""
        return self.as_is.stages.decides.spreads.get(MARGIN)


@dataclass(frozen=True, slots=True)
class _Here:
    """A case with its places, and what is shown in it."""

    case: Case
    ambient_c: float
    as_is: Column
    then: Column | None
    wrongs: Wrongs | None
    charged_by: tuple[str, ...] | None


class Rounds:
    """Makes the readings of one case after the other."""

    def __init__(self, asked: MeterPlanRequest) -> None:
        self._asked = asked
        circuit = asked.circuit
        self.load = next(each for each in circuit.loads if each.name == asked.load)
        self._with_way = asked.with_way
        self.fit = None if self._with_way is None else Fitting.of(self._with_way)
        given = {each.kind: each for each in asked.meters}
        kinds: tuple[Kind, ...] = ("volts", "amperes")
        self.meters: dict[Kind, MeterData] = {
            kind: given.get(kind) or usual_meter(kind) for kind in kinds
        }
        self.starts = of_a_starter(self.load)

    def walked(self, case: Case, first: int) -> Walked:
        """Plan the readings of a case, the numbers of which begin with `first`.

        Raises
        ------
        CalculationError
            If it has no state of rest.
        """
        asked, circuit, load = self._asked, self._asked.circuit, self.load
        way = walk(circuit, load, asked.switch, set(case.without))
        own = own_coil(circuit, load, asked.switch, set(case.without))
        staged = Staged(circuit, case, load, asked.switch, goes_off=self.fit is None)
        found = [
            at_rest(circuit),
            *places(circuit, load, asked.switch, self.fit, way, own, bridges=staged.bridges),
        ]
        keys = {e.part: k for k, e in enumerate(found) if e.part and e.code in _OF_A_PART}
        as_is = self._column(staged, [each.as_is for each in found])
        bars = Bars(staged, as_is, way, keys, asked.system_v)
        column, then, wrongs = Column(staged, as_is, bars), None, None
        if self.fit is not None and self._with_way is not None:
            with_it = case_with_relay(case, load.name, asked.way)
            moved = Staged(self.fit.circuit, with_it, self.fit.moved, asked.switch, asked.way)
            stages = self._column(moved, [each.then for each in found])
            then = Column(moved, stages, Bars(moved, stages, way, keys, asked.system_v))
            wrongs = Wrongs(self._with_way, moved, found, [stages.on.state, as_is.on.state])
        is_rest = rests(as_is, asked.system_v)
        charged_by = chargers(circuit, case)
        runs = not self.starts and (bool(charged_by) or not is_rest)
        here = _Here(case, self.ambient_c(case), column, then, wrongs, charged_by if runs else None)
        readings: list[PlannedReading] = []
        for key, place in enumerate(found):
            if place.code == "at_rest" and not is_rest:
                continue
            made = self._reading(first + len(readings), key, place, here)
            readings += [made] if made is not None else []
        code = "pulling_in" if staged.bridges else "across_load"
        number = next(each.number for each in readings if each.code == code)
        across = next(key for key, each in enumerate(found) if each.code == code)
        volts = as_is.decides.spreads[across]
        if volts.nominal < 0.0:
            volts = Spread(-volts.nominal, -volts.high, -volts.low)
        on = column.on(found[1])
        return Walked(
            case, here.ambient_c, readings, on, number, volts, column, then, runs, is_rest
        )

    def ambient_c(self, case: Case) -> float:
        """Ambient of the load in a case, in the middle of its bounds. [degC]."""
        circuit, middle = plain(self._asked.circuit, case)
        return middle.ambient_c_of(next(e for e in circuit.loads if e.name == self.load.name))

    def _column(self, staged: Staged, held: Sequence[Held]) -> Stages:
        try:
            return staged.shown(dict(enumerate(held)))
        except CalculationError as error:
            told_: CalculationError = error
            if isinstance(error, NetworkFault):
                detail = f"In {case_name(staged.case.name)}: {error.detail}"
                told_ = type(error)(detail, error.path, error.nodes)
            if staged.proposal is None:
                raise told_ from error
            circuit = self._asked.circuit
            raise at_the_proposal(told_, circuit, staged.proposal, ("way",)) from error

    def _reading(self, number: int, key: int, place: Place, here: _Here) -> PlannedReading | None:
        """Tell one; None where the case parts it from the rest."""
        kind: Kind = "amperes" if place.pair is None else "volts"
        meter, unit = self.meters[kind], "A" if place.pair is None else "V"
        phase, then = self._phase(place, here.case), here.then
        columns = (here.as_is, None if _is_nothing(place.then) else then)
        spreads = [each.spread(key, place) if each else None for each in columns]
        usual = [each.nominal for each in spreads if each]
        if not usual:
            return None
        turned = sum(usual) < 0.0
        if place.code == "switched_off":  # it shows nothing
            turned = self._asked.circuit.positive_ground
        bands = [each.band(key, place, meter, turned=turned) if each else None for each in columns]
        wrongs = here.wrongs.of(key, bands[1], unit, turned=turned) if here.wrongs else ()
        red, black = place.labels(turned)
        own = means(place, self.load, self._asked.switch, here.charged_by)
        sounds = [
            self._sound(each, key, place, phase, meter, here) if each and spread else None
            for each, spread in zip(columns, spreads, strict=True)
        ]
        more, less = own
        if then is not None and bands[1] is not None:
            high = [each for each in wrongs if each.shows > bands[1].high]
            low = [each for each in wrongs if each.shows < bands[1].low]
            relay = str(then.staged.relay)
            more, less = (
                first_seen(some, each, relay, unit)
                for some, each in zip((high, low), own, strict=True)
            )
        return PlannedReading(
            number=number,
            code=place.code,
            case=here.case.name,
            phase=phase,
            part=place.part,
            kind=kind,
            unit=unit,
            red=red,
            black=black,
            clamp=place.part if place.pair is None else None,
            between=place.as_is.nodes(turned),
            between_with_way=() if columns[1] is None else place.then.nodes(turned),
            on=(here.as_is if spreads[0] or then is None else then).on(place),
            as_is=bands[0],
            with_way=bands[1],
            sound_as_is=sounds[0],
            sound_with_way=sounds[1],
            wired_wrong=wrongs,
            least_duration_s=LEAST_PULL_IN_S if phase == "pull_in" else SETTLES_S,
            to_be_caught=phase == "pull_in",
            text=what(place, self._asked),
            how=self._how(place, phase, here),
            means_if_more=own[0],
            means_if_less=own[1],
            means_if_more_with_way=None if then is None else more,
            means_if_less_with_way=None if then is None else less,
            cautions=cautions(place, phase, self.starts, here.ambient_c),
        )

    def _sound(
        self, column: Column, key: int, place: Place, phase: Phase, meter: MeterData, here: _Here
    ) -> SoundReading | None:
        bar = column.bars.of(place, phase, runs=here.charged_by is not None)
        shown = column.stages.of(place)
        if bar is None or shown is None:
            return None
        costs_v = None if place.part is None else column.bars.costs_v(place.part)
        spread = None if place.code == "cranking" else shown.spreads.get(key)
        return told(
            bar, spread, margin_of(place, shown), meter, costs_v,
            is_of_relay=column.staged.relay is not None and place.as_is != place.then,
            load=self.load.name, part=place.part,
        )  # fmt: skip

    def _phase(self, place: Place, case: Case) -> Phase:
        """What is going on at a reading."""
        apart: Mapping[str, Phase] = {
            "at_rest": "at_rest",
            "switched_off": "switched_off",
            "pulling_in": "pull_in",
            "cranking": "cranking",
        }
        if place.code in apart:
            return apart[place.code]
        if turns(self._asked.circuit, case):
            return "cranking"
        if self.load.name in case.held:
            return "held"
        return "pull_in" if moves_a_plunger(self.load) else "steady"

    def _how(self, place: Place, phase: Phase, here: _Here) -> str:
        state = here.as_is.stages.decides.state
        amps = state.current_a(self.load.name)
        profiles = load_profiles()
        code = "how_cranking_unseen" if place.code == "cranking" else _HOW[phase]
        if phase == "pull_in" and place.code in _LEAST:
            code = "how_pull_in_least"
        if here.charged_by is not None and phase in {"steady", "held"}:
            code = "how_running"
        known_ohm = abs(state.across_v(self.load.name) / amps) if amps else None
        return sentence(
            code,
            load=self.load.name,
            switch=self._asked.switch,
            starts=self.starts,
            least_s=LEAST_PULL_IN_S,
            most_s=profiles[STARTER_SOLENOID].first_time_s,
            at_a_time_s=profiles[CRANKING].on_time_s,
            known_ohm=known_ohm,
            known_w=None if known_ohm is None else _most_v(here, self.load.name) ** 2 / known_ohm,
        )


def _most_v(here: _Here, load: str) -> float:
    """Most that the load gets, as it is or with the relay. [V]."""
    found = [abs(here.as_is.stages.decides.state.across_v(load))]
    for column in (here.as_is, here.then):
        shown = None if column is None else column.stages.decides
        part = None if shown is None else shown.state.named(load)
        margin = None if shown is None else shown.spreads.get(MARGIN)
        if shown is not None:
            found.append(abs(shown.state.across_v(load)))
        if margin is not None and part is not None and part.needed_v is not None:
            found.append(margin.high + part.needed_v)
    return max(found)


def _is_nothing(held: Held) -> bool:
    """Whether both leads would be at one place."""
    return held.red is not None and held.red == held.black


_OF_A_PART = frozenset({"across_switch", "across_part"})
_LEAST = frozenset({"supply", "across_load", "across_coil", "pulling_in"})
_HOW: Mapping[Phase, str] = {
    "at_rest": "how_at_rest",
    "steady": "how_steady",
    "held": "how_steady",
    "cranking": "how_cranking",
    "pull_in": "how_pull_in_most",
    "switched_off": "how_switched_off",
}
