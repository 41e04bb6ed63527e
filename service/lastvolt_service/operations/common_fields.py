"""Fields that several operations take."""

from typing import Any

from lastvolt_service.fields import quantity

MAX_SUPPLY_V = 60.0  # the ceiling of the low-voltage wiring that SAE J1127 and J1128 are made for


def supply(meaning: str, *, minimum: float = 0.1, **options: Any) -> Any:
    """Describe a voltage of the vehicle's supply."""
    return quantity(meaning, minimum=minimum, maximum=MAX_SUPPLY_V, **options)
