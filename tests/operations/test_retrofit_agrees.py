"""The advice on a relay beside what circuit-check says of the same circuits, drawn at random."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.problems import Refused
from lastvolt_service.errors import CalculationError
from lastvolt_service.operations.circuits.judge import Asked, judge_all
from lastvolt_service.operations.decision.proposal import case_with_relay, with_relay

from ..cost import tries
from .retrofit_circuits import asked, contact, wire

OPERATION = next(each for each in OPERATIONS if each.name == "relay-retrofit")
# What a contact or a path drops is told: the load's own voltage decides.
TOLD_ONLY = {"contact_drop", "path_drop"}


def lamps(volts, ohm, needed):
    return {
        "name": "lamps", "kind": "resistance", "resistance_ohm": ohm * volts / 12,
        "needed_v": needed * volts,
    }  # fmt: skip


@st.composite
def questions(draw):
    """A lamp circuit of any system, sound or not, and a relay that may do or not."""
    volts = draw(st.sampled_from([6, 12, 24]))
    size = draw(st.sampled_from(["8 AWG", "12 AWG", "16 AWG", "20 AWG"]))
    fuse = draw(st.sampled_from([None, 10, 20, 40]))
    rating = draw(st.sampled_from([None, 5, 15, 30]))
    load = lamps(volts, draw(st.floats(0.5, 4)), draw(st.floats(0.6, 1.0)))
    parts = [
        wire("feed", size, draw(st.floats(0.1, 5))),
        contact(
            "switch", "switch", draw(st.sampled_from([0.002, 0.01, 0.05, 0.3])),
            **({} if rating is None else {"rating_a": rating}),
        ),
        wire("to the lamps", size, draw(st.floats(0.1, 8))),
        load,
        contact("lamp ground", "ground", draw(st.sampled_from([0.001, 0.02, 0.2]))),
    ]  # fmt: skip
    if fuse is not None:
        parts.insert(0, contact("main fuse", "fuse", 0.003, rating_a=fuse))
    return asked(
        *parts,
        load=load,
        volts=volts,
        rest_v=volts * draw(st.floats(0.95, 1.15)),
        inside_ohm=draw(st.sampled_from([0.005, 0.02, 0.1])),
        fuse_a=draw(st.sampled_from([10, 20, 30])),
        size=draw(st.sampled_from(["8 AWG", "12 AWG", "16 AWG"])),
        case={"ambient_c": draw(st.sampled_from([-25, 20, 60, 90]))},
        kind="lamp",
    )


def failing(judged, *verdicts):
    return {
        (check.code, check.part)
        for each in judged
        for check in each.checks
        if check.verdict in verdicts and check.code not in TOLD_ONLY
    }


@settings(
    max_examples=tries("relay-retrofit", 150),
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(questions())
def test_what_is_advised_stands_before_the_one_judge(run, body):
    try:
        answer = run("relay-retrofit", **body)
    except (Refused, CalculationError):
        return
    request = OPERATION.arguments(body)
    load, volts = request.load, request.system_v
    as_is = judge_all([Asked(request.circuit, case, volts, load) for case in request.cases])
    fitted = judge_all(
        [
            Asked(with_relay(request), case_with_relay(case, load, request.proposal), volts, load)
            for case in request.cases
        ]
    )
    if answer.advice in {"nothing_needed", "insurance"} and failing(as_is, "fail"):
        assert answer.verdict == "fail"
        assert "What fails" in answer.headline
    if answer.advice == "relay" and answer.verdict in {"pass", "marginal"}:
        assert not failing(fitted, "fail", "unknown", "undecided"), answer.headline
    for name in {each.name for each in answer.not_judged}:
        assert name in answer.headline or "more" in answer.headline
