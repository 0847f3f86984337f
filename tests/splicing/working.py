"""A small evaluator of worked formulas, apart from the program: numbers with units, + - * /, brackets, functions.

Lengths become metres, forces newtons; whole numbers and decimals stay exact until a function needs a float.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from fractions import Fraction

UNITS = {
    "mm": Fraction(1, 1000),
    "in": Fraction(254, 10_000),
    "kN": Fraction(1000),
    "lbf": Fraction("4.4482216152605"),
}
FUNCTIONS: dict[str, Callable[..., float | Fraction]] = {
    "ceil": math.ceil,
    "floor": math.floor,
    "min": min,
    "sqrt": math.sqrt,
    "sin": math.sin,
    "cos": math.cos,
    "asin": math.asin,
    "degrees": math.degrees,
    "radians": math.radians,
}
TOKENS = re.compile(r"\s*(?:(\d+(?:\.\d+)?)(?: (mm|in|kN|lbf)\b)?|([a-z]+)|(.))")

Value = float | Fraction


def work_out(text: str) -> Value:
    """The value of a worked formula; ValueError for anything that is none."""
    tokens = list(TOKENS.finditer(text.strip()))
    reader = _Reader([match.groups() for match in tokens])
    value = reader.sum()
    if reader.at != len(tokens):
        raise ValueError(f"{text!r} is not read to its end")
    return value


class _Reader:
    def __init__(self, tokens: Sequence[tuple[str | None, ...]]) -> None:
        self.tokens = tokens
        self.at = 0

    def sum(self) -> Value:
        value = self.product()
        while (sign := self.take("+-")) is not None:
            other = self.product()
            value = value + other if sign == "+" else value - other
        return value

    def product(self) -> Value:
        value = self.single()
        while (sign := self.take("*/")) is not None:
            other = self.single()
            value = value * other if sign == "*" else value / other
        return value

    def single(self) -> Value:
        if self.take("-"):
            return -self.single()
        if self.take("("):
            return self.closed(self.sum())
        number, unit, name, sign = self.tokens[self.at]
        self.at += 1
        if number is not None:
            return Fraction(number) * (UNITS[unit] if unit else 1)
        if name is None or self.take("(") is None:
            raise ValueError(f"{name or sign!r} is not read here")
        return FUNCTIONS[name](*self.arguments())

    def arguments(self) -> list[Value]:
        found = [self.sum()]
        while self.take(","):
            found.append(self.sum())
        self.closed(found[0])
        return found

    def closed(self, value: Value) -> Value:
        if self.take(")") is None:
            raise ValueError("a bracket is not closed")
        return value

    def take(self, signs: str) -> str | None:
        sign = self.tokens[self.at][3] if self.at < len(self.tokens) else None
        if sign is None or sign not in signs:
            return None
        self.at += 1
        return sign
