"""Laws that say what functions compute, and numbers that remember the formulas they come from.

While an answer is explained, the code that computes it runs once more on `Traced` numbers: floats
that know how they came about. The steps of the answer are read from them
(`lastvolt_service.operations.steps`), so that no formula is told twice. What a function of
`lastvolt_service.physics` computes stands above it as a `law`, and a test proves the two equal.
"""

import inspect
import math
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from functools import cached_property, wraps
from types import CodeType
from typing import Any, Literal, TypeVar, cast

Kind = Literal["given", "published", "solved", "computed"]

REQUEST = "the request"
OHM = "Ohm's law"
JOULE = "Joule's law"
KIRCHHOFF = "Kirchhoff's laws"

FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "ln": math.log,
    "log10": math.log10,
    "exp": math.exp,
    "min": min,
    "max": max,
}

# One rule of a law: it may run over several lines and ends with its meaning.
_RULE = re.compile(r"(\w+) = ([^#=]+)#([^\n]+)")

_recording: ContextVar[bool] = ContextVar("recording", default=False)

_met: ContextVar["dict[str, Law] | None"] = ContextVar("met", default=None)

Number = TypeVar("Number")
Function = TypeVar("Function", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True, eq=False)
class Node:
    """Where a number comes from.

    Attributes
    ----------
    value : float
        The number.
    symbol : str
        Its name in formulas; empty where it has none and is written out.
    kind, meaning, source, unit : str
        What its step says of it; without a unit the symbol's end tells.
    operator : str
        That joins `parts`; empty for a name, a constant or a law.
    parts : tuple of Node
        What it is made of; of a law, its arguments in the order of `law.parameters`.
    law : Law or None
        That gives it.
    line : int
        Of the law's lines, the one that gives it.
    """

    value: float
    symbol: str = ""
    kind: Kind = "computed"
    meaning: str = ""
    source: str = ""
    unit: str = ""
    operator: str = ""
    parts: tuple["Node", ...] = ()
    law: "Law | None" = None
    line: int = -1


class Traced(float):
    """A float that knows how it came about; to code that does not ask, a float."""

    __slots__ = ("node",)
    node: Node

    @classmethod
    def of(cls, node: Node) -> "Traced":
        """Make one from where it comes from."""
        made = cls(node.value)
        made.node = node
        return made

    def __add__(self, other: Any) -> Any:
        return _joined("+", self, other, float.__add__)

    def __radd__(self, other: Any) -> Any:
        return _joined("+", other, self, float.__add__)

    def __sub__(self, other: Any) -> Any:
        return _joined("-", self, other, float.__sub__)

    def __rsub__(self, other: Any) -> Any:
        return _joined("-", other, self, float.__sub__)

    def __mul__(self, other: Any) -> Any:
        return _joined("*", self, other, float.__mul__)

    def __rmul__(self, other: Any) -> Any:
        return _joined("*", other, self, float.__mul__)

    def __truediv__(self, other: Any) -> Any:
        return _joined("/", self, other, float.__truediv__)

    def __rtruediv__(self, other: Any) -> Any:
        return _joined("/", other, self, float.__truediv__)

    def __pow__(self, other: Any) -> Any:  # type: ignore[override]  # of a power by a float only
        return _joined("**", self, other, float.__pow__)

    def __neg__(self) -> "Traced":
        return Traced.of(Node(-float(self), operator="-", parts=(Node(0.0), self.node)))

    def __abs__(self) -> "Traced":
        return self if self >= 0 else -self

    def __reduce__(self) -> tuple[type[float], tuple[float]]:
        return float, (float(self),)  # a copy needs no memory


def _node(value: Any) -> Node:
    return value.node if isinstance(value, Traced) else Node(float(value))


def _joined(operator: str, left: Any, right: Any, compute: Callable[[float, float], float]) -> Any:
    if not (isinstance(left, int | float) and isinstance(right, int | float)):
        return NotImplemented
    value = compute(float(left), float(right))
    return Traced.of(Node(value, operator=operator, parts=(_node(left), _node(right))))


@contextmanager
def recording() -> Iterator[None]:
    """Within this, `given`, `published` and `solved` give numbers that remember."""
    token = _recording.set(True)
    try:
        yield
    finally:
        _recording.reset(token)


@contextmanager
def meeting() -> Iterator["dict[str, Law]"]:
    """Collect by name the laws that numbers meet within this while they remember."""
    met: dict[str, Law] = {}
    token = _met.set(met)
    try:
        yield met
    finally:
        _met.reset(token)


def is_recording() -> bool:
    """Say whether numbers are to remember how they come about."""
    return _recording.get()


def given(symbol: str, value: Number, meaning: str) -> Number:
    """Name a number of the request while recording; else give it back as it is."""
    return _looked_up(symbol, value, "given", meaning, REQUEST, "")


def published(symbol: str, value: Number, meaning: str, source: str, unit: str = "") -> Number:
    """Name a number of a table, or a constant, likewise."""
    return _looked_up(symbol, value, "published", meaning, source, unit)


def solved(symbol: str, value: Number, meaning: str, source: str) -> Number:
    """Name a number that was found by trial, likewise."""
    return _looked_up(symbol, value, "solved", meaning, source, "")


def _looked_up(
    symbol: str, value: Number, kind: Kind, meaning: str, source: str, unit: str
) -> Number:
    if not _recording.get() or not isinstance(value, int | float):
        return value
    return cast("Number", Traced.of(Node(float(value), symbol, kind, meaning, source, unit)))


def named(symbol: str, value: Number, meaning: str, source: str = "") -> Number:
    """Name a number on the way to an answer: it becomes a step of its own."""
    if not isinstance(value, Traced) or value.node.symbol == symbol:
        return value
    inner = value.node
    node = Node(inner.value, symbol, "computed", meaning, source or inner.source, parts=(inner,))
    return cast("Number", Traced.of(node))


def by(source: str, value: Number) -> Number:
    """Say which law a formula follows, where it is more than arithmetic."""
    if not isinstance(value, Traced) or value.node.symbol:
        return value
    return cast("Number", Traced.of(replace(value.node, source=source)))


def finer(value: Number, formula: Number) -> Number:
    """Let a number that is reckoned with more care than its formula says remember that formula."""
    if not isinstance(formula, Traced):
        return value
    return cast("Number", Traced.of(replace(formula.node, value=float(value))))  # type: ignore[arg-type]  # one number


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a law: what it finds, how, and what that is."""

    symbol: str
    formula: str
    meaning: str


@dataclass(frozen=True, slots=True)
class Constant:
    """A number that a law has from elsewhere."""

    symbol: str
    value: float
    unit: str
    meaning: str
    source: str


@dataclass(frozen=True)
class Law:
    """What a function computes, in lines that a pocket calculator can redo.

    Attributes
    ----------
    name, module : str
        Of the function.
    parameters : tuple of str
        Of the function that the lines use.
    lines : tuple of Line
        In order; the last ones are the results.
    results : int
        How many of the lines are results, more than one where the function returns a tuple.
    source : str
        Who says so.
    constants : tuple of Constant
        That the lines use.
    """

    name: str
    module: str
    parameters: tuple[str, ...]
    lines: tuple[Line, ...]
    results: int
    source: str
    constants: tuple[Constant, ...]

    @cached_property
    def _codes(self) -> tuple[CodeType, ...]:
        return tuple(compile(line.formula, f"<law of {self.name}>", "eval") for line in self.lines)

    def redo(self, arguments: Mapping[str, float]) -> list[float]:
        """Work out each line as it is written.

        Raises
        ------
        ValueError, ZeroDivisionError, OverflowError
            As Python's arithmetic does where a line has no value.
        """
        constants = {each.symbol: each.value for each in self.constants}
        names: dict[str, Any] = {**FUNCTIONS, **constants, **arguments}
        for line, code in zip(self.lines, self._codes, strict=True):
            # The text is a constant of this package, never one of a request.
            names[line.symbol] = eval(code, {"__builtins__": {}}, names)  # noqa: S307  as said above
        return [float(names[line.symbol]) for line in self.lines]

    def trace(self, arguments: Mapping[str, Any], found: Any) -> Any:
        """Give results of the function that remember this law."""
        if (met := _met.get()) is not None:
            met[self.name] = self
        values = found if isinstance(found, tuple) else (found,)
        parts = tuple(_node(arguments[name]) for name in self.parameters)
        first = len(self.lines) - self.results
        traced = tuple(
            Traced.of(Node(float(value), source=self.source, parts=parts, law=self, line=line))
            for line, value in enumerate(values, first)
        )
        if not isinstance(found, tuple):
            return traced[0]
        return found._make(traced) if hasattr(found, "_make") else traced


LAWS: dict[str, Law] = {}
"""Every law by its function's name, for the page of formulas and for the test that proves them."""


def law(
    text: str, *, source: str, results: int = 1, constants: tuple[Constant, ...] = ()
) -> Callable[[Function], Function]:
    """Say what a keyword-only function of physics computes.

    Parameters
    ----------
    text : str
        Rules ``symbol = formula  # meaning`` with + - * / ** ( ), sqrt, ln, log10, exp, min, max,
        the function's parameters and symbols of lines before.
    source : str
        Publication or principle.
    results : int
        How many of the last lines the function returns.
    constants : tuple of Constant
        That the lines use.
    """

    def mark(function: Function) -> Function:
        lines = tuple(_line(*found) for found in _RULE.findall(text))
        used = " ".join(line.formula for line in lines)
        keywords = inspect.signature(function).parameters
        parameters = tuple(name for name in keywords if _stands_in(name, used))
        defaults = {each.name: each.default for each in keywords.values()}
        told = Law(
            function.__name__, function.__module__, parameters, lines, results, source, constants
        )
        LAWS[told.name] = told

        @wraps(function)
        def computed(**arguments: Any) -> Any:
            found = function(**arguments)
            if _recording.get() and any(type(value) is Traced for value in arguments.values()):
                return told.trace({**defaults, **arguments}, found)
            return found

        computed.law = told  # type: ignore[attr-defined]  # for whoever reads the function
        return cast("Function", computed)

    return mark


def _line(symbol: str, formula: str, meaning: str) -> Line:
    return Line(symbol, " ".join(formula.split()), " ".join(meaning.split()))


def _stands_in(name: str, text: str) -> bool:
    return re.search(rf"(?<![\w.]){name}(?!\w)", text) is not None
