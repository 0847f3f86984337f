"""The account of a rope's length: as bought is what became pieces and offcuts, what lies in splices, and what is free.

All sums are exact; what was not measured is unknown and makes what depends on it unknown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.history import History, cuts_of
from gearlog.domain.lifecycle import EndView, length_gap
from gearlog.domain.places import bought
from gearlog.domain.vocabulary import End

NOTHING = Fraction(0)
PIECE, END, TRIM = "piece", "end", "trim"
"""How a cut may be meant."""


class Part(msgspec.Struct, frozen=True):
    """One length that left the rope.

    Attributes:
        on: when it was cut.
        what: ``piece``, ``end``, ``trim``, or ``offcut`` where it was not told.
        length: exact (m); None where it was not measured.
        end: the end that it was cut from.
        piece_id: the item that it became, or empty.
        event_id: the cut's entry in the history.
    """

    on: PartialDate
    what: str
    length: Fraction | None
    end: str
    piece_id: str
    event_id: str


class Account(msgspec.Struct, frozen=True):
    """Where a rope's length went (m, exact); None is unknown.

    Attributes:
        bought: as bought or as cut from its parent.
        parts: what left it, in the order of the cuts.
        now: what is there, rope in splices included.
        in_splices: of that, what lies between each end and its splice's throat; zero at an end without a splice.
        faults: what does not add up or is not known, in words.
        gaps: what is not known or cannot be of the splices, in words; the account adds up without it.
    """

    bought: Fraction | None
    parts: tuple[Part, ...]
    now: Fraction | None
    in_splices: Mapping[End, Fraction | None]
    faults: tuple[str, ...]
    gaps: tuple[str, ...] = ()

    @property
    def pieces(self) -> Fraction | None:
        """What became pieces of their own."""
        return total(part.length for part in self.parts if part.what == PIECE)

    @property
    def offcuts(self) -> Fraction | None:
        """What was cut off and became nothing."""
        return total(part.length for part in self.parts if part.what != PIECE)

    @property
    def free(self) -> Fraction | None:
        """Rope between the throats."""
        used = total(self.in_splices.values())
        return None if self.now is None or used is None else self.now - used

    @property
    def balances(self) -> bool:
        """Whether the length as bought is pieces, offcuts and what is there; False while a part is unknown."""
        rest = total((self.pieces, self.offcuts, self.now))
        return self.bought is not None and rest == self.bought and not self.faults


def total(lengths: Iterable[Fraction | None]) -> Fraction | None:
    """The sum of lengths; unknown as soon as one is."""
    found = list(lengths)
    known = [one for one in found if one is not None]
    return sum(known, NOTHING) if len(known) == len(found) else None


def account_of(history: History, ends: Mapping[End, EndView], pieces: Mapping[str, Fraction | None]) -> Account | None:
    """The account of a rope; None for what is no rope.

    Args:
        history: the rope's.
        ends: how its ends stand.
        pieces: of each piece cut from it, its length as its own record tells.
    """
    if history.item.rope is None:
        return None
    parts = tuple(_part(cut) for _, cut in cuts_of(history))
    came, left = bought(history), total(part.length for part in parts)
    now = (
        None
        if came is None or left is None or length_gap(history.item, history.events, history.splices)
        else came - left
    )
    account = Account(came, parts, now, {end: _in_splice(view) for end, view in ends.items()}, ())
    return msgspec.structs.replace(account, faults=tuple(_faults(account, history, pieces)), gaps=tuple(_gaps(account)))


def _part(cut: Event) -> Part:
    what = cut.cut_as or (PIECE if cut.piece_id else "offcut")
    length = cut.length.exact if cut.length is not None else None
    return Part(cut.happened_on, what, length, cut.cut_end, cut.piece_id, cut.id)


def _in_splice(view: EndView) -> Fraction | None:
    if view.splice is None:
        return NOTHING
    used = view.splice.plan.rope_used_m if view.splice.plan is not None else None
    return None if used is None else Fraction(used)


def _faults(account: Account, history: History, pieces: Mapping[str, Fraction | None]) -> Iterator[str]:
    gap = length_gap(history.item, history.events, history.splices)
    if gap:
        yield gap
    if account.now is not None and account.now < NOTHING:
        yield "more was cut off than was bought: the length as bought or a cut is wrong"
    for part in account.parts:
        if part.piece_id and part.length is not None and pieces.get(part.piece_id, part.length) != part.length:
            yield f"the piece cut on {part.on} has another length in its own record than in this history"


def _gaps(account: Account) -> Iterator[str]:
    for end, used in account.in_splices.items():
        if used is None:
            yield f"how much rope the splice at end {end} took is not on record: it was made without a plan"
    if account.now is not None and account.now >= NOTHING and account.free is not None and account.free < NOTHING:
        yield "the splices at its ends took more rope than there is: a length or a plan is wrong"
