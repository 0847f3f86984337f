"""Lists: what asks for attention today, and the plain gear list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date

from gearlog.domain.vocabulary import Status
from gearlog.services.audit import DUE_WORDS
from gearlog.services.clock import Clock
from gearlog.services.diary import Diary
from gearlog.services.gear import Gear
from gearlog.services.gear_views import DueRow
from gearlog.services.notes import is_textile
from gearlog.services.views import GearRow, ListRow, Today
from gearlog.units.natural import natural
from gearlog.upkeep.due import DUE_SOON_DAYS

LAST_SPLICES = 5  # as many as stand beside the due list on 24 lines


class Lists:
    """What one log has to say about all its gear at once."""

    def __init__(self, gear: Gear, diary: Diary, clock: Clock) -> None:
        self._gear = gear
        self._diary = diary
        self._clock = clock

    def today(self) -> Today:
        """What asks for attention today."""
        rows = self._gear.rows()
        serving = [row for row in rows if row.status is Status.IN_SERVICE]
        return Today(
            overdue=_by_date(row for row in serving if row.due.state in {"overdue", "never-examined"}),
            due_soon=_by_date(row for row in serving if row.due.state == "due-soon"),
            quarantined=tuple(row for row in rows if row.status is Status.QUARANTINED),
            near_end_of_life=_by_life(row for row in serving if row.life_end.state in {"near", "ended"}),
            undestroyed=tuple(row for row in rows if row.status is Status.RETIRED and is_textile(row.item)),
            last_splices=self._diary.newest(LAST_SPLICES),
            gaps=_gaps(serving),
        )

    def list_rows(self, on: date | None = None) -> tuple[ListRow, ...]:
        """Every item in a line, in order of tag, as of today or of another day."""
        rows = sorted(self._gear.rows(on), key=lambda row: natural(row.tag))
        return tuple(_list_row(row) for row in rows)

    def due(self, on: date | None = None, within: int = DUE_SOON_DAYS) -> tuple[DueRow, ...]:
        """What is overdue on a day, due within so many days of it, or in quarantine; what is due at once comes first.

        What was retired, destroyed or lost is not told.
        """
        day = on or self._clock.today()
        rows = self._gear.rows(on)
        serving = _by_date(row for row in rows if row.status is Status.IN_SERVICE and _due_by(row, day, within))
        waiting = (row for row in rows if row.status is Status.QUARANTINED)
        return tuple(_due_row(row) for row in (*serving, *waiting))

    def calendar(self, on: date | None = None, within: int | None = None) -> bytes:
        """An iCalendar file of the days on which items in service are due, all of them or those within so many days.

        What is due at once stands on the day itself.
        """
        from gearlog.reports.ics import CalendarEntry, to_ics

        day = on or self._clock.today()
        most = (date.max - day).days if within is None else within
        rows = _by_date(
            row for row in self._gear.rows(on) if row.status is Status.IN_SERVICE and _due_by(row, day, most)
        )
        entries = [
            CalendarEntry(f"{row.item.id}-due", max(row.due.due_on or day, day), _title(row), f"{row.due.reason}")
            for row in rows
        ]
        return to_ics(entries, self._clock.now())


def _due_by(row: GearRow, day: date, within: int) -> bool:
    on = row.due.due_on
    return on is None or (on - day).days <= within


def _due_row(row: GearRow) -> DueRow:
    return DueRow(row.tag, row.due.due_on, row.due.state, row.due.rule, row.due.reason)


def _title(row: GearRow) -> str:
    late = "OVERDUE: " if row.due.state in {"overdue", "never-examined"} else ""
    what = "end of life" if row.due.rule == "end of life" else "examination"
    return f"{late}{row.tag} ({row.name}): {what}"


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
