"""Sizes for many loads at once: each row tries the sizes of its standard until one passes."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.errors import CalculationError, NotCovered
from lastvolt_service.operations import size_check, wire_sizing
from lastvolt_service.operations.batch import Answered
from lastvolt_service.operations.batch_heat import (
    Data,
    family_rows,
    fuses_basis,
    texts_of,
)
from lastvolt_service.operations.drop_limits import GIVEN, different, published_drops
from lastvolt_service.operations.lookup import Found, Refusal, look_up
from lastvolt_service.operations.results import merge
from lastvolt_service.operations.solved import FAIL, NOT_ASKED, Fault, Judged, Solved
from lastvolt_service.operations.wires.ampacity import permissible
from lastvolt_service.operations.wires.fields import Zoned
from lastvolt_service.operations.wires.heated_wire import ambient_of, lay
from lastvolt_service.operations.wires.insulated_wire import InsulatedWire, insulated_wire
from lastvolt_service.rows import NOT_GIVEN, Texts, Words, given, negate, pick, take
from lastvolt_service.tables.limits import drop_limits
from lastvolt_service.tables.practice import minimum_sizes
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes


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
    lies = Zoned(**{name: data[name] for name in Zoned.described})
    ambient, zones_basis = ambient_of(lies)
    minimum = look_up(_minimum, standard=data["standard"], **texts_of(data))
    duty = _duty(data, ambient, minimum)
    trying = _Trying(count)
    pending = np.arange(count)
    used: list[str] = []
    for place in range(max(len(trade_sizes(standard)) for standard in STANDARDS)):
        if place and not len(pending):  # once at least, for the names of what there is
            break
        part, at = take(dict(data), pending), take(ambient, pending)
        found = look_up(_sized(place), standard=part["standard"], **texts_of(part))
        wires, no_room = lay(found, take(lies, pending), at)
        fits = given(wires.area_mm2) & negate(no_room.where)
        there = np.broadcast_to(fits, len(pending))
        solved = size_check.solve(
            wires=wires,
            duty=size_check.Duty(*(take(value, pending) for value in duty)),
        )
        names: Any = found.words(lambda wire: wire.conductor.size)
        passed = trying.note(solved, names, pending, there)
        used += [*wires.basis, *permissible(wires).basis]
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
                lay(minimum, lies, ambient)[1],
                *trying.faults,
            ),
        ),
        merge(used, zones_basis, limits_from(data), fuses_basis(data["inrush_current_a"])),
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
        self, solved: Solved, sizes: Texts, rows: NDArray[np.intp], there: NDArray[np.bool_]
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
        for name, words in (("size", sizes), ("fuse_family", family_rows(solved))):
            each = words.map(lambda text: text, object) if isinstance(words, Words) else words
            texts = np.broadcast_to(np.array(each, dtype=object), len(rows))
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


def _duty(data: Data, ambient: Any, minimum: Found[InsulatedWire]) -> tuple[Any, ...]:
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


def _minimum(standard: str, **texts: Any) -> InsulatedWire | None:
    return insulated_wire(size=minimum_sizes()[standard].size, standard=standard, **texts)


def _sized(place: int) -> Any:
    """Make the look-up of the size at a place in the list of each standard."""

    def find(standard: str, **texts: Any) -> InsulatedWire | None:
        sizes = trade_sizes(standard)
        if place >= len(sizes):
            return None
        try:
            return insulated_wire(size=sizes[place], standard=standard, **texts)
        except NotCovered:
            return None

    return find


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


def practice_drops(circuit: Texts) -> dict[int, Any]:
    """Look up what circuits may drop, in columns.

    Parameters
    ----------
    circuit : str or Words
        Kind of circuit.

    Returns
    -------
    dict of int to float or ndarray
        By nominal voltage. [V]
    """
    found = look_up(published_drops, circuit=circuit)

    def at(nominal: int) -> Any:
        return found.numbers(lambda drops: drops[nominal])

    return {nominal: at(nominal) for nominal in (6, 12, 24)}


def limits_from(data: Data) -> tuple[str, ...]:
    """Say who limits the drops of paths.

    Parameters
    ----------
    data : mapping
        As above.

    Returns
    -------
    tuple of str
    """
    own = given(data["limit_drop_v"]) | given(data["limit_drop_percent"])
    if np.all(own):
        return (GIVEN,)
    circuits = different(data["circuit"])
    practice = [drop_limits()[circuit, n].citation for circuit in circuits for n in (6, 12, 24)]
    return merge(practice, (GIVEN,) if np.any(own) else ())
