"""What the program remembers of the user between two starts: their tape, their view, the unfinished form."""

from __future__ import annotations

import msgspec

from gearlog.domain.vocabulary import Unit


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """Remembered settings and the state of the screens.

    Attributes:
        unit: metric or imperial.
        tape_parts: parts of an inch on the user's tape, 16 or 32.
        theme: ``day`` or ``night``.
        user: name or initials put into new records.
        screen: the screen shown last, ``today``, ``gear``, ``splices``, ``planner`` or ``bench``.
        chosen: the record last under the cursor, by screen.
        filters: the filter text, by screen.
        rule_sets: ids of the rule sets that hold, as the user's region asks; none is our default.
        drafts: typed but unsaved forms, by form name, field by field.
        audits: the audits that were written: (which items in words, day as of which), the last ones last.
    """

    unit: Unit = Unit.METRIC
    tape_parts: int = 16
    theme: str = "day"
    user: str = ""
    screen: str = "today"
    chosen: dict[str, str] = {}
    filters: dict[str, str] = {}
    rule_sets: tuple[str, ...] = ()
    drafts: dict[str, dict[str, str]] = {}
    audits: tuple[tuple[str, str], ...] = ()
