"""Work sheets, plans of readings and proofs in words, section by section, to be posted."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from lastvolt_service.operations.decision.cut_list import CutWire, Terminal
from lastvolt_service.operations.decision.meter_readings import SheetReading
from lastvolt_service.operations.decision.wiring_table import Connection
from lastvolt_service.operations.decision.work_sheet import WorkSheet, WorkSheetRequest
from lastvolt_service.operations.meter.meter_plan import MeterPlan
from lastvolt_service.operations.meter.plan_answer import PlannedReading
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_sound import SoundReading
from lastvolt_service.operations.meter.proof_answer import GainProof, ProofOfCase
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.reports.plain import disarm, escaped, tidy
from lastvolt_service.reports.proof import (
    ENOUGH,
    READ_SO,
    SIGNATURE,
    SIGNED_FOR,
    ReadBoth,
    by_case,
    conditions,
    is_told,
    meters_used,
    read_both,
    span,
    supply,
)
from lastvolt_service.reports.sheet import band, crimp, faults, poorest_first
from lastvolt_service.words import case_name
from lastvolt_service.words.amounts import amount

BLANK = "____"
CONTRADICTS = ", which, or another so told, contradicts the rest"


class Section(NamedTuple):
    """A part of a sheet; its lines are numbered where the first one's number is given."""

    title: str
    lines: Sequence[str]
    first: int | None = None
    note: str | None = None


def sheet_words(operation: str, request: Any, answer: Any, *, markdown: bool) -> str:
    """Write what stands on the sheet of an operation; nothing of one that has none."""
    if operation not in SECTIONS:
        return ""
    told = (_told(each, markdown) for each in SECTIONS[operation](request, answer) if each.lines)
    return "\n" + "\n".join(told)


def _told(section: Section, markdown: bool) -> str:
    title, lines, first, note = section
    heading = _written(title, markdown)
    head = [f"## {heading}", ""] if markdown else [heading]
    if note is not None:
        head += [_written(note, markdown), *([""] if markdown else [])]
    marks = (f"{first + k}." if first is not None else "-" for k in range(len(lines)))
    items = (f"{mark} {_written(line, markdown)}" for mark, line in zip(marks, lines, strict=True))
    return "\n".join((*head, *items, ""))


def _written(text: str, markdown: bool) -> str:
    safe = disarm(tidy(text))
    return escaped(safe) if markdown else safe


def _work_sheet(_: WorkSheetRequest, sheet: WorkSheet) -> Iterator[Section]:
    if sheet.sheet != "ready":
        yield Section("Why there is no sheet", [each.message for each in sheet.missing])
        return
    yield Section("Parts to have at hand", [each.text for each in sheet.parts])
    yield Section("Leads to cut", [_lead(each) for each in sheet.wires])
    leads = {each.name: each for each in sheet.wires}
    ends = {(each.wire, each.part, each.terminal): each for each in sheet.terminals}
    yield Section("Wiring", [_joined(each, leads, ends) for each in sheet.wiring], 1)
    yield Section(
        "Wires of the vehicle",
        [
            f"{each.name}, {each.size}, between {' and '.join(each.nodes)}, "
            f"{each.colour or f'colour {BLANK}'}{', comes off' if each.comes_off else ''}"
            for each in sheet.old_wires
        ],
    )
    yield Section("Order of work", [each.text for each in sheet.order], 1)
    cases = poorest_first(sheet)
    readings = [_reading(each, cases) for each in sheet.readings]
    yield Section("Readings", readings, 1, sheet.meter_note)


def _lead(lead: CutWire) -> str:
    way, cut = (
        amount(length, "m", side=side) if length is not None else BLANK
        for length, side in ((lead.length_m, ""), (lead.cut_length_m, "up"))
    )
    kind = " ".join(filter(None, (lead.size, lead.insulation)))
    metal = "" if lead.material == "copper" else f", {lead.material}"
    colour = lead.colour or f"colour {BLANK}"
    return f"{lead.name}: {kind}{metal}, {colour}, way {way}, cut {cut}. {lead.why}"


def _joined(
    each: Connection,
    leads: Mapping[str, CutWire],
    ends: Mapping[tuple[str, str, str | None], Terminal],
) -> str:
    here, there = _at(each.from_part, each.from_terminal), _at(each.to_part, each.to_terminal)
    if each.wire is None or each.wire not in leads:
        return f"{here} to {there}, joined without a lead"
    crimps = (
        ends[each.wire, part, terminal]
        for part, terminal in (
            (each.from_part, each.from_terminal),
            (each.to_part, each.to_terminal),
        )
    )
    first, last = (crimp(end, BLANK) for end in crimps)
    return f"{here} ({first}) to {there} ({last}) by {each.wire}"


def _at(part: str, terminal: str | None) -> str:
    return f"{part} [{terminal}]" if terminal else part


def _reading(each: SheetReading, cases: Sequence[str]) -> str:
    expected = {one.case: one for one in each.expected}
    told = []
    for case in cases:
        volts = (
            f"{amount(value, 'V')} {when}"
            for value, when in (
                (expected[case].as_is_v, "as it is"),
                (expected[case].with_relay_v, "with the relay"),
            )
            if value is not None
        )
        told.append(f"{case_name(case)} {' and '.join(volts)}")
    return (
        f"Red lead at {each.red}, black at {each.black}. {each.text} Expect: {'; '.join(told)}. "
        f"Before {BLANK} After {BLANK}"
    )


def _meter_plan(asked: MeterPlanRequest, plan: MeterPlan) -> Iterator[Section]:
    relay = asked.way.relay.name if asked.way else None
    yield Section("Before the first reading", [each.text for each in plan.before], 1)
    for each in plan.rounds:
        readings = plan.readings[each.first - 1 : each.last]
        told = [_planned(one, relay) for one in readings]
        yield Section(f"Readings: {each.case}", told, each.first, each.text)
        hows: dict[str, list[str]] = {}
        for one in readings:
            hows.setdefault(one.how, []).append(str(one.number))
        told = [f"{', '.join(which)}: {how}" for how, which in hows.items()]
        yield Section(f"How they are taken: {each.case}", told)
        wrong = _wired_wrong(readings)
        yield Section(f"With {relay} see first how it is wired: {each.case}", wrong)
    test = plan.jumper
    if test is not None:
        told = [test.text, test.if_it_cranks, test.if_it_does_not, test.again]
        yield Section("If it does not work: the test with a jumper", told)
    meters = (
        f"{each.kind}: {each.accuracy_percent:g} % and {each.accuracy_digits:g} digits"
        f"{'' if each.name else ' (usual, by practice)'}"
        for each in plan.meters_used
    )
    yield Section("What the bands allow for", [*meters])


def _planned(each: PlannedReading, relay: str | None) -> str:
    leads = f"Clamp round {each.clamp}" if each.clamp else f"Red {each.red}, black {each.black}"
    found = [("as it is", each.as_is)]
    found += [(f"with {relay}", each.with_way)] if relay else []
    bands = [
        f"{when} {band(one, each.unit)}, read {BLANK}" for when, one in found if one is not None
    ]
    expect = f"Expect {'; '.join(bands)}." if bands else f"Read {BLANK}."
    return (
        f"{leads}. {each.text} {expect} {_sound(each, relay)}If more: {each.means_if_more} "
        f"If less: {each.means_if_less}"
    )


def _sound(each: PlannedReading, relay: str | None) -> str:
    """What a sound one shows; with the relay, too, where that is another."""
    as_is, with_way = each.sound_as_is, each.sound_with_way
    told = [as_is.text] if as_is else []
    if with_way and not (as_is and _shows(as_is) == _shows(with_way)):
        told.append(f"With {relay}: {with_way.text}")
    return "".join(f"{text} " for text in told)


def _shows(sound: SoundReading) -> tuple[float | None, ...]:
    """What a meter shows there, for which current, and what passes costs."""
    return sound.least, sound.most, sound.at_a, sound.costs_v


def _wired_wrong(readings: Sequence[PlannedReading]) -> list[str]:
    """What each fault of a relay's wiring shows."""
    return [
        f"{fault}: {', '.join(f'reading {number} about {shown}' for number, shown in shows)}."
        for fault, shows in faults(readings)
    ]


def _gain_proof(asked: GainProofRequest, answer: GainProof) -> Iterator[Section]:
    yield Section("What it is of", [*(f"{each} {BLANK}" for each in SIGNED_FOR)])
    told = [_read(each) for each in read_both(asked, answer)]
    yield Section("What was read", told, note=READ_SO)
    yield Section("Meters", meters_used(asked))
    given = supply(asked)
    rows = [f"{name}: {text}" for name, text in conditions(asked)]
    yield Section("Supply and temperatures", [*([f"supply: {given}"] if given else []), *rows])
    if is_told(answer):
        yield Section("What follows", [_of_case(each, answer) for each in by_case(answer)])
    look_at = [each.message for each in answer.look_at]
    yield Section("What to look at", look_at, 1)
    yield Section("Signed", [f"{SIGNATURE} {BLANK}"])


def _read(each: ReadBoth) -> str:
    sides = (("before", each.before), ("after", each.after))
    told = (
        f"{when} {one.text}{CONTRADICTS if one.contradicts else ''}" if one else f"{when} not read"
        for when, one in sides
    )
    return f"{case_name(each.case)}, {each.at}: {'; '.join(told)}."


def _of_case(each: ProofOfCase, answer: GainProof) -> str:
    needs = "" if each.needed_v is None else f" needs {amount(each.needed_v, 'V')},"
    promised = ""
    if each.case == answer.gain.case:
        promised = f" Promised: {amount(answer.promise.load_voltage_v, 'V')}."
    return (
        f"{case_name(each.case)}{'' if each.is_read else ', predicted'}:{needs} before "
        f"{span(each.before_low_v, each.before_high_v)}, after "
        f"{span(each.after_low_v, each.after_high_v)}, gain "
        f"{span(each.gain_low_v, each.gain_high_v)}; enough: {ENOUGH[each.met]}.{promised}"
    )


SECTIONS: Mapping[str, Callable[[Any, Any], Iterator[Section]]] = {
    "gain-proof": _gain_proof,
    "work-sheet": _work_sheet,
    "meter-plan": _meter_plan,
}
