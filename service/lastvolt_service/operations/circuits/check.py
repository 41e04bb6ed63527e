"""A whole circuit as a network, in every case: all voltages, currents, heat and checks.

Wires heat themselves, contacts age, relays close on their coil's voltage, and solenoids need more
voltage when they are warm. Any quantity may be an interval; the answer then says what the decisive
voltages do within all bounds, and which input matters most.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, ClassVar

from lastvolt_service.fields import ABSENT, Broken
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import Mend, mending
from lastvolt_service.operations.circuits.cases import Cases, with_usual_starts
from lastvolt_service.operations.circuits.chafes import chafed
from lastvolt_service.operations.circuits.fields import Circuit
from lastvolt_service.operations.circuits.judge import NAME, Asked, Judged, judge_all
from lastvolt_service.operations.circuits.loads import AnyLoad, is_wanting, starter_cautions
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.needless import needless
from lastvolt_service.operations.circuits.remedies import mend_parts, placed_parts
from lastvolt_service.operations.circuits.source_checks import (
    OF_SOURCES,
    battery_cautions,
)
from lastvolt_service.operations.circuits.state_steps import tell_state
from lastvolt_service.operations.circuits.states import (
    CaseState,
    load_states,
    node_voltages,
    part_states,
    relay_states,
    source_states,
)
from lastvolt_service.operations.circuits.weakest import (
    BURSTS,
    OF_LOADS,
    RATINGS,
    RUNS_ON,
    SETS_ALIGHT,
    UNSOUND,
    weakest,
)
from lastvolt_service.operations.common_fields import NO_SUCH_LOAD, named_there
from lastvolt_service.operations.judging import UNKNOWN, flatly
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.remedies.trials import Trials
from lastvolt_service.operations.results import (
    COMMON_PRACTICE,
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Check,
    Result,
    merge,
    worst,
)
from lastvolt_service.operations.steps import Steps
from lastvolt_service.rows import number
from lastvolt_service.words import catalogue

POOR = UNSOUND | {"marginal"}
# What tells, as its detail, of the poor contact that it comes of.
NAMES_A_CAUSE = frozenset({"diverted_current", "burns_once_mended"})
# Numbers that are told alike, about.
ALIKE = 1e-3
OFF = frozenset({"load_off", "left_dark"})
# Of what a battery gives, from which on a short disturbs all else that is read. Common practice.
MOST_SHARE = 0.5


class CircuitCheckRequest(Cases):
    """A circuit, to be checked in every case."""

    decisive_load: str | None = label(
        "load whose voltage decides what to mend first; by default the first that needs a voltage",
        default=ABSENT,
    )

    example: ClassVar = {
        "circuit": {
            "source": {
                "plus": "battery post",
                "open_circuit_v": 12.4,
                "internal_resistance_ohm": 0.006,
            },
            "branches": [
                {
                    "name": "feed to key switch",
                    "kind": "wire",
                    "nodes": ["fused post", "key in"],
                    "size": "12 AWG",
                    "length_m": 10.5,
                    "insulation": "GXL",
                },
                {
                    "name": "key switch",
                    "kind": "contact",
                    "part": "switch",
                    "nodes": ["key in", "key out"],
                    "resistance_ohm": 0.02,
                    "rating_a": 30,
                },
                {
                    "name": "wire to the rear",
                    "kind": "wire",
                    "nodes": ["key out", "terminal 50"],
                    "size": "12 AWG",
                    "length_m": 11.0,
                    "insulation": "GXL",
                    "zone": "engine bay",
                },
                {
                    "name": "engine strap",
                    "kind": "contact",
                    "part": "ground",
                    "nodes": ["engine block", "ground"],
                    "resistance_ohm": 0.0004,
                },
                {
                    "name": "key fuse",
                    "kind": "contact",
                    "part": "fuse",
                    "nodes": ["battery post", "fused post"],
                    "resistance_ohm": 0.003,
                    "rating_a": 20,
                    "fuse_family": "blade C",
                },
            ],
            "loads": [
                {
                    "name": "starter solenoid",
                    "kind": "solenoid",
                    "zone": "starter",
                    "nodes": ["terminal 50", "engine block"],
                    "circuit": "starter_control",
                    "windings": {
                        "pull_in_turns": 190,
                        "pull_in_resistance_ohm": 0.55,
                        "hold_in_turns": 190,
                        "hold_in_resistance_ohm": 1.5,
                        "motor_resistance_ohm": 0.02,
                        "ampere_turns": 3200,
                        "hold_ampere_turns": 480,
                    },
                },
            ],
        },
        "cases": [
            {"name": "frosty morning", "ambient_c": -10, "duration_s": 10},
            {
                "name": "hot restart, aged switch",
                "ambient_c": 35,
                "ageing_factor": 2.5,
                "zone_ambients_c": {"engine bay": 85, "starter": 115},
                "duration_s": 10,
            },
        ],
    }

    def broken_rules(self) -> Iterator[Broken]:
        """As for any cases; and the decisive load is one of the circuit."""
        yield from super().broken_rules()
        names = {load.name for load in self.circuit.loads}
        if self.decisive_load is not None:
            yield named_there(self.decisive_load, names, ("decisive_load",), NO_SUCH_LOAD)


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitCheck(Result):
    """Answer of ``circuit-check``."""

    cases: Annotated[tuple[CaseState, ...], "the circuit in every case"]
    sound_cases: Annotated[int, "how many cases have no failed, undecided or marginal check"]
    worst_case: Annotated[str, "the case with the worst check"]
    is_everywhere: Annotated[
        bool, "whether that check says the same in every case, of several: it is no matter of one"
    ]
    weakest: Annotated[
        Check | None, "the check that fails most, or has the least to spare; null without any"
    ]
    starves: Annotated[
        Check | None,
        "what keeps a load from what it needs, where something that bursts, runs on, catches "
        "fire or is rated for less is told before it; null elsewhere",
    ]
    decisive_load: Annotated[str, "the load that the mending is ordered by"]
    mend_first: Annotated[
        tuple[Mend, ...],
        "parts by what mending them brings the decisive load in the worst case, then by what they "
        "cost it",
    ]


def solve(asked: CircuitCheckRequest) -> Outcome:
    """Check one circuit."""
    asked = with_usual_starts(asked)
    decisive = asked.decisive_load or _decisive(asked.circuit.loads)
    judged = judge_all([Asked(asked.circuit, case, asked.sure_v, decisive) for case in asked.cases])
    judged[0] = _never_on(asked.circuit, decisive, judged)
    states = tuple(_case_state(each, decisive) for each in judged)
    elsewhere = _elsewhere(judged[0], decisive)
    place, worst_check = weakest(
        [each.checks for each in judged], load=decisive, elsewhere=elsewhere
    )
    return Outcome(
        {
            "cases": states,
            "sound_cases": sum(state.verdict not in POOR for state in states),
            "worst_case": states[place].name,
            "is_everywhere": _is_everywhere(worst_check, [each.checks for each in judged]),
            "weakest": worst_check,
            "starves": _starves(
                worst_check,
                [each.checks for each in judged],
                decisive,
                elsewhere,
                is_short=_is_most(worst_check, judged[place]),
            ),
            "decisive_load": decisive,
            "mend_first": _mend_first(asked.circuit, judged, place, decisive),
        },
        (),
        merge(*(each.state.model.basis for each in judged)),
        (
            *starter_cautions(asked.circuit.loads),
            SHORT_CIRCUIT,
            FUSE_NEAR_SOURCE,
            *battery_cautions(check for each in judged for check in each.checks),
            DEFERENCE,
        ),
        told_checks=_told([check for each in judged for check in each.checks], decisive),
    )


def _mend_first(
    circuit: Circuit, judged: Sequence[Judged], place: int, decisive: str
) -> tuple[Mend, ...]:
    worst_one = judged[place]
    mends = mending(worst_one.state, decisive, worst_one.case.usual_ageing)
    checks = [check for each in judged for check in each.checks]
    chafes = chafed(checks, needless(circuit))
    return tuple(mend for mend in mends if mend.name not in chafes)


def _is_everywhere(told: Check | None, of_cases: Sequence[Sequence[Check]]) -> bool:
    if told is None or len(of_cases) < 2:
        return False
    return all(any(_is_same(check, told) for check in some) for some in of_cases)


def _is_same(check: Check, other: Check) -> bool:
    one, two = ((c.code, c.part, c.detail, c.verdict) for c in (check, other))
    numbers = (check.value, other.value), (check.limit, other.limit)
    return one == two and all(
        math.isclose(a or 0.0, b or 0.0, rel_tol=ALIKE, abs_tol=ALIKE) for a, b in numbers
    )


def _never_on(circuit: Circuit, decisive: str, judged: Sequence[Judged]) -> Judged:
    """The first case; where the decisive load is off in all of them it says that, too."""
    load = next(each for each in circuit.loads if each.name == decisive)
    codes = {check.code for each in judged for check in each.checks if check.part == decisive}
    first = judged[0]
    if not is_wanting(load) or not codes or not codes <= OFF:
        return first
    told = Checked("never_on", flatly(UNKNOWN), "V", COMMON_PRACTICE, part=decisive)
    check = replace(told, case=first.case.name).told(catalogue()[NAME])
    return replace(first, checks=(*first.checks, check))


def _elsewhere(judged: Judged, decisive: str) -> set[str]:
    """Names of fuses that feed other loads only: where they open, the decisive one has its own."""
    metal = Metal(judged.state.model)
    return {
        fuse.name
        for fuse in metal.fuses
        if (loads := metal.loads_behind(fuse)) and decisive not in {load.name for load in loads}
    }


def _is_most(told: Check | None, judged: Judged) -> bool:
    """Whether a short takes most of what the battery gives: what else is wrong is its doing."""
    if told is None or told.code != "short":
        return False
    gives_a = abs(float(judged.state.flow("sources").current_a[0]))
    return (told.value or 0.0) > MOST_SHARE * gives_a


def _starves(
    told: Check | None,
    of_cases: Sequence[Sequence[Check]],
    decisive: str,
    elsewhere: set[str],
    *,
    is_short: bool,
) -> Check | None:
    """The part that a load gets too little for, where the harm of another is told before it."""
    hurts = SETS_ALIGHT.union(BURSTS, RUNS_ON, RATINGS)
    if told is None or told.code not in hurts or is_short:
        return None
    failed = [[check for check in some if check.verdict == "fail"] for some in of_cases]
    shorts = [check for some in failed for check in some if check.code == "short"]
    starved = [
        [check for check in some if check.code not in hurts]
        for some in failed
        if any(check.code in OF_LOADS for check in some)
    ]
    if told.code != "short" and shorts and any(starved):
        return max(shorts, key=lambda check: check.value or 0.0)
    _, found = weakest(starved, load=decisive, elsewhere=elsewhere, causes=True)
    named = {told.part, told.detail} if told.code in NAMES_A_CAUSE else {told.part}
    if found is None or found.part in named:
        return None
    # That a load lacks something is in the list of all that fails, too: here is told for what.
    return None if found.code in OF_LOADS and found.detail in {None, told.part} else found


def _told(checks: Sequence[Check], decisive: str) -> tuple[Check, ...]:
    """Those of the decisive load and those that do not pass; all, where there are none."""
    found = tuple(c for c in checks if c.part == decisive or c.verdict != "pass")
    return found or tuple(checks)


def _decisive(loads: Sequence[AnyLoad]) -> str:
    wanting = [load for load in loads if is_wanting(load)]
    return (wanting or loads)[0].name


def _case_state(judged: Judged, decisive: str) -> CaseState:
    state = judged.state
    return CaseState(
        name=judged.case.name,
        verdict=worst(check.verdict for check in judged.checks),
        duration_s=number(judged.case.usual_duration_s),
        source_v=float(state.solution.sources.drop_v[0]),
        source_current_a=float(state.solution.sources.current_a[0]),
        nodes=node_voltages(state),
        parts=part_states(state),
        loads=load_states(state),
        relays=relay_states(state),
        further_sources=source_states(state),
        checks=judged.checks,
        spreads=judged.within.spreads,
        influences=judged.within.influences(decisive),
        residual_a=state.solution.residual_a,
        iterations=state.solution.iterations,
    )


def mend(asked: CircuitCheckRequest, answer: CircuitCheck, trials: Trials) -> None:
    """Look for what cures a failed check; nothing of the wiring while the battery is poor."""
    if any(check.code in OF_SOURCES and check.verdict == "fail" for check in answer.checks):
        return
    currents: dict[str, float] = {}
    for case in answer.cases:
        for part in case.parts:
            currents[part.name] = max(currents.get(part.name, 0.0), abs(part.current_a))
    chafes = chafed(answer.checks, needless(asked.circuit))
    placed = placed_parts(asked.circuit).items()
    parts = {name: part for name, part in placed if name not in chafes}
    mend_parts(parts, currents, answer.mend_first, trials)


def tell_all(asked: CircuitCheckRequest, answer: CircuitCheck, steps: Steps) -> None:
    """Tell the decisive load in the worst case.

    By hand, from the solved state: a network is solved as a whole, and no formula leads there.
    """
    cases = with_usual_starts(asked).cases
    case = next(each for each in cases if each.name == answer.worst_case)
    circuit, case = plain(asked.circuit, case)
    tell_state(steps, rest(circuit, case), case, answer.decisive_load)


OPERATION = Operation(
    NAME, __doc__, CircuitCheckRequest, CircuitCheck, solve, mend, tell_all=tell_all
)
