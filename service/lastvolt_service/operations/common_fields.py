"""Fields that several operations take."""

from collections.abc import Iterator, Sequence
from typing import Any

from lastvolt_service.fields import Broken, quantity

MAX_SUPPLY_V = 60.0  # the ceiling of the low-voltage wiring that SAE J1127 and J1128 are made for


def supply(meaning: str, *, minimum: float = 0.1, **options: Any) -> Any:
    """Describe a voltage of the vehicle's supply."""
    return quantity(meaning, minimum=minimum, maximum=MAX_SUPPLY_V, **options)


def same_names(field: str, items: Sequence[Any]) -> Iterator[Broken]:
    """Find the items of one request's list that bear the name of one before."""
    seen: set[str] = set()
    for place, item in enumerate(items):
        if item.name in seen:
            yield True, (field, place, "name"), "Another one has this name."
        seen.add(item.name)
