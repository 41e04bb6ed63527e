"""What a plan says of its relay: whether it closes and the load then works; not whether it may be.

That its wires and its fuse bear what they carry is for ``relay-retrofit`` to judge.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from lastvolt_service.operations.circuits.assembly import open_coil_v
from lastvolt_service.operations.circuits.intervals import Spread
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.relay_checks import relay_checks
from lastvolt_service.operations.judging import (
    FAIL,
    PASS,
    UNDECIDED,
    UNKNOWN,
    Judged,
    surely_reaches,
)
from lastvolt_service.operations.meter.miswired import LOADED_SHARE
from lastvolt_service.operations.meter.plan_bands import MARGIN
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_round import Column, Walked
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN

NOTHING = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
PROPOSED = "proposed"


def need(
    load: str, walked: Walked, column: Column, volts: Spread, margin: Spread | None
) -> Checked:
    """Judge what reaches the load by the whole of its bounds."""
    part = column.stages.decides.state.named(load)
    needed_v = None if part is None else part.needed_v
    about = {"part": load, "case": walked.case.name}
    if margin is None or needed_v is None:
        nothing = Judged(volts.low, NOT_GIVEN, NOT_GIVEN, UNKNOWN)
        return Checked("load_voltage", nothing, "V", COMMON_PRACTICE, detail="needed_v", **about)
    judged = surely_reaches(needed_v + margin.low, needed_v + margin.high, needed_v)
    return Checked("load_voltage", judged, "V", COMMON_PRACTICE, **about)


def way_checks(asked: MeterPlanRequest, walks: Sequence[Walked]) -> Iterator[Checked]:
    """Judge the relay in the case in which it does worst, and say what is not judged."""
    with_it = [(each, each.then) for each in walks if each.then is not None]
    if not with_it or asked.way is None:
        return
    relay = asked.way.relay.name
    about = {"part": relay, "way": PROPOSED}
    walked, column = min(with_it, key=lambda each: _spare(each[1]))
    spread = column.stages.decides.spreads.get(MARGIN)
    if spread is not None:
        found = need(asked.load, walked, column, spread, spread)
        yield replace(found, way=PROPOSED, detail="with_relay")
    order = {False: 0, None: 1, True: 2}
    walked, column = min(with_it, key=lambda each: order[_closes(each[1], relay)])
    closes = _closes(column, relay)
    state = column.stages.decides.state
    index = next(k for k, each in enumerate(state.model.relays) if each.name == relay)
    volts = open_coil_v(state).get(relay, abs(float(state.flow("coils").drop_v[index])))
    limit_v = state.model.relays[index].pick_up_v
    verdict = PASS if closes else UNDECIDED if closes is None else FAIL
    judged = Judged(volts, limit_v, volts - limit_v, verdict)
    yield Checked("relay_closes", judged, "V", COMMON_PRACTICE, case=walked.case.name, **about)
    for check in relay_checks(state, Metal(state.model), {}, int(asked.system_v)):
        if check.code == "relay_voltage" and check.part == relay:
            yield replace(check, way=PROPOSED)
    yield from _switch(asked, walked, column)
    yield Checked("way_built", NOTHING, "1", COMMON_PRACTICE, **about)


def _spare(column: Column) -> float:
    margin = column.stages.decides.spreads.get(MARGIN)
    return 0.0 if margin is None else margin.low


def _closes(column: Column, relay: str) -> bool | None:
    return column.stages.decides.closes.get(relay)


def _switch(asked: MeterPlanRequest, walked: Walked, column: Column) -> Iterator[Checked]:
    """Say where the switch carries the load with the relay, too: it is fed from behind it."""
    before, after = (
        abs(each.stages.decides.state.current_a(asked.switch)) for each in (walked.as_is, column)
    )
    most_a = LOADED_SHARE * before
    if after > most_a:
        judged = Judged(after, most_a, most_a - after, FAIL)
        yield Checked(
            "switch_spared", judged, "A", COMMON_PRACTICE,
            part=asked.switch, case=walked.case.name, way=PROPOSED,
        )  # fmt: skip
