"""The splices of a rope as an audit tells them: who made them, how, when, and what tests say."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from gearlog.domain.audited import Spliced
from gearlog.domain.counting import counted
from gearlog.domain.history import History
from gearlog.domain.lifecycle import EndView, end_states, standing_splices
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import End, Outcome, label
from gearlog.services.workshop import Workshop

GONE = frozenset({Outcome.CUT_OFF, Outcome.FAILED, Outcome.GIVEN_UP, Outcome.REMADE})
"""Outcomes that say for themselves that the splice is not in use."""


def spliced(history: History, tests: Mapping[str, Sequence[StrengthTest]], workshop: Workshop) -> tuple[Spliced, ...]:
    """The splices of an item, corrected ones in their newest version, the newest first."""
    found = sorted(standing_splices(history.splices), key=lambda one: (one.made_on.latest(), one.created_at))
    at_ends = {view.splice.id for view in _ends(history).values() if view.splice is not None}
    earlier = {one.id: one.corrects for one in history.splices if one.corrects}
    return tuple(
        _told(splice, history, tuple(_tests(splice, tests, earlier)), splice.id in at_ends, workshop.title(splice))
        for splice in reversed(found)
    )


def end_titles(history: History, workshop: Workshop) -> tuple[str, str]:
    """Titles of the methods of the splices that stand at end A and end B; empty without one."""
    views = _ends(history)
    at = {end: workshop.title(view.splice) for end, view in views.items() if view.splice is not None}
    return at.get(End.A, ""), at.get(End.B, "")


def _ends(history: History) -> Mapping[End, EndView]:
    return end_states(history.item, history.splices, counted(history))


def _tests(splice: Splice, tests: Mapping[str, Sequence[StrengthTest]], earlier: Mapping[str, str]) -> (
    Iterator[StrengthTest]
):  # fmt: skip
    """The standing tests of a splice and of its earlier versions."""
    version, seen = splice.id, set[str]()
    while version and version not in seen:
        seen.add(version)
        yield from tests.get(version, ())
        version = earlier.get(version, "")


def _told(splice: Splice, history: History, tests: tuple[StrengthTest, ...], at_end: bool, method: str) -> Spliced:  # noqa: FBT001
    where = splice.end.value
    if splice.end is End.BETWEEN:
        where = f"at {splice.position}" if splice.position else "between the ends"
    return Spliced(
        tag=history.item.tag,
        rope=history.item.name,
        end=where,
        method=f"{method} (version {splice.method_version})",
        made_on=splice.made_on.text,
        made_by=splice.made_by,
        checked_by=splice.checked_by,
        outcome=label(splice.outcome),
        stands=_stands(splice, at_end=at_end),
        finished=_finished(splice),
        tests=tuple(map(_test, tests)),
        gaps=tuple(_gaps(splice, tests)),
    )


def _stands(splice: Splice, *, at_end: bool) -> str:
    if splice.outcome in GONE:
        return label(splice.outcome)
    if splice.end is End.BETWEEN:
        return "in the rope"
    return "at its end" if at_end else "no longer at its end"


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
