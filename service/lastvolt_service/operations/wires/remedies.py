"""Changes to a wire that several operations look for: size, insulation."""

from collections.abc import Iterator
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.operations.remedies.options import larger_sizes
from lastvolt_service.operations.remedies.trials import Put, Said
from lastvolt_service.rows import given
from lastvolt_service.tables.insulation import insulation, insulation_kinds

Options = Iterator[tuple[Said, tuple[Put, ...]]]


def next_sizes(wire: Any, within: Path = ()) -> Options:
    """Give larger sizes, the next one first."""
    # An outer diameter that was given is that of the smaller wire.
    also = (Put((*within, "outer_diameter_mm"), None),) if given(wire.outer_diameter_mm) else ()
    for each in larger_sizes(wire.size, wire.standard):
        said = Said("size", {"new": (each, ""), "now": (wire.size, "")})
        yield said, (Put((*within, "size"), each), *also)


def better_insulation(wire: Any, within: Path = ()) -> Options:
    """Give kinds of insulation that bear more heat, of each limit one, the least first."""
    now_c = wire.insulation_limit_c
    own: tuple[Put, ...] = ()
    if given(now_c):
        own = (Put((*within, "insulation_limit_c"), None),)
    elif isinstance(wire.insulation, str):
        now_c = insulation(wire.insulation).limit_c
    limits = {insulation(kind).limit_c: kind for kind in reversed(insulation_kinds())}
    for limit_c in sorted(limits):
        if limit_c > now_c:
            kind = limits[limit_c]
            said = Said("insulation", {"kind": (kind, ""), "new": (limit_c, "degC")})
            yield said, (Put((*within, "insulation"), kind), *own)
