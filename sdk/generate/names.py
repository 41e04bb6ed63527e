"""Names in Python for what the document names otherwise, or not at all."""

import keyword
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

# A schema with the component and the field that have it.
Place = tuple[str, str, Mapping[str, Any]]

# What a method needs for itself beside the words that Python keeps.
_KEPT = {"self", "types"}


class Unsupported(ValueError):
    """The document has what no rule of the generator covers."""


def identifier(name: str) -> str:
    """Make an argument's or a field's name; the SDK takes an underscore at its end off again."""
    if not name.isidentifier() or name.startswith("_") or name.endswith("_"):
        raise Unsupported(f"{name!r} can be no name in Python.")
    return f"{name}_" if keyword.iskeyword(name) or name in _KEPT else name


def camel(name: str) -> str:
    """Turn ``fuse_family`` into ``FuseFamily``."""
    made = "".join(part[:1].upper() + part[1:] for part in re.split(r"[_\W]+", name))
    if not made.isidentifier() or keyword.iskeyword(made):
        raise Unsupported(f"{name!r} can be no name of a class.")
    return made


def union_name(members: Sequence[str]) -> str:
    """Name alternatives by the word that all end in, or that all begin with and ``Part``."""
    words = [re.findall(r"[A-Z]+(?![a-z])|[A-Z][a-z0-9]*", member) for member in members]
    for place, made in ((-1, "{}"), (0, "{}Part")):
        shared = {each[place] for each in words}
        if len(shared) == 1:
            return made.format(*shared)
    return "Or".join(members)


def list_names(
    places: Iterable[Place], taken: Iterable[str]
) -> dict[tuple[Any, ...], tuple[str, str]]:
    """Name the lists of words that recur or are long; the others stay where they are.

    Parameters
    ----------
    places : iterable of tuple
        Owner, field and schema of each place of a list.
    taken : iterable of str
        Names of classes.

    Returns
    -------
    dict of tuple to tuple of str
        Name and meaning of each list.
    """
    found: dict[tuple[Any, ...], list[Place]] = {}
    for place in places:
        found.setdefault(tuple(place[2]["enum"]), []).append(place)
    named = {
        words: there
        for words, there in found.items()
        if _given(there) or (len(words) > 1 and (len(there) > 1 or len(words) > 3))
    }
    bases = {words: _given(there) or _stem(*there[0]) for words, there in named.items()}
    taken = set(taken)
    rivals = Counter([*bases.values(), *taken])
    recurring = Counter(bases[words] for words, there in named.items() if len(there) > 1)
    made = {}
    for words, there in named.items():
        (owner, field, _), *others = there
        name, owner = bases[words], owner.removesuffix("Request")
        # Of several lists of one name, the one that recurs keeps it.
        keeps = others and recurring[name] == 1 and name not in taken
        if rivals[name] > 1 and not keeps and not _given(there):
            name = f"{name}Kind" if others else f"{owner}{name}"
        made[words] = (name, f"What `{field if others else f'{owner}.{field}'}` may be.")
    names = Counter([*taken, *(name for name, _ in made.values())])
    if twice := [name for name, count in names.items() if count > 1]:
        raise Unsupported(f"{', '.join(twice)} would name two types: give one of them x-name.")
    return made


def _given(places: Iterable[Place]) -> str:
    return next((schema["x-name"] for _, _, schema in places if "x-name" in schema), "")


def _stem(_owner: str, field: str, schema: Mapping[str, Any]) -> str:
    """Make a name of a field's, without the unit that a number's ends in."""
    return camel(field.rpartition("_")[0] if "x-unit" in schema else field)
