"""What lies along a rope from end A to end B, for a drawing."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.lifecycle import EndView
from gearlog.domain.plan import Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, Outcome, label
from gearlog.services.gear_views import Along, FindingRow, RopeAlong
from gearlog.services.story import Titles
from gearlog.services.views import Card

_GONE = frozenset({Outcome.CUT_OFF, Outcome.FAILED, Outcome.GIVEN_UP})


def rope_along(card: Card, title: Titles) -> RopeAlong | None:
    """The rope of a card; None for what is no rope and where its length is not known."""
    length = card.length_now_m
    if not card.ends or not length:
        return None
    marks = [*_ends(card, length, title), *_between(card, length, title), *_findings(card.findings, length)]
    return RopeAlong(
        length_m=length,
        end_a=_words(card.ends[End.A]),
        end_b=_words(card.ends[End.B]),
        marks=tuple(sorted(marks, key=lambda mark: (mark.from_m, mark.to_m))),
    )


def _words(view: EndView) -> str:
    return label(view.state)


def _ends(card: Card, length: float, title: Titles) -> Iterator[Along]:
    for end, view in card.ends.items():
        plan = view.splice.plan if view.splice is not None else None
        if view.splice is not None and plan is not None:
            yield from _splice(end, view.splice, plan, length, title)


def _splice(end: End, splice: Splice, plan: Plan, length: float, title: Titles) -> Iterator[Along]:
    """The splice from the end to its throat, and beyond it the rope over what is buried."""
    throat = min(plan.rope_used_m or 0.0, length)
    last = min(max((mark.at_m for mark in plan.marks), default=throat), length)
    yield _from(end, "splice", 0.0, throat, length, title(splice))
    if last > throat:
        yield _from(end, "bury", throat, last, length, f"bury of the {title(splice)}")


def _from(end: End, what: str, start: float, stop: float, length: float, words: str) -> Along:
    """A stretch measured from one end, as one measured from end A."""
    if end is End.A:
        return Along(what, start, stop, words)
    return Along(what, length - stop, length - start, words)


def _between(card: Card, length: float, title: Titles) -> Iterator[Along]:
    for row in card.splices:
        splice, place = row.splice, card.places.get(row.splice.id)
        if splice.end is End.BETWEEN and place is not None and splice.outcome not in _GONE and place <= length:
            yield Along("splice", place, place, title(splice))


def _findings(rows: tuple[FindingRow, ...], length: float) -> Iterator[Along]:
    for row in rows:
        if row.gone or row.from_m is None or row.to_m is None or row.from_m > length:
            continue
        what = "worn" if row.to_m > row.from_m else "finding"
        yield Along(what, row.from_m, min(row.to_m, length), row.finding.words, row.finding.severity.value)
