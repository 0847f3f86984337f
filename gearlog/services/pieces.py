"""Pieces cut from a rope: each keeps its parent's data, and the parent's history tells the cut."""

from __future__ import annotations

from collections.abc import Mapping

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import End, EndState, EventKind
from gearlog.errors import Fault
from gearlog.services.clock import Clock
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible

_OWN = frozenset(
    {"name", "tag", "category", "used_for", "length_bought", "parent", "cut_from", "end_a", "end_b", "assigned_to",
     "notes"}
)  # fmt: skip
"""Fields that a piece does not take from its parent."""
_PLAIN_ENDS = frozenset({EndState.BARE, EndState.WHIPPED})
SAME_LENGTH = 1e-6  # m; two lengths that differ less are one, their difference is rounding


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


def cut_faults(piece: Item, parent: Item, left_m: float | None, ends: Mapping[End, EndView]) -> list[Fault]:
    """What is wrong with cutting ``piece`` from a rope that has ``left_m`` left and these ends.

    Which end went with the piece may stay open only while both ends are alike, without splice or knot.
    """
    length = piece.rope.length_bought if piece.rope else None
    if left_m is not None and length is not None and length.si > left_m + SAME_LENGTH:
        return [too_long("length_bought", left_m)]
    if _cut_end(piece, left_m) or all(view.state in _PLAIN_ENDS for view in ends.values()):
        return []
    last = "" if left_m is None or length is None else f", or {_metres(left_m - length.si)} for its end B"
    reason = f"does not say which end of {visible(parent.tag)} went with the piece"
    return [Fault("cut_from", reason, f"type 0 m for its end A{last}")]


def too_long(field: str, left_m: float) -> Fault:
    """The fault of a cut longer than what is left."""
    left = f"{left_m:.3f}".rstrip("0").rstrip(".")
    return Fault(field, f"is more than the {left} m that are left", "measure again, or mend the rope's length or cuts")


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


def _metres(length_m: float) -> str:
    """A length to the millimetre, as it would be typed."""
    return f"{length_m:.3f}".rstrip("0").rstrip(".") + " m"
