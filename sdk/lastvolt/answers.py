"""How an answer is read, and what all answers can do; their fields are generated."""

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, partial
from types import NoneType, UnionType
from typing import (
    Any,
    ClassVar,
    Generic,
    Literal,
    Self,
    TypeVar,
    Union,
    get_args,
    get_origin,
    get_type_hints,
    is_typeddict,
)

from lastvolt import display
from lastvolt._generated.service import WORST_FIRST

CheckType = TypeVar("CheckType", bound=display.CheckLike)


@dataclass(frozen=True, slots=True)
class Model:
    """Base of all answers and their parts."""

    @classmethod
    def from_json(cls, given: Any) -> Self:
        """Build from a JSON object.

        Parameters
        ----------
        given : dict
            The object; fields that the class does not know are left aside.

        Returns
        -------
        Model
            Of this class.

        Raises
        ------
        ValueError
            If a field is missing or of the wrong type.
        """
        known = _typed(given, dict)
        values: dict[str, Any] = {}
        kind: Any = cls  # mypy takes the instances' hash for that of the class
        for name, read, optional in _readers(kind):
            key = _key(name)
            if key not in known:
                if optional:
                    continue
                raise ValueError(f"{key} is missing.")
            try:
                values[name] = read(known[key])
            except ValueError as error:
                raise ValueError(f"{key}: {error}") from None
        return cls(**values)

    def to_dict(self) -> dict[str, Any]:
        """Give the known part of the JSON answer back.

        Returns
        -------
        dict
            With lists for tuples; without the fields that only some requests get, if all of them
            are as if they had not come, and without each of those that is None.
        """
        fields = dataclasses.fields(self)
        sometimes = {each.name: each.default for each in fields if not _required(each)}
        absent = all(getattr(self, name) == default for name, default in sometimes.items())
        return {
            _key(each.name): _plain(getattr(self, each.name))
            for each in fields
            if each.name not in sometimes or not (absent or getattr(self, each.name) is None)
        }


class Judged(Model, Generic[CheckType]):
    """Base of the answers that judge.

    How the picture of an answer is asked for is no field of it: it takes no part in comparing,
    copying, pickling or showing.
    """

    __slots__ = ("_draw",)

    __dataclass_fields__: ClassVar[dict[str, Any]]
    verdict: str
    headline: str
    checks: tuple[CheckType, ...]
    basis: tuple[str, ...]
    cautions: tuple[str, ...]
    computed_by: display.VersionsLike

    def remember(self, draw: Callable[[], str | None]) -> None:
        """Keep how the picture of this answer is asked for.

        Parameters
        ----------
        draw : callable
            Gives SVG, or None where there is no picture.
        """
        object.__setattr__(self, "_draw", draw)  # frozen as the answer is

    def failing(self) -> tuple[CheckType, ...]:
        """Give the checks that fail."""
        return tuple(check for check in self.checks if check.verdict == "fail")

    def worst(self) -> CheckType | None:
        """Give the check with the worst verdict, of several the one furthest beyond its limit.

        Returns
        -------
        Check or None
            None where nothing was checked.
        """
        return min(self.checks, key=_badness, default=None)

    def to_markdown(self) -> str:
        """Write it as Markdown, made from this answer alone."""
        return display.markdown(self)

    def __str__(self) -> str:
        """Write it as a table for a terminal."""
        return display.text(self)

    def _repr_html_(self) -> str:
        """Write it for a notebook, with its picture if the service that answered draws one."""
        draw = getattr(self, "_draw", None)
        return display.html(self, None if draw is None else draw())


def _badness(check: display.CheckLike) -> tuple[int, float]:
    known = check.verdict in WORST_FIRST
    place = WORST_FIRST.index(check.verdict if known else "unknown")
    if check.margin is None:
        return place, 0.0
    return place, check.margin / max(abs(check.limit or 0.0), 1e-9)


@cache
def _readers(model: type[Model]) -> tuple[tuple[str, Callable[[Any], Any], bool], ...]:
    """Name and reader of every field, and whether it may be absent; hints are read once."""
    hints = get_type_hints(model)
    return tuple(
        (each.name, _reader(hints[each.name]), not _required(each))
        for each in dataclasses.fields(model)
    )


def _required(field: dataclasses.Field[Any]) -> bool:
    return field.default is dataclasses.MISSING


def _key(name: str) -> str:
    """Name a field as JSON does: what Python keeps for itself has an underscore at its end."""
    return name.removesuffix("_")


def _reader(hint: Any) -> Callable[[Any], Any]:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in {Union, UnionType}:
        readers = [_reader(argument) for argument in arguments if argument is not NoneType]
        may_be_none = NoneType in arguments
        return lambda value: None if value is None and may_be_none else _first(value, readers)
    if origin is Mapping:
        read_value = _reader(arguments[1])
        return lambda value: {key: read_value(each) for key, each in _typed(value, dict).items()}
    if origin is tuple:
        item = _reader(arguments[0])
        return lambda value: tuple(item(each) for each in _typed(value, list))
    if origin is Literal:
        return partial(_word, words=arguments)
    if is_typeddict(hint):  # part of a request, as it can be sent again
        return lambda value: _typed(value, dict)
    if issubclass(hint, Model):
        read: Callable[[Any], Any] = hint.from_json
        return read
    return lambda value: _typed(value, hint)


def _first(value: Any, readers: Sequence[Callable[[Any], Any]]) -> Any:
    """Read a value as the first of its types that it fits."""
    for read in readers[:-1]:
        try:
            return read(value)
        except ValueError:
            continue
    return readers[-1](value)


def _word(value: Any, words: Sequence[Any]) -> Any:
    """Read one of some words, or one of a later version; a single one tells kinds apart."""
    if len(words) == 1 and value != words[0]:
        raise ValueError(f"{value!r:.80} is not {words[0]!r}.")
    return _typed(value, type(words[0]))


def _typed(value: Any, kind: type) -> Any:
    if kind is float and type(value) is int:  # JSON writes 12.0 as 12 where it likes
        return float(value)
    if type(value) is not kind:
        raise ValueError(f"{value!r:.80} is no {kind.__name__}.")
    return value


def _plain(value: Any) -> Any:
    if isinstance(value, Model):
        return value.to_dict()
    if isinstance(value, Mapping):
        return dict(value)
    return [_plain(item) for item in value] if isinstance(value, tuple) else value
