"""The story of one item: entries, inspections and splices in one line of time, its parent's before the cut first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from gearlog.domain.counting import before_cut, summary
from gearlog.domain.event import Event
from gearlog.domain.finishes import is_finish
from gearlog.domain.history import History
from gearlog.domain.inspection import Inspection
from gearlog.domain.lifecycle import standing_splices
from gearlog.domain.order import Moment
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import EventKind, label
from gearlog.services.gear_views import Entry

Titles = Callable[[Splice], str]
"""From a splice to the title of its method."""
Tags = Mapping[str, str]
"""From an item's id to its tag."""
_Placed = tuple[tuple[object, ...], Entry]


def story_of(history: History, title: Titles, tags: Tags) -> tuple[Entry, ...]:
    """Every entry, the oldest first; struck ones are told as struck."""
    splices = list(_splices(history, title))
    before = [*_before(history, tags), *(placed for placed in splices if placed[1].inherited)]
    own = [*_events(history.events, tags), *_inspections(history.inspections)]
    own += [placed for placed in splices if not placed[1].inherited]
    return tuple(entry for part in (before, own) for _, entry in sorted(part, key=lambda pair: pair[0]))


def _before(history: History, tags: Tags) -> Iterator[_Placed]:
    """What happened to the parent before the cut."""
    origin = history.origin
    for place, event in enumerate(before_cut(origin) if origin is not None else ()):
        if not event.struck_because:
            moment = Moment(event.happened_on, event.created_at, place)
            yield _order(moment), _entry(event, tags, inherited=True)


def _events(events: tuple[Event, ...], tags: Tags) -> Iterator[_Placed]:
    for place, event in enumerate(events):
        yield _order(Moment(event.happened_on, event.created_at, place)), _entry(event, tags)


def _entry(event: Event, tags: Tags, *, inherited: bool = False) -> Entry:
    return Entry(
        on=event.happened_on.text,
        what=label(event.kind),
        words=event_words(event, tags),
        source="event",
        id=event.id,
        inherited=inherited,
        struck=event.struck_because,
    )


def event_words(event: Event, tags: Tags) -> str:
    """What an entry says beside its date and kind, on one line."""
    cut = _cut_words(event, tags) if event.kind is EventKind.CUT else ""
    parts = (
        cut,
        f"to {event.to}" if event.to else "",
        f"by {event.by}" if event.by else "",
        f"next due {event.next_due_on}" if event.next_due_on else "",
        " ".join(event.notes.split()),
    )
    return ", ".join(part for part in parts if part)


def _cut_words(event: Event, tags: Tags) -> str:
    length = event.length.text if event.length is not None else "unknown length"
    became = f" as {tags.get(event.piece_id, 'a piece')}" if event.piece_id else ""
    return f"{length} off end {event.cut_end or '?'}{became}"


def _inspections(inspections: tuple[Inspection, ...]) -> Iterator[_Placed]:
    for place, one in enumerate(inspections):
        words = ", ".join(part for part in (summary(one), f"by {one.inspector}", one.verdict_reason) if part)
        entry = Entry(one.inspected_on.text, "inspected", words, "inspection", one.id, struck=one.struck_because)
        yield _order(Moment(one.inspected_on, one.created_at, place)), entry


def _splices(history: History, title: Titles) -> Iterator[_Placed]:
    for place, splice in enumerate(standing_splices(history.splices)):
        by = f", by {splice.made_by}" if splice.made_by else ""
        words = f"{title(splice)} at {splice.end}: {label(splice.outcome)}{by}"
        inherited = splice.rope_id != history.item.id
        what = "finished" if is_finish(splice) else "spliced"
        entry = Entry(splice.made_on.text, what, words, "splice", splice.id, inherited)
        yield _order(Moment(splice.made_on, splice.created_at, place)), entry


def _order(moment: Moment) -> tuple[object, ...]:
    return (moment.day.earliest(), moment.saved, moment.place)
