"""The gear list and what is due as plain lines, one item a line."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Protocol

from gearlog.domain.vocabulary import Status, label
from gearlog.units.visible import visible


class Listed(Protocol):
    """What a line tells of an item; ``due`` is its state in words and ``reason`` why."""

    @property
    def tag(self) -> str:
        """The short id written on it."""

    @property
    def name(self) -> str:
        """What the crew calls it."""

    @property
    def category(self) -> str:
        """What kind of thing it is, as people read it."""

    @property
    def status(self) -> Status:
        """Where it stands."""

    @property
    def due_on(self) -> date | None:
        """The day by which it is due, or None."""

    @property
    def due(self) -> str:
        """Its state in words."""

    @property
    def reason(self) -> str:
        """Why, in words, the state included."""


def item_lines(rows: Iterable[Listed]) -> tuple[str, ...]:
    """Every item in a line: tag, name, category, status, and when it is due and why."""
    lines = tuple(visible(_item(row)) for row in rows)
    return lines or ("No items yet",)


def due_lines(rows: Iterable[Listed]) -> tuple[str, ...]:
    """What must be seen to, in the order given: what is due, by when, and why."""
    lines = tuple(visible(f"{row.tag} ({row.name}): {row.reason}") for row in rows)
    return lines or ("Nothing is due",)


def _item(row: Listed) -> str:
    status = label(row.status)
    reason = row.reason if row.reason.startswith(status) else f"{status}, {row.reason}"
    return f"{row.tag}: {row.name}, {row.category}, {reason}"
