"""Smallest size that passes drop, heat, fuse and strength, and why each smaller one fails.

`length_m` is one way. With a return wire of the same size the loop is twice that; through
the body it is once, with the body's own resistance added. The drop is that of the wire at the
temperature its load heats it to, where it lies, and of the contacts of the path: those given in
`contacts_resistance_ohm`, else a share of the limit is kept back for them.
"""

from dataclasses import dataclass
from typing import Annotated, ClassVar

import numpy as np

from lastvolt_service.fields import ABSENT, Groups, changed, choice, quantity, recorded
from lastvolt_service.laws import OHM, by, named, published, recording
from lastvolt_service.laws import given as told
from lastvolt_service.operations.fuses.profile import (
    CRANKING,
    NO_FUSE,
    STARTER_CONTROL,
    STARTER_SOLENOID,
    profile_named,
    profile_of,
)
from lastvolt_service.operations.fuses.window import window_basis, window_checks
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
from lastvolt_service.operations.steps import Steps
from lastvolt_service.operations.wires.drop_limits import (
    GIVEN_NEED,
    LIMIT_APPLIES_TO,
    AllowedDrop,
    allowed_drop,
)
from lastvolt_service.operations.wires.fields import LIMIT
from lastvolt_service.operations.wires.heat_steps import balance_steps, limit_balance_steps
from lastvolt_service.operations.wires.heated_wire import ambient_of, lay
from lastvolt_service.operations.wires.heating import IN_TIME
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire
from lastvolt_service.operations.wires.size_check import Needs, SizedLoad, hold
from lastvolt_service.operations.wires.size_search import (
    Searched,
    Tried,
    WireOfAnySize,
    known_size,
    search,
)
from lastvolt_service.rows import (
    NOT_GIVEN,
    Flags,
    Numbers,
    Texts,
    Words,
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
    GROUND_RETURN_OHM,
    KEPT_FOR_CONTACTS,
    ground_return_citation,
    kept_back_citation,
)
from lastvolt_service.tables.practice import minimum_sizes

NO_SIZE_HELPS = ("ambient", "fixed_drop")
WHOLE_SUPPLY = "the whole supply: a path cannot drop more"
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


class WireSizingRequest(WireOfAnySize, SizedLoad):
    """A load, the way to it, and what the wire may drop and bear."""

    at_least_one_of: ClassVar[Groups] = (LIMIT,)

    length_m: Numbers = quantity("length of the way to the load, one way")
    return_path: Texts = choice(
        "how the current comes back: through a wire of the same size, or through the body",
        ("wire", "body"),
    )
    body_resistance_ohm: Numbers = quantity(
        "of the return through the body with its joints; by default what is satisfactory",
        maximum=1e3,
        default=ABSENT,
    )
    contacts_resistance_ohm: Numbers = quantity(
        "of all contacts of the path together: fuse and holder, switch, relay, connectors; by "
        "default a share of the limit is kept back for them",
        maximum=1e3,
        default=ABSENT,
    )

    example: ClassVar = {
        "supply_v": 13.8,
        "load_current_a": 12,
        "length_m": 5.5,
        "return_path": "body",
        "zone": "engine_bay",
        "insulation": "GXL",
        "grouped_conductors": 4,
        "limit_drop_percent": 4,
        "inrush_current_a": 50,
        "fuse_ambient_c": 60,
        "contacts_resistance_ohm": 0.01,
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
    no_size_helps: Annotated[
        str | None,
        "why none does: ambient, where the air is as hot as the insulation may become; fixed_drop, "
        "where body and contacts alone lose what the path may; null where that is not so",
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
    needs = _needs(asked, ambient_c, allowed, strong)
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
            "contacts_drop_v": _contacts_drop_v(asked, needs),
            "limit_drop_v": needs.limit_drop_v,
            "limit_applies_to": allowed.applies_to,
            **{name: pick(found.passed, last[name], NOT_GIVEN) for name in ANSWERED},
            "fuse_family": texts_where(found.passed, last["fuse_family"]),
            "ambient_c": ambient_c,
            "no_size_helps": _no_size_helps(asked, needs, strong),
            **({"candidates": tuple(map(_candidate, found.tried))} if found.tried else {}),
        },
        _checks(asked, found, limit_basis, "; ".join(strength)),
        merge(
            found.basis,
            zone_basis,
            (ground_return_citation(),) if some(by_practice) else (),
            (kept_back_citation(),) if some(_keeps_back(asked, allowed)) else (),
            (limit_basis,) if found.tried else allowed.basis,
            filter(None, (found.citation,)),
            window_basis(asked, last["fuse_rating_a"], last["fuse_family"]),
            strength,
        ),
        _cautions(needs.has_no_fuse),
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


def _needs(
    asked: WireSizingRequest, ambient_c: Numbers, allowed: AllowedDrop, strong: Found[InsulatedWire]
) -> Needs:
    """Settle what any size is held against: the loop may drop no more than there is."""
    by_body = are(asked.return_path, "body")
    meaning = "of the return through the body; 0 with a return wire"
    practice_ohm = published(
        "body_resistance_ohm", GROUND_RETURN_OHM, meaning, ground_return_citation()
    )
    own_ohm = asked.body_resistance_ohm
    body_ohm = pick(given(own_ohm), own_ohm, practice_ohm)
    loop_m = pick(by_body, asked.length_m, 2 * asked.length_m)
    whole_v = named("limit_drop_v", asked.supply_v, "what the loop may drop", WHOLE_SUPPLY)
    limit_v = pick(allowed.limit_v <= asked.supply_v, allowed.limit_v, whole_v)
    both_windings = are(asked.circuit, STARTER_CONTROL) | are(asked.load_profile, STARTER_SOLENOID)
    share = published(
        "kept_share", KEPT_FOR_CONTACTS, "of the limit, for contacts", kept_back_citation()
    )
    kept_ohm = by(OHM, share * limit_v / _limits_a(asked, both_windings))
    nothing = told("kept_ohm", 0.0, "kept back for contacts: they are given, or not in the limit")
    kept_ohm = pick(_keeps_back(asked, allowed), kept_ohm, nothing)
    none = told("contacts_ohm", 0.0, "of the contacts of the path: none are given")
    contacts_ohm = pick(given(asked.contacts_resistance_ohm), asked.contacts_resistance_ohm, none)
    return Needs(
        asked,
        both_windings,
        allowed.is_for_both_windings,
        are(asked.load_profile, CRANKING),
        asked.supply_v,
        ambient_c,
        named("loop_length_m", loop_m, "length of wire, out and back"),
        pick(by_body, body_ohm, told("body_resistance_ohm", 0.0, meaning)),
        named("contacts_ohm", contacts_ohm, "of the contacts of the path"),
        named("kept_ohm", kept_ohm, "kept back for contacts"),
        limit_v,
        strong.numbers(lambda wire: wire.conductor.area_mm2),
    )


def _keeps_back(asked: WireSizingRequest, allowed: AllowedDrop) -> Flags:
    """Whether a share is kept: of limits of whole paths, where the contacts are not given."""
    is_open = negate(given(asked.contacts_resistance_ohm))
    found: Flags = is_open & negate(are(allowed.applies_to, CRANKING))
    return found


def _no_size_helps(asked: WireSizingRequest, needs: Needs, strong: Found[InsulatedWire]) -> Texts:
    """Say why no size can pass, where the wire is not to blame."""
    own_c = asked.insulation_limit_c
    limit_c = pick(given(own_c), own_c, strong.numbers(lambda wire: wire.limit_c))
    limits_a = _limits_a(asked, needs.both_windings)
    fixed_v = limits_a * (needs.other_ohm + needs.kept_ohm)
    # Both windings of a solenoid, a resistance, draw less through a poor path.
    fixed_v = pick(
        needs.both_windings, needs.supply_v * fixed_v / (needs.supply_v + fixed_v), fixed_v
    )
    is_hot, is_lost = needs.ambient_c >= limit_c, fixed_v >= needs.limit_drop_v
    if not isinstance(is_hot | is_lost, np.ndarray):
        return NO_SIZE_HELPS[0] if is_hot else NO_SIZE_HELPS[1] if is_lost else None
    codes = pick(is_hot, 0, pick(is_lost, 1, 2))
    return Words((*NO_SIZE_HELPS, None), np.broadcast_to(codes, np.shape(is_hot | is_lost)))


def _contacts_drop_v(asked: WireSizingRequest, needs: Needs) -> Numbers:
    drop_v = (needs.contacts_ohm + needs.kept_ohm) * _limits_a(asked, needs.both_windings)
    return named("contacts_drop_v", by(OHM, drop_v), "of the limit, for contacts of the path")


def _limits_a(asked: WireSizingRequest, both_windings: Flags) -> Numbers:
    """Current that the limit speaks of. [A]."""
    first_a = profile_of(asked).first_a
    found: Numbers = pick(both_windings & given(first_a), first_a, asked.load_current_a)
    return found


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
    return (
        *(Checked(code, found.judged[code], unit, basis) for code, unit, basis in of_wire),
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
    )


# By hand: sizes that are tried together in columns remember nothing. The last one, and the one
# before, are held against the needs once more, each by itself.
def tell_all(asked: WireSizingRequest, answer: WireSizing, steps: Steps) -> None:
    """Take the steps to the size that was found, and to why the next smaller one fails."""
    with recording():
        asked = _with_profile(recorded(asked))
        ambient_c, _ = ambient_of(asked)
        strong, strength = _that_last(asked)
        needs = _needs(asked, ambient_c, allowed_drop(asked), strong)
        for name in (
            "ambient_c",
            "loop_length_m",
            "body_resistance_ohm",
            "contacts_ohm",
            "limit_drop_v",
        ):
            steps.result(name, getattr(needs, name), "")
        steps.result("contacts_drop_v", _contacts_drop_v(asked, needs), "")
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
