"""Heat, sizes and fuses in columns: texts looked up, the rest as for one request."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, ConflictingFields, NotCovered
from lastvolt_service.operations import fuse_selection, size_check, wire_heating, wire_sizing
from lastvolt_service.operations.batch import Answered, Found, Refusal, look_up
from lastvolt_service.operations.batch_electric import limits_from, practice_drops
from lastvolt_service.operations.fuse_window import judge_window, solve_window, window_basis
from lastvolt_service.operations.laid import Laid, no_room, permissible_currents
from lastvolt_service.operations.permissible import published_for
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solved import FAIL, NOT_ASKED, Fault, Judged, Solved
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, heated_wire
from lastvolt_service.rows import NOT_GIVEN, Texts, Words, given, pick, take
from lastvolt_service.tables.ampacity import AMBIENT_C, ENGINE_SPACE_AMBIENT_C, ratings_c
from lastvolt_service.tables.fuses import fuse_families
from lastvolt_service.tables.grouping import grouping
from lastvolt_service.tables.metals import metal
from lastvolt_service.tables.practice import minimum_sizes, zones
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes

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
    ambient, zones_basis = _ambient(data)
    wires = _laid(found, data, ambient)
    solved = wire_heating.solve(
        wires=wires,
        published_a=_published(found, wires),
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
        Solved(columns, solved.checks, (_no_room(found, data, data["size"]),)),
        merge(_basis(found, data), zones_basis, _tables(found) if by_table.any() else ()),
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
    ambient, basis = _ambient(data)
    own = data["permissible_current_a"]
    bears = own
    faults: tuple[Fault, ...] = ()
    refusals: list[Refusal] = []
    if not np.all(given(own)):
        found = _wires(data)
        wires = _laid(found, data, ambient)
        model = permissible_currents(wires, wires.physics, _published(found, wires))
        bears = pick(given(own), own, model["current_a"])
        faults, refusals = (_no_room(found, data, data["size"]),), found.refusals()
        basis = merge(_basis(found, data), _tables(found), basis)
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
        "fuse_family": _family(window),
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
        merge(own_basis, basis, _fuses_basis(inrush)),
        fuse_selection.CAUTIONS,
        refusals,
    )


def wire_sizing_rows(data: Data) -> Answered:
    """Loads and their ways in columns: each row tries the sizes until one passes.

    Parameters
    ----------
    data : mapping
        As above.

    Returns
    -------
    Answered
    """
    count = _count(data)
    ambient, zones_basis = _ambient(data)
    minimum = look_up(_minimum, standard=data["standard"], **_texts(data))
    duty = _duty(data, ambient, minimum)
    trying = _Trying(count)
    pending = np.arange(count)
    used: list[str] = []
    for place in range(max(len(trade_sizes(standard)) for standard in STANDARDS)):
        if place and not len(pending):  # once at least, for the names of what there is
            break
        part, at = take(dict(data), pending), take(ambient, pending)
        found = look_up(_sized(place), standard=part["standard"], **_texts(part))
        wires = _laid(found, part, at)
        there = np.broadcast_to(
            given(wires.area_mm2) & (wires.outer_diameter_mm >= wires.conductor_diameter_mm),
            len(pending),
        )
        solved = size_check.solve(
            wires=wires,
            published_a=_published(found, wires),
            duty=size_check.Duty(*(take(value, pending) for value in duty)),
        )
        names = found.words(lambda wire: wire.conductor.size)
        passed = trying.note(solved, names, pending, there)
        used += [*_basis(found, part), *_tables(found)]
        pending = pending[~passed]
    loop_length, body_ohm = duty[2], duty[3]
    columns = {
        **trying.columns(),
        "loop_length_m": loop_length,
        "body_resistance_ohm": body_ohm,
        "limit_drop_v": duty[4],
        "ambient_c": ambient,
    }
    return Answered(
        Solved(
            columns,
            trying.checks,
            (
                _no_room(minimum, data, minimum.words(lambda wire: wire.conductor.size)),
                *trying.faults,
            ),
        ),
        merge(used, zones_basis, limits_from(data), _fuses_basis(data["inrush_current_a"])),
        wire_sizing.CAUTIONS,
        [*_untried(data, ambient, trying.untried), *minimum.refusals()],
    )


class _Trying:
    """Results of the size tried last, row by row."""

    def __init__(self, count: int) -> None:
        self._count = count
        self._numbers: dict[str, NDArray[np.float64]] = {}
        self._texts: dict[str, NDArray[Any]] = {
            name: np.full(count, None, dtype=object) for name in ("size", "fuse_family")
        }
        self._passed = np.zeros(count, dtype=bool)
        self._tried = np.zeros(count, dtype=bool)
        self.checks: dict[str, Judged] = {}
        self.faults: tuple[Fault, ...] = ()

    @property
    def untried(self) -> NDArray[np.intp]:
        """Rows for which there is no size at all."""
        return np.flatnonzero(~self._tried)

    def note(
        self, solved: Solved, sizes: Words, rows: NDArray[np.intp], there: NDArray[np.bool_]
    ) -> NDArray[np.bool_]:
        """Keep what was found of rows, and say which have passed."""
        if not self.faults:
            self.faults = tuple(solved.faults)  # of the fuse's ambient: the same for every size
        bad = np.zeros(len(rows), dtype=bool)
        for name, judged in solved.checks.items():
            codes = self.checks.setdefault(name, _blank(self._count)).verdict
            found = np.broadcast_to(judged.verdict, len(rows))
            codes[rows[there]] = found[there]
            bad |= found == FAIL
        for name, values in solved.columns.items():
            column = self._numbers.setdefault(name, np.full(self._count, np.nan))
            column[rows[there]] = np.broadcast_to(values, len(rows))[there]
        for name, words in (("size", sizes), ("fuse_family", _family(solved))):
            texts = np.broadcast_to(words.map(lambda text: text, object), len(rows))
            self._texts[name][rows[there]] = texts[there]
        self._tried[rows[there]] = True
        passed: NDArray[np.bool_] = there & ~bad
        self._passed[rows[passed]] = True
        return passed

    def columns(self) -> dict[str, Any]:
        """Results of the rows that have passed, nothing for the others."""
        names = ("area_mm2", *wire_sizing.ANSWERED)
        found: dict[str, Any] = {
            name: np.where(self._passed, self._numbers[name], np.nan) for name in names
        }
        for name, texts in self._texts.items():
            values = {text: code for code, text in enumerate(dict.fromkeys(texts))}
            values.setdefault(None, len(values))
            codes = np.array([values[text] for text in texts], dtype=np.intp)
            found[name] = Words(tuple(values), np.where(self._passed, codes, values[None]))
        return found


def _blank(count: int) -> Judged:
    return Judged(NOT_GIVEN, NOT_GIVEN, NOT_GIVEN, np.full(count, NOT_ASKED, dtype=np.int8))


def _duty(data: Data, ambient: Any, minimum: Found[HeatedWire]) -> tuple[Any, ...]:
    """Fields of `size_check.Duty`, in columns."""
    fuse_ambient = data["fuse_ambient_c"]
    return (
        data["supply_v"],
        data["load_current_a"],
        *size_check.loop(data["length_m"], data["body_resistance_ohm"], data["return_path"]),
        size_check.drop_limit_v(
            data["supply_v"],
            data["nominal_v"],
            practice_drops(data["circuit"]),
            data["limit_drop_v"],
            data["limit_drop_percent"],
        ),
        data["inrush_current_a"],
        data["inrush_time_s"],
        pick(given(fuse_ambient), fuse_ambient, ambient),
        data["fuse_family"],
        minimum.numbers(lambda wire: wire.conductor.area_mm2),
    )


def _untried(data: Data, ambient: Any, rows: NDArray[np.intp]) -> list[Refusal]:
    """Say why there is no size, in the words for one request."""
    refusals = []
    for row in rows.tolist():
        one = take({**data, "ambient_c": ambient}, np.array([row]))
        values = {name: _plain(value) for name, value in one.items()}
        common = _common(values)
        try:
            wire_sizing.candidates(values["standard"], common)
        except CalculationError as error:
            refusals.append(Refusal(row, error.path, error.detail))
    return refusals


def _plain(value: Any) -> Any:
    if isinstance(value, Words):
        return value.values[value.codes[0]]
    return value.item() if isinstance(value, np.ndarray) else value


def _common(values: Mapping[str, Any]) -> dict[str, Any]:
    limit, outer = values["insulation_limit_c"], values["outer_diameter_mm"]
    return {
        "ambient_c": values["ambient_c"],
        "standard": values["standard"],
        "material": values["material"],
        "construction": values["construction"],
        "insulation_kind": values["insulation"],
        "insulation_limit_c": limit if given(limit) else None,
        "grouped_conductors": int(values["grouped_conductors"]),
        "altitude_m": values["altitude_m"],
        "outer_diameter_mm": outer if given(outer) else None,
    }


def _minimum(standard: str, insulation: str | None, **texts: Any) -> HeatedWire:
    return heated_wire(
        size=minimum_sizes()[standard].size,
        standard=standard,
        insulation_kind=insulation,
        ambient_c=ANYWHERE_C,
        **texts,
    )


def _sized(place: int) -> Any:
    """Make the look-up of the size at a place in the list of each standard."""

    def find(standard: str, insulation: str | None, **texts: Any) -> HeatedWire | None:
        sizes = trade_sizes(standard)
        if place >= len(sizes):
            return None
        try:
            return heated_wire(
                size=sizes[place],
                standard=standard,
                insulation_kind=insulation,
                ambient_c=ANYWHERE_C,
                **texts,
            )
        except NotCovered:
            return None

    return find


def _texts(data: Data) -> dict[str, Texts]:
    return {name: data[name] for name in TEXTS}


def _wires(data: Data) -> Found[HeatedWire]:
    def find(size: str | None, insulation: str | None, **texts: Any) -> HeatedWire | None:
        if size is None:
            return None
        return heated_wire(size=size, insulation_kind=insulation, ambient_c=ANYWHERE_C, **texts)

    return look_up(find, size=data["size"], standard=data["standard"], **_texts(data))


def _laid(found: Found[HeatedWire], data: Data, ambient: Any) -> Laid:
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


def _no_room(found: Found[HeatedWire], data: Data, size: Texts) -> Fault:
    own = data["outer_diameter_mm"]
    conductor = found.numbers(lambda wire: wire.dimensions.conductor_diameter_mm)
    values = (own, size, conductor)
    return Fault(own < conductor, ConflictingFields, ("outer_diameter_mm",), no_room, values)


def _grouping(conductors: Any) -> Any:
    counts, index = np.unique(conductors, return_inverse=True)
    factors = np.array([grouping(int(count)).factor for count in counts])
    return factors[index] if np.ndim(conductors) else factors[0]


def _published(found: Found[HeatedWire], wires: Laid) -> Any:
    """Published currents, of the tables' own ratings and ambients only."""
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


def _tables(found: Found[HeatedWire]) -> list[str]:
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


def _basis(found: Found[HeatedWire], data: Data) -> tuple[str, ...]:
    counts = np.unique(data["grouped_conductors"])
    groups = [grouping(int(count)).citation for count in counts if count > 1]
    return merge(found.basis(lambda wire: wire.basis), groups, (MODEL_BASIS,))


def _fuses_basis(inrush: Any) -> tuple[str, ...]:
    has = bool(np.any(inrush > 0))
    return merge(*(window_basis(name, np.inf, inrush=has) for name in fuse_families()))


def _family(window: Solved) -> Words:
    """Family of the rating found, none where there is none."""
    family, has = window.aside["family"], given(window.columns["fuse_rating_a"])
    if not isinstance(family, Words):
        family = Words((family, None), np.zeros(np.shape(has), dtype=np.intp))
    return Words(family.values, np.where(has, family.codes, len(family.values) - 1))


def _ambient(data: Data) -> tuple[Any, tuple[str, ...]]:
    known = look_up(_zone, zone=data["zone"])
    own = data["ambient_c"]
    basis = known.basis(lambda zone: (zone.citation,))
    return pick(given(own), own, known.numbers(lambda zone: zone.ambient_c)), tuple(basis)


def _zone(zone: str | None) -> Any:
    return None if zone is None else zones()[zone]


def _count(data: Data) -> int:
    """How many rows the columns have."""
    return max(
        (
            len(value.codes if isinstance(value, Words) else value)
            for value in data.values()
            if isinstance(value, Words | np.ndarray)
        ),
        default=1,
    )
