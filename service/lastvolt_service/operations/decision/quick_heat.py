"""Whether the wire may burn at the most that is assumed, and which size would not."""

from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.judge import Asked, judge_all
from lastvolt_service.operations.circuits.weakest import CURRENTS
from lastvolt_service.operations.decision.choice_wires import greediest
from lastvolt_service.operations.decision.quick_circuit import Sizes, guessed
from lastvolt_service.operations.decision.quick_question import as_it_is
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.results import Check
from lastvolt_service.tables import usual


def may_burn(asked: QuickAnswerRequest, size: str, sizes: Sizes) -> Check | None:
    """What the wire carries at the most, where it may not carry so much; else None."""
    full = with_usual_starts(as_it_is(asked, guessed(asked, size, sizes)))
    circuit, cases = greediest(full.circuit, full.cases)
    judged = judge_all([Asked(circuit, case, asked.system_v, full.load) for case in cases])
    found = [
        check
        for each in judged
        for check in each.checks
        if check.code in CURRENTS and check.verdict == "fail"
    ]
    return max(found, key=lambda each: (each.value or 0.0) / (each.limit or 1.0), default=None)


def bearing(asked: QuickAnswerRequest, sizes: Sizes) -> tuple[Sizes, Check | None]:
    """Of the sizes that are usual those that bear the most that is assumed; what one may not.

    What is usual burns in no harness; in this one it is to be read.
    """
    thinnest, known = sizes.names[0], usual.sizes()
    heat = may_burn(asked, thinnest, sizes)
    if heat is None or asked.wire is not None:
        return sizes, heat
    thicker = known[known.index(thinnest) + 1 :]
    bears = (size for size in thicker if may_burn(asked, size, sizes) is None)
    return sizes.from_size(next(bears, known[-1])), heat
