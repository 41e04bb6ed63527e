"""Wires and paths in columns: texts looked up, the rest as for one request."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from lastvolt_service.operations import voltage_drop, wire_resistance
from lastvolt_service.operations.batch import Answered
from lastvolt_service.operations.conductors import Conductor, conductor
from lastvolt_service.operations.drop_limits import GIVEN, published_drops
from lastvolt_service.operations.lookup import Found, look_up
from lastvolt_service.operations.path import DEFAULT_WIRE_C, Load
from lastvolt_service.operations.results import DEFERENCE, merge
from lastvolt_service.operations.solved import NOT_ASKED, Judged, Solved, stays_within
from lastvolt_service.physics.contact import joule_power
from lastvolt_service.rows import NOT_GIVEN, Texts, Words, given, pick
from lastvolt_service.tables.limits import contact_limits, drop_limits

Data = Mapping[str, Any]
CONTACTS = ("contact_1", "contact_2", "contact_3", "contact_4")


def wire_resistance_rows(data: Data) -> Answered:
    """Wires in columns.

    Parameters
    ----------
    data : mapping
        Columns or constants by field, as for every function here.

    Returns
    -------
    Answered
    """
    found, solved = _wire(data)
    columns = {
        "standard": found.words(lambda wire: wire.standard),
        "area_mm2": found.numbers(lambda wire: wire.area_mm2),
        **solved.columns,
    }
    return Answered(
        Solved(columns, {}), found.basis(lambda w: w.basis), (DEFERENCE,), found.refusals()
    )


def _wire(data: Data) -> tuple[Found[Conductor], Solved]:
    texts = {name: data[name] for name in ("size", "standard", "material", "construction")}
    found = look_up(_conductor, **texts)
    temperature_c = data["temperature_c"]
    solved = wire_resistance.solve(
        resistance_20_ohm_per_m=found.numbers(lambda wire: wire.resistance_20_ohm_per_m),
        temperature_coefficient_per_k=found.numbers(
            lambda wire: wire.temperature_coefficient_per_k
        ),
        temperature_c=pick(given(temperature_c), temperature_c, DEFAULT_WIRE_C),
        length_m=data["length_m"],
    )
    return found, solved


def _conductor(size: str | None, **texts: Any) -> Conductor | None:
    return None if size is None else conductor(size, **texts)  # no wire in this row


def voltage_drop_rows(data: Data) -> Answered:
    """Paths in columns: a wire out, up to four contacts, perhaps a wire back.

    Parameters
    ----------
    data : mapping
        As above.

    Returns
    -------
    Answered
    """
    wires = {name: _wire(data[name]) for name in ("feed_wire", "return_wire") if data[name]}
    contacts = {name: data[name] for name in CONTACTS if data[name]}
    parts = {name: solved.columns["resistance_ohm"] for name, (_, solved) in wires.items()}
    parts |= {name: contact["resistance_ohm"] for name, contact in contacts.items()}
    ohms = {name: pick(given(ohm), ohm, 0.0) for name, ohm in parts.items()}  # NaN: none there
    loads = ("load_current_a", "load_resistance_ohm", "load_power_w")
    solved = voltage_drop.solve(
        supply_v=data["supply_v"],
        load=Load(*(data[name] for name in loads)),
        resistances_ohm=tuple(ohms.values()),
        nominal_v=data["nominal_v"],
        published_v=practice_drops(data["circuit"]),
        limit_drop_v=data["limit_drop_v"],
        limit_drop_percent=data["limit_drop_percent"],
    )
    current = solved.columns["current_a"]
    drops = {name: current * ohm for name, ohm in ohms.items()}
    columns = {**solved.columns, "worst_part": _largest(drops)}
    for name, ohm in parts.items():
        columns[f"{name}_drop_v"] = current * ohm
        columns[f"{name}_power_w"] = joule_power(current_a=current, resistance_ohm=ohm)
    checks = dict(solved.checks)
    for name, contact in contacts.items():
        checks |= _contact_checks(name, contact, drops[name], current)
    return Answered(
        Solved(columns, checks, solved.faults),
        merge(
            *(found.basis(lambda wire: wire.basis) for found, _ in wires.values()),
            limits_from(data),
        ),
        merge(*(voltage_drop.cautions(circuit) for circuit in _different(data["circuit"]))),
        [refusal for name, (found, _) in wires.items() for refusal in found.refusals((name,))],
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


def _different(texts: Texts) -> tuple[str, ...]:
    values = texts.values if isinstance(texts, Words) else (texts,)
    return tuple(text for text in values if text is not None)


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
    circuits = _different(data["circuit"])
    practice = [drop_limits()[circuit, n].citation for circuit in circuits for n in (6, 12, 24)]
    return merge(practice, (GIVEN,) if np.any(own) else ())


def _largest(drops: Mapping[str, Any]) -> Words:
    """Name of the part that drops most, none where nothing drops."""
    table = np.stack(np.broadcast_arrays(*drops.values()))
    most = table.argmax(axis=0)
    dropping = table.max(axis=0) > 0
    return Words((*drops, None), np.where(dropping, most, len(drops)))


def _contact_checks(name: str, contact: Data, drop: Any, current: Any) -> dict[str, Judged]:
    limits = look_up(_contact_limit, part=contact["part"]).numbers(lambda limit: limit)
    there = given(contact["resistance_ohm"])
    judged = {f"drop of {name}": stays_within(drop, limits)}
    found = {
        check: value._replace(verdict=pick(there, value.verdict, NOT_ASKED))
        for check, value in judged.items()
    }
    rated = given(contact["rating_a"])
    if np.ndim(rated) or rated:  # what there is depends on the columns sent, not on their cells
        through = stays_within(current, contact["rating_a"])
        found[f"current through {name}"] = through._replace(
            verdict=pick(rated, through.verdict, NOT_ASKED)
        )
    return found


def _contact_limit(part: str | None) -> float:
    return NOT_GIVEN if part is None else contact_limits()[part].limit_v
