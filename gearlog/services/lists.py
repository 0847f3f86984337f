"""Lists: what asks for attention today, the plain gear list, and the list to hand over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date

from gearlog.domain.lifecycle import end_states, length_now
from gearlog.domain.vocabulary import End, Status
from gearlog.services.audit import DUE_WORDS, HEADINGS, Audited, line_of
from gearlog.services.diary import Diary
from gearlog.services.gear import Gear
from gearlog.services.shelf import Shelf
from gearlog.services.views import GearRow, ListRow, Today
from gearlog.services.workshop import Workshop
from gearlog.units.natural import natural
from gearlog.upkeep.examinations import last_examination

LAST_SPLICES = 5  # as many as stand beside the due list on 24 lines


class Lists:
    """What one log has to say about all its gear at once."""

    def __init__(self, shelf: Shelf, gear: Gear, diary: Diary, workshop: Workshop) -> None:
        self._shelf = shelf
        self._gear = gear
        self._diary = diary
        self._workshop = workshop

    def today(self) -> Today:
        """What asks for attention today."""
        rows = self._gear.rows()
        serving = [row for row in rows if row.status is Status.IN_SERVICE]
        return Today(
            overdue=_by_date(row for row in serving if row.due.state in {"overdue", "never-examined"}),
            due_soon=_by_date(row for row in serving if row.due.state == "due-soon"),
            quarantined=tuple(row for row in rows if row.status is Status.QUARANTINED),
            near_end_of_life=_by_life(row for row in serving if row.life_end.state in {"near", "ended"}),
            last_splices=self._diary.rows()[:LAST_SPLICES],
            gaps=_gaps(serving),
        )

    def list_rows(self) -> tuple[ListRow, ...]:
        """Every item in a line, in order of tag."""
        rows = sorted(self._gear.rows(), key=lambda row: natural(row.tag))
        return tuple(_list_row(row) for row in rows)

    def audit_headings(self) -> tuple[str, ...]:
        """The headings of the list to hand over."""
        return HEADINGS

    def audit_rows(self) -> tuple[tuple[str, ...], ...]:
        """The list to hand over, in order of tag: every item, also what is retired, lost or in quarantine."""
        rows = sorted(self._gear.rows(), key=lambda row: natural(row.tag))
        return tuple(line_of(self._audited(row)) for row in rows)

    def audit_csv(self) -> bytes:
        """The list to hand over as a CSV file."""
        from gearlog.reports.csvs import to_csv

        return to_csv(HEADINGS, self.audit_rows())

    def _audited(self, row: GearRow) -> Audited:
        item = row.item
        parent = self._shelf.parent_of(item)
        events, versions = self._shelf.events_of(item.id), self._shelf.versions_of(item.id)
        ends = end_states(item, versions, events)
        spliced = {end: view.splice for end, view in ends.items() if view.splice is not None}
        titles: dict[End, str] = {end: self._workshop.title(splice) for end, splice in spliced.items()}
        return Audited(
            row=row,
            examined=last_examination(events, self._shelf.clock.today()),
            length_now_m=length_now(item, events, versions),
            ends=ends,
            end_titles=titles,
            parent_tag=parent.tag if parent else "",
        )


def _list_row(row: GearRow) -> ListRow:
    return ListRow(
        tag=row.tag,
        name=row.name,
        category=row.category,
        status=row.status,
        due_on=row.due.due_on,
        due=DUE_WORDS[row.due.state],
        reason=row.due.reason,
    )


def _by_date(rows: Iterable[GearRow]) -> tuple[GearRow, ...]:
    """What is due at once, without a date, comes first."""
    return tuple(sorted(rows, key=lambda row: (row.due.due_on or date.min, natural(row.tag))))


def _by_life(rows: Iterable[GearRow]) -> tuple[GearRow, ...]:
    return tuple(sorted(rows, key=lambda row: (row.life_end.on or date.max, natural(row.tag))))


def _gaps(rows: Iterable[GearRow]) -> tuple[str, ...]:
    """How many items lack each particular, the most frequent first."""
    counts = Counter(gap for row in rows for gap in row.gaps)
    return tuple(f"{gap}: {count} {'item' if count == 1 else 'items'}" for gap, count in counts.most_common())
