"""How the circuit of a quick answer is judged: enough volts, usual losses, wires that bear it."""

from collections.abc import Iterator

from lastvolt_service.operations.decision.quick_assumed import MadeUp
from lastvolt_service.operations.decision.quick_plan import COSTS, Reading
from lastvolt_service.operations.decision.quick_request import QuickAnswerRequest
from lastvolt_service.operations.decision.quick_study import ACROSS, LOST, NEEDED, VOLTS
from lastvolt_service.operations.decision.quick_wire import allowed
from lastvolt_service.operations.fuses.profile import STARTER_SOLENOID
from lastvolt_service.operations.judging import (
    FAIL,
    MARGINAL,
    MARGINAL_SHARE,
    PASS,
    UNDECIDED,
    Judged,
)
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE, Check
from lastvolt_service.operations.wires.drop_limits import ABOUT_MULTIPLE
from lastvolt_service.tables.limits import BURNS_W


def good_as_new(asked: QuickAnswerRequest, made: MadeUp) -> bool:
    """Whether it never fails, and has a reserve in every case: nothing is read there.

    In the middle of what is assumed: that all is at its worst at once, it never showed. It is new,
    or a starter, of which one would have noticed, and which is taken apart to be read.
    """
    noticed = asked.wear == "new" or asked.load == STARTER_SOLENOID
    return (
        asked.fails == "never"
        and noticed
        and all(
            made.thin.spread(VOLTS, case).nominal
            >= (1.0 + MARGINAL_SHARE) * made.thin.spread(NEEDED, case).nominal
            for case in made.thin.cases
        )
    )


def holds(asked: QuickAnswerRequest, made: MadeUp, reading: Reading) -> bool:
    """Whether enough arrives in every case, and no contact on the way may burn what holds it.

    It gets warm by what lasts: what flows while a plunger moves flows for a moment.
    """
    lasting = asked.usual.lasting_share
    enough = all(
        made.within(VOLTS, case).low_v >= made.within(NEEDED, case).high_v
        for case in made.thin.cases
    )
    return (enough or good_as_new(asked, made)) and all(
        lasting * made.thin.spread(ACROSS, case, part).high * lasting * reading.most_a
        < BURNS_W[kind]
        for case in made.thin.cases
        for part, kind in reading.contacts.items()
    )


def enough(made: MadeUp, *, as_new: bool) -> Iterator[Checked]:
    """Whether enough arrives, whatever is guessed; of other cases where it may not.

    Of what is as good as new in the middle of it, where all at its worst at once is too little.
    """
    for case in made.thin.cases:
        volts, needed, detail = made.within(VOLTS, case), made.within(NEEDED, case), None
        if volts.high_v < needed.low_v:
            verdict, value, limit = FAIL, volts.high_v, needed.low_v
        else:
            value, limit = volts.low_v, needed.high_v
            verdict = PASS if value >= limit else UNDECIDED
        if verdict == UNDECIDED and as_new:
            value, limit = (made.thin.spread(what, case).nominal for what in (VOLTS, NEEDED))
            verdict, detail = PASS, "middle"
        if case == made.case or verdict != PASS:
            judged, load = Judged(value, limit, value - limit, verdict), made.full.load
            yield Checked(
                "load_voltage", judged, "V", COMMON_PRACTICE, part=load, case=case, detail=detail
            )


def loses(asked: QuickAnswerRequest, made: MadeUp) -> Iterator[Checked]:
    """Whether more is lost on the way than is usual, where enough arrives all the same.

    What the load works from is the edge: at it lamps are dim, and nothing is left for what ages.
    """
    limit = allowed(asked)
    case = max(made.thin.cases, key=lambda each: made.within(LOST, each).high_v)
    volts, needed, lost = (made.within(what, case) for what in (VOLTS, NEEDED, LOST))
    if volts.low_v >= needed.high_v:
        verdict = MARGINAL if lost.high_v > ABOUT_MULTIPLE * limit.limit_v else PASS
        judged = Judged(lost.high_v, limit.limit_v, limit.limit_v - lost.high_v, verdict)
        load, of = made.full.load, COSTS[asked.load]
        yield Checked("path_drop", judged, "V", limit.citation, part=load, case=case, detail=of)


def bears(heat: Check | None) -> Iterator[Checked]:
    """What the wire may not bear, of what it may carry."""
    if heat is not None:
        judged = Judged(heat.value, heat.limit, heat.margin, UNDECIDED)
        yield Checked(heat.code, judged, "A", heat.basis, part=heat.part, case=heat.case)
