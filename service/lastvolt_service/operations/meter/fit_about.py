"""What was given as a number and is about that only: lengths, sound contacts, and the supply.

Nobody measures a harness to the centimetre, and a battery's volts are often those of a
sound one.
What such a number is off by no contact takes up, and for it no reading is called false.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import Any

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.fields import changed
from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.parts import CircuitContact, CircuitWire
from lastvolt_service.operations.meter.fit_ends import FIELDS
from lastvolt_service.operations.meter.fit_model import CircuitModel, has_width
from lastvolt_service.operations.meter.fit_request import MOST_FIT, units_of
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_verdict import Verdict, fit_of_all, suspected
from lastvolt_service.units import Interval

# A length that was given as a number may be off by so much of it, joints and lay included. Common
# practice.
LENGTH_SHARE = 0.1
# And a contact that was given as a number has between nothing and so many times that. Common
# practice.
CONTACT_TIMES = 2.0
# So far from what is given a supply is looked for, as factors of its ends: a flat battery, a
# charger; and a cold or worn one, which has no less than a tenth and no more than these ohms.
VOLTS, OHMS, MOST_OHM = (0.5, 1.3), (0.1, 10.0), 10.0
OF_SOURCES = {"open_circuit_v": VOLTS, "regulated_v": VOLTS, "internal_resistance_ohm": OHMS}


def about(model: CircuitModel, taken: Sequence[Taken]) -> tuple[CircuitModel, Verdict]:
    """Fit, with lengths as near as a tape tells them, and more open where readings need it.

    A wire of a length that is taken as exact would tell the amperes through it, as no wire does.
    Contacts may be better than given where readings do not hold together else; then contacts and
    the supply are another, too, where that makes them hold together. Which reading contradicts
    the rest is asked of the last of these fits only.

    Raises
    ------
    CalculationError
        If there is no state of rest within the bounds, or what was read is not there.
    """
    model = _with(model, *with_lengths(model.circuit))
    best = model, *fit_of_all(model, taken)
    if best[1].check.agrees:
        return model, suspected(*best)
    better = with_better_contacts(model.circuit)
    lengths = CircuitModel(better, model.cases, model.described or {})
    if better is not model.circuit:
        with suppress(CalculationError):
            best = lengths, *fit_of_all(lengths, taken)
    for opened in _more(lengths):
        if best[1].check.agrees or _is_too_dear(opened):
            break
        with suppress(CalculationError):
            whole, starts = fit_of_all(opened, taken)
            # More than the lengths is opened for a reason only.
            if whole.check.agrees:
                best = opened, whole, starts
    return best[0], suspected(*best)


def _with(model: CircuitModel, circuit: Circuit, thought: Mapping[Path, float]) -> CircuitModel:
    """The model with more of its numbers open; as it is where that is too dear."""
    if not thought:
        return model
    opened = CircuitModel(circuit, model.cases, {**(model.described or {}), **thought})
    return model if _is_too_dear(opened) else opened


def _is_too_dear(model: CircuitModel) -> bool:
    units = units_of(len(model.unknowns), len(model.circuit.parts))
    return len(model.cases) * units > MOST_FIT


def _more(model: CircuitModel) -> Iterator[CircuitModel]:
    """The model with more and more of its numbers open."""
    circuit, thought = model.circuit, dict(model.described or {})
    for opening in (with_contacts, with_supplies):
        circuit, more = opening(circuit)
        thought |= more
        if more:
            yield CircuitModel(circuit, model.cases, dict(thought))


def with_lengths(circuit: Circuit) -> tuple[Circuit, dict[Path, float]]:
    """The circuit with its lengths open, and what each is thought to be. [m]."""
    branches, thought = list(circuit.branches), dict[Path, float]()
    for place, each in enumerate(branches):
        if isinstance(each, CircuitWire) and not isinstance(each.length_m, Interval):
            length = float(each.length_m)
            ends = Interval((1.0 - LENGTH_SHARE) * length, (1.0 + LENGTH_SHARE) * length)
            if has_width(ends):
                branches[place] = changed(each, length_m=ends)
                thought["circuit", "branches", place, "length_m"] = length
    return changed(circuit, branches=branches) if thought else circuit, thought


def with_better_contacts(circuit: Circuit) -> Circuit:
    """The circuit with no least resistance of a contact: one that is better is no fault."""
    found: dict[str, list[Any]] = {}
    is_opened = False
    for group, field in FIELDS.items():
        found[group] = list(getattr(circuit, group))
        for place, each in enumerate(found[group]):
            ohm: Any = getattr(each, field, None)
            is_contact = isinstance(each, CircuitContact | Relay) and isinstance(ohm, Interval)
            if is_contact and ohm.low > 0.0:
                found[group][place] = changed(each, **{field: Interval(0.0, ohm.high)})
                is_opened = True
    return changed(circuit, **found) if is_opened else circuit


def with_contacts(circuit: Circuit) -> tuple[Circuit, dict[Path, float]]:
    """The circuit with its contacts open, and what each is thought to have. [ohm]."""
    thought: dict[Path, float] = {}
    groups: dict[str, list[Any]] = {}
    for group, field in FIELDS.items():
        groups[group] = list(getattr(circuit, group))
        for place, each in enumerate(groups[group]):
            ohm: Any = getattr(each, field, None)
            is_contact = isinstance(each, CircuitContact | Relay) and isinstance(ohm, float | int)
            if is_contact and has_width(Interval(0.0, CONTACT_TIMES * ohm)):
                groups[group][place] = changed(each, **{field: Interval(0.0, CONTACT_TIMES * ohm)})
                thought["circuit", group, place, field] = float(ohm)
    return changed(circuit, **groups), thought


def with_supplies(
    circuit: Circuit, *, numbers: bool = True, intervals: bool = False, ohms: float = OHMS[1]
) -> tuple[Circuit, dict[Path, float]]:
    """The circuit with its sources open, and what those given as numbers are thought to be.

    They have at most so many times the ohms that were given.
    """
    thought: dict[Path, float] = {}

    def opened(source: Any, path: Path) -> Any:
        found = {}
        for field, (least, most) in OF_SOURCES.items():
            given: Any = getattr(source, field, None)
            is_interval = isinstance(given, Interval)
            if not (intervals if is_interval else numbers and isinstance(given, float | int)):
                continue
            own: Any = given if is_interval else Interval(float(given), float(given))
            high = min(ohms * own.high, MOST_OHM) if field.endswith("_ohm") else most * own.high
            ends = Interval(least * own.low, max(high, own.high))
            if not ends.high > ends.low:  # nothing, or not given
                continue
            found[field] = ends
            if not is_interval:
                thought[*path, field] = own.low
        return changed(source, **found) if found else source

    source = opened(circuit.source, ("circuit", "source"))
    further = [
        opened(each, ("circuit", "further_sources", place))
        for place, each in enumerate(circuit.further_sources)
    ]
    return changed(circuit, source=source, further_sources=further), thought
