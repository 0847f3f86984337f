"""``gearlog record`` and ``gearlog strength``: what was made and what was tested, entered without the screens."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.domain.strength_test import FailedAt
from gearlog.domain.vocabulary import label
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.forms import SPLICE_FORM, STRENGTH_FORM, Field
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.domain.plan import Plan
    from gearlog.services.book import Book

LAST = "last"
"""What stands for an id where the last splice of the rope and method is meant."""
PLANNED = ("eye", "pin", "fid")
"""Fields of the planner with which a splice is recorded by a plan of its own."""
MEASURED = "measured."
EXAMPLE = "gearlog record --like last --rope line-3 --end A --outcome good --finished-eye '148 mm'"

Saved = TypeVar("Saved")


@dataclass(frozen=True, slots=True)
class _Start:
    """What a record begins from: a form, the plan it is made by, and the splice it is like."""

    form: dict[str, str]
    plan: Plan | None = None
    like: str = ""


def record(book: Book, options: Namespace) -> Exit:
    """Save a splice: from nothing, as an earlier one, or by a plan."""
    start = _start(book, options)
    form = start.form | given(SPLICE_FORM, options) | _measured(options.measured or (), start.plan)
    made = _saved(lambda: book.diary.record(form, start.plan))
    differs = book.diary.differences(book.diary.form_of(made.id), start.like) if start.like else ()
    answer = {"id": made.id, "rope": form["rope"], "end": made.end, "method": made.method, "made_on": made.made_on,
              "outcome": made.outcome, "condition": made.condition, "planned": made.plan is not None,
              "differs": differs}  # fmt: skip
    if options.json:
        output.json(answer)
        return Exit.FINE
    words = f"{made.method}, {made.made_on}, {label(made.outcome)}, rope {label(made.condition)}"
    output.lines([f"recorded in {form['rope']}, end {made.end}: {words}", f"id: {made.id}"])
    output.lines(f"not as last time: {line}" for line in differs)
    return Exit.FINE


def strength(book: Book, options: Namespace) -> Exit:
    """Save a test of strength of a splice."""
    form = book.strength.blank_form() | given(STRENGTH_FORM, options)
    test = _saved(lambda: book.strength.record(options.splice, form))
    where = "held" if test.failed_at is FailedAt.NOWHERE else label(test.failed_at)
    told = f"{label(test.kind)} at {test.force}, {where}, {test.tested_on}"
    if options.json:
        output.json({"id": test.id, "splice": test.splice_id, "force_n": test.force.si, "failed_at": test.failed_at})
    else:
        output.lines([f"recorded: {told}", f"id: {test.id}"])
    return Exit.FINE


def given(fields: Iterable[Field], options: Namespace) -> dict[str, str]:
    """Every option that was given, as it would be typed into the form; one given several times is a list."""
    found = {field.name: getattr(options, field.name, None) for field in fields}
    texts = {name: text if isinstance(text, str) else ", ".join(text) for name, text in found.items() if text}
    return texts | {name: "" for name, text in found.items() if text == ""}


def _start(book: Book, options: Namespace) -> _Start:
    start = _Start(book.diary.blank_form())
    if options.like == LAST:
        if not (options.rope and options.end):
            raise WrongCallError(f"--like last needs the rope and its end, for example: {EXAMPLE}")
        last = book.diary.form_as_last(options.rope, options.end, options.method or "")
        start = _Start(last.form, last.plan, last.source.id if last.source else "")
    elif options.like:
        start = _Start(book.diary.form_like(options.like), book.diary.splice(options.like).plan, options.like)
    return _planned(book, options, start) if any(getattr(options, name) for name in PLANNED) else start


def _planned(book: Book, options: Namespace, start: _Start) -> _Start:
    """The start with a plan of its own, worked out as ``gearlog plan`` does."""
    form = start.form | given(SPLICE_FORM, options)
    rope = book.gear.by_tag(form["rope"])
    wanted = {name: getattr(options, name) or "" for name in PLANNED}
    wanted |= {"method": form["method"], "condition": form["condition"]}
    plan = _saved(lambda: book.planner.plan(book.planner.form_for(rope.id, _end(form["end"])) | wanted))
    known = book.diary.form_from_plan(plan) | {"condition": ""}  # this plan was not looked at: it is to be said
    typed = {name: text for name, text in start.form.items() if text and not name.startswith(MEASURED)}
    return _Start(known | typed, plan, start.like)


def _end(typed: str) -> str:
    return typed if typed in {"A", "B"} else ""


def _measured(typed: Sequence[str], plan: Plan | None) -> dict[str, str]:
    """``MARK=LENGTH`` as fields of the form; a mark is told by its id or by its letter."""
    if typed and plan is None:
        raise WrongCallError(f"--measured needs a plan with marks: use --like or --eye, for example: {EXAMPLE}")
    names = {mark.letter: mark.id for mark in plan.marks} | {mark.id: mark.id for mark in plan.marks} if plan else {}
    found = {}
    for one in typed:
        mark, is_there, length = one.partition("=")
        if not is_there or mark.strip() not in names:
            known = ", ".join(names)
            raise WrongCallError(f"--measured {quoted(one)} is not MARK=LENGTH with a mark of the plan ({known}), "
                                 f"for example: {EXAMPLE}")  # fmt: skip
        found[MEASURED + names[mark.strip()]] = length
    return found


def _saved(save: Callable[[], Saved]) -> Saved:
    """What ``save`` returns; its faults are told by the option they belong to."""
    try:
        return save()
    except InvalidRecordError as error:
        raise WrongCallError(" | ".join(map(_told, error.faults))) from error


def _told(fault: Fault) -> str:
    option = fault.field.replace("_", "-").replace(MEASURED, "measured ")
    return f"--{option}: {fault.reason}; {fault.way_out}"
