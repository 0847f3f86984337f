"""The splices of a rope as an audit tells them: who made them, how, when, and what tests say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from gearlog.domain.audited import Spliced
from gearlog.domain.event import Event
from gearlog.domain.finishes import is_finish
from gearlog.domain.history import History
from gearlog.domain.lifecycle import EndView, end_states, finish_stands, standing_splices
from gearlog.domain.places import Stretch, splices_between
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import End, Outcome, label
from gearlog.services.pieces import metres
from gearlog.services.workshop import Workshop

GONE = frozenset({Outcome.CUT_OFF, Outcome.FAILED, Outcome.GIVEN_UP, Outcome.REMADE})
"""Outcomes that say for themselves that the splice is not in use."""


def spliced(
    history: History, entries: Sequence[Event], tests: Mapping[str, Sequence[StrengthTest]], workshop: Workshop
) -> tuple[Spliced, ...]:
    """The splices of an item, corrected ones in their newest version, the newest first; ``entries`` count for it."""
    found = sorted(standing_splices(history.splices), key=lambda one: (one.made_on.latest(), one.created_at))
    at_ends = {view.splice.id for view in _ends(history, entries).values() if view.splice is not None}
    between = {one.splice.id: one.where for one in splices_between(history)}
    earlier = {one.id: one.corrects for one in history.splices if one.corrects}

    def stands(splice: Splice) -> str:
        if splice.outcome in GONE:
            return label(splice.outcome)
        if splice.end is End.BETWEEN:
            place = between.get(splice.id)
            return "in the rope" if place is not None and place.gone is None else "cut off with its part of the rope"
        there = finish_stands(splice, history.splices, entries) if is_finish(splice) else splice.id in at_ends
        return "at its end" if there else "no longer at its end"

    return tuple(
        _told(
            splice,
            history,
            tuple(_tests(splice, tests, earlier)),
            Stand(stands(splice), _where(splice, between.get(splice.id))),
            workshop.title(splice),
        )
        for splice in reversed(found)
    )


def end_titles(history: History, entries: Sequence[Event], workshop: Workshop) -> tuple[str, str]:
    """Titles of the methods of the splices that stand at end A and end B; empty without one."""
    views = _ends(history, entries)
    at = {end: workshop.title(view.splice) for end, view in views.items() if view.splice is not None}
    return at.get(End.A, ""), at.get(End.B, "")


def _ends(history: History, entries: Sequence[Event]) -> Mapping[End, EndView]:
    return end_states(history.item, history.splices, entries)


def _tests(splice: Splice, tests: Mapping[str, Sequence[StrengthTest]], earlier: Mapping[str, str]) -> (
    Iterator[StrengthTest]
):  # fmt: skip
    """The standing tests of a splice and of its earlier versions."""
    version, seen = splice.id, set[str]()
    while version and version not in seen:
        seen.add(version)
        yield from tests.get(version, ())
        version = earlier.get(version, "")


class Stand(NamedTuple):
    """How a splice stands, in words, and where."""

    words: str
    where: str


def _where(splice: Splice, place: Stretch | None) -> str:
    """The end, or where between the ends it lies now; of what was cut off where it lay."""
    if splice.end is not End.BETWEEN:
        return splice.end.value
    if place is not None and place.start is not None:
        return f"at {metres(float(place.start))}"
    return f"at {splice.position}" if splice.position else "between the ends"


def _told(splice: Splice, history: History, tests: tuple[StrengthTest, ...], stand: Stand, method: str) -> Spliced:
    return Spliced(
        tag=history.item.tag,
        rope=history.item.name,
        end=stand.where,
        method=f"{method} (version {splice.method_version})",
        made_on=splice.made_on.text,
        made_by=splice.made_by,
        checked_by=splice.checked_by,
        outcome=label(splice.outcome),
        stands=stand.words,
        finished=_finished(splice),
        tests=tuple(map(_test, tests)),
        gaps=tuple(_gaps(splice, tests)),
    )


def _finished(splice: Splice) -> str:
    parts = [
        f"eye {splice.finished_eye}" if splice.finished_eye else "",
        f"length {splice.finished_length}" if splice.finished_length else "",
        ", ".join(label(one) for one in splice.finish),
    ]
    return "; ".join(part for part in parts if part)


def _test(test: StrengthTest) -> str:
    how = "proof load" if test.kind == "proof" else "broke"
    where = "" if test.failed_at == "nowhere" else f", {label(test.failed_at)}"
    who = f", by {test.tested_by}" if test.tested_by else ""
    return f"{test.tested_on}: {how} at {test.force}{where}{who}"


def _gaps(splice: Splice, tests: Sequence[StrengthTest]) -> Iterator[str]:
    """What the record of a splice that is in use should hold and does not."""
    if splice.outcome in GONE:
        return
    if not splice.made_by:
        yield "no maker of the splice"
    if not splice.checked_by:
        yield "not checked by another"
    if not tests:
        yield "no test of strength"
