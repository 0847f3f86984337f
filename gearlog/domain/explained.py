"""One number of a plan explained: its formula, the formula with values put in, what went in, where it is from."""

from __future__ import annotations

import msgspec


class Explained(msgspec.Struct, frozen=True, kw_only=True):
    """An explanation that can be worked out again with pencil and paper.

    Attributes:
        key: where the number stands in the plan, for example ``marks[1].at_m``.
        title: what it is, in words.
        number: the number itself, in SI or a plain number.
        value: the number in words, on the user's tape.
        formula: the rule, in names.
        worked: the rule with values and units put in; worked out it gives the number.
        inputs: what went in, each with its value and where that is from.
        source: where the rule is from.
        common_practice: whether it is common practice, unconfirmed.
    """

    key: str
    title: str
    number: float
    value: str
    formula: str
    worked: str
    inputs: tuple[str, ...] = ()
    source: str
    common_practice: bool = False
