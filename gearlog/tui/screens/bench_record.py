"""The two forms at the end of the bench: the record of the splice, and why it was given up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gearlog.services.bench_views import BenchView
from gearlog.services.forms import Field, FieldKind
from gearlog.tui.screens.form_screen import Task
from gearlog.tui.screens.record import HELP, arranged, relevant_to
from gearlog.tui.widgets.bench_words import place_words, step_words

if TYPE_CHECKING:
    from gearlog.services.book import Book

RECORD, GIVE_UP = "bench.record", "bench.give-up"
"""Names of drafts; they go on with a colon and the id of the bench."""
GIVE_UP_FIELDS = (
    Field("reason", "why", hint="strand pulled out at the throat", required=True),
    Field("cut_length", "rope cut off with it", FieldKind.LENGTH, hint="only of what is not on the rope any more"),
)


def record(book: Book, view: BenchView) -> Task:
    """The splice's record, filled in from the bench: how it came out and what was hard is left to type."""
    fields = book.diary.fields(view.plan)
    return Task(
        place="bench",
        title="Record the splice",
        told=f"{place_words(view)}: {view.plan.method_title}. Measures, minutes and remarks are filled in.",
        fields=arranged(fields, view.plan, measured_first=False),
        start=book.bench.finish_form(view.id),
        draft=f"{RECORD}:{view.id}",
        save=lambda form: book.bench.finish(view.id, form),
        check=lambda name, text: book.gear.field_fault(fields, name, text),
        relevant=relevant_to(view.plan),
        help=HELP,
    )


def give_up(book: Book, view: BenchView) -> Task:
    """Why the splice is given up; saves the record as far as it has come, True for a rope in no log."""
    return Task(
        place="bench",
        title="Give the splice up",
        told=f"{place_words(view)}: {view.plan.method_title}, {step_words(view)}. What was done is kept in the diary.",
        fields=GIVE_UP_FIELDS,
        start={},
        draft=f"{GIVE_UP}:{view.id}",
        save=lambda form: book.bench.give_up(view.id, form["reason"], cut_length=form["cut_length"]) or True,
        check=lambda name, text: book.gear.field_fault(GIVE_UP_FIELDS, name, text),
    )
