"""The sheet to take under the vehicle for a relay: what to cut, where it goes, in which order.

The proposal is looked at as ``relay-retrofit`` does. One that must not be built, or of which a
fuse or a rating is not known, gives no sheet, and the answer says what is wrong or missing. Else
there are the leads with their slack, the parts and terminals, the wiring terminal by terminal, the
order of work with its cautions, and the readings before and after with the volts to expect; how
these come about is told by ``relay-retrofit``.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any, ClassVar, Literal

from lastvolt_service.fields import ABSENT, Broken, Name, Quantity, by_name, quantity
from lastvolt_service.fields import name as label
from lastvolt_service.operations.circuits.assembly import rest
from lastvolt_service.operations.circuits.bounds import plain
from lastvolt_service.operations.circuits.bridging import mending
from lastvolt_service.operations.circuits.cases import with_usual_starts
from lastvolt_service.operations.circuits.judge import Asked, Judged, judge_all
from lastvolt_service.operations.circuits.parts import CircuitWire
from lastvolt_service.operations.circuits.work import BOUND_OF_SHEETS
from lastvolt_service.operations.decision import relay_retrofit
from lastvolt_service.operations.decision.advice import Advice
from lastvolt_service.operations.decision.cut_list import (
    CutWire,
    NeededPart,
    Terminal,
    cut_list,
    needed_parts,
    tell_cut,
    terminals,
)
from lastvolt_service.operations.decision.meter_readings import SheetReading, note, readings
from lastvolt_service.operations.decision.order_of_work import (
    WITH_RELAY,
    Interlock,
    Task,
    interlocks,
    order_of_work,
)
from lastvolt_service.operations.decision.proposal import RelayRetrofitRequest, case_with_relay
from lastvolt_service.operations.decision.relay_retrofit import RelayRetrofit
from lastvolt_service.operations.decision.screen import BROKEN, screen
from lastvolt_service.operations.decision.sheet_words import sentence
from lastvolt_service.operations.decision.ways import BOUNDS, TOLD_ONLY, WORKS
from lastvolt_service.operations.decision.wiring_table import (
    IMPLIED,
    RELAY_TERMINALS,
    Connection,
    Fitting,
    table,
)
from lastvolt_service.operations.decision.worn import BY_THE_REST
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import COMMON_PRACTICE, Check, Result, merge
from lastvolt_service.operations.steps import Steps
from lastvolt_service.words import catalogue

MAX_NAMED = 100
SheetState = Literal["ready", "not_safe", "not_known", "falls_short"]
# What is left to be filled in by hand: table and column.
BLANKS = (
    ("wires", "length_m"), ("wires", "colour"), ("terminals", "stud_mm"), ("order", "done"),
    ("readings", "before_v"), ("readings", "after_v"), ("interlocks", "tried"),
    ("sheet", "done_by"), ("sheet", "date"), ("sheet", "odometer"),
)  # fmt: skip


def _example() -> dict[str, Any]:
    """That of ``relay-retrofit``, with a neutral switch before the starter."""
    base = RelayRetrofitRequest.example
    circuit = base["circuit"]
    rear = circuit["branches"][2]
    branches = [
        {**each, "nodes": ["neutral out", "terminal 50"]} if each is rear else each
        for each in circuit["branches"]
    ]
    neutral = {
        "name": "neutral switch",
        "kind": "contact",
        "part": "switch",
        "nodes": ["key out", "neutral out"],
        "resistance_ohm": 0.005,
        "rating_a": 30,
    }
    return {
        **base,
        "circuit": {**circuit, "branches": [*branches, neutral]},
        "vehicle": "Mobile-library coach of Lindwater County",
        "colours": {"wire to the rear": "BK/YE", "starter cable to relay": "RD"},
        "blade_mm": {"85": 6.3, "86": 6.3},
    }


EXAMPLE = _example()


class WorkSheetRequest(RelayRetrofitRequest):
    """A proposed relay, and what a sheet for it says besides."""

    toleranced: ClassVar[bool] = False
    bound: ClassVar[str] = BOUND_OF_SHEETS
    judged_again: ClassVar[int] = 2

    vehicle: str | None = label("title of the sheet", default=ABSENT)
    colours: Mapping[str, str] = by_name(
        "colour of each wire as it is in the vehicle, or is to be, in the caller's own words; of "
        f"the leads that a proposal implies by {', '.join(sorted(IMPLIED))}",
        Name(meaning="the colour, kept as it is written"),
        maximum=MAX_NAMED,
    )
    slack_percent: float = quantity(
        "added to the length of every new wire; by default 10, 25 to an engine that moves, and "
        "0.1 m at least, by practice",
        default=ABSENT,
    )
    slack_of_wire_percent: Mapping[str, float] = by_name(
        "the same for single wires, by name",
        Quantity(meaning="added to the length"),
        maximum=MAX_NAMED,
    )
    blade_mm: Mapping[str, float] = by_name(
        f"width of the relay's blades, by terminal: {', '.join(RELAY_TERMINALS)}",
        Quantity(meaning="width", minimum=1.0, maximum=20.0),
        maximum=len(RELAY_TERMINALS),
    )

    def broken_rules(self) -> Iterator[Broken]:
        """As for any proposal; and what is named is there."""
        yield from super().broken_rules()
        wires = {each.name for each in self.circuit.branches if isinstance(each, CircuitWire)}
        new = self.proposal.names | {e.name for e in self.proposal.wires} | IMPLIED
        for field, known_names, text in (
            ("colours", wires | new, "No wire of the circuit or the proposal has this name."),
            ("slack_of_wire_percent", new, "No wire of the proposal has this name."),
            ("blade_mm", {*RELAY_TERMINALS}, "A relay has terminals 30, 85, 86 and 87."),
        ):
            for each in getattr(self, field):
                yield each not in known_names, (field, each), text

    example: ClassVar = EXAMPLE


@dataclass(frozen=True, slots=True)
class OldWire:
    """A wire of the vehicle as it is, to find it by."""

    name: Annotated[str, "the wire as the request names it"]
    nodes: Annotated[tuple[str, ...], "the two nodes that it joins"]
    size: Annotated[str, "of the conductor"]
    colour: Annotated[str | None, "as the request writes it"]
    comes_off: Annotated[bool, "whether its end comes off the load, for the relay"]


@dataclass(frozen=True, slots=True)
class Blank:
    """A column that is left to be filled in by hand."""

    table: Annotated[str, "which of the lists of this answer; sheet of what stands once"]
    column: Annotated[str, "what to write there"]


@dataclass(frozen=True, slots=True)
class Missing:
    """Why there is no sheet."""

    code: Annotated[str, "code of the check"]
    part: Annotated[str | None, "the part that it is about"]
    message: Annotated[str, "what is wrong, or what to find out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkSheet(Result):
    """Answer of ``work-sheet``; all lists but `missing` are empty where there is no sheet."""

    sheet: Annotated[
        SheetState,
        "ready; not_safe: the proposal must not be built so; not_known: what is missing decides "
        "whether it may be; falls_short: with it the load does not get what it needs",
    ]
    vehicle: Annotated[str | None, "title of the sheet, as the request has it"]
    advice: Annotated[Advice, "of relay-retrofit on the same proposal"]
    advice_headline: Annotated[str, "the same in a sentence"]
    poorest_case: Annotated[str, "the case in which the load has the least to spare as it is"]
    missing: Annotated[tuple[Missing, ...], "why there is no sheet; empty where there is one"]
    wires: Annotated[tuple[CutWire, ...], "leads to be cut"]
    parts: Annotated[tuple[NeededPart, ...], "parts to have at hand"]
    terminals: Annotated[tuple[Terminal, ...], "what is crimped to the ends of the leads"]
    wiring: Annotated[tuple[Connection, ...], "every terminal of every new part, once"]
    old_wires: Annotated[
        tuple[OldWire, ...], "those that come off the load, and those whose colour is given"
    ]
    interlocks: Annotated[
        tuple[Interlock, ...], "what goes on ruling the relay's coil, to be tried when all is done"
    ]
    order: Annotated[tuple[Task, ...], "the work, step by step"]
    readings: Annotated[tuple[SheetReading, ...], "with a voltmeter, before and after"]
    meter_note: Annotated[str | None, "what to heed with the meter; null without readings"]
    blanks: Annotated[tuple[Blank, ...], "what is left to be filled in by hand"]


def solve(asked: WorkSheetRequest) -> Outcome:
    """Write one sheet."""
    advised = relay_retrofit.OPERATION.answer(asked)
    if not isinstance(advised, RelayRetrofit):
        raise TypeError("relay-retrofit gives no other answer")
    asked = with_usual_starts(asked)
    fit = Fitting.of(asked)
    before = [rest(*plain(asked.circuit, case)) for case in asked.cases]
    with_relay = judge_all(
        [
            Asked(
                fit.circuit,
                case_with_relay(case, asked.load, asked.proposal),
                asked.system_v,
                asked.load,
                "relay",
            )
            for case in asked.cases
        ]
    )
    place = next(i for i, c in enumerate(asked.cases) if c.name == advised.poorest_case)
    costs = mending(before[place], asked.load, asked.cases[place].usual_ageing)
    words = catalogue()["relay-retrofit"]
    screened = tuple(
        replace(each, way="relay").told(words)
        for each in screen(
            asked, fit.circuit, with_relay, before[place], costs, float(asked.system_v)
        )
    )
    own = tuple(
        check
        for judged in with_relay
        for check in judged.checks
        if check.part in asked.proposal.names and check.code not in WORKS | TOLD_ONLY | BOUNDS
    )
    own = (*_plain_for_both_ways(asked), *own)
    state, decisive = _state(asked, advised, with_relay, screened, own)
    columns: dict[str, Any] = {
        "sheet": state,
        "vehicle": asked.vehicle,
        "advice": advised.advice,
        "advice_headline": advised.headline,
        "poorest_case": advised.poorest_case,
        "missing": tuple(Missing(c.code, c.part, c.message) for c in decisive),
    }
    if state == "ready":
        states = [each.state for each in with_relay]
        columns |= _sheet(asked, fit, advised, readings(fit, before, states, _names(asked)))
    else:
        lists = (
            "wires", "parts", "terminals", "wiring", "old_wires", "interlocks", "order",
            "readings", "blanks",
        )  # fmt: skip
        columns |= {**dict.fromkeys(lists, ()), "meter_note": None}
    return Outcome(
        columns,
        (),
        merge(advised.basis, (COMMON_PRACTICE,)),
        (*((sentence("no_sheet"),) if state != "ready" else ()), *advised.cautions),
        told_checks=tuple(dict.fromkeys((*decisive, *screened, *own))),
    )


def _plain_for_both_ways(asked: WorkSheetRequest) -> Iterator[Check]:
    """Of a motor that turns both ways: a plain relay leaves one of them without its ground."""
    if asked.proposal.one_for_each == "direction":
        so = {"part": asked.load, "way": "relay"}
        found = Checked("turns_both_ways", BROKEN, "V", COMMON_PRACTICE, **so)
        yield found.told(catalogue()["relay-retrofit"])


def _names(asked: WorkSheetRequest) -> list[str]:
    return [case.name for case in asked.cases]


def _state(
    asked: WorkSheetRequest,
    advised: RelayRetrofit,
    with_relay: Sequence[Judged],
    screened: Sequence[Check],
    own: Sequence[Check],
) -> tuple[SheetState, tuple[Check, ...]]:
    """Whether there is a sheet, and the checks that say why not.

    Not by the advice alone: a poor battery is told before an unsafe proposal, and what is not
    known of a relay decides nothing for those who need none; whoever builds it must know.
    """
    unsafe = [c for c in (*screened, *own) if c.verdict == "fail" and c.code not in BY_THE_REST]
    if advised.advice == "unsafe":
        unsafe = [*unsafe, *(c for c in advised.checks if c.verdict == "fail")]
    if unsafe:
        return "not_safe", tuple(dict.fromkeys(unsafe))
    not_known = [c for c in screened if c.verdict == "unknown"]
    not_known += [c for c in own if c.verdict == "undecided"]
    if not_known:
        return "not_known", tuple(dict.fromkeys(not_known))
    ways = [each for each in advised.ways if each.code in WITH_RELAY]
    if all(each.margin_v < 0.0 for each in ways):
        short = [
            check
            for judged in with_relay
            for check in judged.checks
            if check.code in WORKS
            and check.verdict == "fail"
            and check.part in {asked.load, *asked.proposal.names}
        ]
        if short:
            return "falls_short", tuple(short)
    return "ready", ()


def _sheet(
    asked: WorkSheetRequest, fit: Fitting, advised: RelayRetrofit, told: tuple[SheetReading, ...]
) -> dict[str, Any]:
    links = tuple(fit.links())
    leads = [each.lead for each in links if each.lead is not None]
    locks = interlocks(fit)
    off = {name for node in fit.taken_off for name in fit.old_leads(node)}
    return {
        "wires": cut_list(leads, asked.colours, asked.slack_percent, asked.slack_of_wire_percent),
        "parts": tuple(needed_parts(fit)),
        "terminals": tuple(terminals(fit, links, asked.blade_mm)),
        "wiring": table(links, asked.colours),
        "old_wires": tuple(
            OldWire(
                each.name,
                tuple(each.nodes),
                str(each.size),
                asked.colours.get(each.name),
                each.name in off,
            )
            for each in asked.circuit.branches
            if isinstance(each, CircuitWire) and (each.name in off or each.name in asked.colours)
        ),
        "interlocks": locks,
        "order": order_of_work(fit, advised.advice, advised.plan, locks),
        "readings": told,
        "meter_note": note(fit),
        "blanks": tuple(Blank(*each) for each in BLANKS),
    }


def tell_all(asked: WorkSheetRequest, answer: WorkSheet, steps: Steps) -> None:
    """Tell how long each lead is cut, by hand: the volts are told by ``relay-retrofit``."""
    for place, each in enumerate(answer.wires, 1):
        percent = asked.slack_of_wire_percent.get(each.name, asked.slack_percent)
        tell_cut(each, percent, f"wires_{place}_", steps)


OPERATION = Operation("work-sheet", __doc__, WorkSheetRequest, WorkSheet, solve, tell_all=tell_all)
