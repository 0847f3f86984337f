"""The verbs: each asks the log one thing, prints the answer, and says how the call ends."""

from __future__ import annotations

from argparse import Namespace
from decimal import Decimal
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.domain.vocabulary import Unit
from gearlog.errors import ReadingError
from gearlog.services.forms import PLAN_FORM
from gearlog.units.reading import read_number

if TYPE_CHECKING:
    from gearlog.domain.recalled import Demand
    from gearlog.services.book import Book

USUAL_SHARE = 0.95
LEAST_SHARE, MOST_SHARE = Decimal("0.5"), Decimal("0.9999")
"""A bound that holds less than half of all is none, and one beyond the most would rest on the tails alone."""


def recall(book: Book, options: Namespace) -> Exit:
    """Print what worked last time; that nothing like it was made is an answer too."""
    from gearlog.reports.plain import recall_lines
    from gearlog.reports.recall_json import recall_answer

    found = book.planner.recall_for(typed(options), _demand(options))
    if options.json:
        output.json(recall_answer(found))
    else:
        output.lines(recall_lines(found, imperial=imperial(book, options)))
    return Exit.FINE


def gear(book: Book, options: Namespace) -> Exit:
    """Print every item with its state and when it is due."""
    from gearlog.reports.plain import item_lines

    rows = book.lists.list_rows()
    if options.json:
        output.json(rows)
    else:
        output.lines(item_lines(rows))
    return Exit.FINE


def _demand(options: Namespace) -> Demand:
    """What the lower bound of strength is to hold; raises WrongCallError."""
    from gearlog.domain.recalled import Demand

    return Demand(coverage=_share("coverage", options.coverage), confidence=_share("confidence", options.confidence))


def _share(name: str, text: str | None) -> float:
    if text is None:
        return USUAL_SHARE
    try:
        return float(read_number(text, least=LEAST_SHARE, most=MOST_SHARE, what=f"--{name}"))
    except ReadingError as error:
        raise WrongCallError(f"--{name}: {error.message}; for example: --{name} 0.95") from error


def typed(options: Namespace) -> dict[str, str]:
    """The planner's form as typed: every option that was given, and nothing else."""
    given = {field.name: getattr(options, field.name, None) for field in PLAN_FORM}
    return {name: _joined(text) for name, text in given.items() if text is not None}


def imperial(book: Book, options: Namespace) -> bool:
    """Whether the words of the answer are in feet and inches."""
    return bool(options.imperial) or book.settings.unit is Unit.IMPERIAL


def _joined(text: str | list[str]) -> str:
    """An option that was given several times is a list."""
    return text if isinstance(text, str) else ", ".join(text)
