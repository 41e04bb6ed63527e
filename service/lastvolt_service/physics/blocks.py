"""Rows of a wire by the block, so that any number of them goes through in flat memory."""

import math
from collections.abc import Callable
from dataclasses import fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics import Real
from lastvolt_service.physics.cooling import Wire

# Rows that are solved together: their columns stay in the processor's cache.
BLOCK_ROWS = 16_384

_FIELDS = tuple(field.name for field in fields(Wire))


def by_blocks(
    *,
    solve: Callable[..., tuple[Any, ...]],
    wire: Wire,
    columns: tuple[Real, ...],
    rows: int = BLOCK_ROWS,
) -> tuple[Any, ...]:
    """Solve columns block by block.

    Parameters
    ----------
    solve : callable
        Takes a Wire and the columns of one block, gives a tuple of results.
    wire : Wire
        The wire.
    columns : tuple of float or ndarray
        Further arguments; they broadcast with the fields of the wire.
    rows : int
        Length of a block.

    Returns
    -------
    tuple of float or ndarray
        What `solve` gives, of the shape that all arguments broadcast to.
    """
    values = (*(getattr(wire, name) for name in _FIELDS), *columns)
    if not any(isinstance(value, np.ndarray) for value in values):  # one row: plain numbers
        if not all(type(value) is float for value in values):
            values = tuple(map(float, values))
            wire = Wire(**dict(zip(_FIELDS, values, strict=False)))
        found = solve(wire, *values[len(_FIELDS) :])
        return tuple(value.item() if isinstance(value, np.ndarray) else value for value in found)
    given = [np.asarray(value, dtype=float) for value in values]
    shape = np.broadcast_shapes(*(column.shape for column in given))
    size = math.prod(shape)

    # Columns of rows; scalars stay numbers, which numpy handles faster than arrays of one.
    flat = [
        column[()] if column.ndim == 0 else _filled(column, shape).reshape(-1) for column in given
    ]

    def block(start: int) -> tuple[Any, ...]:
        part = [column[start : start + rows] if np.ndim(column) else column for column in flat]
        return solve(Wire(**dict(zip(_FIELDS, part, strict=False))), *part[len(_FIELDS) :])

    parts = [block(start) for start in range(0, max(size, 1), rows)]
    whole = parts[0] if len(parts) == 1 else map(np.concatenate, zip(*parts, strict=True))
    if size == 0:  # what does not depend on the rows comes out as one number
        return tuple(np.broadcast_to(column, shape) for column in whole)
    return tuple(np.reshape(column, shape)[()] for column in whole)


def _filled(column: NDArray[np.float64], shape: tuple[int, ...]) -> NDArray[np.float64]:
    """Broadcast; a copy is made when it is flattened anyway, and this one is the cheapest."""
    if column.shape == shape:
        return column
    whole = np.empty(shape)
    whole[...] = column
    return whole
