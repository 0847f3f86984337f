"""Pieces cut from a rope: each keeps its parent's data, and the parent's history tells the cut."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from fractions import Fraction

import msgspec
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.reach import cuts_through
from gearlog.domain.validate import event_faults
from gearlog.domain.vocabulary import End, EndState, EventKind, Status, label
from gearlog.errors import Fault, ReadingError
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.units.exact import exact_metres
from gearlog.units.measure import Length
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible
from gearlog.upkeep.account import PIECE

_OWN = frozenset(
    {"name", "tag", "category", "used_for", "length_bought", "parent", "cut_from", "parent_end", "end_a", "end_b",
     "cut_on", "assigned_to", "notes", "colour_mark"}
)  # fmt: skip
"""Fields that a piece does not take from its parent."""
_CUT_NO_MORE = frozenset({Status.RETIRED, Status.DESTROYED, Status.LOST})
_PLAIN_ENDS = frozenset({EndState.BARE, EndState.WHIPPED})
SAME_LENGTH = 1e-6  # m; two lengths that differ less are one, their difference is rounding


class Left(msgspec.Struct, frozen=True):
    """What is left of a rope before a piece is cut from it.

    Attributes:
        length_m: its length (m), None if unknown.
        ends: how its ends stand.
        status: where it stands.
    """

    length_m: float | None
    ends: Mapping[End, EndView]
    status: Status = Status.IN_SERVICE

    @property
    def ends_alike(self) -> bool:
        """Whether it makes no difference which end goes: both bear neither splice nor knot."""
        return all(view.state in _PLAIN_ENDS for view in self.ends.values())


def form_for_piece(parent_form: Form, parent: Item) -> dict[str, str]:
    """The parent's form as the beginning of a piece's."""
    kept = {name: "" if name in _OWN else text for name, text in parent_form.items()}
    ends = {"end_a": "bare", "end_b": "bare"}
    return kept | ends | {"parent": parent.tag, "category": parent.category.value, "used_for": parent.used_for.value}


def with_parent(form: Form, parent_form: Form) -> dict[str, str]:
    """The form with its empty fields taken from the parent's; what was typed wins."""
    behind = {name: text for name, text in parent_form.items() if name not in _OWN}
    return {
        **behind,
        **{name: text for name, text in form.items() if text.strip(BLANKS) or name not in behind},
    }


def parent_faults(form: Form, parent: Item | None) -> list[Fault]:
    """The fault of a parent that is typed and is no rope of the log, or cannot be this piece's."""
    typed = form.get("parent", "").strip(BLANKS)
    if not typed or (parent is not None and parent.rope is not None):
        return []
    way_out = "type the tag of the spool or rope it was cut from, or leave it empty"
    return [Fault("parent", f"{quoted(typed)} is not the tag of a rope that this one can be cut from", way_out)]


def cut_faults(form: Form, piece: Item, parent: Item, left: Left) -> list[Fault]:
    """What is wrong with cutting ``piece`` from its parent."""
    if left.status in _CUT_NO_MORE:
        way_out = "cut a piece from another rope; what was retired does not go on as another item"
        return [Fault("parent", f"{visible(parent.tag)} is {label(left.status)}", way_out)]
    length = piece.rope.length_bought if piece.rope else None
    if left.length_m is not None and length is not None and length.si > left.length_m + SAME_LENGTH:
        return [too_long("length_bought", left.length_m)]
    typed, told = _typed_end(form), _end_by_place(piece, left.length_m)
    tag = visible(parent.tag)
    if typed and told and typed is not told:
        reason = f"is {typed}, but the piece's place and length say end {told} of {tag}"
        return [Fault("parent_end", reason, "correct the one that is wrong, or leave one of them empty")]
    if typed or told or left.ends_alike:
        return []
    return [Fault("parent_end", f"is empty, but the ends of {tag} differ", "choose which of them went with the piece")]


def added_only_fault(form: Form) -> list[Fault]:
    """The fault of telling of a cut when an item is changed: that is history, not the item's data."""
    way_out = "leave it empty, and record the cut in the history of the rope it was cut from"
    told = (name for name in ("parent_end", "cut_on") if form.get(name, "").strip(BLANKS))
    return [Fault(name, "is told only when the piece is added", way_out) for name in told]


def too_long(field: str, left_m: float) -> Fault:
    """The fault of a cut longer than what is left."""
    left = f"{left_m:.3f}".rstrip("0").rstrip(".")
    return Fault(field, f"is more than the {left} m that are left", "measure again, or mend the rope's length or cuts")


def cut_of(form: Form, piece: Item, parent: Item, left: Left, day: PartialDate, now: datetime) -> Event:
    """The entry in the parent's history that tells the cut; the piece's length leaves the parent."""
    told = _typed_end(form) or _end_by_place(piece, left.length_m)
    return Event(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=parent.id,
        kind=EventKind.CUT,
        happened_on=_day(form) or day,
        length=piece.rope.length_bought if piece.rope else None,
        cut_end=(told or End.B).value,
        cut_as=PIECE,
        piece_id=piece.id,
        notes=f"cut for {piece.tag}" + ("" if told else "; from which end was not told, both were alike"),
    )


def day_faults(cut: Event) -> tuple[Fault, ...]:
    """What is wrong with the day of a cut, under the name of the form's field."""
    found = (fault for fault in event_faults(cut) if fault.field == "happened_on")
    return tuple(Fault("cut_on", fault.reason, fault.way_out) for fault in found)


def with_ends(piece: Item, cut: Event, left: Left) -> Item:
    """The piece with what the cut tells of it: the end that it took as that end stood, and where it began."""
    rope, end = piece.rope, End(cut.cut_end)
    if rope is None:
        return piece
    taken = left.ends[end].state if end in left.ends and not _is_through(piece, end, left) else EndState.BARE
    came = {"end_a": rope.end_a, "end_b": rope.end_b}
    name = "end_a" if end is End.A else "end_b"
    if came[name] is EndState.BARE:
        came[name] = taken
    return replace(piece, rope=replace(rope, cut_from=rope.cut_from or _start(piece, end, left), **came))


def _is_through(piece: Item, end: End, left: Left) -> bool:
    """Whether the piece is so short that it was cut within the splice at the end that it took."""
    splice, length = left.ends[end].splice, piece.rope.length_bought if piece.rope else None
    return splice is not None and length is not None and cuts_through(splice, length.exact)


def _start(piece: Item, end: End, left: Left) -> Length | None:
    """Where the piece's end A was on its parent; None where it cannot be told."""
    if end is End.A:
        return Length.read("0 m", zero=True)
    length = piece.rope.length_bought if piece.rope else None
    if left.length_m is None or length is None:
        return None
    return exact_metres(max(Fraction(left.length_m) - length.exact, Fraction(0)))


def _day(form: Form) -> PartialDate | None:
    """The day of the cut where one was typed that reads; a fault in it was told before."""
    typed = form.get("cut_on", "").strip(BLANKS)
    try:
        return PartialDate.read(typed) if typed else None
    except ReadingError:
        return None


def _typed_end(form: Form) -> End | None:
    typed = form.get("parent_end", "").strip(BLANKS).upper()
    return End(typed) if typed in {End.A, End.B} else None


def _end_by_place(piece: Item, left_m: float | None) -> End | None:
    """The parent's end that the piece took with it, where its place and length tell."""
    rope = piece.rope
    if rope is None or rope.cut_from is None:
        return None
    if rope.cut_from.amount == 0:
        return End.A
    if rope.length_bought is None or left_m is None:
        return None
    return End.B if abs(rope.cut_from.si + rope.length_bought.si - left_m) <= SAME_LENGTH else None


def metres(length_m: float) -> str:
    """A length to the millimetre, as it would be typed."""
    return f"{length_m:.3f}".rstrip("0").rstrip(".") + " m"
