"""Lists: what asks for attention today, and the plain gear list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date

from gearlog.domain.vocabulary import Status
from gearlog.services.audit import DUE_WORDS
from gearlog.services.diary import Diary
from gearlog.services.gear import Gear
from gearlog.services.views import GearRow, ListRow, Today
from gearlog.units.natural import natural

LAST_SPLICES = 5  # as many as stand beside the due list on 24 lines


class Lists:
    """What one log has to say about all its gear at once."""

    def __init__(self, gear: Gear, diary: Diary) -> None:
        self._gear = gear
        self._diary = diary

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
