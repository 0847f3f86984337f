"""The verbs: each asks the log one thing, prints the answer, and says how the call ends."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, tell
from gearlog.domain.vocabulary import Unit
from gearlog.services.forms import PLAN_FORM

if TYPE_CHECKING:
    from gearlog.domain.plan import PlanInputs
    from gearlog.services.book import Book
    from gearlog.splicing.method import Method


def plan(book: Book, options: Namespace) -> Exit:
    """Work out a splice and print the plan, also one that stops."""
    made = book.planner.plan_for(_inputs(book, options))
    if options.json:
        output.json(made)
    else:
        output.lines(book.planner.plain(made))
    return Exit.FINDING if made.stopped else Exit.FINE


def recall(book: Book, options: Namespace) -> Exit:
    """Print what worked last time; that nothing like it was made is an answer too."""
    from gearlog.reports.plain import recall_lines

    found = book.planner.recall_for(_typed(options))
    if options.json:
        output.json(found)
    else:
        output.lines(recall_lines(found, imperial=_imperial(book, options)))
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


def audit(book: Book, options: Namespace) -> Exit:
    """Write the list to hand over."""
    done = output.save(options.out, book.lists.audit_csv())
    if done:
        count = len(book.gear.rows())
        output.lines([f"{count} {'item' if count == 1 else 'items'} {done}"])
    return Exit.FINE


def methods(book: Book, options: Namespace) -> Exit:
    """Print the methods; a file of the user's own that does not read is told and makes a finding."""
    found = [_described(method) for method in book.planner.methods()]
    if options.json:
        output.json(found)
    else:
        for described in found:
            output.lines(_method_lines(described))
    for fault in book.planner.method_faults():
        tell(fault)
    return Exit.FINDING if book.planner.method_faults() else Exit.FINE


def _typed(options: Namespace) -> dict[str, str]:
    """The planner's form as typed: every option that was given, and nothing else."""
    typed = {field.name: getattr(options, field.name, None) for field in PLAN_FORM}
    return {name: text for name, text in typed.items() if text is not None}


def _inputs(book: Book, options: Namespace) -> PlanInputs:
    inputs = book.planner.inputs(_typed(options))
    return replace(inputs, unit=Unit.IMPERIAL) if options.imperial else inputs


def _imperial(book: Book, options: Namespace) -> bool:
    return bool(options.imperial) or book.settings.unit is Unit.IMPERIAL


def _described(method: Method) -> dict[str, Any]:
    named = [rule.source for rule in method.lengths] + [rule.source for rule in method.marks]
    return {
        "id": method.id,
        "title": method.title,
        "fits": method.constructions,
        "lays": method.fits.lays,
        "strands": method.fits.strands,
        "own": method.own,
        "version": method.version,
        "summary": method.summary,
        "sources": tuple(dict.fromkeys((*map(method.source_text, named), *method.sources.values()))),
    }


def _method_lines(described: dict[str, Any]) -> list[str]:
    whose = "your own" if described["own"] else "built in"
    return [
        f"{described['id']}: {described['title']}, {whose}",
        f"  {described['summary']}",
        f"  fits: {', '.join((*described['fits'], *described['lays']))}",
        *(f"  source: {source}" for source in described["sources"]),
    ]
