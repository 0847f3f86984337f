"""What asks for attention as lines: the most urgent first, each with its reason, and where Enter goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from gearlog.domain.vocabulary import label
from gearlog.services.notes import UNDESTROYED
from gearlog.services.views import GearRow, SpliceRow, Today
from gearlog.upkeep.due import UNTIL_RELEASED

if TYPE_CHECKING:
    from gearlog.services.bench_views import BenchView

GAPS = "gaps"
"""The state of items whose record lacks a particular, where a state is chosen in the list of gear."""


LEADS = ("OVERDUE: ", "due soon: ", "quarantined (")
"""How a reason begins."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the screen.

    Attributes:
        id: section and record, unlike every other line's.
        place: the screen that Enter goes to; ``record_id`` what it shows there.
        what: in a word, what is up.
        style: how loud the word is.
        why: the reason, as far as a line has room.
        detail: all of it, with the rule behind it.
        narrow: what the screen is told to show instead of a record.
    """

    id: str
    place: str
    record_id: str
    what: str
    style: str
    tag: str
    name: str
    why: str
    detail: str
    narrow: Mapping[str, str] = field(default_factory=dict)


def lines_of(today: Today, benches: Iterable[BenchView], day: date) -> Iterator[Line]:
    """Overdue, due soon, quarantined, end of life, retired and not yet cut up; unfinished; not on record; splices."""
    sections = (
        ("overdue", today.overdue, "bad"),
        ("soon", today.due_soon, "warn"),
        ("quarantined", today.quarantined, "warn"),
        ("life", today.near_end_of_life, "warn"),
        ("destroy", today.undestroyed, "warn"),
    )
    told: set[str] = set()
    for section, rows, style in sections:
        for row in rows:
            if row.item.id not in told:
                told.add(row.item.id)
                yield _gear_line(section, row, style, day)
    yield from map(_bench_line, benches)
    yield from _gap_lines(today.gaps)
    yield from map(_splice_line, today.last_splices)


def _gear_line(section: str, row: GearRow, style: str, day: date) -> Line:
    words = {"overdue": "OVERDUE", "soon": _in_days(row, day), "quarantined": "quarantined", "life": "end of life",
             "destroy": "cut it up"}  # fmt: skip
    reason = {"life": row.life_end.reason, "destroy": UNDESTROYED}.get(section, row.due.reason)
    return Line(
        id=f"{section}:{row.item.id}",
        place="gear",
        record_id=row.item.id,
        what=words[section],
        style=style,
        tag=row.tag,
        name=row.name,
        why=_short(reason),
        detail=_with_rule(reason, "" if section in {"life", "destroy"} else row.due.rule),
    )


def _short(reason: str) -> str:
    """The reason without what the word before it says already."""
    for lead in LEADS:
        reason = reason.removeprefix(lead)
    return reason.removesuffix(f"): {UNTIL_RELEASED}")


def _with_rule(reason: str, rule: str) -> str:
    return reason if not rule or rule in reason else f"{reason}. Rule: {rule}"


def _in_days(row: GearRow, day: date) -> str:
    days = (row.due.due_on - day).days if row.due.due_on else 0
    return {0: "due today", 1: "due tomorrow"}.get(days, f"due in {days} days")


def _bench_line(view: BenchView) -> Line:
    step = "only the record is left" if view.at_end else f"step {view.number} of {view.count}"
    what = f"{view.plan.method_title}, {step}"
    told = f"Unfinished at the bench: {what}. Enter goes on with it."
    rope = view.rope_name or "a rope"
    return Line(f"bench:{view.id}", "bench", view.id, "at the bench", "accent", view.tag, rope, what, told)


def _gap_lines(gaps: tuple[str, ...]) -> Iterator[Line]:
    """One line for all that is missing: it must not crowd out the rest of the day."""
    if gaps:
        told = "; ".join(gaps)
        yield Line("gaps", "gear", "", "not on record", "quiet", "", gaps[0], "; ".join(gaps[1:]),
                   f"Not on record of what is in service: {told}", {"state": GAPS})  # fmt: skip


def _splice_line(row: SpliceRow) -> Line:
    why = f"end {row.end}, {row.method_title}: {label(row.outcome)}"
    return Line(f"splice:{row.splice.id}", "splices", row.splice.id, f"{row.made_on}", "quiet", row.tag, row.rope_name,
                why, f"Spliced on {row.made_on}: {why}")  # fmt: skip


def sum_of(today: Today, benches: Iterable[object], day: date) -> str:
    """The day, and how many of each there are."""
    counts = (
        (len(today.overdue), "overdue"),
        (len(today.due_soon), "due soon"),
        (len(today.quarantined), "quarantined"),
        (len(today.near_end_of_life), "near end of life"),
        (len(tuple(benches)), "at the bench"),
    )
    told = [f"{count} {words}" for count, words in counts if count]
    return f"{day.isoformat()}   {', '.join(told) or 'nothing is due'}"
