"""Which field may have been meant by a name that is none."""

import re
from collections.abc import Iterable
from difflib import get_close_matches

from lastvolt_service.units import unit_of

NO_SUCH_FIELD = "There is no such field."
MOST_TOLD = 50  # unknown names of one object: there may be a million

_LIKE = 0.75  # common practice: from here on, one of few names is more likely meant than not
_LONGEST = 80
_HUMP = re.compile(r"(?<=[a-z0-9])(?=[A-Z])")
_GAP = re.compile(r"[\s\-_]+")


def most_like(name: str, known: Iterable[str]) -> str | None:
    """Give the one that may have been meant; None where none is near."""
    return next(iter(get_close_matches(name, known, 1, _LIKE)), None)


def spelt_otherwise(word: str, known: Iterable[str]) -> str | None:
    """Give the one that differs in case and gaps only: no insulation is guessed by its letters."""
    meant = {_GAP.sub("", each).lower(): each for each in known}
    return meant.get(_GAP.sub("", word[:_LONGEST]).lower())


def as_field(name: str) -> str:
    """A name as fields are written: ``Length-M`` is ``length_m``."""
    return _GAP.sub("_", _HUMP.sub("_", name[:_LONGEST])).lower()


def lives_elsewhere(like: str, place: str) -> str:
    """Say that a field lives in another place, which is told with its unit."""
    unit = unit_of(like)
    told = f", in {unit.symbol}" if unit else ""
    return f"There is no such field here: one like it is {place}{told}."


def no_such_field(name: str, known: Iterable[str], before: str = "") -> str:
    """Say that there is no such field, and which one is like it.

    Parameters
    ----------
    name : str
        What was sent.
    known : iterable of str
        Fields that stand in the same place.
    before : str
        What the names of all of them begin with, in a table of columns.

    Returns
    -------
    str
        The unit of the other field is told, too: whoever wrote ``length_ft`` must convert.
    """
    like = most_like(as_field(name), known)
    if like is None:
        return NO_SUCH_FIELD
    unit = unit_of(like)
    told = f", in {unit.symbol}" if unit else ""
    return f"There is no such field: one like it is {before}{like}{told}."
