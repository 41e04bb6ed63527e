"""Parts that are open, and relays that do not do what their coils say, by readings of a circuit."""

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from typing import Annotated, Literal, TypeAlias

from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.meter.fit_condition import WIRES, most_of_wire_v
from lastvolt_service.operations.meter.fit_mending import either
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_outputs import across
from lastvolt_service.operations.meter.fit_points import first_points
from lastvolt_service.operations.meter.fit_request import CircuitFitRequest
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import both, digits, sentence
from lastvolt_service.operations.meter.fit_worn import Worn
from lastvolt_service.operations.meter.fitting import Problem, Solved
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.operations.meter.switched_off import off
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.physics.uncertainty import COVERAGE_FACTOR
from lastvolt_service.tables.limits import contact_limit, contact_limits
from lastvolt_service.words.amounts import amount

# A part with so much of the supply across it is open, 19 times of 20.
OPEN_SHARE = 0.95
# Relays that are looked at, the newest first of all.
MOST_RELAYS = 8
# A relay, whether it is in whatever its coil gets, and the fit.
Stuck: TypeAlias = tuple[str, bool, Solved]
FaultKind = Literal[
    "stays_live", "open_part", "worn_part", "perhaps_worn", "takes_more", "stays_out", "stays_in"
]
# Faults of what takes more than was given for it.
OF_WORN = frozenset({"worn_part", "perhaps_worn", "takes_more"})


@dataclass(frozen=True, slots=True)
class Fault:
    """A part that is open, or a relay that does not do what its coil says."""

    part: Annotated[str, "its name"]
    fault: Annotated[
        FaultKind,
        "stays_live: a switch, with volts behind it while it is off; open_part: it lets nothing "
        "through; worn_part: a wire, or what was given as a number, that takes more than that; "
        "takes_more: the same, of one that surely takes no more than a sound one may; "
        "perhaps_worn: the same, where the readings leave open which of both; "
        "stays_out, stays_in: a relay, whatever its coil gets",
    ]
    case: Annotated[str, "the case that shows it"]
    voltage_v: Annotated[float, "across the part, at the coil, or behind the switch"]
    message: Annotated[str, "the same in a sentence"]


def stays_live(model: CircuitModel, readings: Sequence[MeterReading], load: str) -> Iterator[Fault]:
    """Switches that a case leaves out, behind which volts were read all the same."""
    left_out = {name for case in model.cases for name in case.without}
    for each in model.circuit.branches:
        is_switch = isinstance(each, CircuitContact) and each.part == "switch"
        if not is_switch or each.name not in left_out:
            continue
        found = [readings[number - 1] for number in off(model, readings, load, each.name).live]
        for reading in sorted(found, key=lambda one: -abs(one.value)):
            if reading.kind == "volts":
                volts, case = abs(reading.value), reading.case
                told = sentence("stays_live", part=each.name, volts=amount(volts, "V"), case=case)
                yield Fault(each.name, "stays_live", case, digits(volts), told)
                break


def open_parts(solved: Solved, *, is_told: bool) -> Iterator[Fault]:
    """Contacts across which nearly all of the supply stands where something was read."""
    model, seen = solved.problem.model, set[str]()
    for place in solved.problem.cases:
        here = model.here(place, solved.point)
        for part, across_v, amps in here.state.carrying("contacts", "resistors"):
            least = OPEN_SHARE * here.state.model.drive_v
            is_contact = part.group == "contacts" or isinstance(part.asked, CircuitContact)
            # Through the contact of a relay that is out nothing flows at all.
            if part.name in seen or not is_contact or abs(across_v) < least or amps == 0.0:
                continue
            deviation = solved.of(here.slopes([across(here.state.model, *part.nodes)])[0])
            if abs(across_v) - COVERAGE_FACTOR * deviation < least:
                continue
            seen.add(part.name)
            asked = part.asked
            case = model.cases[place].name
            yield Fault(
                part.name,
                "open_part",
                case,
                digits(abs(across_v)),
                sentence(
                    "open_part" if is_told else "open_part_if",
                    part=part.name,
                    volts=amount(abs(across_v), "V"),
                    case=case,
                    kind=asked.part if isinstance(asked, CircuitContact) else "relay",
                ),
            )


def worn_parts(found: Sequence[Worn], asked: CircuitFitRequest) -> Iterator[Fault]:
    """Wires, and parts given as numbers, that are worse or open, if all readings are right."""
    kinds = [worth(each, asked) for each in found]
    is_sound = all(kind == "takes_more" for kind in kinds)
    takes = [f"{each.part} {' to '.join(_ends_v(each))}" for each in found]
    names = " or ".join(each.part for each in found)
    for each, own in zip(found, kinds, strict=True):
        model = each.solved.problem.model
        drive_v = model.here(each.case, each.solved.point).state.model.drive_v
        is_open = min(each.drop_v, each.least_v) >= OPEN_SHARE * drive_v
        case = model.cases[each.case].name
        code = "takes_more" if is_sound else own if len(found) == 1 else "one_is_worn"
        low, high = _ends_v(each)
        told = sentence(
            "open_part_if" if is_open else code,
            part=each.part if is_open else names,
            volts=amount(each.drop_v, "V"),
            each=either(takes),
            more=amount(each.more_v, "V"),
            low=low,
            high=high,
            most=amount(most_v(each, asked), "V"),
            case=case,
            kind=kind_of(model.circuit, each.part),
        )
        fault: FaultKind = "open_part" if is_open else own
        yield Fault(each.part, fault, case, digits(each.drop_v), told)


def _ends_v(each: Worn) -> tuple[str, str]:
    """What a part takes at least and at most, 19 times of 20."""
    low_v, high_v = each.drop_v - each.half_v, each.drop_v + each.half_v
    return both(max(low_v, 0.0), high_v, "V")


def worth(each: Worn, asked: CircuitFitRequest) -> FaultKind:
    """Whether a part takes more than a sound one may, 19 times of 20, or no more, or either."""
    most = most_v(each, asked)
    if each.drop_v - each.half_v > most:
        return "worn_part"
    return "takes_more" if each.drop_v + each.half_v <= most else "perhaps_worn"


def most_v(each: Worn, asked: CircuitFitRequest) -> float:
    """What a sound one of a part may drop: of a contact, whatever was given for it. [V]."""
    model = each.solved.problem.model
    kind = kind_of(model.circuit, each.part)
    if kind in WIRES:
        state = model.here(each.case, each.solved.point).state
        return most_of_wire_v(state, asked.load, asked.sure_v, each.drop_v - each.more_v)
    return contact_limit(kind, each.amps).limit_v if kind in contact_limits() else 0.0


def kind_of(circuit: Circuit, name: str) -> str:
    """What a part is: what makes a contact, wire, resistance or relay."""
    part = next((each for each in circuit.branches if each.name == name), None)
    if part is None:
        return "relay"
    return part.part if isinstance(part, CircuitContact) else part.kind


def one_of(found: Sequence[Fault], relays: AbstractSet[str] = frozenset()) -> list[Fault]:
    """Of several parts of which each may be the open one nothing is said but that one of them is.

    Of none of them the volts were read. Where a relay is among them its coil may get nothing.
    """
    opened = [each.part for each in found if each.fault == "open_part"]
    if len(opened) < 2:
        return list(found)
    parts = f"{', '.join(opened[:-1])} or {opened[-1]}"
    relay = next((name for name in opened if name in relays), None)
    code = "one_is_open" if relay is None else "one_is_open_relay"
    told = {
        case: sentence(code, part=parts, case=case, relay=relay) for case in {f.case for f in found}
    }
    return [
        replace(each, message=told[each.case]) if each.fault == "open_part" else each
        for each in found
    ]


def stuck_relays(model: CircuitModel, fits: Iterable[Stuck]) -> Iterator[Fault]:
    """Relays that, in or out whatever their coils get, make all readings hold together."""
    for name, is_in, solved in fits:
        try:
            yield from _against_coil(model, solved, solved.problem.cases, name, is_in=is_in)
        except CalculationError:
            continue


def stuck_fits(model: CircuitModel, taken: Sequence[Taken]) -> Iterator[Stuck]:
    """Fits, with a relay in or out whatever its coil gets, that all readings agree with."""
    starts: list[FloatArray] = []
    for relay in model.circuit.relays[-MOST_RELAYS:]:
        for is_in in (False, True):
            try:
                problem = Problem(model, taken, {relay.name: is_in})
                starts = starts or first_points(model, problem.cases)[0]
                solved = problem.solved_if_near(starts)
            except CalculationError:
                continue
            if solved is not None and solved.check.agrees:
                yield relay.name, is_in, solved


def _against_coil(
    model: CircuitModel, solved: Solved, places: Sequence[int], name: str, *, is_in: bool
) -> Iterator[Fault]:
    """Tell the first case in which the coil says otherwise."""
    for place in places:
        if model.here(place, solved.point).relays.get(name, is_in) == is_in:
            continue
        here = model.here(place, solved.point, None, {name: is_in})
        part, volts = next(
            (part, abs(volts)) for part, volts, _ in here.state.carrying("coils")
            if part.name == name
        )  # fmt: skip
        relay = next(each for each in here.state.model.relays if each.name == name)
        at_coil = across(here.state.model, *part.nodes)
        half = COVERAGE_FACTOR * solved.of(here.slopes([at_coil])[0])
        # What its coil gets must be told, too.
        if volts + half >= relay.pick_up_v if is_in else volts - half < relay.pick_up_v:
            continue
        fault: Literal["stays_in", "stays_out"] = "stays_in" if is_in else "stays_out"
        case = model.cases[place].name
        told = sentence(fault, part=name, volts=amount(volts, "V"), case=case)
        yield Fault(name, fault, case, digits(volts), told)
        return
