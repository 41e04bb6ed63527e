"""Fields that several operations take."""

from collections.abc import Collection, Iterator, Sequence
from difflib import get_close_matches
from typing import Any

from lastvolt_service.errors import Path
from lastvolt_service.fields import Broken, quantity

MOST_OF_6_V, LEAST_OF_12_V = 7.5, 9.0
MOST_OF_12_V, LEAST_OF_24_V = 16.0, 20.0
MOST_OF_24_V = 32.0  # ISO 16750-2:2010, Table 2
ASK_NOMINAL = (
    "The supply lies between two systems: give the nominal voltage, 6, 12 or 24, for limits differ."
)
NO_SUCH_LOAD = "No load of the circuit has this name"
NO_SUCH_CONTACT = "No contact of the circuit has this name"
MEANT = 0.6  # how much alike two names are of which one may be meant. Common practice.
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


def named_there(name: str, there: Collection[str], path: Path, missing: str) -> Broken:
    """Refuse a name of nothing that is there, with one that may have been meant.

    Parameters
    ----------
    name : str
        As it is given.
    there : collection of str
        Names that there are.
    path : tuple
        The field.
    missing : str
        What is said, without a full stop.
    """
    wrong = name not in there
    near = get_close_matches(name, there, 1, MEANT) if wrong else []
    return wrong, path, f"{missing}: did you mean {near[0]!r}?" if near else f"{missing}."


def of_no_system(supply_v: Any) -> Any:
    """Say whether no system has such a voltage, at rest or charging."""
    return between_systems(supply_v) | (supply_v > MOST_OF_24_V)


def between_systems(supply_v: Any) -> Any:
    """Say whether a supply may be that of either of two systems, so that none can be told from it.

    ISO 16750-2:2010, Tables 1 and 2: 12 V systems reach to 16 V, and have 9 V in use (code C); TM
    9-2320-211-20 lets a 24 V truck sag to 18 V while it cranks. That one in use has 20 V, and that
    one of 6 V charges at 7.5 V at most, is common practice.
    """
    low = (supply_v > MOST_OF_6_V) & (supply_v < LEAST_OF_12_V)
    return low | ((supply_v > MOST_OF_12_V) & (supply_v < LEAST_OF_24_V))
