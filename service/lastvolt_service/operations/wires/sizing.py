"""Smallest size that passes drop, heat, fuse and strength, and why each smaller one fails.

`length_m` is one way. With a return wire of the same size the loop is twice that; through
the body it is once, with the body's own resistance added. The drop is that of the wire at the
temperature its load heats it to, where it lies, and of the contacts of the path: those given in
`contacts_resistance_ohm`, else a share of the limit is kept back for them.
"""

from dataclasses import dataclass
from typing import Annotated

from lastvolt_service.fields import changed, recorded
from lastvolt_service.laws import named, published, recording
from lastvolt_service.operations.fuses.profile import (
    NO_FUSE,
    STARTER_SOLENOID,
    profile_named,
)
from lastvolt_service.operations.fuses.window_checks import window_basis, window_checks
from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.operation import Operation
from lastvolt_service.operations.outcome import Checked, Outcome
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    STARTER,
    Result,
    merge,
)
from lastvolt_service.operations.sources.supply import judge_system, judge_too_high
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.drop_limits import (
    GIVEN_NEED,
    LIMIT_APPLIES_TO,
    allowed_drop,
    judge_supply,
    nominal_of,
)
from lastvolt_service.operations.wires.heat_steps import balance_steps, limit_balance_steps
from lastvolt_service.operations.wires.heated_wire import ambient_of, lay
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire
from lastvolt_service.operations.wires.metal_cautions import of_metal
from lastvolt_service.operations.wires.size_check import Needs, hold
from lastvolt_service.operations.wires.size_needs import (
    WHOLE_SUPPLY,
    WireSizingRequest,
    contacts_drop_v,
    heat_decides,
    keeps_back,
    needs_of,
    no_size_helps,
)
from lastvolt_service.operations.wires.size_search import (
    Searched,
    Tried,
    known_size,
    search,
)
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    are,
    given,
    negate,
    number,
    pick,
    some,
    text_if,
    texts_where,
)
from lastvolt_service.tables.limits import (
    contact_limits,
    ground_return_citation,
    kept_back_citation,
)
from lastvolt_service.tables.practice import minimum_sizes

ANSWERED = (
    "area_mm2",
    "drop_v",
    "load_voltage_v",
    "conductor_temperature_c",
    "permissible_current_a",
    "duty_current_a",
    "fuse_rating_a",
    "overload_current_a",
    "overload_time_s",
)
MARGIN_UNITS = {
    "mechanical_minimum": "mm2",
    "loop_drop": "v",
    "conductor_temperature": "k",
    "fuse_overload": "k",
    "both_windings_held": "k",
    "load_voltage": "v",
    "fuse_voltage": "v",
}


@dataclass(frozen=True, slots=True)
class Candidate:
    """One size that was tried."""

    size: Annotated[str, "the size"]
    area_mm2: Annotated[float, "section of metal"]
    drop_v: Annotated[
        float | None, "voltage lost on the whole loop; null where the wire heats up without end"
    ]
    conductor_temperature_c: Annotated[float | None, "steady, likewise"]
    permissible_current_a: Annotated[float, "steady current, the lower of model and table"]
    fuse_rating_a: Annotated[float | None, "fuse that fits; null where none does"]
    failing: Annotated[tuple[str, ...], "codes of the checks that it fails"]
    wants_fuse_only: Annotated[
        bool, "whether it would do, were there a fuse that carries the load and protects it"
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSizing(Result):
    """Answer of ``wire-sizing``."""

    size: Annotated[str | None, "smallest size that passes all; null where none does"]
    standard: Annotated[str, "standard of the sizes"]
    area_mm2: Annotated[float | None, "section of that size"]
    loop_length_m: Annotated[float, "length of wire that the drop is reckoned over, out and back"]
    body_resistance_ohm: Annotated[float, "of the return through the body; 0 with a return wire"]
    drop_v: Annotated[
        float | None,
        "voltage lost on the whole loop, in the phase that its limit speaks of: of a starter "
        "control circuit with both windings in, at 20 degC",
    ]
    contacts_drop_v: Annotated[
        float, "of this for the contacts of the path: given, or kept back for them"
    ]
    limit_drop_v: Annotated[float, "limit of it"]
    limit_applies_to: Annotated[str | None, LIMIT_APPLIES_TO]
    load_voltage_v: Annotated[float | None, "voltage that reaches the load"]
    conductor_temperature_c: Annotated[
        float | None, "temperature of the conductor: steady, or at the end of its time on"
    ]
    permissible_current_a: Annotated[float | None, "steady current that the size may carry"]
    duty_current_a: Annotated[
        float | None, "current that it may carry for the load's times; null for a steady load"
    ]
    fuse_rating_a: Annotated[float | None, "fuse that carries the load and protects the size"]
    fuse_family: Annotated[str | None, "family of that fuse"]
    overload_current_a: Annotated[
        float | None, "the overload that is worst for the size; null where none was judged"
    ]
    overload_time_s: Annotated[float | None, "longest time in which the fuse interrupts it"]
    ambient_c: Annotated[float, "ambient that was reckoned with"]
    heat_decides: Annotated[
        bool,
        "whether a thinner wire would do in better insulation or cooler air: the air leaves this "
        "insulation little",
    ]
    no_size_helps: Annotated[
        str | None,
        "why none does: low_supply, which has less than the load needs; ambient, where the air is "
        "as hot as the insulation may become; fixed_drop, where body and contacts alone lose what "
        "the path may; null where that is not so",
    ]
    candidates: Annotated[
        tuple[Candidate, ...], "the sizes from the smallest up to the one that passes"
    ]


def solve(asked: WireSizingRequest) -> Outcome:
    """Work out one load or many."""
    asked = _with_profile(asked)
    ambient_c, zone_basis = ambient_of(asked)
    allowed = allowed_drop(asked)
    strong, strength = _that_last(asked)
    needs = needs_of(asked, ambient_c, allowed, strong)
    found = search(asked, needs)
    last = found.columns
    no_room = (lay(strong, asked, ambient_c)[1],) if some(given(asked.outer_diameter_mm)) else ()
    by_practice = are(asked.return_path, "body") & negate(given(asked.body_resistance_ohm))
    limit_basis = text_if(allowed.limit_v > asked.supply_v, WHOLE_SUPPLY, allowed.source)
    return Outcome(
        {
            "size": texts_where(found.passed, found.size),
            "standard": asked.standard,
            "loop_length_m": needs.loop_length_m,
            "body_resistance_ohm": needs.body_resistance_ohm,
            "contacts_drop_v": contacts_drop_v(asked, needs),
            "limit_drop_v": needs.limit_drop_v,
            "limit_applies_to": allowed.applies_to,
            **{name: pick(found.passed, last[name], NOT_GIVEN) for name in ANSWERED},
            "fuse_family": texts_where(found.passed, last["fuse_family"]),
            "ambient_c": ambient_c,
            "heat_decides": found.passed & heat_decides(asked, needs, strong, last),
            "no_size_helps": no_size_helps(asked, needs, strong),
            **({"candidates": tuple(map(_candidate, found.tried))} if found.tried else {}),
        },
        _checks(asked, found, limit_basis, "; ".join(strength)),
        merge(
            found.basis,
            zone_basis,
            (ground_return_citation(), contact_limits()["ground"].citation)
            if some(by_practice)
            else (),
            (kept_back_citation(),) if some(keeps_back(asked, allowed)) else (),
            (limit_basis,) if found.tried else allowed.basis,
            filter(None, (found.citation,)),
            window_basis(asked, last["fuse_rating_a"], last["fuse_family"]),
            strength,
        ),
        (*of_metal(asked.material, asked.construction), *_cautions(needs.has_no_fuse)),
        (*found.none_fits, *no_room, found.beyond),
        (*found.refusals, *strong.refusals()),
    )


def _with_profile(asked: WireSizingRequest) -> WireSizingRequest:
    """Put the profile of the load that stands at the end of such a circuit."""
    return changed(asked, load_profile=profile_named(asked.load_profile, asked.circuit))


def _that_last(asked: WireSizingRequest) -> tuple[Found[InsulatedWire], list[str]]:
    """The thinnest wires that last in a vehicle, and who says so."""
    least = look_up(lambda standard: minimum_sizes()[standard], standard=asked.standard)
    wires = known_size(asked, least.words(lambda each: each.size))
    return wires, least.basis(lambda each: (each.citation,))


def _checks(
    asked: WireSizingRequest, found: Searched, limit_basis: str, strength: str
) -> tuple[Checked, ...]:
    of_wire = (
        ("mechanical_minimum", "mm2", strength),
        ("loop_drop", "V", limit_basis),
        ("load_voltage", "V", GIVEN_NEED),
        ("conductor_temperature", "degC", found.insulation),
        ("permissible_current", "A", found.citation),
        ("duty_current", "A", IN_TIME),
        ("both_windings_held", "degC", IN_TIME),
    )
    is_open = are(asked.load_profile, STARTER_SOLENOID) & negate(given(asked.inrush_current_a))
    details = {"loop_drop": text_if(is_open, "first_current", "body")}
    return (
        judge_supply(asked),
        judge_too_high(asked.supply_v, nominal_of(asked.supply_v, asked.nominal_v)),
        judge_system(asked.supply_v, nominal_of(asked.supply_v, asked.nominal_v)),
        *(
            Checked(code, found.judged[code], unit, basis, detail=details.get(code))
            for code, unit, basis in of_wire
        ),
        *window_checks(asked, found.judged, found.columns["fuse_family"], found.citation),
    )


def _cautions(has_no_fuse: Flags) -> tuple[str, ...]:
    has_fuse = () if has_no_fuse is True else (FUSE_NEAR_SOURCE,)
    return (*has_fuse, *((NO_FUSE, STARTER) if some(has_no_fuse) else ()), SHORT_CIRCUIT, DEFERENCE)


def _candidate(tried: Tried) -> Candidate:
    found = tried.columns
    return Candidate(
        tried.size,
        found["area_mm2"],
        number(found["drop_v"]),
        number(found["conductor_temperature_c"]),
        number(found["permissible_current_a"]) or 0.0,
        number(found["fuse_rating_a"]),
        tried.failing,
        tried.failing == ("fuse_window",),
    )


# By hand: sizes that are tried together in columns remember nothing. The last one, and the one
# before, are held against the needs once more, each by itself.
def tell_all(asked: WireSizingRequest, answer: WireSizing, steps: Steps) -> None:
    """Take the steps to the size that was found, and to why the next smaller one fails."""
    with recording():
        asked = _with_profile(recorded(asked))
        ambient_c, _ = ambient_of(asked)
        strong, strength = _that_last(asked)
        needs = needs_of(asked, ambient_c, allowed_drop(asked), strong)
        for name in (
            "ambient_c",
            "loop_length_m",
            "body_resistance_ohm",
            "contacts_ohm",
            "limit_drop_v",
        ):
            steps.result(name, getattr(needs, name), "")
        steps.result("contacts_drop_v", contacts_drop_v(asked, needs), "")
        meaning = "section of the least size that lasts"
        least_mm2 = published("minimum_area_mm2", needs.minimum_area_mm2, meaning, strength[0])
        needs = needs._replace(minimum_area_mm2=least_mm2)
        last = len(answer.candidates)
        own = "" if answer.size else f"candidates_{last}_"
        _tell_size(asked, needs, answer.candidates[-1], steps, own)
        if answer.size and last > 1:
            smaller = answer.candidates[-2]
            _tell_size(asked, needs, smaller, steps, f"candidates_{last - 1}_")


def _tell_size(
    asked: WireSizingRequest, needs: Needs, candidate: Candidate, steps: Steps, prefix: str
) -> None:
    wire, _ = lay(known_size(asked, candidate.size), asked, needs.ambient_c)
    held = hold(wire, needs)
    with steps.within(prefix):
        ends = {name: held.window.columns[name] for name in ("lower_a", "upper_a")}
        for name, value in {**held.columns, **ends}.items():
            steps.result(name, value, "")
        steps.result("insulation_limit_c", wire.limit_c, "")
        hot_c = held.columns["conductor_temperature_c"]
        if given(hot_c) and not held.profile.is_brief:
            balance_steps(
                steps,
                wire,
                current_a=asked.load_current_a,
                conductor_c=hot_c,
                surface_c=held.surface_c,
            )
        limit_balance_steps(steps, wire, held.may.model_a)
        for code in held.failing:
            meaning = f"how far {candidate.size} is from what is asked; below zero it fails"
            symbol = f"margin_of_{code}_{MARGIN_UNITS.get(code, 'a')}"
            margin = named(symbol, held.judged[code].margin, meaning)
            steps.result(symbol, margin, "")


OPERATION = Operation(
    "wire-sizing", __doc__, WireSizingRequest, WireSizing, solve, tell_all=tell_all
)
