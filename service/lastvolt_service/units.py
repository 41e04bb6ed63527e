"""Units by name: the last part of a quantity's name is its unit.

This is the one list that schemas, results, docstrings and the OpenAPI document draw on.
A name that ends in none of these suffixes is a plain number without a unit.

The bounds are physical floors and ceilings of anything met in 6 V, 12 V and 24 V vehicle wiring,
wide enough for every honest value; a schema narrows them where a field needs it. Floors above
zero keep denormal numbers, and with them divisions that overflow, out of the arithmetic.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of measure.

    Attributes
    ----------
    suffix : str
        End of the names of all quantities that carry this unit.
    symbol : str
        The unit as it is written in answers, docstrings and the OpenAPI document.
    quantity : str
        What is measured.
    minimum, maximum : float
        Inclusive bounds of an input, in this unit.
    """

    suffix: str
    symbol: str
    quantity: str
    minimum: float
    maximum: float


class Interval(NamedTuple):
    """A number known only within bounds.

    Attributes
    ----------
    low, high : float
        Inclusive ends, `low` no higher than `high`.
    """

    low: float
    high: float


def low_end(value: Any) -> Any:
    """Take the low end of an interval; any other value is its own."""
    return value.low if isinstance(value, Interval) else value


def high_end(value: Any) -> Any:
    """Take the high end of an interval; any other value is its own."""
    return value.high if isinstance(value, Interval) else value


UNITS = (
    Unit("_ohm_mm2_per_m", "ohm*mm2/m", "resistivity", 1e-3, 10.0),
    Unit("_ohm_per_m", "ohm/m", "resistance per length", 0.0, 1e3),
    Unit("_k_per_w", "K/W", "thermal resistance", 1e-3, 1e4),
    Unit("_v_per_k", "V/K", "temperature coefficient of a voltage", 0.0, 0.1),
    Unit("_per_k", "1/K", "temperature coefficient", 0.0, 0.1),
    Unit("_w_per_m_k", "W/(m*K)", "thermal conductivity", 1e-3, 1e3),
    Unit("_w_per_m2_k", "W/(m2*K)", "heat transfer coefficient", 0.0, 1e6),
    Unit("_w_per_m", "W/m", "power per length", 0.0, 1e6),
    Unit("_j_per_m3_k", "J/(m3*K)", "heat capacity per volume", 0.0, 1e9),
    Unit("_j_per_m_k", "J/(m*K)", "heat capacity per length", 0.0, 1e6),
    Unit("_k_m_per_w", "K*m/W", "thermal resistance per length", 0.0, 1e4),
    Unit("_m2_per_s", "m2/s", "diffusivity", 0.0, 1.0),
    Unit("ampere_turns", "A", "magnetomotive force in ampere-turns", 1e-3, 1e6),
    Unit("turns", "1", "number of turns", 1.0, 1e6),
    Unit("ageing_factor", "1", "factor on the resistance of contacts", 0.01, 1e3),
    Unit("cost", "1", "what a thing costs, in any one money", 0.0, 1e9),
    Unit("_percent", "%", "share", 0.0, 100.0),
    Unit("_mm2", "mm2", "area", 1e-4, 1e5),
    Unit("_mm", "mm", "length", 1e-3, 1e3),
    Unit("_ohm", "ohm", "resistance", 0.0, 1e6),
    Unit("_a2s", "A2s", "let-through integral", 0.0, 1e12),
    Unit("_pa", "Pa", "pressure", 1e3, 2e5),
    Unit("_v", "V", "voltage", 0.0, 1e3),
    Unit("_a", "A", "current", 0.0, 1e4),
    Unit("_w", "W", "power", 0.0, 1e6),
    Unit("_n", "N", "force", 1e-3, 1e6),
    Unit("_m", "m", "length", 0.0, 1e3),
    Unit("_k", "K", "temperature difference", 0.0, 1e3),
    Unit("_c", "degC", "temperature", -60.0, 400.0),
    Unit("_s", "s", "time", 0.0, 1e6),
)

_LONGEST_FIRST = tuple(sorted(UNITS, key=lambda unit: len(unit.suffix), reverse=True))


@cache
def unit_of(name: str) -> Unit | None:
    """Tell the unit that a quantity's name ends in.

    Parameters
    ----------
    name : str
        Name of a field, parameter or column, for example ``"length_m"``.

    Returns
    -------
    Unit or None
        None where the name carries no unit.
    """
    return next((unit for unit in _LONGEST_FIRST if f"_{name}".endswith(unit.suffix)), None)
