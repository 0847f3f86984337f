"""Pieces cut from a rope: each keeps its parent's data, and the parent's history tells the cut."""

from __future__ import annotations

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import EventKind
from gearlog.errors import Fault
from gearlog.services.clock import Clock
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.units.quoting import quoted

_OWN = frozenset(
    {"name", "tag", "category", "used_for", "length_bought", "parent", "cut_from", "end_a", "end_b", "assigned_to",
     "notes"}
)  # fmt: skip
"""Fields that a piece does not take from its parent."""
SAME_LENGTH = 1e-6  # m; two lengths that differ less are one, their difference is rounding


def form_for_piece(parent_form: Form, parent: Item) -> dict[str, str]:
    """The parent's form as the beginning of a piece's."""
    kept = {name: "" if name in _OWN else text for name, text in parent_form.items()}
    ends = {"end_a": "bare", "end_b": "bare"}
    return (
        kept
        | ends
        | {"parent": parent.tag, "category": parent.category.value, "used_for": parent.used_for.value}
    )


def with_parent(form: Form, parent_form: Form) -> dict[str, str]:
    """The form with its empty fields taken from the parent's; what was typed wins."""
    behind = {name: text for name, text in parent_form.items() if name not in _OWN}
    return {
        **behind,
        **{name: text for name, text in form.items() if text.strip(BLANKS) or name not in behind},
    }


def parent_faults(form: Form, piece: Item, parent: Item | None, left_m: float | None) -> list[Fault]:
    """What is wrong with a piece's place in its parent; ``left_m`` is what the parent has left, if it is asked."""
    typed = form.get("parent", "").strip(BLANKS)
    if not typed:
        return []
    if parent is None or parent.rope is None:
        way_out = "type the tag of the spool or rope it was cut from, or leave it empty"
        return [Fault("parent", f"{quoted(typed)} is not the tag of another rope in the log", way_out)]
    length = piece.rope.length_bought if piece.rope else None
    if left_m is not None and length is not None and length.si > left_m + SAME_LENGTH:
        return [too_long("length_bought", left_m)]
    return []


def too_long(field: str, left_m: float) -> Fault:
    """The fault of a cut longer than what is left."""
    left = f"{left_m:.3f}".rstrip("0").rstrip(".")
    return Fault(
        field, f"is more than the {left} m that are left", "measure again, or mend the rope's length or cuts"
    )


def cut_of(piece: Item, parent: Item, left_m: float | None, clock: Clock) -> Event:
    """The entry in the parent's history that tells the cut; the piece's length leaves the parent."""
    now = clock.now()
    return Event(
        id=new_id(),
        created_at=now,
        changed_at=now,
        item_id=parent.id,
        kind=EventKind.CUT,
        happened_on=PartialDate.of(clock.today()),
        length=piece.rope.length_bought if piece.rope else None,
        cut_end=_cut_end(piece, left_m),
        notes=f"cut for {piece.tag}",
    )


def _cut_end(piece: Item, left_m: float | None) -> str:
    """The parent's end that the piece took with it, where its place tells; else empty."""
    rope = piece.rope
    if rope is None or rope.cut_from is None:
        return ""
    if rope.cut_from.amount == 0:
        return "A"
    length = rope.length_bought
    if length is None or left_m is None:
        return ""
    return "B" if abs(rope.cut_from.si + length.si - left_m) <= SAME_LENGTH else ""
