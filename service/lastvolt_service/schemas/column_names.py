"""What the columns of a request may be called.

There are more names than anyone would list: a path of a hundred parts has a thousand. A name is
looked up by walking the schema.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from marshmallow import fields

from lastvolt_service.schemas.base import Request
from lastvolt_service.schemas.fields import Kinded, Many, Part
from lastvolt_service.schemas.near import NO_SUCH_FIELD, as_field, most_like, no_such_field

_NUMBERED = re.compile(r"([1-9]\d{0,3})_(.+)", re.ASCII | re.DOTALL)

Items = Part | Kinded
"""What lists in columns may hold: each item brings columns of its own."""


@dataclass(frozen=True, slots=True)
class Names:
    """What the columns of an object may be called.

    Attributes
    ----------
    single : mapping of str to Field
        Columns by name, those of objects within it included.
    listed : mapping of str to Many
        Lists of objects by what the names of their columns begin with, number and underscore
        after it.
    """

    single: Mapping[str, fields.Field[Any]]
    listed: Mapping[str, Many]

    def knows(self, name: str) -> bool:
        """Say whether there is such a column."""
        return name in self.single or any(
            name.startswith(before) and _knows_item(each, name.removeprefix(before))
            for before, each in self.listed.items()
        )

    def no_such_field(self, name: str) -> str:
        """Say of a column that there is none, and which one is like it; here, or elsewhere."""
        listed = {
            before: [key for kind in kinds_of(each.inner) for key in names(kind).single]
            for before, each in self.listed.items()
        }
        for before, each in self.listed.items():
            place, rest = numbered(name.removeprefix(before)) or (0, "")
            if name.startswith(before) and 0 < place <= each.maximum:
                told = no_such_field(rest, listed[before], f"{before}{place}_")
                return told if told != NO_SUCH_FIELD else no_such_field(rest, self.single)
        told = no_such_field(name, self.single)
        first = {key: f"{before}1_" for before, keys in listed.items() for key in keys}
        like = most_like(as_field(name), first) if told == NO_SUCH_FIELD else None
        return told if like is None else no_such_field(name, [like], first[like])


def numbered(name: str) -> tuple[int, str] | None:
    """Take the number of an item off the name of a column; None where there is none."""
    found = _NUMBERED.fullmatch(name)
    return None if found is None else (int(found[1]), found[2])


def _knows_item(each: Many, name: str) -> bool:
    place, rest = numbered(name) or (0, "")
    return 0 < place <= each.maximum and any(names(s).knows(rest) for s in kinds_of(each.inner))


@cache
def names(schema: Request) -> Names:
    """List the columns that a schema takes; those of lists by what is counted."""
    single: dict[str, fields.Field[Any]] = {}
    listed: dict[str, Many] = {}
    for name, each in schema.fields.items():
        if isinstance(each, Part):
            inner = names(each.schema)
            single |= {f"{name}_{below}": found for below, found in inner.single.items()}
            listed |= {f"{name}_{below}": found for below, found in inner.listed.items()}
        elif isinstance(each, Many):
            if isinstance(each.inner, Items):
                listed[f"{name}_"] = each
        else:
            single[name] = each
    return Names(single, listed)


def kinds_of(item: Any) -> Sequence[Any]:
    """Schemas of an item of a list: one for each kind that it may be of."""
    return [*item.schemas.values()] if isinstance(item, Kinded) else [item.schema]
