"""The readings of one case: places, bands, phases, and what is told of each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lastvolt_service.errors import CalculationError, NetworkFault
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.intervals import Spread
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.loads import SolenoidLoad
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.decision.proposal import at_the_proposal, case_with_relay
from lastvolt_service.operations.decision.wiring_table import Fitting, of_a_starter
from lastvolt_service.operations.fuses.profile import CRANKING, STARTER_MOTOR, STARTER_SOLENOID
from lastvolt_service.operations.meter.plan_bands import MARGIN, Held, Shown, shown
from lastvolt_service.operations.meter.plan_places import Place, at_rest, places
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_told import (
    Phase,
    PlannedReading,
    cautions,
    means,
    sentence,
    what,
)
from lastvolt_service.operations.meter.reading_fields import Kind, MeterData, usual_meter
from lastvolt_service.operations.meter.walk import walk
from lastvolt_service.tables.load_profiles import load_profiles

# What a plunger takes at least to move, and what a meter takes to settle. Common practice. [s]
LEAST_PULL_IN_S, SETTLES_S = 0.1, 1.0
# A load with less is off. [A]
OFF_A = 1e-3


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
        Of the reading across the load.
    volts : Spread
        There, as it is, before any meter errs. [V]
    margin : Spread or None
        Of these over what the load needs. [V]
    shown : Shown
        The circuit as it is.
    """

    case: Case
    ambient_c: float
    readings: Sequence[PlannedReading]
    on: tuple[str, ...]
    number: int
    volts: Spread
    margin: Spread | None
    shown: Shown


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
        found = [at_rest(circuit), *places(circuit, load, asked.switch, self.fit, way)]
        as_is = self._shown(circuit, case, {k: each.as_is for k, each in enumerate(found)})
        then = None
        if self.fit is not None:
            with_it = case_with_relay(case, load.name, asked.way)
            held = {k: each.then for k, each in enumerate(found)}
            then = self._shown(self.fit.circuit, with_it, held)
        state = as_is.on.state
        names = (each.name for each in circuit.loads)
        on = tuple(name for name in names if abs(state.current_a(name)) > OFF_A)
        here = _Here(case, self.ambient_c(case), on, as_is, then)
        readings: list[PlannedReading] = []
        for key, place in enumerate(found):
            made = self._reading(first + len(readings), key, place, here)
            readings += [made] if made is not None else []
        number = next(each.number for each in readings if each.code == "across_load")
        across = next(key for key, each in enumerate(found) if each.code == "across_load")
        spreads = as_is.on.spreads
        return Walked(
            case, here.ambient_c, readings, on, number,
            spreads[across], spreads.get(MARGIN), as_is.on,
        )  # fmt: skip

    def ambient_c(self, case: Case) -> float:
        """Ambient of the load in a case, in the middle of its bounds. [degC]."""
        circuit, middle = plain(self._asked.circuit, case)
        return middle.ambient_c_of(next(e for e in circuit.loads if e.name == self.load.name))

    def _shown(self, circuit: Circuit, case: Case, held: Mapping[int, Held]) -> "_Both":
        idle = changed(case, without=_all_off(circuit, case, self._asked.switch), held=[])
        try:
            return _Both(
                shown(circuit, idle, {0: held[0]}), shown(circuit, case, held, self.load.name)
            )
        except CalculationError as error:
            told = error
            if isinstance(error, NetworkFault):
                told = type(error)(f"In {case.name}: {error.detail}", error.path, error.nodes)
            if circuit is self._asked.circuit or self._asked.way is None:
                raise told from error
            raise at_the_proposal(told, self._asked.circuit, self._asked.way, ("way",)) from error

    def _reading(self, number: int, key: int, place: Place, here: "_Here") -> PlannedReading | None:
        """Tell one; None where the case parts it from the rest."""
        kind: Kind = "amperes" if place.pair is None else "volts"
        phase, case, then = self._phase(place, here.case), here.case, here.then
        meter, unseen = self.meters[kind], place.code == "cranking"
        seen = [None if each is None else each.of(phase) for each in (here.as_is, then)]
        usual = [each.spreads[key].nominal for each in seen if each and key in each.spreads]
        if not usual:
            return None
        turned = sum(usual) < 0.0
        bands = [None if each is None or unseen else each.band(key, meter, turned) for each in seen]
        red, black = place.labels(turned)
        more, less = means(place, self.load.name)
        return PlannedReading(
            number=number,
            code=place.code,
            case=case.name,
            phase=phase,
            part=place.part,
            kind=kind,
            unit="A" if place.pair is None else "V",
            red=red,
            black=black,
            clamp=place.part if place.pair is None else None,
            between=place.as_is.nodes(turned),
            between_with_way=() if then is None else place.then.nodes(turned),
            on=() if phase == "at_rest" else here.on,
            as_is=bands[0],
            with_way=bands[1],
            least_duration_s=LEAST_PULL_IN_S if phase == "pull_in" else SETTLES_S,
            to_be_caught=phase == "pull_in",
            text=what(place, self._asked),
            how=self._how(place, phase, here.as_is),
            means_if_more=more,
            means_if_less=less,
            cautions=cautions(place, phase, self.starts, here.ambient_c),
        )

    def _phase(self, place: Place, case: Case) -> Phase:
        """What is going on at a reading."""
        if place.code == "at_rest":
            return "at_rest"
        turning = any(
            each.circuit == STARTER_MOTOR and each.name not in case.without
            for each in self._asked.circuit.loads
        )
        if turning or place.code == "cranking":
            return "cranking"
        if self.load.name in case.held:
            return "held"
        return "pull_in" if isinstance(self.load, SolenoidLoad) else "steady"

    def _how(self, place: Place, phase: Phase, as_is: "_Both") -> str:
        state = as_is.on.state
        amps = state.current_a(self.load.name)
        profiles = load_profiles()
        code = "how_cranking_unseen" if place.code == "cranking" else _HOW[phase]
        if phase == "pull_in" and place.code in {"supply", "across_load", "across_coil"}:
            code = "how_pull_in_least"
        return sentence(
            code,
            load=self.load.name,
            switch=self._asked.switch,
            starts=self.starts,
            least_s=LEAST_PULL_IN_S,
            most_s=profiles[STARTER_SOLENOID].first_time_s,
            at_a_time_s=profiles[CRANKING].on_time_s,
            known_ohm=abs(state.across_v(self.load.name) / amps) if amps else None,
        )


def _all_off(circuit: Circuit, case: Case, switch: str) -> list[str]:
    """Parts to leave out so that the batteries stand alone, and what hangs in the air then."""
    off = {*case.without, switch}
    off |= {each.name for each in (*circuit.loads, *circuit.relays)}
    off |= {each.name for each in circuit.further_sources if isinstance(each, Charger)}
    joined = circuit.joined(off)
    there = reached(circuit.posts[0], joined) | reached(circuit.posts[1], joined)
    others = (*circuit.branches, *circuit.further_sources)
    off |= {each.name for each in others if there.isdisjoint(each.nodes)}
    return sorted(off)


@dataclass(frozen=True, slots=True)
class _Both:
    """A circuit in a case with all off, and with the load on."""

    off: Shown
    on: Shown

    def of(self, phase: Phase) -> Shown:
        return self.off if phase == "at_rest" else self.on


@dataclass(frozen=True, slots=True)
class _Here:
    """A case with its ambient at the load, what is on, and what is shown in it."""

    case: Case
    ambient_c: float
    on: tuple[str, ...]
    as_is: _Both
    then: _Both | None


_HOW: Mapping[Phase, str] = {
    "at_rest": "how_at_rest",
    "steady": "how_steady",
    "held": "how_steady",
    "cranking": "how_cranking",
    "pull_in": "how_pull_in_most",
}
