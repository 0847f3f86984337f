"""The forms of an item's life: cut, quarantined, released, retired, destroyed, lost, found, handed out, taken back."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from gearlog.domain.vocabulary import End, EventKind
from gearlog.errors import GearlogError
from gearlog.services.forms import EVENT_FORM, Field
from gearlog.services.rope_cuts import CUT_FORM
from gearlog.services.standing import HAND_FORM, STANDING_FORM
from gearlog.services.views import Card
from gearlog.tui.screens.cut_words import cut_words, through_words
from gearlog.tui.screens.form_screen import Task
from gearlog.units.measure import Length

if TYPE_CHECKING:
    from gearlog.services.book import Book

CUT_END, CUT_TRIM = "gear.cut-end", "gear.cut-trim"
QUARANTINE, RELEASE, RETIRE, DESTROY = "gear.quarantine", "gear.release", "gear.retire", "gear.destroy"
LOSE, FIND = "gear.lose", "gear.find"
ASSIGN, LEND, TAKE_BACK = "gear.assign", "gear.lend", "gear.take-back"
"""Names of drafts; each goes on with a colon and the item's id."""

_DECISIONS = {
    QUARANTINE: (EventKind.QUARANTINED, "Put into quarantine",
                 "It is not to be used until somebody releases it; no plan and no kit takes it."),
    RELEASE: (EventKind.RELEASED, "Release from quarantine", ""),
    RETIRE: (EventKind.RETIRED, "Retire",
             "Its use ends for good. Textile kit is then made unusable, and its destruction noted."),
    DESTROY: (EventKind.DESTROYED, "Note its destruction",
              "It was made unusable, so that nobody takes it by mistake."),
}  # fmt: skip
_HANDS = {
    ASSIGN: (EventKind.ASSIGNED, "Give to somebody for good"),
    LEND: (EventKind.LOANED, "Lend"),
    TAKE_BACK: (EventKind.RETURNED, "Take back from a loan"),
}
_EVENTS = {LOSE: (EventKind.LOST, "Record a loss"), FIND: (EventKind.FOUND, "Record that it was found")}
_FINAL = frozenset({EventKind.RETIRED, EventKind.DESTROYED})
_WHY = {
    EventKind.QUARANTINED: "cover looks glazed at 3 m",
    EventKind.RELEASED: "how each of these was resolved",
    EventKind.RETIRED: "worn through",
    EventKind.DESTROYED: "how: cut into pieces",
}
"""What is asked for as the reason of each decision."""
_FINAL_WORDS = "Only striking the entry out brings it back. Until the next change u takes it back."
_AFTER_LOSS = "What was lost is in quarantine until it is released: nobody knows its past."

Maker = Callable[["Book", str, str], Task]


def life_makers() -> Mapping[str, Maker]:
    """What makes the task of each name of a draft."""
    decisions: dict[str, Maker] = dict.fromkeys(_DECISIONS, _decision)
    hands: dict[str, Maker] = dict.fromkeys(_HANDS, _hand)
    events: dict[str, Maker] = dict.fromkeys(_EVENTS, _event)
    return {CUT_END: _cut, CUT_TRIM: _cut, **decisions, **hands, **events}


def _task(book: Book, item_id: str, draft: str, fields: tuple[Field, ...], **words: Any) -> Task:
    item = book.gear.item(item_id)
    told = "  ".join(filter(None, (f"{item.tag}, {item.name}.", words.pop("told", ""))))
    return Task(place="gear", fields=fields, draft=draft, told=told,
                check=lambda name, text: book.gear.field_fault(fields, name, text), **words)  # fmt: skip


# Decisions


def _decision(book: Book, item_id: str, draft: str) -> Task:
    kind, title, told = _DECISIONS[draft.partition(":")[0]]
    fields = tuple(replace(field, hint=_WHY[kind]) if field.name == "notes" else field for field in STANDING_FORM)
    stops = book.standing.open_stops(item_id) if kind is EventKind.RELEASED else ()
    return _task(
        book,
        item_id,
        draft,
        fields,
        title=title,
        told=f"It is there because: {'; '.join(stops)}." if stops else told,
        start=book.standing.blank_form(),
        save=lambda form: book.standing.decide(item_id, kind, form),
        consequence=lambda _: _FINAL_WORDS if kind in _FINAL else "",
        help="Who decided and why stand in the history. A release says how each finding was resolved.",
    )


def _event(book: Book, item_id: str, draft: str) -> Task:
    kind, title = _EVENTS[draft.partition(":")[0]]
    fields = tuple(field for field in EVENT_FORM if field.name in {"happened_on", "by", "notes"})
    return _task(
        book,
        item_id,
        draft,
        fields,
        title=title,
        told="" if kind is EventKind.LOST else _AFTER_LOSS,
        start=book.gear.blank_event() | {"kind": kind.value},
        save=lambda form: book.gear.record_event(item_id, form),
    )


# Handing out


def _hand(book: Book, item_id: str, draft: str) -> Task:
    kind, title = _HANDS[draft.partition(":")[0]]
    fields = tuple(field for field in HAND_FORM if kind is not EventKind.RETURNED or field.name != "to")
    verb = {
        EventKind.ASSIGNED: book.standing.assign,
        EventKind.LOANED: book.standing.lend,
        EventKind.RETURNED: book.standing.give_back,
    }[kind]
    return _task(
        book,
        item_id,
        draft,
        fields,
        title=title,
        told=_who_has(book.gear.card(item_id)),
        start=book.standing.blank_form(fields),
        save=lambda form: verb(item_id, form),
    )


def _who_has(card: Card) -> str:
    loan = f"On loan to {card.loan.to or 'somebody'} since {card.loan.happened_on}." if card.loan else ""
    owner = f"Assigned to {card.assigned_to}." if card.assigned_to else "Assigned to nobody."
    return f"{owner} {loan}".rstrip()


# Cuts


def _cut(book: Book, item_id: str, draft: str) -> Task:
    what = draft.partition(":")[0].rpartition("-")[2]
    card = book.gear.card(item_id)
    fields = tuple(field for field in CUT_FORM if field.name != "cut_as")
    blank = {field.name: field.default for field in CUT_FORM}
    spliced = any(view.splice is not None and view.splice.plan is not None for view in card.ends.values())
    return _task(
        book,
        item_id,
        draft,
        fields,
        title="Cut an end off, with what is on it" if what == "end" else "Trim an end",
        start=blank | book.standing.blank_form(fields) | {"cut_as": what},
        save=lambda form: book.gear.cut(item_id, form),
        relevant=lambda name, form: name != "from_throat" or spliced or bool(form.get(name)),
        consequence=lambda form: _after_cut(book, item_id, form),
        help="The rope gets shorter; what was found along it keeps its place on the rope, and what lies on the part "
        "that is cut off goes with it. Before it is saved it is said what moves where.",
    )


def _after_cut(book: Book, item_id: str, form: Mapping[str, str]) -> str:
    """What the cut will do; empty for a form with a fault, which saving will tell."""
    card, end = book.gear.card(item_id), form.get("cut_end", "")
    cut_m = _cut_m(card, end, form)
    return cut_words(card, End(end), cut_m, book.settings) if cut_m is not None else ""


def after_entry(book: Book, item_id: str, form: Mapping[str, str]) -> str:
    """What an entry of the history asks before it is saved: of a cut, whether it may go through a splice."""
    card, end = book.gear.card(item_id), form.get("cut_end", "")
    cut_m = _cut_m(card, end, form) if form.get("kind") == EventKind.CUT else None
    return through_words(card, End(end), cut_m, book.settings) if cut_m is not None else ""


def _cut_m(card: Card, end: str, form: Mapping[str, str]) -> float | None:
    """How much rope goes (m): as typed, or counted from the throat of the splice at that end."""
    if end not in {End.A, End.B}:
        return None
    typed, throat = (read_length(form.get(name, "")) for name in ("length", "from_throat"))
    splice = card.ends[End(end)].splice
    if typed is not None or throat is None or splice is None or splice.plan is None:
        return typed
    return None if splice.plan.rope_used_m is None else splice.plan.rope_used_m + throat


def read_length(text: str) -> float | None:
    """A typed length (m); None for what does not read, which saving will tell."""
    try:
        return Length.read(text, zero=True).si
    except GearlogError:
        return None


def after_piece(book: Book, parent_id: str, form: Mapping[str, str]) -> str:
    """What cutting a piece will do to the rope it is cut from; asked before it is saved."""
    cut_m = read_length(form.get("length_bought", ""))
    if cut_m is None:
        return ""
    end = End(form["parent_end"]) if form.get("parent_end") in {End.A, End.B} else End.B
    name = form.get("tag") or form.get("name") or "a piece"
    return cut_words(book.gear.card(parent_id), end, cut_m, book.settings, becomes=name)
