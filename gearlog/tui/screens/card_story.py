"""An item's life as a line of time, the newest first: what is to come, today, what happened, when it was made."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from textual.content import Content

from gearlog.domain.dates import PartialDate
from gearlog.domain.vocabulary import label
from gearlog.services.gear_views import Entry
from gearlog.services.views import Card
from gearlog.tui.widgets.prose import heading, prose, table

DATE = 10  # cells: an ISO date
COMES, NOW, HAPPENED, STRUCK, PARENT = ".", ">", "o", "x", "-"
"""The sign before a line: to come, now, happened, struck out, happened to what it was cut from."""


class Moment(NamedTuple):
    """One line of the line of time."""

    sign: str
    on: str
    what: str
    words: str


def story_words(card: Card, today: date, width: int) -> list[Content]:
    """The whole line of time."""
    rows = [*_to_come(card, today), _now(card, today), *_past(card)]
    longest = max(len(row.what) for row in rows)
    lines = [line for row in rows for line in _line(row, longest, width)]
    nothing = prose("Nothing happened yet. r records what happens, i inspects it.", width, "$quiet")
    return [*heading("History"), *lines, *(() if card.story else nothing)]


def _line(row: Moment, longest: int, width: int) -> list[Content]:
    lines = table([row], (1, DATE, longest), width)
    style = {STRUCK: "$quiet", COMES: "$quiet", PARENT: "$quiet", NOW: "bold"}.get(row.sign, "")
    return [line.stylize(style) for line in lines] if style else lines


def _to_come(card: Card, today: date) -> Iterator[Moment]:
    """The end of life and the next due date, where they lie ahead."""
    ahead = ((card.life_end.on, "end of life", card.life_end.reason), (card.due.due_on, "due", card.due.rule))
    found = [(on, what, why) for on, what, why in ahead if on is not None and on > today]
    for on, what, why in sorted(found, reverse=True):
        yield Moment(COMES, on.isoformat(), what, why)


def _now(card: Card, today: date) -> Moment:
    has = f", on loan to {card.loan.to or 'somebody'}" if card.loan else ""
    owner = f", assigned to {card.assigned_to}" if card.assigned_to else ""
    what = "today" if card.on is None else "that day"
    return Moment(NOW, today.isoformat(), what, f"{label(card.status)}{owner}{has}")


def _past(card: Card) -> list[Moment]:
    """What happened, the newest first; of two on one day the one written down later."""
    item = card.item
    dates = (("made", item.made_on), ("bought", item.bought_on), ("first used", item.first_used_on))
    own = [(on, Moment(HAPPENED, on.text, what, "")) for what, on in dates if on is not None]
    told = [*own, *((PartialDate(entry.on), _moment(entry)) for entry in card.story)]
    return [moment for _, moment in sorted(told, key=lambda pair: pair[0].earliest())][::-1]


def _moment(entry: Entry) -> Moment:
    if entry.struck:
        return Moment(STRUCK, entry.on, entry.what, f"STRUCK OUT: {entry.struck}, {entry.words}".rstrip(", "))
    if entry.inherited:
        return Moment(PARENT, entry.on, entry.what, f"before the cut: {entry.words}".rstrip(": "))
    return Moment(HAPPENED, entry.on, entry.what, entry.words)


def entry_words(entry: Entry) -> str:
    """An entry in one line, to be chosen from a list."""
    return f"{entry.on}  {entry.what}  {entry.words}"
