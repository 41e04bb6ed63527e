"""A pocket calculator: it knows the steps and nothing else."""

import ast
import math
import operator
from collections.abc import Mapping, Sequence
from typing import Any

BINARY = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}
FUNCTIONS = {
    "sqrt": math.sqrt,
    "ln": math.log,
    "log10": math.log10,
    "exp": math.exp,
    "min": min,
    "max": max,
}


def evaluate(node: ast.AST, known: Mapping[str, float]) -> float:
    match node:
        case ast.Expression(body):
            return evaluate(body, known)
        case ast.Constant(int() | float() as value):
            return float(value)
        case ast.Name(name):
            return known[name]
        case ast.BinOp(left, op, right):
            return float(BINARY[type(op)](evaluate(left, known), evaluate(right, known)))
        case ast.Call(ast.Name(name), arguments, []):
            return float(FUNCTIONS[name](*(evaluate(each, known) for each in arguments)))
    raise ValueError(f"{ast.dump(node)} is beyond a pocket calculator")


def scale(node: ast.AST, known: Mapping[str, float]) -> float:
    """What rounding is measured by: the terms of a sum or difference, not what is left of them."""
    match node:
        case ast.Expression(body):
            return scale(body, known)
        case ast.BinOp(left, ast.Add() | ast.Sub(), right):
            return scale(left, known) + scale(right, known)
        case ast.Call(ast.Name("max" | "min"), arguments, []):
            return max(scale(each, known) for each in arguments)
    return abs(evaluate(node, known))


def redo(steps: Sequence[Mapping[str, Any]]) -> dict[str, float]:
    """Calculate every step from those before; numbers that are not calculated are taken."""
    known: dict[str, float] = {}
    for step in steps:
        symbol, formula = step["symbol"], step["formula"]
        assert symbol.isidentifier()
        assert symbol not in known, f"{symbol} stands twice"
        if formula is None:
            known[symbol] = step["value"]
            continue
        tree = ast.parse(formula, mode="eval")
        names = {each.id for each in ast.walk(tree) if isinstance(each, ast.Name)} - set(FUNCTIONS)
        assert names == set(step["inputs"])
        assert names <= known.keys(), f"{symbol} needs what comes later"
        known[symbol] = evaluate(tree, known)
        # Digits that a double keeps through a few operations, far more than any answer prints.
        allowed = 1e-9 * scale(tree, known)
        assert abs(known[symbol] - step["value"]) <= allowed, f"{symbol} = {formula}"
        for name, value in step["inputs"].items():
            assert value == next(each["value"] for each in steps if each["symbol"] == name)
    return known
