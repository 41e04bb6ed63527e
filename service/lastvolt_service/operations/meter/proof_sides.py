"""The fit of the readings of one side, before or after."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager

import numpy as np

from lastvolt_service.errors import CalculationError, Path
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.meter.circuit_fit import agreement_of, sorted_readings
from lastvolt_service.operations.meter.fit_about import OHMS
from lastvolt_service.operations.meter.fit_beyond import OPENED
from lastvolt_service.operations.meter.fit_explained import explained, parts_at_fault
from lastvolt_service.operations.meter.fit_model import CircuitModel
from lastvolt_service.operations.meter.fit_verdict import Verdict, judged
from lastvolt_service.operations.meter.fitting import Problem
from lastvolt_service.operations.meter.proof_both import Side
from lastvolt_service.operations.meter.proof_circuits import Built, new_names
from lastvolt_service.operations.meter.proof_faults import as_read
from lastvolt_service.operations.meter.proof_moved import with_any_supply
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.operations.meter.reading_fields import MeterReading


def fitted_before(
    asked: GainProofRequest, model: CircuitModel, apart: frozenset[int]
) -> tuple[Side, tuple[str, ...], tuple[str, ...]]:
    """Fit the readings before as circuit-fit does, with the parts that are worse than given.

    And all parts any one of which may be so instead, as it says them.

    Raises
    ------
    CalculationError
        As `side_of`.
    """
    with _pointing("before"):
        side = asked.side(model.circuit, model.cases, asked.before)
        taken, noise = sorted_readings(side)
        found = explained(side, model, [e for e in taken if e.index not in apart] or taken)
    verdict, wider, names = found.verdict, found.model, tuple[str, ...]()
    among = tuple[str, ...]()
    if found.of_parts:  # another supply than was given is told, and proves nothing
        solved = found.of_these(new_names(asked, asked.way)) or found.of_parts[0]
        verdict, wider = Verdict(solved, solved, (), fits=True), solved.problem.model
        names = found.parts_of(solved)
        if found.several is None:
            among = tuple(each.part for each in parts_at_fault(found, is_told=False))
    return Side(wider, verdict, agreement_of(verdict), noise), names, among


@contextmanager
def _pointing(field: str) -> Iterator[None]:
    """What is wrong with readings is so of those of this side."""
    try:
        yield
    except CalculationError as error:
        if error.path[:1] != ("readings",):
            raise
        raise type(error)(error.detail, (field, *error.path[1:])) from error


def side_of(
    asked: GainProofRequest,
    circuit: Circuit,
    cases: Sequence[Case],
    readings: Sequence[MeterReading],
    field: str,
    described: Mapping[Path, float],
    apart: frozenset[int] = frozenset(),
) -> Side:
    """Fit one side, without readings that stand apart where there are others.

    Raises
    ------
    CalculationError
        As a fit does; its path points at the readings of this side.
    """
    with _pointing(field):
        taken, noise = sorted_readings(asked.side(circuit, cases, readings))
        model = CircuitModel(circuit, cases, described)
        verdict = judged(model, [e for e in taken if e.index not in apart] or taken)
    return Side(model, verdict, agreement_of(verdict), noise)


def supplied(side: Side, built: Built, cases: Sequence[Case]) -> tuple[Side, Built, float]:
    """Fit once more with another supply: first with what is usual, then with one that is dying.

    Gives the fit, the circuit, and how many times the ohms given that may have; where neither goes
    with the readings the first.
    """
    found = []
    for ohms in (OHMS[1], OPENED):
        opened = with_any_supply(built, ohms)
        found.append((again(side, opened, cases), opened, ohms))
        if found[-1][0].is_told:
            return found[-1]
    return found[0]


def again(side: Side, opened: Built, cases: Sequence[Case]) -> Side:
    """Fit the readings of a side once more, to a circuit that leaves more open."""
    whole = side.verdict.whole
    model = CircuitModel(opened.circuit, cases, opened.described)
    begin = np.array([each.begin for each in model.unknowns])
    solved = Problem(model, as_read(whole)).solved([whole.point, begin])
    verdict = Verdict(solved, solved, (), fits=solved.check.agrees)
    return Side(model, verdict, agreement_of(verdict), side.noise)
