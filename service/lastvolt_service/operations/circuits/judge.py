"""Circuits in cases, brought to rest and judged, many at once."""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace

from lastvolt_service.errors import CalculationError, NetworkFault, SourceShort
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.assembly import Posed, open_coil_v, rest, rest_each
from lastvolt_service.operations.circuits.bounds import Bounds, CasePins, Points
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.chafes import but_chafes, chafed, joins_once_on
from lastvolt_service.operations.circuits.crossed import crossed
from lastvolt_service.operations.circuits.fields import Circuit, joints_of
from lastvolt_service.operations.circuits.intervals import Pins
from lastvolt_service.operations.circuits.joints import reached
from lastvolt_service.operations.circuits.letting_go import LettingGo
from lastvolt_service.operations.circuits.mended import burns_once_mended
from lastvolt_service.operations.circuits.model import State
from lastvolt_service.operations.circuits.needless import Needless, needless
from lastvolt_service.operations.circuits.open_coils import open_coils, open_loads
from lastvolt_service.operations.circuits.part_checks import (
    GIVEN,
    Rested,
    checks_within,
    part_checks,
)
from lastvolt_service.operations.circuits.ruled import Ruled
from lastvolt_service.operations.circuits.source_checks import source_checks
from lastvolt_service.operations.judging import UNDECIDED, UNKNOWN, flatly
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import Check
from lastvolt_service.operations.wires.drop_limits import nominal_of
from lastvolt_service.words import case_name, catalogue

NAME = "circuit-check"
# Names of parts in one error.
MOST_TOLD = 5
# What a part has between two nodes, by the field that names them.
OHMS = {"nodes": "resistance_ohm", "contact_nodes": "contact_resistance_ohm"}
# What a way of wiring is called in errors.
WAYS: dict[str | None, str] = {"as_is": ", as it is", "relay": ", with the relay"}


@dataclass(frozen=True, slots=True)
class Asked:
    """A circuit in a case, to be judged.

    Attributes
    ----------
    circuit, case : Circuit, Case
        Intervals are taken at their middle, and then within all of their bounds.
    nominal_v : float
        6, 12 or 24; told from the source where it is NaN. [V]
    load : str
        The load that decides.
    way : str or None
        Which of several circuits it is.
    fitted : set of str
        Names of parts that the way puts there: what they carry is theirs to carry.
    """

    circuit: Circuit
    case: Case
    nominal_v: float
    load: str
    way: str | None = None
    fitted: AbstractSet[str] = frozenset()

    def located(self, error: CalculationError) -> CalculationError:
        """The same error, with the case and the way that it is of, and the parts at its nodes."""
        if not isinstance(error, NetworkFault):
            return error
        nodes = {*error.nodes}
        if isinstance(error, SourceShort):
            nodes = _perfectly_joined(self.circuit, nodes)
        between = [
            each.name
            for each in self.circuit.parts
            if any(set(ends) <= nodes for ends in joints_of(each).values())
        ]
        more = f" and {len(between) - MOST_TOLD} more" if len(between) > MOST_TOLD else ""
        parts = f" Parts between these: {', '.join(between[:MOST_TOLD])}{more}." if between else ""
        detail = f"In {case_name(self.case.name)}{WAYS.get(self.way, '')}: {error.detail}{parts}"
        return type(error)(detail, error.path, error.nodes)


def _perfectly_joined(circuit: Circuit, nodes: set[str]) -> set[str]:
    """These nodes, and all that parts without resistance join with them."""
    perfect = [
        (ends[0], ends[1])
        for each in circuit.parts
        for field, ends in joints_of(each).items()
        if getattr(each, OHMS.get(field, ""), None) == 0.0 or getattr(each, "length_m", None) == 0.0
    ]
    return {found for node in nodes for found in reached(node, perfect)}


@dataclass(frozen=True, slots=True)
class Judged:
    """A case with its checks.

    Attributes
    ----------
    case : Case
        As requested.
    state : State
        The circuit at rest.
    checks : tuple of Check
        Of every part.
    within : Bounds
        What the decisive voltages do within the bounds of the inputs.
    """

    case: Case
    state: State
    checks: tuple[Check, ...]
    within: Bounds


def judge(asked: Sequence[Asked]) -> list[Judged | CalculationError]:
    """Bring circuits in cases to rest and check all their parts; or why one has no answer.

    Errors are those of a part that is in no table, and of networks without a state of rest.
    """
    circuits = {id(each.circuit): each.circuit for each in asked}  # often the same in all cases
    own = {key: Pins(circuit) for key, circuit in circuits.items()}
    chafes = {key: needless(circuit) for key, circuit in circuits.items()}
    pins = [CasePins(each.circuit, each.case, own[id(each.circuit)]) for each in asked]
    posed = [Posed(*each.plain) for each in pins]
    found: list[_Rested | CalculationError] = []
    for each, own_pins, plain, state in zip(asked, pins, posed, rest_each(posed), strict=True):
        try:
            found.append(_rested(each, own_pins, plain, state, chafes[id(each.circuit)]))
        except CalculationError as error:
            found.append(each.located(error))
    at_rest = [each for each in found if isinstance(each, _Rested)]
    usual = part_checks([each.rested for each in at_rest])
    within = checks_within([each.points.rested for each in at_rest])
    # What is to be taken out in one case is to be cleaned in none.
    out: dict[int, set[str]] = {}
    for one, checks in zip(at_rest, usual, strict=True):
        found_out = chafed((*one.of_source, *checks), one.chafes)
        out.setdefault(id(one.asked.circuit), set()).update(found_out)
    judged = (
        each.judged(checks, each.points.judged(*inside), out[id(each.asked.circuit)])
        for each, checks, inside in zip(at_rest, usual, within, strict=True)
    )
    return [next(judged) if isinstance(each, _Rested) else each for each in found]


def judge_all(asked: Sequence[Asked]) -> list[Judged]:
    """Judge circuits that must all have an answer.

    Raises
    ------
    CalculationError
        The first of those that `judge` tells.
    """
    found = []
    for each in judge(asked):
        if isinstance(each, CalculationError):
            raise each
        found.append(each)
    return found


@dataclass(frozen=True, slots=True)
class _Rested:
    """A circuit in a case at rest, also within its bounds, and what is left to judge."""

    asked: Asked
    plain: tuple[Circuit, Case]
    rested: Rested
    points: Points
    of_source: tuple[Checked, ...]
    chafes: Sequence[Needless]

    def judged(
        self, of_parts: tuple[Checked, ...], within: Bounds, chafes: AbstractSet[str]
    ) -> Judged:
        asked, words = self.asked, catalogue()[NAME]
        later = burns_once_mended(*self.plain, self.rested, of_parts)
        of_parts = but_chafes((*self.of_source, *of_parts), chafes)
        usual = (*map(self._of_what_is_fitted, of_parts), *later)
        checks = tuple(
            replace(each, case=asked.case.name, way=asked.way).told(words)
            for each in but_chafes(within.checks(usual, asked.load), chafes)
        )
        return Judged(asked.case, self.rested.state, checks, within)

    def _of_what_is_fitted(self, check: Checked) -> Checked:
        if check.code != "diverted_current" or check.part not in self.asked.fitted:
            return check
        return replace(check, code="permissible_current", detail=None)


def _rested(
    asked: Asked,
    pins: CasePins,
    plain: Posed,
    state: State | CalculationError,
    chafes: Sequence[Needless],
) -> _Rested:
    if isinstance(state, CalculationError):
        raise state
    circuit, case = plain.circuit, plain.case
    # No way of wiring is weighed by a load that is off; of the circuit itself that is the answer.
    if asked.way is not None and asked.load in state.unfed:
        raise state.unfed[asked.load]
    nominal = int(nominal_of(state.model.emf_v, asked.nominal_v))
    ruled = Ruled.of(circuit, case)
    going = LettingGo(circuit, case, ruled, chafes=chafes)
    rested = Rested.of(state, open_coil_v(state), circuit, case, nominal, ruled.off)
    points = Points(asked.circuit, pins, (circuit, case), rested, going)
    of_source = (
        *source_checks(circuit, case, state, nominal, asked.nominal_v),
        *_open_ends(circuit, case),
        *open_coils(circuit, case),
        *open_loads(circuit, case),
        *joins_once_on(state, chafes),
        *crossed(circuit, case, state.model.drive_v, chafes),
        *_by_order(circuit, case, state, ruled.off),
        *going.checks([(circuit, case, state)])[0],
    )
    return _Rested(asked, (circuit, case), rested, points, of_source, chafes)


def _open_ends(circuit: Circuit, case: Case) -> Iterator[Checked]:
    """Say which parts lead nowhere: they may, or a node has a name of its own by mistake."""
    idle = {name: (node, leads_on) for name, node, leads_on in circuit.idle_contacts()}
    for name, (node, leads_on) in idle.items():
        judged = flatly(UNKNOWN if leads_on else UNDECIDED)
        if name not in case.without:
            yield Checked("switches_nothing", judged, "V", GIVEN, part=name, detail=node)
    for _, part, node in circuit.open_ends():
        if part not in case.without and node != idle.get(part, (None,))[0]:
            judged = flatly(UNKNOWN)
            yield Checked("open_end", judged, "V", GIVEN, part=part, detail=node)


def _by_order(
    circuit: Circuit, case: Case, state: State, off: AbstractSet[str]
) -> Iterator[Checked]:
    """Say which open relays would stay in, had they pulled in before all else was switched on."""
    model, coils = state.model, [*state.carrying("coils")]
    between = {
        part.name
        for (part, volts, _), relay, on in zip(
            coils, model.relays, state.solution.energised.tolist(), strict=True
        )
        if not on and abs(volts) >= relay.drop_out_v and part.name not in off
    }
    if not between:
        return
    idle = changed(case, without=[*case.without, *(load.name for load in circuit.loads)])
    try:
        alone = rest(circuit, idle)
        kept = [
            relay.name
            for relay, on in zip(model.relays, alone.solution.energised.tolist(), strict=True)
            if on and relay.name in between
        ]
        other = rest(circuit, changed(case, held=[*case.held, *kept]), state)
    except CalculationError:
        return  # no state of rest, and so none to tell of
    rested = zip(coils, other.carrying("coils"), other.solution.energised.tolist(), strict=True)
    for (part, now_v, _), (_, then_v, _), on in rested:
        if on and part.name in kept:
            judged = flatly(UNDECIDED, abs(then_v), abs(now_v))
            yield Checked("order", judged, "V", GIVEN, part=part.name)
