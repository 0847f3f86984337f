"""The verbs: each asks the log one thing, prints the answer, and says how the call ends."""

from __future__ import annotations

from argparse import Namespace
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, tell

if TYPE_CHECKING:
    from gearlog.services.book import Book


def plan(book: Book, options: Namespace) -> Exit:
    """Work out a splice and print the plan, also one that stops."""
    from gearlog.cli.forms import inputs_of

    plan = book.planner.plan_for(inputs_of(book, options))
    if options.json:
        output.json(plan)
    else:
        output.lines(book.planner.plain(plan))
    return Exit.FINDING if plan.stopped else Exit.FINE


def recall(book: Book, options: Namespace) -> Exit:
    """Print what worked last time; that nothing like it was made is an answer too."""
    from gearlog.cli.forms import recalled
    from gearlog.reports.plain import recall_lines

    found = recalled(book, options)
    if options.json:
        output.json(found)
    else:
        output.lines(recall_lines(found))
    return Exit.FINE


def gear(book: Book, options: Namespace) -> Exit:
    """Print every item with its state and when it is due."""
    rows = book.lists.list_rows()
    if options.json:
        output.json(rows)
    else:
        output.lines(rows)
    return Exit.FINE


def audit(book: Book, options: Namespace) -> Exit:
    """Write the list to hand over."""
    done = output.save(options.out, book.lists.audit_csv())
    if done:
        output.lines([f"{len(book.gear.rows())} items {done}"])
    return Exit.FINE


def methods(book: Book, options: Namespace) -> Exit:
    """Print the methods; a file of the user's own that does not read is told and makes a finding."""
    found = book.planner.methods()
    if options.json:
        output.json(found)
    else:
        output.lines(f"{method.id}: {method.title}" for method in found)
    faults = book.planner.method_faults()
    for fault in faults:
        tell(fault)
    return Exit.FINDING if faults else Exit.FINE
