"""The pictures of a part of the diary: eyes, minutes, tests of strength."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Unit
from gearlog.reports.pictures import WIDTH, Loaded, Picture, eye_picture, minutes_picture, strength_picture
from gearlog.reports.words import Tape
from gearlog.services.shelf import Shelf


def pictures(splices: Iterable[Splice], shelf: Shelf, width: int = WIDTH) -> tuple[Picture, ...]:
    """Eyes over time, minutes of each splice, tests of strength against the rope's stated strength."""
    some = tuple(splices)
    settings = shelf.store.settings
    tape = Tape(settings.unit is Unit.IMPERIAL, settings.tape_parts)
    return (
        eye_picture(some, tape, width),
        minutes_picture(some, width),
        strength_picture(tuple(_loaded(some, shelf)), tape, width),
    )


def _loaded(splices: Iterable[Splice], shelf: Shelf) -> Iterator[Loaded]:
    tests = shelf.lessons.tests()
    for splice in splices:
        for test in tests.get(splice.id, ()):
            yield Loaded(test, _stated(splice, shelf.find(splice.rope_id)))


def _stated(splice: Splice, rope: Item | None) -> float | None:
    """The rope's breaking strength: as the plan knew it when the splice was made, else from its record (N)."""
    if splice.plan is not None and splice.plan.inputs.rope.mbs_n is not None:
        return splice.plan.inputs.rope.mbs_n
    return rope.breaking_strength.si if rope and rope.breaking_strength else None
