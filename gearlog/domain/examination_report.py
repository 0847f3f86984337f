"""The report of one thorough examination, as LOLER 1998 asks it in Schedule 1: what it asks, and what is told."""

from __future__ import annotations

import msgspec


class Told(msgspec.Struct, frozen=True):
    """One particular of the report.

    Attributes:
        paragraph: of Schedule 1, such as ``8(a)``.
        asks: what it asks for, in our words.
        text: what is told, or empty: then it is missing and has to be written in by hand.
    """

    paragraph: str
    asks: str
    text: str


class ExaminationReport(msgspec.Struct, frozen=True, kw_only=True):
    """A report of one examination of one item.

    Attributes:
        tag: the item's tag; ``name`` what the crew calls it.
        on: the date of the examination.
        safe: whether the item is safe to operate by the verdict; None where the record names none.
        told: every particular, in the order of the law.
        digest: SHA-256 of the item and its entries from which the report is made.
    """

    tag: str
    name: str
    on: str
    safe: bool | None
    told: tuple[Told, ...]
    digest: str

    @property
    def missing(self) -> tuple[Told, ...]:
        """What the law asks and nobody told."""
        return tuple(one for one in self.told if not one.text)
