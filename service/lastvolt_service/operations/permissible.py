"""Steady currents that wires may carry, and which publication says so."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.operations.conductors import Conductor
from lastvolt_service.operations.laid import permissible_currents
from lastvolt_service.operations.thermal import MODEL_BASIS, HeatedWire, laid
from lastvolt_service.physics import Real
from lastvolt_service.tables.ampacity import Ampacity, ampacity
from lastvolt_service.tables.sizes import split


@dataclass(frozen=True, slots=True)
class Permissible:
    """Steady current that a wire may carry: the lower of the model and a published table.

    Attributes
    ----------
    model_a : float
        By the heat balance. [A]
    table_a : float or None
        By a table that covers size, insulation and ambient, with the grouping factor. [A]
    current_a : float
        The lower of both. [A]
    citation : str
        Which one it is.
    """

    model_a: float
    table_a: float | None
    current_a: float
    citation: str


def permissible(wires: Sequence[HeatedWire]) -> tuple[Permissible, ...]:
    """Find the steady currents that wires may carry.

    Parameters
    ----------
    wires : sequence of HeatedWire
        Each with a limit.

    Returns
    -------
    tuple of Permissible
    """
    side_by_side = laid(wires)
    tables = [published(wire) for wire in wires]
    currents = permissible_currents(side_by_side, side_by_side.physics, published_column(tables))
    return tuple(put_into_words(currents, tables))


def published_column(tables: Sequence[Ampacity | None]) -> NDArray[np.float64]:
    """Write published currents as numbers.

    Parameters
    ----------
    tables : sequence of Ampacity or None
        As `published` gives them.

    Returns
    -------
    ndarray
        NaN where there is none. [A]
    """
    return np.array(
        [math.nan if table is None else table.current_a for table in tables], dtype=np.float64
    )


def put_into_words(
    currents: Mapping[str, Real], tables: Sequence[Ampacity | None]
) -> Iterator[Permissible]:
    """Say where permissible currents come from.

    Parameters
    ----------
    currents : mapping
        As `permissible_currents` gives them.
    tables : sequence of Ampacity or None
        As `published` gives them.

    Yields
    ------
    Permissible
    """
    columns = (
        np.atleast_1d(currents[name]).tolist() for name in ("model_a", "table_a", "current_a")
    )
    for table, model_a, table_a, current_a in zip(tables, *columns, strict=True):
        lower = table is not None and table_a < model_a
        citation = table.citation if table is not None and lower else MODEL_BASIS
        yield Permissible(model_a, None if table is None else table_a, current_a, citation)


def published(wire: HeatedWire) -> Ampacity | None:
    """Look the published current of a wire up.

    Parameters
    ----------
    wire : HeatedWire
        The wire.

    Returns
    -------
    Ampacity or None
        None where no table covers it.
    """
    if wire.limit_c is None:
        return None
    return published_for(
        wire.conductor, wire.material, wire.construction, wire.limit_c, wire.ambient_c
    )


def published_for(
    wire: Conductor, material: str, construction: str, limit_c: float, ambient_c: float
) -> Ampacity | None:
    """Look the published current of a conductor up.

    Parameters
    ----------
    wire : Conductor
        Its metal.
    material, construction : str
        As in requests.
    limit_c, ambient_c : float
        Of its insulation, and around it. [degC]

    Returns
    -------
    Ampacity or None
        None where no table covers it.
    """
    plain = material in {"copper", "tinned_copper"} and construction == "stranded"
    if wire.standard != "AWG" or not plain:
        return None
    return ampacity(gauge=int(split(wire.size)[1]), limit_c=limit_c, ambient_c=ambient_c)
