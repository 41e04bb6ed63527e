"""Steps of a calculation, as someone with a pocket calculator takes them.

They are read from numbers that remember how they came about (`lastvolt_service.laws`).
"""

import math
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import chain
from typing import Annotated

from lastvolt_service.laws import FUNCTIONS, REQUEST, Kind, Line, Node, Traced
from lastvolt_service.units import unit_of

ARITHMETIC = "arithmetic"
GIVEN = REQUEST
# Of lists longer than this the first items are explained in full, the others as far as sums need.
MOST_ITEMS = 20

_NAMES = re.compile(r"(?<![\w.])[A-Za-z_]\w*")
_SUM, _PRODUCT, _POWER, _ATOM = range(4)
_PRECEDENCE = {"+": _SUM, "-": _SUM, "*": _PRODUCT, "/": _PRODUCT, "**": _POWER}


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a calculation: a number that is taken, or one that follows from those before."""

    symbol: Annotated[str, "name of the number in formulas; its end is its unit"]
    meaning: Annotated[str, "what it is"]
    kind: Annotated[
        Kind,
        "given in the request; published in a table or known of a model; solved: found by trial, "
        "and verified by the steps after it where they balance; or computed by the formula",
    ]
    formula: Annotated[
        str | None,
        "with + - * / ** ( ), sqrt, ln, log10, exp, min, max and symbols of steps before; null "
        "where nothing is computed",
    ]
    inputs: Annotated[
        dict[str, Annotated[float, "the number"]], "numbers put into the formula, by symbol"
    ]
    value: Annotated[float, "the result, in `unit`"]
    unit: Annotated[str, "unit of the value; 1 for a plain number"]
    source: Annotated[str, "publication, law or model that it comes from"]


class Steps:
    """Steps in the making, in order: what a formula needs stands before it.

    A number that is not finite has no step, and neither has what would follow from it.
    """

    def __init__(self, lists: Iterable[str] = ()) -> None:
        self._item = re.compile(rf"((?:{'|'.join(lists)})_\d+)_" if lists else r"(?!)")
        self._found: dict[str, Step] = {}
        self._symbols: dict[int, str] = {}
        self._told: list[Node] = []  # kept, so that no id is used twice
        self._prefixes: tuple[str, ...] = ("",)
        self._taken: dict[tuple[str, float, str | None], str] = {}

    def all(self) -> tuple[Step, ...]:
        """Give the steps."""
        return tuple(self._found.values())

    def __contains__(self, symbol: str) -> bool:
        return symbol in self._found

    def value(self, symbol: str) -> float:
        """Tell the value of a symbol.

        Returns
        -------
        float
            NaN where there is no such step.
        """
        step = self._found.get(symbol)
        return math.nan if step is None else step.value

    @contextmanager
    def within(self, prefix: str) -> Iterator[None]:
        """Put a prefix before the symbols of numbers that are read, but for those told before."""
        before = self._prefixes
        self._prefixes = (*before, before[-1] + prefix)
        try:
            yield
        finally:
            self._prefixes = before

    def number(self, symbol: str) -> float:
        """Give the number of a step, to go on with in formulas that are read."""
        step = self._found[symbol]
        number = Traced.of(Node(step.value, symbol, step.kind, step.meaning, step.source))
        self._symbols[id(number.node)] = symbol
        self._told.append(number.node)
        return number

    def given(
        self, symbol: str, value: float, meaning: str, source: str = GIVEN, unit: str | None = None
    ) -> str:
        """Take a number of the request; parameters and result as of `computed`."""
        return self._keep(symbol, value, meaning, "given", source, unit)

    def published(
        self, symbol: str, value: float, meaning: str, source: str, unit: str | None = None
    ) -> str:
        """Take a number of a table or a model; parameters and result as of `computed`."""
        return self._keep(symbol, value, meaning, "published", source, unit)

    def solved(self, symbol: str, value: float, meaning: str, source: str) -> str:
        """Take a number that was found by trial; parameters and result as of `computed`."""
        return self._keep(symbol, value, meaning, "solved", source, None)

    def computed(
        self,
        symbol: str,
        formula: str,
        value: float,
        meaning: str,
        source: str,
        unit: str | None = None,
    ) -> str:
        """Take a step.

        Parameters
        ----------
        symbol : str
            What it finds.
        formula : str
            How.
        value : float
            What comes out, as the operation itself has it.
        meaning : str
            What it is.
        source : str
            Who says so.
        unit : str, optional
            By default told from the symbol.

        Returns
        -------
        str
            The symbol.
        """
        names = dict.fromkeys(n for n in _NAMES.findall(formula) if n not in FUNCTIONS)
        if all(name in self._found for name in names):
            inputs = {name: self._found[name].value for name in names}
            self._keep(symbol, value, meaning, "computed", source, unit, formula, inputs)
        return symbol

    def pi(self) -> None:
        """Take the ratio of a circle's circumference to its diameter."""
        self.published("pi", math.pi, "circumference of a circle over its diameter", "geometry")

    def _keep(
        self,
        symbol: str,
        value: float,
        meaning: str,
        kind: Kind,
        source: str,
        unit: str | None,
        formula: str | None = None,
        inputs: dict[str, float] | None = None,
    ) -> str:
        number = float(value)
        if math.isfinite(number) and symbol not in self._found:
            known = unit_of(symbol)
            told = unit or (known.symbol if known else "1")
            self._found[symbol] = Step(
                symbol, meaning, kind, formula, inputs or {}, number, told, source
            )
        return symbol

    def result(self, symbol: str, value: object, meaning: str) -> None:
        """Tell a result and all that leads to it; one that remembers nothing has no steps."""
        if isinstance(value, Traced):
            node = value.node
            if node.symbol != symbol:
                node = Node(node.value, symbol, "computed", meaning, node.source, parts=(node,))
            told, own = self._tell(node, ""), self._prefixes[-1] + symbol
            if told != own and told in self._found:  # the same number as of another part
                step = self._found[told]
                self.computed(own, told, step.value, step.meaning, step.source)

    def _tell(self, node: Node, near: str) -> str:
        """Tell a named number, or one that a law gives, and give the symbol that it has got."""
        if id(node) in self._symbols:
            return self._symbols[id(node)]
        inner = node.parts[0] if node.symbol and node.parts else node
        symbol = node.symbol or self._law_line(inner).symbol
        formula = None
        source = node.source or ARITHMETIC
        if node.kind == "computed":
            beside = self._beside(symbol, near)
            if inner.law is not None and not inner.symbol:
                formula = self._by_law(inner, beside)
            else:
                formula, _ = self._written(inner, beside)
        meaning = node.meaning or self._law_line(inner).meaning
        told = self._add(
            Step(symbol, meaning, node.kind, formula, {}, node.value, node.unit, source), near
        )
        self._symbols[id(node)] = told
        self._told.append(node)
        return told

    def _beside(self, symbol: str, near: str) -> str:
        """What comes before the symbols that a number needs, where they are another's: its item."""
        item = self._item.match(symbol) or self._item.match(f"{near}_")
        return item[1] if item else symbol

    @staticmethod
    def _law_line(node: Node) -> Line:
        return node.law.lines[node.line] if node.law is not None else Line("", "", "")

    def _by_law(self, node: Node, near: str) -> str:
        """The formula of a law's line, with the symbols that its numbers have here."""
        law = node.law
        if law is None:
            raise TypeError("This number follows no law.")
        symbols: dict[str, str] = {}
        for name, part in zip(law.parameters, node.parts, strict=True):
            text, precedence = self._written(part, near)
            symbols[name] = text if precedence == _ATOM else f"({text})"
        for constant in law.constants:
            self.published(
                constant.symbol, constant.value, constant.meaning, constant.source, constant.unit
            )
        arguments = dict(zip(law.parameters, (part.value for part in node.parts), strict=True))
        try:
            values = law.redo(arguments)
        except (ValueError, ZeroDivisionError, OverflowError):
            values = [math.nan] * len(law.lines)
        needed = _needed(law.lines, node.line)
        for place in needed:
            line = law.lines[place]
            step = Step(
                line.symbol, line.meaning, "computed", _put(line.formula, symbols), {},
                values[place], "", law.source,
            )  # fmt: skip
            symbols[line.symbol] = self._add(step, near)
        return _put(law.lines[node.line].formula, symbols)

    def _written(self, node: Node, near: str) -> tuple[str, int]:
        """Write a number in a formula, and how tightly what is written holds together."""
        if node.symbol or node.law is not None:
            return self._tell(node, near), _ATOM
        if not node.operator:
            text = f"{node.value:.15g}"
            return (text, _ATOM) if node.value >= 0 else (f"({text})", _ATOM)
        own = _PRECEDENCE[node.operator]
        (left, left_holds), (right, right_holds) = (self._written(p, near) for p in node.parts)
        if left_holds < own or own == _POWER:
            left = left if left_holds == _ATOM else f"({left})"
        # a - (b - c) and a / (b / c) are not a - b - c and a / b / c.
        if right_holds < own or (right_holds == own and node.operator in {"-", "/", "**"}):
            right = f"({right})"
        return f"{left} {node.operator} {right}", own

    def _add(self, step: Step, near: str) -> str:
        """Keep a step under its symbol, or under a longer one where that is another number's."""
        names = dict.fromkeys(_NAMES.findall(step.formula or ""))
        used = [name for name in names if name not in FUNCTIONS]
        same = (step.symbol, step.value, step.formula)
        if same in self._taken:
            return self._taken[same]
        for prefix in self._prefixes:
            known = self._found.get(prefix + step.symbol)
            if known is not None and _same(known, step):
                return known.symbol
        own = self._prefixes[-1] + step.symbol
        symbol, longer = own, f"{near}_{step.symbol}" if near else own
        for symbol in chain((own, longer), _counted(own)):
            known = self._found.get(symbol)
            if known is None or _same(known, step):
                break
        whole = math.isfinite(step.value) and all(name in self._found for name in used)
        if whole and symbol not in self._found:
            unit = unit_of(step.symbol)
            self._found[symbol] = Step(
                symbol,
                step.meaning,
                step.kind,
                step.formula,
                {name: self._found[name].value for name in used},
                float(step.value),
                step.unit or (unit.symbol if unit else "1"),
                step.source,
            )
            self._taken[same] = symbol  # a number that parts have in common is told once
        return symbol


def _same(one: Step, other: Step) -> bool:
    """Say whether steps of one symbol are of one number: what is left over may agree by chance."""
    alike = one.formula == other.formula or None in {one.formula, other.formula}
    return alike and math.isclose(one.value, other.value, rel_tol=1e-12)


def _counted(symbol: str) -> Iterable[str]:
    return (f"{symbol}_{place}" for place in range(2, 1000))


def _needed(lines: tuple[Line, ...], last: int) -> list[int]:
    """Which lines of a law another one needs, in order."""
    wanted, found = set(_NAMES.findall(lines[last].formula)), []
    for place in range(last - 1, -1, -1):
        if lines[place].symbol in wanted:
            found.append(place)
            wanted |= set(_NAMES.findall(lines[place].formula))
    return found[::-1]


def _put(formula: str, symbols: Mapping[str, str]) -> str:
    """Put symbols, or what stands for them, in the place of a law's own."""
    return _NAMES.sub(lambda found: symbols.get(found[0], found[0]), formula)
