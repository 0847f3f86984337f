"""What a piece takes with it from the rope that it was cut from."""

from __future__ import annotations

from msgspec.structs import replace

from gearlog.domain.history import History, Origin
from gearlog.domain.lifecycle import EndView, end_states
from gearlog.domain.order import Moment
from gearlog.domain.places import at_the_cut
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End


def end_before_cut(origin: Origin) -> EndView | None:
    """How the parent's end that went with the piece was then; None where it is not known which end that was."""
    if origin.end is None:
        return None
    before = at_the_cut(origin)
    made = tuple(
        splice
        for place, splice in enumerate(origin.parent.splices)
        if not Moment(splice.made_on, splice.created_at, place).is_after(origin.cut_at)
    )
    return end_states(before.item, made, before.events).get(End(origin.end))


def splices_with_piece(origin: Origin) -> tuple[Splice, ...]:
    """The splice that stood at the end that went with the piece, with its earlier versions; empty where none did."""
    view = end_before_cut(origin)
    if view is None or view.splice is None:
        return ()
    by_id = {splice.id: splice for splice in origin.parent.splices}
    chain = [view.splice]
    while chain[0].corrects in by_id and len(chain) <= len(by_id):
        chain.insert(0, by_id[chain[0].corrects])
    return tuple(chain)


def with_taken(history: History, own: tuple[Splice, ...]) -> History:
    """The history with these splices of its own, behind what it took with it by its origin."""
    taken = splices_with_piece(history.origin) if history.origin is not None else ()
    return replace(history, splices=(*taken, *own), taken=len(taken))
