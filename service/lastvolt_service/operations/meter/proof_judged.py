"""What a proof judges of the way as it was built, and what it leaves to others."""

import math
from collections.abc import Iterator

from lastvolt_service.operations.circuits.bare_wires import MOST_UNFUSED_M
from lastvolt_service.operations.circuits.metal import Metal
from lastvolt_service.operations.circuits.parts import ChainContact, ChainPart
from lastvolt_service.operations.decision.proposal import Proposal
from lastvolt_service.operations.judging import FAIL, PASS, UNKNOWN, Judged, Verdict
from lastvolt_service.operations.meter.proof_told import PROMISED, Told
from lastvolt_service.operations.outcome import Checked
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.rows import NOT_GIVEN

NOTHING = Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, UNKNOWN)


def switches_off(told: Told) -> Iterator[Checked]:
    """Judge whether the load goes off with its switch; of a relay that must be read.

    What was live before is live until it is read dead.
    """
    verdict, detail = UNKNOWN, None
    if told.proof.off.live:
        verdict = FAIL
    elif told.proof.off.dead:
        verdict = PASS
    elif told.proof.off_before.live:
        verdict, detail = FAIL, "before"
    elif told.asked.way.relay is None:
        return
    judged = NOTHING._replace(verdict=verdict)
    yield Checked("switches_off", judged, "V", COMMON_PRACTICE, detail=detail, part=told.asked.load)


def as_built(told: Told) -> Iterator[Checked]:
    """Judge whether the relay is wired as it is described, and whether all works as described."""
    relay, proof = told.asked.way.relay, told.proof
    failed = [each for each in proof.faults if each.built.wired == "as_described"][:1]
    for each in failed:
        judged = NOTHING._replace(verdict=FAIL)
        part, detail = (told.asked.load, "one_of") if told.nobody_read else (each.part, None)
        yield Checked("works", judged, "1", COMMON_PRACTICE, detail=detail, part=part)
    if relay is None or (failed and not proof.is_wrong):
        return
    verdict = PASS
    if proof.is_wrong:
        verdict = FAIL
    elif told.still_loaded:
        verdict = UNKNOWN
    judged = NOTHING._replace(verdict=verdict)
    yield Checked("wiring", judged, "1", COMMON_PRACTICE, part=told.asked.switch)


def not_judged_here(told: Told) -> Iterator[Checked]:
    """Say that volts prove nothing of what is new, and which new wires no fuse is before."""
    way = told.asked.way
    if way.relay is not None:
        yield from _unfused(told, way.relay)
        part, detail = way.relay.relay.name, "relay"
    elif way.wires or way.own_ground or way.switch is not None:
        part, detail = way.name, "parts"
    else:
        return
    yield Checked("fitted", NOTHING, "1", COMMON_PRACTICE, part=part, detail=detail)


def _unfused(told: Told, relay: Proposal) -> Iterator[Checked]:
    """Wires of the feed with a way to a source and no fuse in it."""
    here = told.proof.here(PROMISED, told.worst)
    if here is None:
        return
    metal = Metal(here.state.model)
    _, names = metal.reached(metal.fed_from, through_fuses=False)
    bare = [each for each in relay.feed if each.name in names and _is_wire(each)]
    if sum(getattr(each, "length_m", math.inf) for each in bare) <= MOST_UNFUSED_M:
        return
    verdict: Verdict | int = FAIL if relay.fuse == "none" else UNKNOWN
    judged = NOTHING._replace(verdict=verdict)
    detail = ", ".join(each.name for each in bare)
    yield Checked("no_fuse", judged, "m", COMMON_PRACTICE, part=relay.relay.name, detail=detail)


def _is_wire(part: ChainPart) -> bool:
    return not isinstance(part, ChainContact)
