"""What a piece takes with it from the rope that it was cut from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from gearlog.domain.history import History, Origin
from gearlog.domain.lifecycle import EndView, end_states
from gearlog.domain.places import at_the_cut, splices_between
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End


def end_before_cut(origin: Origin) -> EndView | None:
    """How the parent's end that went with the piece was then; None where it is not known which end that was."""
    if origin.end is None:
        return None
    before = at_the_cut(origin)
    return end_states(before.item, before.splices, before.events).get(End(origin.end))


def splices_with_piece(history: History) -> tuple[Splice, ...]:
    """What a piece took with it, each splice with its earlier versions: the one at its parent's end, those between."""
    origin = history.origin
    if origin is None:
        return ()
    view = end_before_cut(origin)
    found = [view.splice] if view is not None and view.splice is not None else []
    found += [one.splice for one in splices_between(replace(history, splices=(), taken=0)) if one.inherited]
    by_id = {splice.id: splice for splice in origin.parent.splices}
    return tuple(version for splice in found for version in _versions(splice, by_id))


def _versions(splice: Splice, by_id: Mapping[str, Splice]) -> Sequence[Splice]:
    """A splice behind its earlier versions."""
    chain = [splice]
    while chain[0].corrects in by_id and len(chain) <= len(by_id):
        chain.insert(0, by_id[chain[0].corrects])
    return chain


def with_taken(history: History, own: tuple[Splice, ...]) -> History:
    """The history with these splices of its own, behind what it took with it by its origin."""
    taken = splices_with_piece(history)
    return replace(history, splices=(*taken, *own), taken=len(taken))
