"""Heat, sizes and fuses in columns: texts looked up, the rest as for one request."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from lastvolt_service.errors import ConflictingFields
from lastvolt_service.operations import fuse_selection, wire_heating
from lastvolt_service.operations.batch import Answered
from lastvolt_service.operations.fuse_window import judge_window, solve_window, window_basis
from lastvolt_service.operations.laid import Laid, no_room, permissible_currents
from lastvolt_service.operations.lookup import Found, Refusal, look_up
from lastvolt_service.operations.permissible import published_for
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solved import NOT_ASKED, Fault, Solved
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, heated_wire
from lastvolt_service.rows import NOT_GIVEN, Texts, Words, given, pick
from lastvolt_service.tables.ampacity import AMBIENT_C, ENGINE_SPACE_AMBIENT_C, ratings_c
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.grouping import grouping
from lastvolt_service.tables.metals import metal
from lastvolt_service.tables.practice import zones

Data = Mapping[str, Any]
TEXTS = ("material", "construction", "insulation")
ANYWHERE_C = 20.0  # tables are asked for wires without their ambient


def wire_heating_rows(data: Data) -> Answered:
    """Wires and their currents in columns.

    Parameters
    ----------
    data : mapping
        Columns or constants by field, as for every function here.

    Returns
    -------
    Answered
    """
    found = _wires(data)
    ambient, zones_basis = ambient_rows(data)
    wires = laid_rows(found, data, ambient)
    solved = wire_heating.solve(
        wires=wires,
        published_a=published_rows(found, wires),
        **{name: data[name] for name in ("current_a", "on_time_s", "off_time_s")},
    )
    by_table = np.asarray(solved.aside["table_a"] < solved.aside["model_a"])
    columns = {
        "ambient_c": ambient,
        **solved.columns,
        "permissible_from": Words(("model", "table"), by_table.astype(np.intp)),
    }
    by_duty = np.any(solved.checks["current for the duty"].verdict != NOT_ASKED)
    return Answered(
        Solved(columns, solved.checks, (no_room_rows(found, data, data["size"]),)),
        merge(wires_basis(found, data), zones_basis, tables_basis(found) if by_table.any() else ()),
        wire_heating.cautions(by_duty=bool(by_duty)),
        found.refusals(),
    )


def fuse_selection_rows(data: Data) -> Answered:
    """Loads and their wires in columns.

    Parameters
    ----------
    data : mapping
        As above.

    Returns
    -------
    Answered
    """
    ambient, basis = ambient_rows(data)
    own = data["permissible_current_a"]
    bears = own
    faults: tuple[Fault, ...] = ()
    refusals: list[Refusal] = []
    if not np.all(given(own)):
        found = _wires(data)
        wires = laid_rows(found, data, ambient)
        model = permissible_currents(wires, wires.physics, published_rows(found, wires))
        bears = pick(given(own), own, model["current_a"])
        faults, refusals = (no_room_rows(found, data, data["size"]),), found.refusals()
        basis = merge(wires_basis(found, data), tables_basis(found), basis)
    fuse_ambient = data["fuse_ambient_c"]
    fuse_ambient = pick(given(fuse_ambient), fuse_ambient, ambient)
    inrush = data["inrush_current_a"]
    window = solve_window(
        load_current_a=data["load_current_a"],
        inrush_current_a=pick(given(inrush), inrush, 0.0),
        inrush_time_s=data["inrush_time_s"],
        permissible_current_a=bears,
        fuse_ambient_c=fuse_ambient,
        family=data["fuse_family"],
    )
    columns = {
        **window.columns,
        "fuse_family": family_rows(window),
        "permissible_current_a": bears,
        "ambient_c": ambient,
        "fuse_ambient_c": fuse_ambient,
    }
    rating, lower, upper = window.columns.values()
    own_basis = (fuse_selection.GIVEN_PERMISSIBLE,) if np.any(given(own)) else ()
    return Answered(
        Solved(
            columns,
            judge_window(rating, lower, upper, bears, inrush),
            (*faults, *window.faults),
        ),
        merge(own_basis, basis, fuses_basis(inrush)),
        fuse_selection.CAUTIONS,
        refusals,
    )


def texts_of(data: Data) -> dict[str, Texts]:
    """Take the texts that say what a wire is.

    Parameters
    ----------
    data : mapping
        Columns or constants by field.

    Returns
    -------
    dict
    """
    return {name: data[name] for name in TEXTS}


def _wires(data: Data) -> Found[HeatedWire]:
    def find(size: str | None, insulation: str | None, **texts: Any) -> HeatedWire | None:
        if size is None:
            return None
        return heated_wire(size=size, insulation_kind=insulation, ambient_c=ANYWHERE_C, **texts)

    return look_up(find, size=data["size"], standard=data["standard"], **texts_of(data))


def laid_rows(found: Found[HeatedWire], data: Data, ambient: Any) -> Laid:
    """Lay wires where rows say.

    Parameters
    ----------
    found : Found
        The wires, as the tables know them.
    data : mapping
        Columns or constants by field.
    ambient : float or ndarray
        Around the wires. [degC]

    Returns
    -------
    Laid
    """
    limit, outer = data["insulation_limit_c"], data["outer_diameter_mm"]
    numbers = found.numbers
    usual_limit = numbers(lambda w: w.limit_c)
    usual_outer = numbers(lambda w: w.dimensions.outer_diameter_mm)
    return Laid(
        resistance_20_ohm_per_m=numbers(lambda w: w.conductor.resistance_20_ohm_per_m),
        temperature_coefficient_per_k=numbers(lambda w: w.conductor.temperature_coefficient_per_k),
        area_mm2=numbers(lambda w: w.conductor.area_mm2),
        metal_j_per_m3_k=numbers(lambda w: metal(w.material).heat_capacity_j_per_m3_k),
        conductor_diameter_mm=numbers(lambda w: w.dimensions.conductor_diameter_mm),
        outer_diameter_mm=pick(given(outer), outer, usual_outer),
        insulation_w_per_m_k=numbers(lambda w: w.insulation.conductivity_w_per_m_k),
        insulation_j_per_m3_k=numbers(lambda w: w.insulation.heat_capacity_j_per_m3_k),
        limit_c=pick(given(limit), limit, usual_limit),
        short_circuit_c=numbers(lambda w: w.insulation.short_circuit_c),
        grouping_factor=_grouping(data["grouped_conductors"]),
        ambient_c=ambient,
        altitude_m=data["altitude_m"],
    )


def no_room_rows(found: Found[HeatedWire], data: Data, size: Texts) -> Fault:
    """Find the rows whose insulation does not fit round the conductor.

    Parameters
    ----------
    found : Found
        The wires, as the tables know them.
    data : mapping
        Columns or constants by field.
    size : str or Words
        Names of the conductors.

    Returns
    -------
    Fault
    """
    own = data["outer_diameter_mm"]
    conductor = found.numbers(lambda wire: wire.dimensions.conductor_diameter_mm)
    values = (own, size, conductor)
    return Fault(own < conductor, ConflictingFields, ("outer_diameter_mm",), no_room, values)


def _grouping(conductors: Any) -> Any:
    counts, index = np.unique(conductors, return_inverse=True)
    factors = np.array([grouping(int(count)).factor for count in counts])
    return factors[index] if np.ndim(conductors) else factors[0]


def published_rows(found: Found[HeatedWire], wires: Laid) -> Any:
    """Look up published currents, of the tables' own ratings and ambients only.

    Parameters
    ----------
    found : Found
        The wires, as the tables know them.
    wires : Laid
        The wires.

    Returns
    -------
    float or ndarray
    """
    table_a: Any = NOT_GIVEN
    above = -np.inf
    for highest in (AMBIENT_C, ENGINE_SPACE_AMBIENT_C):
        ambient = (wires.ambient_c > above) & (wires.ambient_c <= highest)
        for rating in ratings_c():
            here = ambient & (wires.limit_c == rating)
            if np.any(here):
                table_a = pick(here, found.numbers(_at(rating, highest)), table_a)
        above = highest
    return table_a


def _at(limit_c: float, ambient_c: float) -> Any:
    def current(wire: HeatedWire) -> float | None:
        table = published_for(wire.conductor, wire.material, wire.construction, limit_c, ambient_c)
        return None if table is None else table.current_a

    return current


def tables_basis(found: Found[HeatedWire]) -> list[str]:
    """Cite the tables of published currents.

    Parameters
    ----------
    found : Found
        The wires, as the tables know them.

    Returns
    -------
    list of str
    """
    return found.basis(
        lambda wire: (
            table.citation
            for ambient in (AMBIENT_C, ENGINE_SPACE_AMBIENT_C)
            for rating in ratings_c()
            if (
                table := published_for(
                    wire.conductor, wire.material, wire.construction, rating, ambient
                )
            )
        )
    )


def wires_basis(found: Found[HeatedWire], data: Data) -> tuple[str, ...]:
    """Say what the wires of rows rest on.

    Parameters
    ----------
    found : Found
        The wires, as the tables know them.
    data : mapping
        Columns or constants by field.

    Returns
    -------
    tuple of str
    """
    counts = np.unique(data["grouped_conductors"])
    groups = [grouping(int(count)).citation for count in counts if count > 1]
    return merge(found.basis(lambda wire: wire.basis), groups, (MODEL_BASIS,))


def fuses_basis(inrush: Any) -> tuple[str, ...]:
    """Say what the choice of fuses rests on.

    Parameters
    ----------
    inrush : float or ndarray
        First currents. [A]

    Returns
    -------
    tuple of str
    """
    has = bool(np.any(inrush > 0))
    return merge(*(window_basis(name, np.inf, inrush=has) for name in fuse_families()))


def family_rows(window: Solved) -> Words:
    """Name the family of each rating found, none where there is none.

    Parameters
    ----------
    window : Solved
        As `solve_window` finds it.

    Returns
    -------
    Words
    """
    family, has = window.aside["family"], given(window.columns["fuse_rating_a"])
    if not isinstance(family, Words):
        family = Words((family, None), np.zeros(np.shape(has), dtype=np.intp))
    return Words(family.values, np.where(has, family.codes, len(family.values) - 1))


def ambient_rows(data: Data) -> tuple[Any, tuple[str, ...]]:
    """Settle the ambients of rows, and say whose they are.

    Parameters
    ----------
    data : mapping
        Columns or constants by field.

    Returns
    -------
    tuple
    """
    known = look_up(_zone, zone=data["zone"])
    own = data["ambient_c"]
    basis = known.basis(lambda zone: (zone.citation,))
    return pick(given(own), own, known.numbers(lambda zone: zone.ambient_c)), tuple(basis)


def _zone(zone: str | None) -> Any:
    return None if zone is None else zones()[zone]
