"""Steps of a calculation, as someone with a pocket calculator takes them."""

import math
import re
from dataclasses import dataclass
from typing import Annotated, Literal

from lastvolt_service.units import unit_of

Kind = Literal["given", "published", "solved", "computed"]

GIVEN = "the request"
OHM = "Ohm's law"
JOULE = "Joule's law"
KIRCHHOFF = "Kirchhoff's laws"
FUNCTIONS = ("sqrt", "ln", "log10", "exp", "min", "max")
# Of lists longer than this the first items are explained in full, the others as far as sums need.
MOST_ITEMS = 20

_NAMES = re.compile(r"(?<![\w.])[A-Za-z_]\w*")


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
    """Steps in the making, in order.

    A number that is not finite has no step, and neither has what would follow from it. A symbol
    that is there already is not made twice.
    """

    def __init__(self) -> None:
        self._found: dict[str, Step] = {}

    def all(self) -> tuple[Step, ...]:
        """Give the steps.

        Returns
        -------
        tuple of Step
        """
        return tuple(self._found.values())

    def __contains__(self, symbol: str) -> bool:
        return symbol in self._found

    def value(self, symbol: str) -> float:
        """Tell the value of a symbol.

        Parameters
        ----------
        symbol : str
            Of a step.

        Returns
        -------
        float
            NaN where there is no such step.
        """
        step = self._found.get(symbol)
        return math.nan if step is None else step.value

    def given(
        self, symbol: str, value: float, meaning: str, source: str = GIVEN, unit: str | None = None
    ) -> str:
        """Take a number of the request; parameters and result as of `computed`."""
        return self._add(symbol, value, meaning, "given", source, unit)

    def published(
        self, symbol: str, value: float, meaning: str, source: str, unit: str | None = None
    ) -> str:
        """Take a number of a table or a model; parameters and result as of `computed`."""
        return self._add(symbol, value, meaning, "published", source, unit)

    def solved(self, symbol: str, value: float, meaning: str, source: str) -> str:
        """Take a number that was found by trial; parameters and result as of `computed`."""
        return self._add(symbol, value, meaning, "solved", source, None)

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
            self._add(symbol, value, meaning, "computed", source, unit, formula, inputs)
        return symbol

    def pi(self) -> None:
        """Take the ratio of a circle's circumference to its diameter."""
        self.published("pi", math.pi, "circumference of a circle over its diameter", "geometry")

    def _add(
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


def interpolated(
    steps: Steps,
    symbol: str,
    at: str,
    points: tuple[tuple[float, float], ...],
    value: float,
    meaning: str,
    source: str,
    *,
    logarithmic: bool = False,
) -> str:
    """Take a number from a straight line between two published points.

    Parameters
    ----------
    steps : Steps
        Where to.
    symbol, at : str
        What is looked up, and where on the axis.
    points : tuple of (float, float)
        Of the table, rising; the value at an end holds beyond it.
    value : float
        What comes out.
    meaning, source : str
        As in a step.
    logarithmic : bool
        Whether the line is straight between logarithms.

    Returns
    -------
    str
        The symbol.
    """
    here = steps.value(at)
    above = next((place for place, (x, _) in enumerate(points) if x >= here), len(points))
    if above in (0, len(points)):
        return steps.published(symbol, value, f"{meaning}, at the end of the table", source)
    (x0, y0), (x1, y1) = (
        (
            steps.published(f"{side}_{symbol}_{at}", x, f"point of the table {side}", source),
            steps.published(f"{side}_{symbol}", y, f"{meaning}, there", source),
        )
        for side, (x, y) in (("below", points[above - 1]), ("above", points[above]))
    )
    if logarithmic:
        formula = f"exp(ln({y0}) + (ln({y1}) - ln({y0})) * ln({at} / {x0}) / ln({x1} / {x0}))"
    else:
        formula = f"{y0} + ({y1} - {y0}) * ({at} - {x0}) / ({x1} - {x0})"
    return steps.computed(symbol, formula, value, meaning, source)
