"""An audit as plain tables, for the formats that hold tables: CSV holds one of them, a workbook all."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from gearlog.domain.audited import Audit
from gearlog.reports.audit_words import (
    CANONICAL,
    MISSING,
    NOT_ON_RECORD,
    attention,
    result_of,
    seen_of,
    summary,
    tests_of,
)

Row = tuple[str, ...]


class Table(msgspec.Struct, frozen=True):
    """One table.

    Attributes:
        name: for people and for programs.
        headings: of its columns.
        rows: as many texts each.
    """

    name: str
    headings: Row
    rows: tuple[Row, ...]


def table_of(audit: Audit, name: str) -> Table:
    """One of the tables; ``name`` is one of TABLES."""
    return _MAKERS[name](audit)


def tables_of(audit: Audit) -> tuple[Table, ...]:
    """All tables."""
    return tuple(make(audit) for make in _MAKERS.values())


def _register(audit: Audit) -> Table:
    return Table("register", audit.headings, tuple(item.line for item in audit.items))


def _examinations(audit: Audit) -> Table:
    headings = (
        *("tag", "name", "date", "reason", "examined by", "competence", "result", "findings", "next due on"),
        "remarks",
    )
    rows = tuple(
        (
            *(
                one.tag,
                one.name,
                one.on,
                one.reason or MISSING,
                one.by or MISSING,
                one.competence or NOT_ON_RECORD,
            ),
            *(result_of(one), " | ".join(seen_of(one)), one.next_due or NOT_ON_RECORD, one.remarks),
        )
        for one in audit.examinations
    )
    return Table("examinations", headings, rows)


def _splices(audit: Audit) -> Table:
    headings = (
        *("tag", "rope", "end", "method", "made on", "made by", "checked by", "outcome", "where it is now"),
        *("finished", "tests", "gaps"),
    )
    rows = tuple(
        (
            *(one.tag, one.rope, one.end, one.method, one.made_on, one.made_by or MISSING, one.checked_by or MISSING),
            *(one.outcome, one.stands, one.finished, " | ".join(tests_of(one)), "; ".join(one.gaps)),
        )
        for one in audit.splices
    )
    return Table("splices", headings, rows)


def _attention(audit: Audit) -> Table:
    rows = tuple(
        (heading, item.tag, item.name, item.category, why) for heading, found in attention(audit) for item, why in found
    )
    return Table("attention", ("what", "tag", "name", "category", "why"), rows)


def _gaps(audit: Audit) -> Table:
    rows = tuple((item.tag, item.name, gap) for item in audit.with_gaps for gap in item.gaps)
    return Table("gaps", ("tag", "name", "missing"), rows)


def _about(audit: Audit) -> Table:
    rows = (
        ("as of", audit.on.isoformat()),
        ("listed", audit.chosen),
        ("list made on", audit.made_on.isoformat()),
        *((what, str(count)) for what, count in summary(audit)),
        ("examinations listed", str(len(audit.examinations))),
        ("splices listed", str(len(audit.splices))),
        ("entries written down after that day", str(audit.late)),
        ("content digest (SHA-256)", audit.digest),
        ("how the digest is made", CANONICAL),
    )
    return Table("about", ("what", "value"), rows)


_MAKERS: dict[str, Callable[[Audit], Table]] = {
    "register": _register,
    "examinations": _examinations,
    "splices": _splices,
    "attention": _attention,
    "gaps": _gaps,
    "about": _about,
}
TABLES = tuple(_MAKERS)
"""The names of the tables."""
