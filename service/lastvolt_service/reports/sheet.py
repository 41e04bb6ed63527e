"""Work sheets, plans of readings and proofs to print: they load nothing, and need no colour."""

import base64
import hashlib
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from importlib.resources import files
from math import ceil, log10
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from lastvolt_service.operations.decision.cut_list import Terminal
from lastvolt_service.operations.decision.meter_readings import Expected, SheetReading
from lastvolt_service.operations.decision.work_sheet import WorkSheet, WorkSheetRequest
from lastvolt_service.operations.meter.meter_plan import MeterPlan
from lastvolt_service.operations.meter.plan_answer import PlannedReading
from lastvolt_service.operations.meter.plan_bands import Band
from lastvolt_service.operations.meter.plan_request import MeterPlanRequest
from lastvolt_service.operations.meter.plan_sound import SoundReading
from lastvolt_service.operations.meter.plan_told import MILLIVOLTS_BELOW_V, as_shown
from lastvolt_service.operations.meter.proof_answer import GainProof
from lastvolt_service.operations.meter.proof_request import GainProofRequest
from lastvolt_service.reports.pictures.proofs import gain_proof_picture
from lastvolt_service.reports.pictures.schematic import work_sheet_schematic
from lastvolt_service.reports.plain import tidy
from lastvolt_service.reports.proof import (
    ENOUGH,
    READ_SO,
    SIGNATURE,
    SIGNED_FOR,
    by_case,
    conditions,
    is_told,
    meters_used,
    read_both,
    span,
    supply,
)
from lastvolt_service.words.amounts import amount, rounded

Page = Callable[[Any, Any], str]  # of request and answer

# Cases that have room beside each other; the answer itself has all.
MOST_CASES = 2
CRIMPS = {
    "of_the_part": "as the holder wants it",
    "joint": "crimped and sealed",
    "as_there": "fits what is there",
}
# A coil takes little: what leaves a thick wire for it wants a fuse of its own. Common practice.
OF_COIL = frozenset({"85", "86"})
THIN_TO_COIL = (
    "no coil blade takes it: 16 AWG or 1.5 mm² instead, fused with 5 A where it leaves a live wire"
)
_STYLE = "sheet.css"
# A line to write on.
STUD = Markup('<span class="short"></span>')


def work_sheet_page(request: WorkSheetRequest, answer: WorkSheet) -> str:
    """Write the page of a work sheet, or of why there is none, as HTML."""
    drawing = ""
    if answer.sheet == "ready":
        drawn = work_sheet_schematic(request, answer, narrow=True)
        drawing = Markup(drawn)  # noqa: S704  # its numbers are ours, and its texts are escaped
    page = _environment().get_template("sheet.html")
    return page.render(
        sheet=answer,
        request=request,
        style=Markup(style()),  # noqa: S704  # ours
        drawing=drawing,
        cases=poorest_first(answer)[:MOST_CASES],
        more_cases=max(0, len(request.cases) - MOST_CASES),
        leads={each.name: each for each in answer.wires},
        ends={(each.wire, each.part, each.terminal): each for each in answer.terminals},
        expected=_expected,
        crimp=crimp,
        stud=STUD,
        letter=_to_the_letter,
        amount=amount,
        volts=_volts,
    )


@cache
def style() -> str:
    """Give the style that stands in a page."""
    return files(__package__).joinpath("templates", _STYLE).read_text(encoding="utf-8")


@cache
def policy() -> str:
    """What a browser may do with a page: show it in its own style, and nothing else."""
    digest = base64.b64encode(hashlib.sha256(style().encode()).digest()).decode()
    return f"default-src 'none'; style-src 'sha256-{digest}'; frame-ancestors 'none'"


def meter_plan_page(request: MeterPlanRequest, answer: MeterPlan) -> str:
    """Write the page of a plan of readings, with columns to fill in, as HTML."""
    readings = answer.readings
    page = _environment().get_template("plan.html")
    return page.render(
        plan=answer,
        request=request,
        style=Markup(style()),  # noqa: S704  # ours
        rounds=[(each, readings[each.first - 1 : each.last]) for each in answer.rounds],
        band=band,
        sound=sound,
        faults=faults,
    )


def gain_proof_page(request: GainProofRequest, answer: GainProof) -> str:
    """Write the page that proves a gain: what was read, with which meter, and what follows."""
    page = _environment().get_template("proof.html")
    drawn = gain_proof_picture(request, answer, alone=False)
    return page.render(
        proof=answer,
        request=request,
        style=Markup(style()),  # noqa: S704  # ours
        drawing=Markup(drawn),  # noqa: S704  # its numbers are ours, and its texts are escaped
        is_told=is_told(answer),
        readings=read_both(request, answer),
        meters=meters_used(request),
        conditions=conditions(request),
        supply=supply(request),
        by_case=by_case(answer),
        enough=ENOUGH,
        read_so=READ_SO,
        signed_for=SIGNED_FOR,
        signature=SIGNATURE,
        span=span,
        amount=amount,
    )


PAGES: Mapping[str, Page] = {
    "work-sheet": work_sheet_page,
    "meter-plan": meter_plan_page,
    "gain-proof": gain_proof_page,
}


def poorest_first(answer: WorkSheet) -> list[str]:
    """Cases of its readings, that with the least to spare first."""
    names = [each.case for each in answer.readings[0].expected] if answer.readings else []
    return sorted(names, key=lambda name: name != answer.poorest_case)


def crimp(end: Terminal, blank: Any) -> str:
    """What is crimped to an end of a lead."""
    if not end.is_gripped and end.terminal in OF_COIL:
        return THIN_TO_COIL
    if not end.is_gripped:
        return "no blade takes it: a relay with studs"
    if end.code == "blade":
        widths = " or ".join(f"{each:g}" for each in end.blades_mm)
        return f"{widths} mm receptacle{'' if end.is_given else ': measure'}"
    if end.code == "ring":
        return Markup("ring, stud {} mm").format(blank)
    return CRIMPS[end.code]


def _expected(reading: SheetReading, case: str) -> Expected:
    return next(each for each in reading.expected if each.case == case)


def _volts(value: float) -> str:
    """As any voltage is shown, without the unit that stands over the column."""
    return amount(value, "V").removesuffix(" V")


def band(found: Band | None, unit: str) -> str:
    """Ends of a band, rounded outwards to the last digit of the meter, as it shows them."""
    if found is None:
        return ""
    factor = 1.0
    if unit == "V" and max(abs(found.low), abs(found.high)) < MILLIVOLTS_BELOW_V:
        unit, factor = "mV", 1e3
    decimals = max(0, ceil(-log10(factor * found.step) - 1e-9))
    low = rounded(factor * found.low, unit, "down", decimals)
    high = rounded(factor * found.high, unit, "up", decimals)
    return f"{low} … {high} {unit}"


def sound(found: SoundReading | None) -> str:
    """What a sound one shows; marked where what was given may be worse."""
    if found is None:
        return ""
    mark = "" if found.given == "sound" else " !"
    return f"{'≥' if found.most is None else '≤'} {found.shown}{mark}"


# Of a relay that is wired wrong: so many readings, these first.
MOST_SHOWN = 3
_TELLING = ("switched_off", "across_switch", "through_part", "across_load", "across_contact")


def faults(readings: Sequence[PlannedReading]) -> list[tuple[str, list[tuple[int, str]]]]:
    """Each fault of a relay's wiring, and the readings that show it best."""
    found: dict[str, list[tuple[int, str]]] = {}
    for each in sorted(readings, key=lambda reading: _telling(reading.code)):
        for wrong in each.wired_wrong:
            found.setdefault(wrong.text, []).append((each.number, as_shown(wrong.shows, each.unit)))
    return [(text, sorted(shows[:MOST_SHOWN])) for text, shows in found.items()]


def _telling(code: str) -> int:
    return _TELLING.index(code) if code in _TELLING else len(_TELLING)


def _to_the_letter(text: str | None) -> Markup:
    """A text of the caller as it is, blanks and all, which cannot turn the page's direction."""
    return Markup("<bdi>{}</bdi>").format(text or "")


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("lastvolt_service.reports"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_fit_to_show,
    )


def _fit_to_show(value: Any) -> Any:
    if value is None:
        return ""
    if isinstance(value, str) and not isinstance(value, Markup):
        return escape(tidy(value))
    return value
