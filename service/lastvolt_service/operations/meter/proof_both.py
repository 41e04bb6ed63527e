"""Both circuits as one model: what before and after have in common, and what is new."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from lastvolt_service.errors import Path
from lastvolt_service.operations.circuits.bounds import CasePins
from lastvolt_service.operations.circuits.fields import Circuit, Relay
from lastvolt_service.operations.circuits.parts import CircuitContact
from lastvolt_service.operations.meter.circuit_fit import UNTOLD
from lastvolt_service.operations.meter.fit_answer import Agreement
from lastvolt_service.operations.meter.fit_model import CircuitModel, Unknown
from lastvolt_service.operations.meter.fit_taken import Taken
from lastvolt_service.operations.meter.fit_told import TOLD_SHARE
from lastvolt_service.operations.meter.fit_verdict import SURE, Verdict
from lastvolt_service.operations.meter.fitting import Solved
from lastvolt_service.operations.meter.reading_fields import MeterReading
from lastvolt_service.physics.network.elements import FloatArray
from lastvolt_service.units import Interval

OF_A_CASE = frozenset({"cases"})
OF_THE_SUPPLY = frozenset({"source", "further_sources"})


@dataclass(frozen=True, slots=True)
class Side:
    """The fit of the readings before, or after.

    Attributes
    ----------
    model, verdict : CircuitModel, Verdict
        What was fitted, and how.
    agreement : str
        As a fit tells it.
    noise : list of Taken
        Readings of ohms that say nothing.
    """

    model: CircuitModel
    verdict: Verdict
    agreement: Agreement
    noise: Sequence[Taken]

    @property
    def readings(self) -> list[MeterReading]:
        """Those that were fitted."""
        return [each.reading for each in self.verdict.solved.problem.taken]

    @property
    def is_told(self) -> bool:
        """Whether anything follows from its readings."""
        return self.agreement not in UNTOLD


class Both(CircuitModel):
    """Both circuits in their cases: before, after, after at one supply, and as promised there."""

    def __init__(
        self,
        before: Side,
        after: CircuitModel,
        promise: Circuit,
        readings: int,
        narrower: Mapping[Path, Unknown],
        moved: frozenset[Path],
        stuck: Mapping[str, bool] | None = None,
    ) -> None:
        """Find what they share; `narrower` replaces what is new, and `moved` are contacts.

        After, relays that are `stuck` are in or out whatever their coils get.
        """
        self._readings, self.count = readings, len(before.model.cases)
        self._stuck, self.built = stuck or {}, {}
        own = before.model
        self.circuit = own.circuit
        later_cases = list(after.cases)
        self.cases = [*own.cases, *later_cases * 3]
        self.unknowns: list[Unknown] = list(own.unknowns)
        at = {each.path: place for place, each in enumerate(own.unknowns)}
        untold = _untold_inside(before)
        later: dict[Path, int] = {}
        for each in after.unknowns:
            changes = _changes(each, moved, own.described or {}) and each.path not in untold
            if each.path in at and not changes:
                later[each.path] = at[each.path]
            else:
                later[each.path] = len(self.unknowns)
                self.unknowns.append(narrower.get(each.path, each))
        self.later = [later[each.path] for each in after.unknowns]
        once = {
            path: at[path] if path in at and _is_compared(path) else place
            for path, place in later.items()
        }
        pins = [CasePins(promise, case) for case in after.cases]
        self.pins = [*own.pins, *after.pins, *after.pins, *pins]
        self.of_case = [
            *own.of_case,
            *([later[path] for path, _ in each.given] for each in after.pins),
            *([once[path] for path, _ in each.given] for each in after.pins),
            *([at[path] for path, _ in each.given] for each in pins),
        ]

    def place_of(self, case: str, index: int) -> int:
        """Readings after come behind those before."""
        place = next(at for at, each in enumerate(self.cases) if each.name == case)
        return place + self.count * (index >= self._readings)

    def stuck_in(self, place: int, stuck: Mapping[str, bool] | None) -> Mapping[str, bool] | None:
        """As of one circuit; what sticks after did not before, and is not to."""
        is_after = self.count <= place < 3 * self.count
        return {**(stuck or {}), **self._stuck} if is_after else stuck


def narrowed(model: CircuitModel, solved: Solved) -> dict[Path, Unknown]:
    """What is new, no wider than the readings leave it, as no contact has less than nothing.

    Where they tell the sum of several contacts, none has more than that.
    """
    new = [place for place, each in enumerate(model.unknowns) if each.described is not None]
    covariance, found = solved.covariance[np.ix_(new, new)], dict[Path, Unknown]()
    for at, place in enumerate(new):
        unknown = model.unknowns[place]
        most = _most(at, solved.point[new], covariance, model.ends[0][new])
        high = min(max(most, 2.0 * (unknown.described or 0.0)), unknown.given.high)
        found[unknown.path] = replace(unknown, given=Interval(unknown.given.low, high))
    return found


def _most(at: int, point: FloatArray, covariance: FloatArray, low: FloatArray) -> float:
    """The most that one value is, within some standard uncertainties of all, none below its least.

    What would fall below its least is held there, one after the other.
    """
    held: list[int] = []
    most, size = np.inf, np.sqrt(np.diag(covariance))
    while len(held) < len(point):
        own = np.linalg.pinv(covariance[np.ix_(held, held)])
        back = (low - point)[held]
        room = SURE**2 - float(back @ own @ back)
        if room <= 0.0:
            break
        across = covariance[:, held] @ own
        left = covariance - across @ covariance[held]
        deviation = float(np.sqrt(max(left[at, at], 1e-300)))
        there = point + across @ back + np.sqrt(room) * left[:, at] / deviation
        most = min(most, float(there[at]))
        below = (low - there) / size
        below[[at, *held]] = 0.0
        if below.max() <= 0.0:
            break
        held.append(int(np.argmax(below)))
    return most


def contacts_of(circuit: Circuit) -> frozenset[Path]:
    """Paths of contacts and relays, which may have been touched."""
    return frozenset(
        ("circuit", group, place)
        for group in ("branches", "relays")
        for place, each in enumerate(getattr(circuit, group))
        if isinstance(each, CircuitContact | Relay)
    )


def _is_compared(path: Path) -> bool:
    """Whether an unknown is of the supply or the temperatures, and made the same to compare."""
    return path[0] in OF_A_CASE or path[1] in OF_THE_SUPPLY


def _untold_inside(before: Side) -> frozenset[Path]:
    """Resistances inside sources of which no reading before tells: after they are the same.

    Where nothing flowed before, those after alone say what a battery has inside.
    """
    solved = before.verdict.solved
    return frozenset(
        each.path
        for place, each in enumerate(before.model.unknowns)
        if each.path[1] in OF_THE_SUPPLY and each.unit == "ohm" and solved.share(place) > TOLD_SHARE
    )


def _changes(unknown: Unknown, contacts: frozenset[Path], before: Collection[Path]) -> bool:
    """Whether it may be another after than before, of which some was thought then already."""
    path = unknown.path
    is_new = unknown.described is not None and path not in before
    return is_new or _is_compared(path) or path[:3] in contacts
