"""The form of a splice as it was made: from a plan, like an earlier one, afresh, or to correct one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from gearlog.domain.plan import Mark, Plan
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End
from gearlog.services.forms import Field
from gearlog.tui.screens.form_screen import Task
from gearlog.tui.widgets.form import Relevant
from gearlog.tui.widgets.plan_figures import Figures

if TYPE_CHECKING:
    from gearlog.services.book import Book

MEASURED = "measured."
"""What stands before a mark's id in the name of the field that tells what was measured there."""
FROM_PLAN, ADD, COPY, CHANGE, TEST = (
    "planner.record", "splices.add", "splices.copy", "splices.change", "splices.test",
)  # fmt: skip
"""Names of drafts; they go on with a colon and what they are about."""
PARTED = "|"
"""Between rope, end and method in the draft's name of a splice that is added; no tag holds it."""
REASON = Field("correction_reason", "why corrected", hint="misread the tape", group="Correction", required=True)
SAY, SAY_ALL = "say how it came out, and what was not the same", "say how it came out, and what you know of it"
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("How it went", ("outcome", "minutes", "tools", "condition", "finish", "difficulties", "difficulty_words",
                     "ease", "cut_length", "notes")),
    ("Which splice", ("rope", "end", "position", "method", "made_on", "made_by", "checked_by", "photos")),
)  # fmt: skip
HELP = (
    "Type what the tape said at each mark, with its unit; what was not measured stays empty. "
    "Space ticks a word in a list. Save with ctrl+s; Escape keeps the form as it is for later."
)


def from_plan(book: Book, plan: Plan) -> Task:
    """A splice made by a plan: only what was done and measured is left to type."""
    inputs = plan.inputs
    rope = inputs.rope_id or inputs.rope.construction
    return _task(
        book,
        plan=plan,
        fields=book.diary.fields(plan),
        place="planner",
        title="Record the splice",
        told=_told(plan),
        start=book.diary.form_from_plan(plan) | {"end": inputs.end},  # which end is never guessed
        draft=f"{FROM_PLAN}:{plan.method} {rope} {inputs.end}".rstrip(),
    )


def task_of(book: Book, draft: str) -> Task:
    """The task that a draft's name tells, for example ``splices.change:9f3a``; raises NotFoundError, KeyError."""
    name, _, about = draft.partition(":")
    makers = {ADD: _as_last, COPY: _like, CHANGE: _correction, TEST: _test}
    return makers[name](book, about, draft)


def added(tag: str, end: str, method: str) -> str:
    """The draft's name of a splice that is added without the bench."""
    return f"{ADD}:{PARTED.join((tag, end, method))}"


def _task(book: Book, *, plan: Plan | None, fields: Sequence[Field], measured_first: bool = True, **words: Any) -> Task:
    task: dict[str, Any] = {"save": lambda form: book.diary.record(form, plan), "place": "splices"} | words
    return Task(
        **task,
        fields=arranged(fields, plan, measured_first=measured_first),
        check=lambda name, text: book.gear.field_fault(fields, name, text),
        relevant=relevant_to(plan),
        help=HELP,
    )


def _like(book: Book, splice_id: str, draft: str) -> Task:
    old = book.diary.splice(splice_id)
    return _task(
        book,
        plan=old.plan,
        fields=book.diary.fields(old.plan),
        measured_first=False,
        title="Record a splice as last time",
        told=f"Copied from the one of {old.made_on.text}, which stays. On a rope of another kind its plan is left out.",
        start=book.diary.form_like(splice_id),
        draft=draft,
    )


def _as_last(book: Book, about: str, draft: str) -> Task:
    """A splice made without the bench; what is as last time is filled in."""
    tag, end, method = about.split(PARTED)
    last = book.diary.form_as_last(tag, end, method)
    when = f", {last.source.made_on.text}" if last.source else ""
    return _task(
        book,
        plan=last.plan,
        fields=book.diary.fields(last.plan),
        measured_first=False,
        title=f"Record a splice in {tag}",
        told=f"Filled in {last.words}{when}: {SAY}." if last.source else f"{last.words}: {SAY_ALL}.",
        start=last.form,
        draft=draft,
    )


def _test(book: Book, splice_id: str, draft: str) -> Task:
    splice = book.diary.splice(splice_id)
    fields = book.strength.fields()
    return Task(
        place="splices",
        title="Enter a test of strength",
        told=f"Of the splice made on {splice.made_on.text}. After a break the rope is put in quarantine.",
        fields=fields,
        start=book.strength.blank_form(),
        draft=draft,
        save=lambda form: book.strength.record(splice_id, form),
        check=lambda name, text: book.gear.field_fault(fields, name, text),
        help="The force is the highest reached, of a proof load the one it was held at. Save with ctrl+s.",
    )


def _correction(book: Book, splice_id: str, draft: str) -> Task:
    old = book.diary.splice(splice_id)

    def save(form: dict[str, str]) -> Splice:
        words = {name: text for name, text in form.items() if name != REASON.name}
        return book.diary.correct(splice_id, words, form[REASON.name])

    return _task(
        book,
        plan=old.plan,
        fields=(REASON, *book.diary.fields_of(splice_id)),
        title="Correct a splice",
        told="The record as it stands is kept beside the corrected one.",
        start=book.diary.form_of(splice_id) | {REASON.name: ""},
        draft=draft,
        save=save,
    )


def relevant_to(plan: Plan | None) -> Relevant:
    """A position is asked only between the ends, an eye only where one was made; what was typed is never hidden."""
    has_eye = plan is None or plan.inputs.eye_m is not None or plan.shape == "eye"

    def relevant(name: str, form: Mapping[str, str]) -> bool:
        if name == "position":
            return form.get("end") == End.BETWEEN or bool(form.get(name))
        return name != "finished_eye" or has_eye or bool(form.get(name))

    return relevant


def arranged(fields: Sequence[Field], plan: Plan | None, *, measured_first: bool = True) -> tuple[Field, ...]:
    """The fields in the order of the work: what the tape said, how it went, which splice it was.

    ``measured_first`` False begins with how it went, for where the rest is filled in already or seldom typed.
    """
    by_name = {field.name: field for field in fields}
    first = [by_name[REASON.name]] if REASON.name in by_name else []
    measured = _measured(by_name, plan)
    others = [replace(by_name[name], group=group) for group, names in GROUPS for name in names if name in by_name]
    if plan is None and measured_first:
        others.sort(key=lambda field: field.group != GROUPS[1][0])
    return (*first, *measured, *others) if plan and measured_first else (*first, *others, *measured)


def _measured(by_name: Mapping[str, Field], plan: Plan | None) -> list[Field]:
    if plan is None:
        return [replace(by_name["finished_eye"], group="Measured on the rope")]
    group = f"Measured on the rope, from the {plan.origin}"
    finished = [by_name["finished_eye"], *([by_name["finished_length"]] if plan.finished else [])]
    figures = Figures(plan)
    marks = [_mark_field(by_name[MEASURED + mark.id], mark, figures, group) for mark in plan.marks]
    length = plan.finished.finished_m if plan.finished else None
    planned = {"finished_eye": plan.inputs.eye_m, "finished_length": length}
    return [*marks, *(_finished_field(field, planned[field.name], figures, group) for field in finished)]


def _finished_field(field: Field, planned_m: float | None, figures: Figures, group: str) -> Field:
    short = field.label.removeprefix("finished ")
    label = field.label if planned_m is None else f"{short}, planned {figures.length(planned_m)}"
    return replace(field, label=label, group=group)


def _mark_field(field: Field, mark: Mark, figures: Figures, group: str) -> Field:
    return replace(
        field,
        label=f"{mark.letter}, planned {figures.length(mark.shown_m)}",
        hint=f"{mark.part}: {mark.name}",
        group=group,
    )


def _told(plan: Plan) -> str:
    rope = plan.inputs.rope.name or "a rope that is not in the log"
    end = f", end {plan.inputs.end}" if plan.inputs.end else ""
    stop = next((check.message for check in plan.checks if check.level == "stop"), "")
    return f"{rope}{end}: {plan.method_title}." + (f" STOPPED, recorded as an experiment: {stop}" if stop else "")
