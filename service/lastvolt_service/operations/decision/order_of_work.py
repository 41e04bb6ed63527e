"""What is done for a proposed relay, in order, and which contacts must go on ruling its coil."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.operations.circuits.parts import ChainContact, CircuitContact
from lastvolt_service.operations.circuits.sources import Charger
from lastvolt_service.operations.circuits.switching import live, switched_side
from lastvolt_service.operations.decision.advice import Advice
from lastvolt_service.operations.decision.meter_readings import kept_still
from lastvolt_service.operations.decision.screen import is_fuse
from lastvolt_service.operations.decision.sheet_words import sentence
from lastvolt_service.operations.decision.ways import Way
from lastvolt_service.operations.decision.wiring_table import Fitting
from lastvolt_service.operations.meter.plan_told import HOT_C
from lastvolt_service.rows import number
from lastvolt_service.units import high_end, low_end

RulesAs = Literal["alone", "side_by_side", "isolator"]
# Advice that the relay stands by itself in.
STRAIGHT_ON = frozenset({"relay", "insurance"})
# What is said first of a relay that is one of several, by what each is for.
SHOWS: Mapping[str | None, str] = {"beam": "shows_one_beam", "speed": "shows_one_speed"}
WITH_RELAY = frozenset({"relay", "mend_then_relay", "all_of_these"})


@dataclass(frozen=True, slots=True)
class Interlock:
    """A contact that rules the load, and goes on ruling the relay's coil."""

    part: Annotated[str, "the switch or relay as the request names it"]
    code: Annotated[
        RulesAs,
        "alone; side_by_side: only with those beside it; isolator: of it the feed is dead, too",
    ]
    test: Annotated[str, "how to try it when all is done, in a sentence"]


@dataclass(frozen=True, slots=True)
class Task:
    """One step of the work."""

    number: Annotated[int, "of the step"]
    code: Annotated[str, "which step it is, in a word that stays the same"]
    text: Annotated[str, "what to do"]


def interlocks(fit: Fitting) -> tuple[Interlock, ...]:
    """Find the switches and relays in the branch of the coil, the spared switch among them."""
    asked, relay = fit.asked, fit.relay.name
    without = set.intersection(*(set(case.without) for case in asked.cases))
    coil = fit.circuit.relays[-1].coil_nodes
    found = []
    for each in (*asked.circuit.branches, *asked.circuit.relays):
        contact = isinstance(each, CircuitContact)
        if isinstance(each, CircuitContact):
            if not (each.part in {"switch", "relay"} or each.isolates or each.name == asked.switch):
                continue
        elif each in asked.circuit.branches:
            continue
        rules = not live(fit.circuit, without | {each.name}).feeds(coil)
        beside = contact and switched_side(asked.circuit, fit.old, each.name) is not None
        if not rules and not beside:
            continue
        code: RulesAs = "alone" if rules else "side_by_side"
        if isinstance(each, CircuitContact) and each.isolates:
            code = "isolator"
        feed_node = asked.proposal.feed_node
        test = sentence(code, part=each.name, relay=relay, feed_node=feed_node)
        found.append(Interlock(each.name, code, test))
    return tuple(found)


def order_of_work(
    fit: Fitting, advice: Advice, plan: Way | None, locks: Sequence[Interlock]
) -> tuple[Task, ...]:
    """Put the steps in order.

    Parameters
    ----------
    fit : Fitting
        The relay in its circuit.
    advice, plan : str, Way or None
        Of ``relay-retrofit`` on the proposal.
    locks : sequence of Interlock
        What stays in the coil's branch.
    """
    steps = (
        *_before(fit, advice, plan),
        *_cold(fit, locks),
        *_live(fit, locks),
    )
    return tuple(Task(number, *each) for number, each in enumerate(steps, 1))


Step = tuple[str, str]


def _step(code: str, **values: float | str | bool | None) -> Step:
    return code, sentence(code, **values)


def _before(fit: Fitting, advice: Advice, plan: Way | None) -> Iterator[Step]:
    shows = SHOWS.get(fit.asked.proposal.one_for_each)
    if shows is not None:
        yield _step(shows, load=fit.old.name)
    if advice not in STRAIGHT_ON | {"mend_then_relay"}:
        yield _step("advice_first", advice=advice)
    circuit = fit.asked.circuit
    yield _step("make_safe", load=fit.old.name, starts=fit.of_a_starter)
    yield _step("read_before", still=kept_still(fit), soaked=_is_soaked(fit))
    if not fit.of_a_starter and switched_side(circuit, fit.old, fit.asked.switch) == "live":
        lead = _told(fit, fit.terminal)
        values = {"load": fit.old.name, "switch": fit.asked.switch, "lead": lead}
        yield _step("try_side", **values, positive=circuit.positive_ground)
    yield _step("post_off", positive=circuit.positive_ground)
    others = [each.name for each in circuit.further_sources if not isinstance(each, Charger)]
    if others:
        yield _step("other_batteries", batteries=_listed(others))
    # What is mended before it is read proves nothing; and nothing is mended live.
    if plan is not None and plan.code in WITH_RELAY and plan.parts:
        yield _step("mend_first", parts=_listed(plan.parts), mended_v=plan.load_voltage_v)


def _cold(fit: Fitting, locks: Sequence[Interlock]) -> Iterator[Step]:
    """What is done with the post off."""
    proposal, relay, load = fit.asked.proposal, fit.relay, fit.old.name
    zone = relay.zone and relay.zone.replace("_", " ")
    yield _step("mount", relay=relay.name, zone=zone, soaked=_is_soaked(fit))
    for fuse in _fuses(fit):
        yield _step("mount_holder", fuse=fuse.name, feed_node=proposal.feed_node)
    yield _step("cut")
    polarity = fit.polarity
    for node in fit.taken_off:
        lead = _told(fit, node)
        several = len(fit.old_leads(node)) > 1
        yield _step("old_lead_off", lead=lead, load=load, terminal=node, several=several)
        if node not in {polarity.at_86, polarity.at_85}:
            yield _step("old_lead_unused", lead=lead)
    for wire in proposal.wires:
        yield _step("draw_anew", wire=wire.name, size=str(wire.size))
    ends = {"at_86": _told(fit, polarity.at_86), "at_85": _told(fit, polarity.at_85)}
    code = "coil_as_you_like"
    if polarity.matters:
        code = "coil_may_have_diode" if relay.suppression is None else "coil_with_diode"
    yield _step(code, relay=relay.name, **ends)
    yield _step("join_contact", load=load, terminal=fit.terminal, feed_node=proposal.feed_node)
    if fit.new_ground is not None:
        yield _step("load_ground", load=load, node=fit.new_ground)
    yield _step("interlocks_stay", parts=_listed([each.part for each in locks]))
    yield _step("lay", starts=fit.of_a_starter)
    yield _step("check_cold", relay=relay.name)


def _live(fit: Fitting, locks: Sequence[Interlock]) -> Iterator[Step]:
    """What is done when all is joined."""
    circuit, relay, load = fit.asked.circuit, fit.relay.name, fit.old.name
    fuses = _fuses(fit)
    yield _step("post_on", positive=circuit.positive_ground)
    yield _step("try_dry", fused=bool(fuses), relay=relay)
    for each in locks:
        yield "try_interlock", each.test
    for fuse in fuses:
        yield _step("fuse_in", fuse=fuse.name, rating_a=number(low_end(fuse.rating_a)))
    if not fuses:
        yield _step("end_dry")
    yield _step("try_all", relay=relay, load=load, fuse=fuses[0].name if fuses else None)
    yield _step("read_after", soaked=_is_soaked(fit))
    yield _step(
        "roadside",
        leads=_listed([_told(fit, node) for node in fit.taken_off]),
        load=load,
        terminals=_listed(fit.taken_off),
        regrounded=fit.new_ground is not None,
    )
    yield _step("spares", relay=relay)


def _is_soaked(fit: Fitting) -> bool:
    """Whether in some case heat soaks through load or relay."""
    zones = {fit.old.zone, fit.relay.zone}
    hottest_c = (high_end(case.ambient_of(zone)) for case in fit.asked.cases for zone in zones)
    return bool(max(hottest_c) >= HOT_C)


def _fuses(fit: Fitting) -> list[ChainContact]:
    proposal = fit.asked.proposal
    return [each for each in (*proposal.feed, *proposal.outlet) if is_fuse(each)]


def _told(fit: Fitting, node: str) -> str:
    return _listed(fit.old_leads(node)) or node


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names)
