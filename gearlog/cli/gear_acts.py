"""``gearlog add``, ``inspect``, ``cut`` and the decisions: what happens to gear, entered without the screens."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError
from gearlog.cli.gear_words import sheet_lines
from gearlog.cli.typed import named, typed
from gearlog.domain.inspection import InspectionKind, Mark, Verdict
from gearlog.domain.vocabulary import End, EventKind, label
from gearlog.errors import NotFoundError
from gearlog.services.cut_through import met, words_of
from gearlog.services.device_forms import WHOLE_FORM
from gearlog.services.inspection_forms import FINDING_FORM, INSPECTION_FORM
from gearlog.units.quoting import quoted
from gearlog.upkeep.account import PIECE

if TYPE_CHECKING:
    from gearlog.domain.item import Item
    from gearlog.services.book import Book
    from gearlog.services.sheet import Sheet

CUT_NAMES = {
    "cut_as": "as", "cut_end": "end", "parent_end": "end", "length_bought": "length", "happened_on": "on",
    "cut_on": "on", "parent": "TAG", "item": "TAG",
}  # fmt: skip
"""Field of a form -> option of ``gearlog cut``."""
DECISION_NAMES = {"happened_on": "on", "notes": "reason", "item": "TAG", "kind": "TAG"}
"""The same of a decision."""
ANSWER = "type it like --answer cover-cuts=pass or --answer 'splice-tail@A=watch:moved by 3 mm'"
FINDING = "type it like --finding 'severity=stop; words=two cut strands; at=3.2 m'"


def add(book: Book, options: Namespace) -> Exit:
    """Save a new item, or many equal ones."""
    form = {**book.gear.blank_form(), **typed(WHOLE_FORM, options)}
    if options.serials is None and options.count is None:
        made: tuple[Item, ...] = (book.gear.add(form),)
    else:
        made = book.gear.add_many(form, ",".join(options.serials or ()), options.count or "")
    tags = [item.tag for item in made]
    if options.json:
        output.json([{"id": item.id, "tag": item.tag, "serial": item.serial} for item in made])
    else:
        output.lines(f"added {tag}" for tag in tags)
    return Exit.FINE


def inspect(book: Book, options: Namespace) -> Exit:
    """Print what to look at, or save an inspection; one that takes the item out of service is a finding."""
    item = book.gear.by_tag(options.tag)
    kind = InspectionKind(options.kind)
    with named({"lines": "answer", "answers": "answer", "findings": "finding", "item": "TAG"}):
        sheet = book.inspecting.sheet(item.id, kind)
        if not (options.answer or options.rest or options.finding):
            output.lines(sheet_lines(sheet, item.tag))
            return Exit.FINE
        sheet = _with_findings(book, _answered(sheet, options), options.finding or ())
        form = book.inspecting.form_for(item.id, kind) | {"next_due_on": ""} | typed(INSPECTION_FORM, options)
        made = book.inspecting.record(sheet, form)
    due = book.gear.row(item.id).due
    if options.json:
        output.json(
            {"id": made.id, "tag": item.tag, "ruled": made.ruled, "verdict": made.verdict, "due_on": due.due_on}
        )
    else:
        output.lines([f"{item.tag}: {label(made.kind)} inspection of {made.inspected_on}, {label(made.verdict)}",
                      f"{item.tag}: {due.reason}"])  # fmt: skip
    out = made.verdict in {Verdict.OUT_OF_SERVICE, Verdict.RETIRE}
    return Exit.FINDING if out else Exit.FINE


def cut(book: Book, options: Namespace) -> Exit:
    """Cut a piece, an end or a trim off a rope."""
    rope = book.gear.by_tag(options.tag)
    before = book.gear.card(rope.id)
    with named(CUT_NAMES):
        done = _cut_piece(book, rope.id, options) if options.cut_as == PIECE else _cut_off(book, rope.id, options)
    after = book.gear.card(rope.id)
    left = after.length_now_m
    output.lines([done, f"{rope.tag}: {'length unknown' if left is None else f'{left:.3f} m'} left"])
    made = max((one for one in after.events if one.kind is EventKind.CUT), key=lambda one: one.created_at)
    if made.length is not None:
        through = met(before.ends, End(made.cut_end), made.length.si, before.length_now_m)
        output.lines(words_of(through, book.settings.unit))
    return Exit.FINE


def decide(book: Book, options: Namespace, kind: EventKind) -> Exit:
    """Quarantine, release, retire or note the destruction of an item."""
    item = book.gear.by_tag(options.tag)
    form = book.standing.blank_form() | _given(happened_on=options.on, by=options.by, notes=options.reason)
    with named(DECISION_NAMES):
        made = book.standing.decide(item.id, kind, form)
    output.lines([f"{item.tag}: {label(made.kind)} on {made.happened_on} by {made.by}"])
    output.lines(f"{item.tag}: {note}" for note in book.gear.card(item.id).notes)
    return Exit.FINE


quarantine: Callable[[Book, Namespace], Exit] = partial(decide, kind=EventKind.QUARANTINED)
release: Callable[[Book, Namespace], Exit] = partial(decide, kind=EventKind.RELEASED)
retire: Callable[[Book, Namespace], Exit] = partial(decide, kind=EventKind.RETIRED)
destroy: Callable[[Book, Namespace], Exit] = partial(decide, kind=EventKind.DESTROYED)


def _given(**texts: str | None) -> dict[str, str]:
    return {name: text for name, text in texts.items() if text is not None}


def _cut_piece(book: Book, rope_id: str, options: Namespace) -> str:
    if options.from_throat is not None:
        raise WrongCallError("--from-throat belongs to an end that is cut off; give --length, for example: "
                             "gearlog cut line-3 --as piece --end B --length '5 m' --name lanyard")  # fmt: skip
    told = _given(name=options.name, tag=options.new_tag, category=options.category, length_bought=options.length,
                  parent_end=options.end, cut_on=options.on, notes=options.notes)  # fmt: skip
    piece = book.gear.add(book.gear.form_for_piece(rope_id) | told)
    return f"added {piece.tag}"


def _cut_off(book: Book, rope_id: str, options: Namespace) -> str:
    start = {"happened_on": book.today().isoformat(), "by": book.settings.user}
    told = _given(cut_as=options.cut_as, cut_end=options.end, length=options.length, from_throat=options.from_throat,
                  happened_on=options.on, by=options.by, notes=options.notes)  # fmt: skip
    made = book.gear.cut(rope_id, start | told)
    return f"cut off: {made.length} from end {made.cut_end}"


def _answered(sheet: Sheet, options: Namespace) -> Sheet:
    for text in options.answer or ():
        sheet = _with_answer(sheet, text)
    if options.rest is None:
        return sheet
    if options.rest != Mark.PASS:
        raise WrongCallError(f"--rest: {quoted(options.rest)} cannot be; only pass can be said of all the rest")
    if options.seen is not None:
        if options.seen != sheet.code:
            raise WrongCallError("--seen: this is not the code of these lines; print them with: gearlog inspect TAG")
        for line in sheet.unseen:
            sheet = sheet.see(line.key)
    return sheet.pass_rest()


def _with_answer(sheet: Sheet, text: str) -> Sheet:
    key, equals, rest = text.partition("=")
    mark, _, words = rest.partition(":")
    marks = {one.value: one for one in Mark}
    if not equals or mark.strip() not in marks:
        raise WrongCallError(f"--answer: {quoted(text)} is no answer; {ANSWER}")
    try:
        return sheet.answer(key.strip(), marks[mark.strip()], words)
    except NotFoundError as error:
        raise WrongCallError(f"--answer: {error.message}; print its lines with: gearlog inspect TAG") from error


def _with_findings(book: Book, sheet: Sheet, texts: Iterable[str]) -> Sheet:
    known = {field.name for field in FINDING_FORM} | {"line"}
    for text in texts:
        parts = (part.partition("=") for part in text.split(";") if part.strip())
        form = {name.strip(): value.strip() for name, _, value in parts}
        if not set(form) <= known:
            raise WrongCallError(f"--finding: {quoted(text)} is not understood; {FINDING}")
        line = form.pop("line", "")
        sheet = sheet.with_finding(book.inspecting.finding(sheet, {"severity": "watch", **form}, line))
    return sheet
