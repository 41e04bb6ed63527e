"""The smallest wire that does the whole job, and why each smaller one does not."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from lastvolt_service.errors import CalculationError, ConflictingFields, NotCovered
from lastvolt_service.operations.drop_limits import (
    drop_limit,
    nominal_voltage,
    published_drops,
)
from lastvolt_service.operations.fuse_window import (
    Window,
    window_checks,
    window_of,
)
from lastvolt_service.operations.results import (
    DEFERENCE,
    FUSE_NEAR_SOURCE,
    SHORT_CIRCUIT,
    Check,
    Result,
    merge,
    show,
    spoken,
)
from lastvolt_service.operations.size_check import Duty, drop_limit_v, loop, solve
from lastvolt_service.operations.solved import (
    FAIL,
    NOT_ASKED,
    Judged,
    Solved,
    refuse,
)
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heated_wire import (
    HeatedWire,
    ambient_of,
    heated_wire,
    side_by_side,
)
from lastvolt_service.operations.wires.spoken_heat import spoken_current, spoken_temperature
from lastvolt_service.rows import one_row, optional
from lastvolt_service.tables.limits import Limit, ground_return_citation
from lastvolt_service.tables.practice import MinimumSize, minimum_sizes
from lastvolt_service.tables.sizes import trade_sizes

CAUTIONS = (FUSE_NEAR_SOURCE, SHORT_CIRCUIT, DEFERENCE)
ANSWERED = (
    "drop_v",
    "load_voltage_v",
    "conductor_temperature_c",
    "permissible_current_a",
    "fuse_rating_a",
)
WHOLE_SUPPLY = "the whole supply: a path cannot drop more"


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
    failing: Annotated[tuple[str, ...], "names of the checks that it fails"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WireSizing(Result):
    """Answer of ``wire-sizing``."""

    size: Annotated[str | None, "smallest size that passes all; null where none does"]
    standard: Annotated[str, "standard of the sizes"]
    area_mm2: Annotated[float | None, "section of that size"]
    loop_length_m: Annotated[float, "length of wire that the drop is reckoned over, out and back"]
    body_resistance_ohm: Annotated[float, "of the return through the body; 0 with a return wire"]
    drop_v: Annotated[float | None, "voltage lost on the whole loop"]
    limit_drop_v: Annotated[float, "limit of it"]
    load_voltage_v: Annotated[float | None, "voltage that reaches the load"]
    conductor_temperature_c: Annotated[float | None, "steady temperature of the conductor"]
    permissible_current_a: Annotated[float | None, "steady current that the size may carry"]
    fuse_rating_a: Annotated[float | None, "fuse that carries the load and protects the size"]
    fuse_family: Annotated[str | None, "family of that fuse"]
    ambient_c: Annotated[float, "ambient that was reckoned with"]
    candidates: Annotated[
        tuple[Candidate, ...], "the sizes from the smallest up to the one that passes"
    ]


@dataclass(frozen=True, slots=True)
class _Tried:
    """One size with all that was found of it."""

    wire: HeatedWire
    citation: str
    solved: Solved
    window: Window

    @property
    def failing(self) -> tuple[str, ...]:
        return tuple(n for n, judged in self.solved.checks.items() if judged.verdict == FAIL)


def wire_sizing(
    *,
    supply_v: float,
    load_current_a: float,
    length_m: float,
    return_path: str,
    standard: str,
    circuit: str,
    material: str,
    construction: str,
    grouped_conductors: int,
    altitude_m: float,
    inrush_time_s: float,
    nominal_v: int | None = None,
    body_resistance_ohm: float | None = None,
    ambient_c: float | None = None,
    zone: str | None = None,
    insulation: str | None = None,
    insulation_limit_c: float | None = None,
    outer_diameter_mm: float | None = None,
    limit_drop_v: float | None = None,
    limit_drop_percent: float | None = None,
    inrush_current_a: float | None = None,
    fuse_ambient_c: float | None = None,
    fuse_family: str | None = None,
) -> WireSizing:
    """Smallest size that passes drop, heat, fuse and strength, and why each smaller one fails.

    `length_m` is one way. With a return wire of the same size the loop is twice that; through
    the body it is once, with the body's own resistance added. The drop is that of the wire at the
    temperature its load heats it to, where it lies; contacts are not in it.

    Returns
    -------
    WireSizing

    Raises
    ------
    NotCovered
        If the tables do not know the metal in any size, or the ambient is beyond what is known
        of fuses.
    ConflictingFields
        If the outer diameter leaves no room for the mechanical minimum.
    """
    settled, ambient_basis = ambient_of(Zoned(ambient_c=optional(ambient_c), zone=zone))
    ambient = float(settled)
    common: dict[str, Any] = {
        "ambient_c": ambient,
        "standard": standard,
        "material": material,
        "construction": construction,
        "insulation_kind": insulation,
        "insulation_limit_c": insulation_limit_c,
        "grouped_conductors": grouped_conductors,
        "altitude_m": altitude_m,
        "outer_diameter_mm": outer_diameter_mm,
    }
    wires = candidates(standard, common)
    minimum = minimum_sizes()[standard]
    by_body = return_path == "body"
    own_body_ohm = optional(body_resistance_ohm)
    duty = Duty(
        supply_v,
        load_current_a,
        *loop(length_m, own_body_ohm, return_path),
        drop_limit_v(
            supply_v,
            optional(nominal_v),
            published_drops(circuit),
            optional(limit_drop_v),
            optional(limit_drop_percent),
        ),
        optional(inrush_current_a),
        inrush_time_s,
        ambient if fuse_ambient_c is None else fuse_ambient_c,
        fuse_family,
        heated_wire(size=minimum.size, **common).conductor.area_mm2,
    )
    tried = _try_until_one_passes(wires, duty)
    last = tried[-1]
    ok = not last.failing
    found = one_row(last.solved.columns)
    answered: dict[str, Any] = {name: found[name] if ok else None for name in ANSWERED}
    limit = _limit(supply_v, nominal_v, circuit, limit_drop_v, limit_drop_percent)
    body_basis = (ground_return_citation(),) if by_body and body_resistance_ohm is None else ()
    return WireSizing(
        size=last.wire.conductor.size if ok else None,
        standard=standard,
        area_mm2=last.wire.conductor.area_mm2 if ok else None,
        loop_length_m=float(duty.loop_length_m),
        body_resistance_ohm=float(duty.body_resistance_ohm),
        limit_drop_v=limit.limit_v,
        fuse_family=last.window.family if ok else None,
        **answered,
        ambient_c=ambient,
        candidates=tuple(_candidate(item) for item in tried),
        checks=tuple(_checks(last, minimum, limit.citation, inrush_current_a)),
        basis=merge(
            last.wire.basis,
            ambient_basis,
            body_basis,
            (limit.citation,),
            (last.citation,),
            last.window.citations,
            (minimum.citation,),
        ),
        cautions=CAUTIONS,
    )


def _limit(
    supply_v: float,
    nominal_v: int | None,
    circuit: str,
    drop_v: float | None,
    percent: float | None,
) -> Limit:
    nominal = nominal_v or nominal_voltage(supply_v)
    limit = drop_limit(supply_v, nominal, circuit, drop_v, percent)
    return limit if limit.limit_v <= supply_v else Limit(supply_v, WHOLE_SUPPLY)


def candidates(standard: str, common: Mapping[str, Any]) -> tuple[HeatedWire, ...]:
    """List the wires of a standard that there are.

    Parameters
    ----------
    standard : str
        Standard of the sizes.
    common : mapping
        Everything else of a wire, as for `heated_wire`.

    Returns
    -------
    tuple of HeatedWire
        Smallest first.

    Raises
    ------
    NotCovered, ConflictingFields
        If there is none.
    """
    found = []
    for size in trade_sizes(standard):
        try:
            found.append(heated_wire(size=size, **common))
        except (NotCovered, ConflictingFields) as error:  # or too thick for the outer diameter
            refused: CalculationError = error
    if not found:
        raise refused
    return tuple(found)


def _try_until_one_passes(wires: Sequence[HeatedWire], duty: Duty) -> list[_Tried]:
    # All sizes in one go: the arrays cost no more than one size does.
    together = side_by_side(wires)
    solved = solve(wires=together, duty=duty)
    may = permissible(together)
    refuse(solved.row(0).faults)
    tried = []
    for row, wire in enumerate(wires):
        one = solved.row(row)
        has_inrush = bool(duty.inrush_current_a > 0)
        tried.append(_Tried(wire, may.citation(row), one, window_of(one, inrush=has_inrush)))
        if not tried[-1].failing:
            break
    return tried


def _checks(
    tried: _Tried, minimum: MinimumSize, drop_citation: str, inrush_a: float | None
) -> Iterator[Check]:
    checks, wire, citation = tried.solved.checks, tried.wire, tried.citation
    yield _strength_check(checks["mechanical minimum"], wire, minimum)
    if checks["drop of the loop"].verdict != NOT_ASKED:
        yield _drop_check(checks["drop of the loop"], drop_citation)
    yield spoken_temperature(checks["conductor temperature"], wire)
    yield spoken_current(checks["permissible current"], citation)
    yield from window_checks(
        tried.window, tried.solved.columns["permissible_current_a"], citation, inrush_a
    )


def _strength_check(judged: Judged, wire: HeatedWire, minimum: MinimumSize) -> Check:
    size = wire.conductor.size
    return spoken(
        "mechanical minimum",
        judged,
        "mm2",
        minimum.citation,
        {
            "pass": f"{size} is strong enough to be pulled and crimped.",
            "fail": f"{size} is thinner than {minimum.size}, the least that lasts in a vehicle.",
        },
    )


def _drop_check(judged: Judged, citation: str) -> Check:
    drop, limit = show(judged.value, "V"), show(judged.limit, "V")
    return spoken(
        "drop of the loop",
        judged,
        "V",
        citation,
        {
            "pass": f"The loop drops {drop} of the {limit} allowed.",
            "fail": f"The loop drops {drop}, more than {limit}: take a larger size or a shorter "
            "way.",
        },
    )


def _candidate(tried: _Tried) -> Candidate:
    found = one_row(tried.solved.columns)
    return Candidate(
        size=tried.wire.conductor.size,
        area_mm2=tried.wire.conductor.area_mm2,
        drop_v=found["drop_v"],
        conductor_temperature_c=found["conductor_temperature_c"],
        permissible_current_a=found["permissible_current_a"] or 0.0,
        fuse_rating_a=found["fuse_rating_a"],
        failing=tried.failing,
    )
