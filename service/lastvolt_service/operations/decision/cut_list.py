"""What a proposed relay takes: leads with their slack, parts, and terminals to crimp."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.fields import known
from lastvolt_service.operations.circuits.parts import ChainContact, ChainResistance, ChainWire
from lastvolt_service.operations.decision import blades
from lastvolt_service.operations.decision.screen import is_fuse
from lastvolt_service.operations.decision.sheet_words import sentence
from lastvolt_service.operations.decision.wiring_table import (
    End,
    Fitting,
    Lead,
    Link,
    colour_of,
)
from lastvolt_service.operations.results import COMMON_PRACTICE
from lastvolt_service.operations.steps import ARITHMETIC, Steps
from lastvolt_service.rows import NOT_GIVEN, Numbers, number, one_text
from lastvolt_service.units import low_end

# What is cut longer than the way is: for a drip loop, for ends that are crimped anew, and where an
# engine moves on its mounts. Common practice.
USUAL_PERCENT, MOVING_PERCENT, LEAST_M = 10.0, 25.0, 0.1

SlackCode = Literal["as_given", "usual", "moving_engine", "least"]
PartCode = Literal[
    "relay", "relay_socket", "fuse", "fuse_holder", "contact", "resistance", "spare_relay",
    "spare_fuse",
]  # fmt: skip
TerminalCode = Literal["blade", "ring", "as_there", "of_the_part", "joint"]


@dataclass(frozen=True, slots=True)
class CutWire:
    """A lead to be cut."""

    name: Annotated[str, "the wire as the request names it, or what a lead is for that it implies"]
    size: Annotated[str, "of the conductor"]
    material: Annotated[str, "metal of the conductor"]
    insulation: Annotated[str | None, "kind of insulated wire; null where none is given"]
    colour: Annotated[str | None, "as the request writes it; null: fill it in"]
    length_m: Annotated[float | None, "along its way; null: measure it and fill it in"]
    slack: Annotated[
        SlackCode,
        "as_given; usual; moving_engine, where it goes to an engine on its mounts; least, where "
        "the usual share of a short lead would be too little for a drip loop and a new crimp",
    ]
    slack_m: Annotated[float | None, "added to the length; null where the length is"]
    cut_length_m: Annotated[float | None, "length to cut; null where the length is"]
    why: Annotated[str, "of size and slack, in a sentence"]


@dataclass(frozen=True, slots=True)
class NeededPart:
    """A part to have at hand."""

    code: Annotated[PartCode, "what kind of part it is"]
    name: Annotated[str, "the part as the request names it"]
    rating_a: Annotated[float | None, "that it is rated for; null where that is not known"]
    text: Annotated[str, "what to take, in a sentence"]


@dataclass(frozen=True, slots=True)
class Terminal:
    """What is crimped to one end of a lead."""

    part: Annotated[str, "part or node that it goes on"]
    terminal: Annotated[str | None, "terminal of the part; null of a node"]
    wire: Annotated[str, "the lead that it is crimped to"]
    size: Annotated[str, "conductor that it must take"]
    code: Annotated[
        TerminalCode,
        "blade: a receptacle; ring: by the stud; as_there: to fit what is there; of_the_part: as "
        "the fuse holder or the part wants it; joint: two leads crimped together",
    ]
    blades_mm: Annotated[
        tuple[Annotated[float, "width"], ...],
        "widths of the blade: as given, or those that are common and take the wire, all where none "
        "does; empty of anything else",
    ]
    is_given: Annotated[bool, "whether the request gives the width"]
    is_gripped: Annotated[
        bool,
        "false where no receptacle for such a blade is crimped to so thick a wire (common "
        "practice): the relay must have studs",
    ]


def cut_list(
    leads: Sequence[Lead],
    colours: Mapping[str, str],
    slack_percent: float,
    of_wire: Mapping[str, float],
) -> tuple[CutWire, ...]:
    """Say of each lead how long it is cut, and why; a slack that is NaN was not given."""
    found = []
    for lead in leads:
        code, slack_m = _slack(lead, of_wire.get(lead.name, slack_percent))
        length_m = lead.length_m
        reasons = ["" if lead.length_m is not None else sentence("length_not_known")]
        if lead.name != lead.like.name:
            code_of_size = "size_of_old" if lead.continues else "size_like"
            reasons.append(sentence(code_of_size, lead=lead.like.name))
        found.append(
            CutWire(
                lead.name,
                str(lead.like.size),
                str(lead.like.material),
                lead.insulation,
                colour_of(lead, colours),
                length_m,
                code,
                slack_m,
                None if length_m is None or slack_m is None else length_m + slack_m,
                " ".join(filter(None, [*reasons, sentence(code)])),
            )
        )
    return tuple(found)


def _slack(lead: Lead, percent: float) -> tuple[SlackCode, float | None]:
    code: SlackCode = "as_given"
    least_m = 0.0
    if not known(percent):
        code = "moving_engine" if lead.moves else "usual"
        percent, least_m = (MOVING_PERCENT if lead.moves else USUAL_PERCENT), LEAST_M
    if lead.length_m is None:
        return code, None
    slack_m = lead.length_m * percent / 100.0
    return (code, slack_m) if slack_m >= least_m else ("least", least_m)


def tell_cut(wire: CutWire, given_percent: float, p: str, steps: Steps) -> None:
    """Tell how long a lead is cut; `p` stands before its symbols."""
    if wire.length_m is None or wire.slack_m is None or wire.cut_length_m is None:
        return
    steps.given(f"{p}length_m", wire.length_m, f"along the way of {wire.name}")
    if wire.slack == "least":
        steps.published(f"{p}slack_m", wire.slack_m, "added to it", COMMON_PRACTICE)
    else:
        if wire.slack == "as_given":
            steps.given(f"{p}slack_percent", given_percent, "to be added")
        else:
            usual = MOVING_PERCENT if wire.slack == "moving_engine" else USUAL_PERCENT
            steps.published(f"{p}slack_percent", usual, "to be added", COMMON_PRACTICE)
        formula = f"{p}length_m * {p}slack_percent / 100"
        steps.computed(f"{p}slack_m", formula, wire.slack_m, "added to it", ARITHMETIC)
    formula = f"{p}length_m + {p}slack_m"
    steps.computed(f"{p}cut_length_m", formula, wire.cut_length_m, "to cut", ARITHMETIC)


def needed_parts(fit: Fitting) -> Iterator[NeededPart]:
    """List relay, fuse and what holds them, with one of each to spare."""
    relay, proposal = fit.relay, fit.asked.proposal
    volts = number(low_end(relay.nominal_v))
    each_one = proposal.one_for_each
    yield _needed("relay", relay.name, relay.rating_a, nominal_v=volts, one_for_each=each_one)
    yield _needed("relay_socket", relay.name, relay.rating_a, one_for_each=each_one)
    others = [
        each for each in (*proposal.feed, *proposal.outlet) if not isinstance(each, ChainWire)
    ]
    fuses = [each for each in others if is_fuse(each)]
    for fuse in fuses:
        each_fuse = {"family": fuse.fuse_family, "one_for_each": each_one}
        yield _needed("fuse", fuse.name, fuse.rating_a, **each_fuse)
        each_holder = {"feed_node": proposal.feed_node, "one_for_each": each_one}
        yield _needed("fuse_holder", fuse.name, fuse.rating_a, **each_holder)
    for each in others:
        if isinstance(each, ChainContact) and not is_fuse(each):
            yield _needed("contact", each.name, each.rating_a)
        elif isinstance(each, ChainResistance):
            yield _needed("resistance", each.name, NOT_GIVEN)
    yield _needed("spare_relay", relay.name, relay.rating_a)
    for fuse in fuses:
        yield _needed("spare_fuse", fuse.name, fuse.rating_a)


def _needed(
    code: PartCode, name: str, rating_a: Numbers, **values: float | str | None
) -> NeededPart:
    amps = number(low_end(rating_a))
    text = sentence(code, name=name, rating_a=amps, **values)
    return NeededPart(code, name, amps, text)


def terminals(
    fit: Fitting, links: Sequence[Link], blade_mm: Mapping[str, float]
) -> Iterator[Terminal]:
    """List what is crimped to both ends of every lead."""
    for link in links:
        if link.lead is None:
            continue
        for end in (link.start, link.end):
            code, usual = _crimped(end, float(low_end(fit.relay.rating_a)), blade_mm)
            size, standard = str(link.lead.like.size), one_text(link.lead.like.standard)
            # Of common blades only those that take the wire: the relay is bought by it.
            widths = tuple(e for e in usual if blades.grips((e,), size, standard)) or usual
            yield Terminal(
                end.part,
                end.terminal,
                link.lead.name,
                size,
                code,
                widths,
                code == "blade" and end.terminal in blade_mm,
                code != "blade" or blades.grips(widths, size, standard),
            )


def _crimped(
    end: End, rating_a: float, blade_mm: Mapping[str, float]
) -> tuple[TerminalCode, tuple[float, ...]]:
    if end.kind == "relay" and end.terminal is not None:
        usual = blades.of_contact(rating_a) if end.terminal in {"30", "87"} else blades.COIL_MM
        given = blade_mm.get(end.terminal)
        return "blade", usual if given is None else (given,)
    codes: dict[str, TerminalCode] = {
        "part": "of_the_part", "node": "ring", "joint": "joint", "load": "as_there",
        "old_lead": "as_there",
    }  # fmt: skip
    return codes[end.kind], ()
