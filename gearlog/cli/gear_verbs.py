"""``gearlog due``, ``show`` and ``rules``: when what is due, the story of one item, and by which rules."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError, tell
from gearlog.cli.gear_words import card_lines, due_rows
from gearlog.cli.typed import day_of, days_of
from gearlog.domain.vocabulary import Unit
from gearlog.upkeep.due import DUE_SOON_DAYS

if TYPE_CHECKING:
    from datetime import date

    from gearlog.services.book import Book
    from gearlog.services.views import Card
    from gearlog.upkeep.rule_files import RuleSet

LATE = frozenset({"overdue", "never-examined"})
"""States that make a call end with a finding."""


def due(book: Book, options: Namespace) -> Exit:
    """Print or write what is due; something overdue is a finding."""
    on = _day(options)
    within = days_of(options.within, "--within", DUE_SOON_DAYS)
    rows = book.lists.due(on, within)
    if options.ics is not None:
        if options.json:
            raise WrongCallError("--json and --ics were both given; give one, for example: gearlog due --ics due.ics")
        span = None if options.within is None else within
        done = output.save(options.ics, book.lists.calendar(on, span), example="--ics due.ics")
        output.lines([f"calendar {done}"] if done else [])
    elif options.json:
        output.json(rows)
    else:
        output.lines(due_rows(rows))
    _tell_faults(book)
    return Exit.FINDING if any(row.state in LATE for row in rows) else Exit.FINE


def show(book: Book, options: Namespace) -> Exit:
    """Print the story of one item, now or as of a day."""
    if options.as_recorded and options.on is None:
        raise WrongCallError("--as-recorded needs --on, for example: gearlog show line-3 --on 2024-05-31 --as-recorded")
    item = book.gear.by_tag(options.tag)
    card = book.gear.card(item.id, _day(options), recorded=options.as_recorded)
    if options.json:
        output.json(_plain(card))
    else:
        output.lines(card_lines(card, imperial=book.settings.unit is Unit.IMPERIAL))
    return Exit.FINE


def rules(book: Book, options: Namespace) -> Exit:
    """Print the rule sets, or choose which of them hold; a file of the user's own that does not read is a finding."""
    if options.none:
        book.schedule.choose(())
    elif options.choose:
        book.schedule.choose(options.choose)
    chosen = frozenset(book.schedule.chosen())
    sets = book.schedule.sets()
    if options.json:
        output.json([_described(one, chosen) for one in sets])
    else:
        output.lines(line for one in sets for line in _set_lines(one, chosen))
        if not chosen:
            output.lines(["none is chosen: before use always, and 6 months (our default, on the safe side)"])
    _tell_faults(book)
    return Exit.FINDING if book.schedule.faults() else Exit.FINE


def _day(options: Namespace) -> date | None:
    day = day_of(options.on, "--on")
    return day.earliest() if day is not None else None


def _tell_faults(book: Book) -> None:
    for fault in book.schedule.faults():
        tell(fault)


def _plain(card: Card) -> dict[str, Any]:
    """A card for programs: lengths in m."""
    return {
        "tag": card.item.tag,
        "name": card.item.name,
        "on": card.on,
        "status": card.status,
        "due": card.due,
        "dates": card.dates,
        "life_end": card.life_end,
        "assigned_to": card.assigned_to,
        "on_loan_to": card.loan.to if card.loan is not None else "",
        "length_now_m": card.length_now_m,
        "account": card.account,
        "ends": {end.value: view.state for end, view in card.ends.items()},
        "findings": [_plain_finding(row) for row in card.findings],
        "notes": card.notes,
        "gaps": card.gaps,
        "story": card.story,
        "written_later": card.written_later,
    }


def _plain_finding(row: Any) -> dict[str, Any]:
    told = {"id": row.finding.id, "severity": row.finding.severity, "words": row.finding.words}
    return told | {name: getattr(row, name) for name in ("from_m", "to_m", "gone", "inherited", "open")}


def _described(one: RuleSet, chosen: frozenset[str]) -> dict[str, Any]:
    kept = {name: getattr(one, name) for name in ("id", "title", "region", "summary", "rules", "own")}
    return kept | {"chosen": one.id in chosen}


def _set_lines(one: RuleSet, chosen: frozenset[str]) -> list[str]:
    state = "HOLDS" if one.id in chosen else "not chosen"
    whose = ", your own" if one.own else ""
    return [
        f"{one.id}: {one.title}{whose}, {state}",
        f"  {one.summary}",
        *(f"  rule: {rule.title}, source: {rule.source}" for rule in one.rules),
    ]
