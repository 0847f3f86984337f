"""``gearlog plan``: a splice worked out, explained on demand, and put on a card for the bench."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError, tell
from gearlog.cli.verbs import typed
from gearlog.domain.vocabulary import Unit
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.domain.plan import Plan
    from gearlog.domain.plan_inputs import PlanInputs
    from gearlog.services.book import Book

CARD_KINDS = (".pdf", ".html", ".svg")


def plan(book: Book, options: Namespace) -> Exit:
    """Work out a splice and print the plan, also one that stops."""
    kind = _card_kind(options)
    made = book.planner.plan_for(_inputs(book, options))
    card = book.planner.card(made, kind, paper=options.paper) if kind else None
    _print(book, options, made)
    if card is not None:
        instead = "" if options.force else "name another file, or overwrite it with --force"
        done = output.save(options.card, card, example="--card eye.pdf", instead=instead)
        tell(f"bench card {done}")
    return Exit.FINDING if made.stopped else Exit.FINE


def _print(book: Book, options: Namespace, made: Plan) -> None:
    explained = book.planner.explain(made) if options.explain else None
    if options.json:
        fields = {name: getattr(made, name) for name in made.__struct_fields__}
        output.json(made if explained is None else {**fields, "explained": explained})
        return
    output.lines(book.planner.plain(made))
    if explained is not None:
        from gearlog.reports.plain_explained import explained_lines

        output.lines(explained_lines(explained))


def _inputs(book: Book, options: Namespace) -> PlanInputs:
    """What was typed; what the method cannot use is told and left out."""
    form = typed(options)
    _its_file_reads(book, form["method"])
    for name in book.planner.unused(form):
        tell(f"--{name.replace('_', '-')} changes nothing in {quoted(form['method'])}; it was left out")
    inputs = book.planner.inputs(form)
    return replace(inputs, unit=Unit.IMPERIAL) if options.imperial else inputs


def _its_file_reads(book: Book, method: str) -> None:
    """Tell why a method of the user's own is not on the list: its file has a fault."""
    for fault in book.planner.method_faults():
        if fault.startswith(f"{method}.toml"):
            raise WrongCallError(f"{quoted(method)} cannot be planned: {fault}")


def _card_kind(options: Namespace) -> str:
    """The card's kind from its file's name; empty without one. What cannot be is told before anything is done."""
    if options.card is None:
        if options.force or options.paper:
            raise WrongCallError("--force and --paper are for a card; name its file too, for example: --card eye.pdf")
        return ""
    kind = Path(options.card).suffix.lower()
    if kind not in CARD_KINDS or "\0" in options.card:
        raise WrongCallError(
            f"--card {quoted(options.card)}: the name must end with .pdf, .html or .svg, for example: --card eye.pdf"
        )
    return kind.removeprefix(".")
