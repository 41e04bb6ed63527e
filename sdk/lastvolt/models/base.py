"""How an answer is read, and what all answers share."""

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, Self, Union, get_args, get_origin, get_type_hints

Verdict = Literal["pass", "marginal", "fail", "unknown"]

_WORST_FIRST: tuple[Verdict, ...] = ("fail", "marginal", "unknown", "pass")


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
            if name not in known:
                if optional:
                    continue
                raise ValueError(f"{name} is missing.")
            try:
                values[name] = read(known[name])
            except ValueError as error:
                raise ValueError(f"{name}: {error}") from None
        return cls(**values)

    def to_dict(self) -> dict[str, Any]:
        """Give the known part of the JSON answer back.

        Returns
        -------
        dict
            With lists for tuples.
        """
        return {each.name: _plain(getattr(self, each.name)) for each in dataclasses.fields(self)}


@dataclass(frozen=True, slots=True)
class Check(Model):
    """One question that a practitioner would ask of the circuit, and its answer.

    Attributes
    ----------
    name : str
        What is checked.
    verdict : str
        ``pass``, ``marginal``, ``fail``, or ``unknown`` where an input that it needs was not given.
    value, limit : float or None
        The number that is judged, and what it is judged against, in `unit`.
    unit : str
        Unit of value, limit and margin.
    margin : float or None
        Distance from the limit in `unit`; positive is on the good side.
    basis : str
        Publication of the limit, or common practice, or given by the caller.
    message : str
        One sentence to act on.
    """

    name: str
    verdict: Verdict
    value: float | None
    limit: float | None
    unit: str
    margin: float | None
    basis: str
    message: str


@dataclass(frozen=True, slots=True)
class ComputedBy(Model):
    """Versions that reproduce an answer.

    Attributes
    ----------
    service, tables : str
        Version of the service, and of the published tables that it carries.
    """

    service: str
    tables: str


@dataclass(frozen=True, slots=True)
class Step(Model):
    """One step of a calculation.

    Attributes
    ----------
    symbol : str
        Name of the number in formulas; its end is its unit.
    meaning : str
        What it is.
    kind : str
        ``given``, ``published``, ``solved`` (found by trial) or ``computed`` by the formula.
    formula : str or None
        With symbols of steps before; None where nothing is computed.
    inputs : mapping of str to float
        Numbers put into the formula, by symbol.
    value : float
        The result, in `unit`.
    unit : str
        Unit of the value; 1 for a plain number.
    source : str
        Publication, law or model that it comes from.
    """

    symbol: str
    meaning: str
    kind: Literal["given", "published", "solved", "computed"]
    formula: str | None
    inputs: Mapping[str, float] = field(hash=False)
    value: float
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Change(Model):
    """A field of the request with its new value.

    Attributes
    ----------
    pointer : str
        JSON Pointer to the field as a URI fragment.
    new_value : float, str, bool or None
        To be put there; None to leave the field out.
    """

    pointer: str
    new_value: float | str | bool | None


@dataclass(frozen=True, slots=True)
class Remedy(Model):
    """A change and what it brings: the request asked again with the change made.

    Attributes
    ----------
    change : str
        What to do, in words.
    changes : tuple of Change
        The same in fields of the request.
    verdict : str
        The worst check with the change made.
    check : str
        Name of the failed check that the change is for.
    check_verdict : str
        Of that check with the change made; ``pass`` where it is gone.
    value_before, value_after : float or None
        Of that check, in `unit`.
    limit_before, limit_after : float or None
        What these are held against.
    unit : str
        Unit of the values.
    message : str
        One sentence: what the change brings.
    """

    change: str
    changes: tuple[Change, ...]
    verdict: Verdict
    check: str
    check_verdict: Verdict
    value_before: float | None
    value_after: float | None
    limit_before: float | None
    limit_after: float | None
    unit: str
    message: str


class Remembering:
    """Something that knows how to have its own picture drawn, if it came from a client.

    It is no field: it takes no part in comparing, copying, pickling or showing.
    """

    __slots__ = ("_draw",)

    def remember(self, draw: Callable[[], str | None]) -> None:
        """Keep how the picture of this answer is asked for.

        Parameters
        ----------
        draw : callable
            Gives SVG, or None where there is no picture.
        """
        object.__setattr__(self, "_draw", draw)  # frozen as the answer is


@dataclass(frozen=True, slots=True, kw_only=True)
class Result(Model, Remembering):
    """Common part of every calculation.

    Attributes
    ----------
    checks : tuple of Check
        Every question asked of the circuit, with its verdict.
    basis : tuple of str
        Publications, formulas and practice that the answer rests on.
    cautions : tuple of str
        What can hurt someone here, and who decides.
    computed_by : ComputedBy
        Versions that reproduce this answer.
    steps : tuple of Step
        The calculation, in order; empty without ``explain=True``.
    remedies : tuple of Remedy
        Changes that better a failed check, the best first; empty without ``explain=True``.
    """

    checks: tuple[Check, ...]
    basis: tuple[str, ...]
    cautions: tuple[str, ...]
    computed_by: ComputedBy
    steps: tuple[Step, ...] = ()
    remedies: tuple[Remedy, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Give the known part of the JSON answer back.

        Returns
        -------
        dict
            With lists for tuples; without steps and remedies where none were asked for.
        """
        found = Model.to_dict(self)
        if not self.steps:
            del found["steps"], found["remedies"]
        return found

    @property
    def verdict(self) -> Verdict:
        """The worst of all verdicts: fail, then marginal, then unknown, then pass.

        Unknown is worse than pass, as something is left unproved, and better than marginal, as
        nothing is found wrong. An answer without checks is unknown: nothing was judged. So is a
        word of a later version.
        """
        verdicts = {check.verdict for check in self.checks}
        if not verdicts <= set(_WORST_FIRST):
            verdicts.add("unknown")
        return next((worst for worst in _WORST_FIRST if worst in verdicts), "unknown")

    def failing(self) -> tuple[Check, ...]:
        """Give the checks that fail.

        Returns
        -------
        tuple of Check
        """
        return tuple(check for check in self.checks if check.verdict == "fail")

    def worst(self) -> Check | None:
        """Give the check with the worst verdict, of several the one furthest beyond its limit.

        Returns
        -------
        Check or None
            None where nothing was checked.
        """
        return min(self.checks, key=_badness, default=None)

    def to_markdown(self) -> str:
        """Write it as Markdown, made from this answer alone.

        Returns
        -------
        str
        """
        from lastvolt import display  # here: who only counts needs none of it

        return display.markdown(self)

    def __str__(self) -> str:
        """Write it as a table for a terminal."""
        from lastvolt import display

        return display.text(self)

    def _repr_html_(self) -> str:
        """Write it for a notebook, with its picture if the service that answered draws one."""
        from lastvolt import display

        draw = getattr(self, "_draw", None)
        return display.html(self, None if draw is None else draw())


def _badness(check: Check) -> tuple[int, float]:
    known = check.verdict in _WORST_FIRST
    place = _WORST_FIRST.index(check.verdict if known else "unknown")
    if check.margin is None:
        return place, 0.0
    return place, check.margin / max(abs(check.limit or 0.0), 1e-9)


@cache
def _readers(model: type[Model]) -> tuple[tuple[str, Callable[[Any], Any], bool], ...]:
    """Name and reader of every field, and whether it may be absent; hints are read once."""
    hints = get_type_hints(model)
    return tuple(
        (each.name, _reader(hints[each.name]), each.default is not dataclasses.MISSING)
        for each in dataclasses.fields(model)
    )


def _reader(hint: Any) -> Callable[[Any], Any]:
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in {Union, UnionType}:
        kinds = [argument for argument in arguments if argument is not NoneType]
        if len(kinds) > 1:
            return lambda value: _one_of(value, kinds)
        inner = _reader(kinds[0])
        return lambda value: None if value is None else inner(value)
    if origin is Mapping:
        read_value = _reader(arguments[1])
        return lambda value: {key: read_value(each) for key, each in _typed(value, dict).items()}
    if origin is tuple:
        item = _reader(arguments[0])
        return lambda value: tuple(item(each) for each in _typed(value, list))
    if origin is Literal:  # a word of a later version is a word all the same
        return lambda value: _typed(value, str)
    if issubclass(hint, Model):
        read: Callable[[Any], Any] = hint.from_json
        return read
    return lambda value: _typed(value, hint)


def _one_of(value: Any, kinds: Sequence[type]) -> Any:
    if value is None or type(value) in kinds:
        return value
    return _typed(value, float if type(value) is int else kinds[0])


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
