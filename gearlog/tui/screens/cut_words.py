"""What a cut will do, said before it is made: what is left, what goes with it, and where the rest lies afterwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import End, Unit, label
from gearlog.services import cut_through
from gearlog.services.gear_views import FindingRow
from gearlog.services.views import Card
from gearlog.units.along import place

MOST = 6  # findings told one by one; a dialog on 24 lines has no room for more
Told = Callable[[float], str]
"""A length (m) on the user's tape."""


def cut_words(card: Card, end: End, cut_m: float, settings: Settings, *, becomes: str = "") -> str:
    """A sentence a line; ``becomes`` is the tag or name of what the cut-off part goes on as."""
    first, *others = _sentences(card, end, cut_m, becomes, imperial=settings.unit is Unit.IMPERIAL)
    return "\n".join(filter(None, (first, through_words(card, end, cut_m, settings), *others)))


def through_words(card: Card, end: End, cut_m: float, settings: Settings) -> str:
    """A sentence for each splice that the cut goes through; empty for none."""
    through = cut_through.met(card.ends, end, cut_m, card.length_now_m)
    return "\n".join(cut_through.words_of(through, settings.unit))


def _sentences(card: Card, end: End, cut_m: float, becomes: str, *, imperial: bool) -> Iterator[str]:
    told: Told = partial(place, imperial=imperial)
    goes = f"becomes {becomes}" if becomes else "goes for good"
    yield f"{told(cut_m)} off end {end} of {card.item.tag}: it {goes}."
    before = card.length_now_m
    if before is not None:
        yield f"The rope: {told(before)} now, {told(max(before - cut_m, 0.0))} afterwards."
    view = card.ends.get(end)
    met = cut_through.met(card.ends, end, cut_m, before)
    if view is not None and view.splice is not None and end not in met:
        yield f"The splice at {end} ({label(view.state)} {view.splice.made_on}) goes with it."
    if end is End.A:
        yield "Every distance from end A gets shorter by it."
    moves = [words for row in _by_place(card.findings) for words in _moves(row, end, cut_m, before, told)]
    yield from moves[:MOST]
    if len(moves) > MOST:
        yield f"{len(moves) - MOST} findings more move with their metre."


def _by_place(rows: tuple[FindingRow, ...]) -> list[FindingRow]:
    return sorted(rows, key=lambda row: row.from_m or 0.0)


def _moves(row: FindingRow, end: End, cut_m: float, before: float | None, told: Told) -> Iterator[str]:
    if row.gone or row.from_m is None or row.to_m is None:
        return
    what = f"'{row.finding.words}' at {told(row.from_m)}"
    if end is End.A:
        left = row.to_m < cut_m
        yield f"{what} goes with it." if left else f"{what} will lie at {told(max(row.from_m - cut_m, 0.0))}."
    elif before is not None and row.from_m > before - cut_m:
        yield f"{what} goes with it."
