"""Each law says what its function computes: redone by a calculator that knows neither."""

import ast
import importlib
import math
import pkgutil

import numpy as np
import pytest

from lastvolt_service import physics
from lastvolt_service.laws import LAWS, Law
from lastvolt_service.units import unit_of

from ..explain.calculator import evaluate, scale

for module in pkgutil.iter_modules(physics.__path__):
    importlib.import_module(f"{physics.__name__}.{module.name}")

DRAWS = 300
# Of the draws, so many at least must be in the range of the law, or nothing was proved.
LEAST_VALID = 60


def drawn(name: str, random: np.random.Generator) -> float:
    """Draw a quantity, in the order of magnitude that its unit has in vehicles."""
    unit = unit_of(name)
    if unit is None:
        return float(random.uniform(0.3, 3.0))
    if unit.symbol == "degC":
        return float(random.uniform(-40.0, 200.0))
    low, high = max(unit.minimum, 1e-3), min(unit.maximum, max(1e3, 1e2 * unit.minimum))
    return float(np.exp(random.uniform(np.log(low), np.log(high))))


def all_drawn(names: tuple[str, ...], random: np.random.Generator) -> dict[str, float]:
    """Draw the arguments of a law; insulation fits its conductor, pulses have time to fall."""
    found = {name: drawn(name, random) for name in names}
    if "outer_diameter_mm" in found and "conductor_diameter_mm" in found:
        found["outer_diameter_mm"] = found["conductor_diameter_mm"] * random.uniform(1.05, 4.0)
    if "decay_s" in found:  # of far shorter times a calculator's digits are lost in 1 - exp(...)
        found["time_s"] = found["decay_s"] * random.uniform(0.05, 20.0)
    return found


def redo(law: Law, arguments: dict[str, float]) -> tuple[list[float], list[float]]:
    """Results of a law by the lines as they are written, and what rounding is measured by."""
    known = {each.symbol: each.value for each in law.constants} | arguments
    scales = dict.fromkeys(known, 0.0)
    for line in law.lines:
        tree = ast.parse(line.formula, mode="eval")
        known[line.symbol] = evaluate(tree, known)
        scales[line.symbol] = scale(tree, known)
    last = [line.symbol for line in law.lines[-law.results :]]
    return [known[symbol] for symbol in last], [scales[symbol] for symbol in last]


@pytest.mark.parametrize("name", LAWS)
def test_a_law_is_what_its_function_computes(name: str) -> None:
    law = LAWS[name]
    function = getattr(importlib.import_module(law.module), name)
    random = np.random.default_rng(20260101)
    valid = 0
    for _ in range(DRAWS):
        arguments = all_drawn(law.parameters, random)
        with np.errstate(all="ignore"):
            found = np.atleast_1d(np.array(function(**arguments), dtype=float))
        if not np.isfinite(found).all():
            continue
        try:
            told, rounding = redo(law, arguments)
        except (ValueError, ZeroDivisionError, OverflowError):
            continue
        if not all(map(math.isfinite, told)):
            continue
        valid += 1
        for one, other, size in zip(found.tolist(), told, rounding, strict=True):
            # A few operations of double precision, in which terms may cancel.
            assert abs(one - other) <= 1e-11 * max(abs(one), size), (name, arguments)
    assert valid >= LEAST_VALID


@pytest.mark.parametrize("name", LAWS)
def test_a_law_names_what_it_has(name: str) -> None:
    law = LAWS[name]
    known = {*law.parameters, *(each.symbol for each in law.constants)}
    for line in law.lines:
        names = {
            node.id
            for node in ast.walk(ast.parse(line.formula, mode="eval"))
            if isinstance(node, ast.Name)
        }
        assert names <= known | {"sqrt", "ln", "log10", "exp", "min", "max"}, line
        assert line.meaning
        known.add(line.symbol)
    assert law.source


def test_a_wrong_law_is_found() -> None:
    law = LAWS["switch_off_peak"]
    arguments = dict.fromkeys(law.parameters, 2.0)
    (told,), _ = redo(law, arguments)
    assert told == 2.0 + 2.0 + 2.0 / 2.0 * 2.0
