"""``gearlog compare``: two ropes side by side."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit
from gearlog.cli.verbs import imperial

if TYPE_CHECKING:
    from gearlog.services.book import Book


def compare(book: Book, options: Namespace) -> Exit:
    """Print what is known of both ropes and what differs."""
    from gearlog.reports.plain_compared import compared_lines

    both = book.planner.compare(options.first, options.second)
    if options.json:
        output.json(both)
    else:
        parts = book.settings.tape_parts
        output.lines(compared_lines(both, imperial=imperial(book, options), parts=parts))
    return Exit.FINE
