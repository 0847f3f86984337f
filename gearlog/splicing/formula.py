"""The small language of method files: + - * /, brackets, numbers and names, with units carried along.

A value is exact (Fraction) and has a dimension: 0 for a plain number, 1 for a length in metres. Adding a number to a
length is refused. There are no powers, calls or attributes, so a formula can neither hang nor reach anything.
"""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from gearlog.errors import GearlogError

LONGEST = 200  # characters of a formula; the longest built-in one has about 90
_WORD = re.compile(r"[A-Za-z_]\w*")


class FormulaError(GearlogError):
    """A formula that cannot be read or worked out; the message says why."""

    title = "Formula"


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact value in SI with its dimension: 0 a number, 1 a length in metres."""

    value: Fraction
    dimension: int = 0


@lru_cache(maxsize=1024)
def metres(value: float) -> Quantity:
    """A length from a float: the shortest decimal that means this float, exact."""
    return Quantity(Fraction(repr(value)), 1)


def number(value: int) -> Quantity:
    """A plain whole number."""
    return Quantity(Fraction(value))


def evaluate(text: str, names: Mapping[str, Quantity]) -> Quantity:
    """Work out ``text``; raises FormulaError for unknown names, mixed units or a division by zero."""
    return _value(_tree(text), names)


@lru_cache(maxsize=1024)
def names_in(text: str) -> frozenset[str]:
    """The names that a formula uses."""
    return frozenset(node.id for node in ast.walk(_tree(text)) if isinstance(node, ast.Name))


def words_in(text: str) -> frozenset[str]:
    """Every word of a formula, of one put together from several too, which is longer than what a file may hold."""
    return frozenset(_WORD.findall(text))


def put_in(text: str, shown: Mapping[str, str]) -> str:
    """The formula with each name replaced by its value as shown, for explaining."""
    return _WORD.sub(lambda match: shown.get(match[0], match[0]), text)


@lru_cache(maxsize=1024)
def _tree(text: str) -> ast.expr:
    if len(text) > LONGEST:
        raise FormulaError(f"the formula has {len(text)} characters; at most {LONGEST} are read")
    try:
        return ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError):
        raise FormulaError(f"'{text}' is not a formula; write one like 2 * fid + eye") from None


def _value(node: ast.expr, names: Mapping[str, Quantity]) -> Quantity:
    match node:
        case ast.Constant(value=bool()):
            raise FormulaError("only numbers and names are read")
        case ast.Constant(value=int() | float() as plain) if math.isfinite(plain):
            return _constant(plain)
        case ast.Name(id=name):
            if name not in names:
                raise FormulaError(f"the name '{name}' is not known here; known: {', '.join(sorted(names))}")
            return names[name]
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            value = _value(inner, names)
            return Quantity(-value.value, value.dimension)
        case ast.BinOp(left=left, op=op, right=right):
            return _joined(type(op), _value(left, names), _value(right, names))
    raise FormulaError("only + - * /, brackets, numbers and names are read")


@lru_cache(maxsize=1024)
def _constant(plain: float) -> Quantity:
    return Quantity(Fraction(repr(plain)))


_SUMS: dict[type[ast.operator], Callable[[Fraction, Fraction], Fraction]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
}


def _joined(op: type[ast.operator], left: Quantity, right: Quantity) -> Quantity:
    if op in _SUMS:
        if left.dimension != right.dimension:
            raise FormulaError("a length and a plain number cannot be added")
        return Quantity(_SUMS[op](left.value, right.value), left.dimension)
    if op is ast.Mult:
        return Quantity(left.value * right.value, left.dimension + right.dimension)
    if op is ast.Div:
        if right.value == 0:
            raise FormulaError("a division by zero")
        return Quantity(left.value / right.value, left.dimension - right.dimension)
    raise FormulaError("only + - * / are read; powers and other signs are not")
