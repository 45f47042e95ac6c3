"""A formula as a source prints it, worked out for given numbers: + - * / ^, brackets, powers, sqrt and cos.

>>> round(evaluated("0.0168 * W", {"W": 1000.0}), 1)
16.8
>>> evaluated("2 * (a^2 + sqrt(b))", {"a": 3.0, "b": 16.0})
26.0
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping

TWO: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: lambda a, b: a + b, ast.Sub: lambda a, b: a - b, ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b, ast.Pow: lambda a, b: a**b,
}  # fmt: skip
ONE: Mapping[str, Callable[[float], float]] = {"sqrt": math.sqrt, "cos": math.cos}


def evaluated(formula: str, values: Mapping[str, float]) -> float:
    """The number a formula gives; NaN where one it needs is NaN. KeyError for a name without a number, ValueError for
    what is no such formula."""
    return _of(_tree(formula), values)


def names(formula: str) -> tuple[str, ...]:
    """The names a formula needs, each once, in the order they stand."""
    found = (n for n in ast.walk(_tree(formula)) if isinstance(n, ast.Name) and n.id not in ONE)
    return tuple(dict.fromkeys(n.id for n in sorted(found, key=lambda n: n.col_offset)))


def _tree(formula: str) -> ast.expr:
    try:
        return ast.parse(formula.replace("^", "**"), mode="eval").body
    except SyntaxError as fault:
        raise ValueError(f"not a formula: {formula}") from fault


def _of(node: ast.expr, values: Mapping[str, float]) -> float:
    match node:
        case ast.Constant(value=int() | float() as value):
            return float(value)
        case ast.Name(id=name):
            return float(values[name])
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_of(inner, values)
        case ast.BinOp(left=a, op=op, right=b) if type(op) in TWO:
            return TWO[type(op)](_of(a, values), _of(b, values))
        case ast.Call(func=ast.Name(id=name), args=[inner], keywords=[]) if name in ONE:
            return ONE[name](_of(inner, values))
    raise ValueError(f"not a part of a formula: {ast.unparse(node)}")
