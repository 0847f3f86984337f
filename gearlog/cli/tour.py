"""The main job in plain text, for where there is no terminal: due, a worked plan, last time, the gear list."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit
from gearlog.reports.plain import item_lines, recall_lines

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.services.views import GearRow

WIDTH = 78  # columns of the drawing; any terminal, mail or paper has them
FIRST = 10  # items of the gear list, enough to see what a line tells
MATCHES = 3  # earlier splices told one by one; the summary counts them all
WANTED = {"method": "cover-eye", "eye": "115 mm", "pin": "32 mm", "fid": "280 mm", "fid_thickness": "4 mm"}
"""What the crew's next eye is to be."""
ROPE = "line-2"
END = "A"


def tour(book: Book) -> Exit:
    """Print the main job on the open log."""
    rope = book.gear.by_tag(ROPE)
    form = book.planner.form_for(rope.id, END) | WANTED
    plan = book.planner.plan(form)
    _part("Due", _due(book))
    _part(f"A plan for end {END} of {rope.tag}, {rope.name}", book.planner.plain(plan))
    _part("The same, drawn", book.planner.draw(plan, WIDTH))
    _part("What worked last time", recall_lines(book.planner.recall(plan.inputs), most=MATCHES))
    _part(f"Gear, the first {FIRST} of {len(book.gear.rows())}", item_lines(book.lists.list_rows()[:FIRST]))
    _part("Go on", _ways())
    return Exit.FINE


def _part(title: str, rows: Iterable[str]) -> None:
    output.lines([f"== {title}", *rows, ""])


def _due(book: Book) -> Iterator[str]:
    today = book.lists.today()
    for words, rows in (("overdue", today.overdue), ("due soon", today.due_soon), ("quarantined", today.quarantined)):
        yield f"{words}: {len(rows)}"
        yield from (_due_line(row) for row in rows)


def _due_line(row: GearRow) -> str:
    return f"{row.tag} ({row.name}): {row.due.reason}"


def _ways() -> tuple[str, ...]:
    return (
        "The screens need a terminal: run gearlog --sample in one.",
        "Without one, use the commands: gearlog --sample list, gearlog plan --help, gearlog --help.",
    )
