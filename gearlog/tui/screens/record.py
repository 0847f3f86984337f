"""The form of a splice as it was made: from a plan, like an earlier one, afresh, or to correct one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from gearlog.domain.plan import Mark, Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End
from gearlog.services.forms import Field
from gearlog.tui.screens.form_screen import Task
from gearlog.tui.widgets.form import Check
from gearlog.tui.widgets.plan_view import Figures

if TYPE_CHECKING:
    from gearlog.services.book import Book

MEASURED = "measured."
"""What stands before a mark's id in the name of the field that tells what was measured there."""
REASON = Field("correction_reason", "why corrected", hint="misread the tape", group="Correction", required=True)
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("How it went", ("outcome", "minutes", "tools", "condition", "finish", "difficulties", "difficulty_words",
                     "ease", "notes")),
    ("Which splice", ("rope", "end", "position", "method", "made_on", "made_by", "checked_by", "photos")),
)  # fmt: skip
HELP = (
    "Type what the tape said at each mark, with its unit; what was not measured stays empty. "
    "Space ticks a word in a list. Save with ctrl+s; Escape keeps the form as it is for later."
)


def from_plan(book: Book, plan: Plan) -> Task:
    """A splice made by a plan: only what was done and measured is left to type."""
    inputs = plan.inputs
    return Task(
        place="planner",
        title="Record the splice",
        told=_told(plan),
        fields=arranged(book.diary.fields(plan), plan),
        start=book.diary.form_from_plan(plan),
        draft=f"record {plan.method} {inputs.rope_id or inputs.rope.name} {inputs.end}".strip(),
        save=lambda form: book.diary.record(form, plan),
        check=_check(book, book.diary.fields(plan)),
        relevant=relevant,
        help=HELP,
    )


def like(book: Book, splice_id: str) -> Task:
    """A new splice made as an earlier one was, by the same plan."""
    old = book.diary.splice(splice_id)
    fields = book.diary.fields(old.plan)
    return Task(
        place="splices",
        title="Record a splice as last time",
        told=f"Copied from the one of {old.made_on.text}; nothing of it is changed.",
        fields=arranged(fields, old.plan),
        start=book.diary.form_like(splice_id),
        draft=f"copy {splice_id}",
        save=lambda form: book.diary.record(form, old.plan),
        check=_check(book, fields),
        relevant=relevant,
        help=HELP,
    )


def afresh(book: Book) -> Task:
    """A splice that was made without a plan."""
    fields = book.diary.fields()
    return Task(
        place="splices",
        title="Record a splice made without a plan",
        told="With a plan from the Planner its marks can be compared with what was measured.",
        fields=arranged(fields, None),
        start=book.diary.blank_form(),
        draft="splice without a plan",
        save=lambda form: book.diary.record(form, None),
        check=_check(book, fields),
        relevant=relevant,
        help=HELP,
    )


def correction(book: Book, splice_id: str) -> Task:
    """A splice put right, with a reason; the version before is kept."""
    old = book.diary.splice(splice_id)
    fields = book.diary.fields_of(splice_id)

    def save(form: dict[str, str]) -> Splice:
        words = {name: text for name, text in form.items() if name != REASON.name}
        return book.diary.correct(splice_id, words, form.get(REASON.name, ""))

    return Task(
        place="splices",
        title="Correct a splice",
        told="The record as it stands is kept beside the corrected one.",
        fields=(REASON, *arranged(fields, old.plan)),
        start=book.diary.form_of(splice_id) | {REASON.name: ""},
        draft=f"correct {splice_id}",
        save=save,
        check=_check(book, (REASON, *fields)),
        relevant=relevant,
        help=HELP,
    )


def relevant(name: str, form: Mapping[str, str]) -> bool:
    """A position is asked only between the ends; what was typed there is never hidden."""
    return name != "position" or form.get("end") == End.BETWEEN or bool(form.get("position"))


def arranged(fields: Sequence[Field], plan: Plan | None) -> tuple[Field, ...]:
    """The fields in the order of the work: what the tape said, how it went, which splice it was."""
    by_name = {field.name: field for field in fields}
    measured = _measured(by_name, plan)
    others = [
        replace(by_name[name], group=group) for group, names in GROUPS for name in names if name in by_name
    ]
    if plan is None:
        others.sort(key=lambda field: field.group != GROUPS[1][0])
    return (*measured, *others) if plan else (*others, *measured)


def _measured(by_name: Mapping[str, Field], plan: Plan | None) -> list[Field]:
    group = "Measured on the rope, from the working end"
    eye = replace(by_name["finished_eye"], group=group)
    if plan is None:
        return [replace(eye, group="Measured on the rope")]
    figures = Figures(plan)
    marks = [_mark_field(by_name[MEASURED + mark.id], mark, figures, group) for mark in plan.marks]
    return [*marks, replace(eye, label=f"eye, planned {figures.length(plan.inputs.eye_m)}")]


def _mark_field(field: Field, mark: Mark, figures: Figures, group: str) -> Field:
    return replace(
        field, label=f"{mark.letter}, planned {figures.length(mark.at_m)}", hint=f"{mark.part}: {mark.name}", group=group
    )


def _told(plan: Plan) -> str:
    rope = plan.inputs.rope.name or "a rope that is not in the log"
    end = f", end {plan.inputs.end}" if plan.inputs.end else ""
    stop = next((check.message for check in plan.checks if check.level == "stop"), "")
    return f"{rope}{end}: {plan.method_title}." + (f" STOPPED, recorded as an experiment: {stop}" if stop else "")


def _check(book: Book, fields: Sequence[Field]) -> Check:
    return lambda name, text: book.gear.field_fault(fields, name, text)
