"""The rules that a record must keep before it is saved; every breach is told with its field and a way out.

The day of saving is the record's own ``changed_at``. A date may be one day later: that moment is in UTC,
and the user's day may have begun already.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import date, timedelta

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import tag_fault
from gearlog.domain.item import DeviceFacts, Item, LifeLimit
from gearlog.domain.record import Record
from gearlog.domain.rope_rules import rope_faults
from gearlog.domain.splice import Splice
from gearlog.domain.text_rules import is_blank, text_faults
from gearlog.domain.vocabulary import Came, End, EventKind
from gearlog.errors import Fault
from gearlog.units.measure import Measure

LIFE_YEARS = range(1, 51)  # no maker states more; above it a digit slipped
EASE = range(1, 6)
MINUTES = range(6001)  # up to a hundred hours
LONGEST_INTERVAL = timedelta(
    days=5 * 366
)  # rules ask for a year at most (LOLER 1998, EN 365); beyond five a digit slipped
ONE_DAY = timedelta(days=1)
A_DATE = "type the day, month or year it was, such as 2024-05-31"
_IN_ORDER = (("made_on", "bought_on"), ("made_on", "first_used_on"), ("bought_on", "first_used_on"))
_DEVICE_MEASURES = ("gate_open_strength", "minor_axis_strength", "rope_least", "rope_most", "sheave")
_WORDS = {"made_on": "made", "bought_on": "bought", "first_used_on": "first used"}


def item_faults(item: Item, *, taken_tags: Collection[str]) -> tuple[Fault, ...]:
    """What is wrong with an item; ``taken_tags`` are those of all other items."""
    return tuple(_item_faults(item, taken_tags))


def _item_faults(item: Item, taken_tags: Collection[str]) -> Iterator[Fault]:
    tag = tag_fault(item.tag, taken_tags)
    if tag:
        yield tag
    if is_blank(item.name):
        yield Fault("name", "is empty", "type what the crew calls it, such as long climbing line")
    yield from text_faults(item)
    yield from _future_faults(item, _WORDS)
    yield from _order_faults(item)
    yield from _load_faults(item)
    if item.life_limit:
        yield from _life_faults(item.life_limit)
    if item.rope:
        yield from text_faults(item.rope)
        yield from rope_faults(item.rope)
    if item.device:
        yield from device_faults(item.device)


def device_faults(device: DeviceFacts) -> Iterator[Fault]:
    """What is wrong with the facts of a device."""
    yield from text_faults(device)
    yield from _zero_faults(**{name: getattr(device, name) for name in _DEVICE_MEASURES})
    least, most = device.rope_least, device.rope_most
    if least is not None and most is not None and least.exact > most.exact:
        yield Fault("rope_most", f"{most} is thinner than {least}", "enter both as printed, such as 10 mm and 13 mm")


def _future_faults(record: Record, names: Iterable[str]) -> Iterator[Fault]:
    tomorrow = record.changed_at.date() + ONE_DAY
    for name in names:
        day: PartialDate | None = getattr(record, name)
        if day is not None and day.earliest() > tomorrow:
            yield Fault(name, f"{day} has not come yet", A_DATE)


def _order_faults(item: Item) -> Iterator[Fault]:
    for earlier, later in _IN_ORDER:
        if item.came is Came.USED and later == "first_used_on" and earlier == "bought_on":
            continue
        first, second = getattr(item, earlier), getattr(item, later)
        if first is not None and second is not None and second.latest() < first.earliest():
            reason = f"{second} is before it was {_WORDS[earlier]}, {first}"
            yield Fault(later, reason, "correct one of the two dates, or leave the unknown one empty")


def _load_faults(item: Item) -> Iterator[Fault]:
    breaking, working = item.breaking_strength, item.safe_working_load
    yield from _zero_faults(breaking_strength=breaking, safe_working_load=working)
    if breaking is not None and working is not None and working.exact >= breaking.exact:
        reason = f"{working} is not below the breaking strength, {breaking}"
        yield Fault("safe_working_load", reason, "enter the two as the maker states them, such as 24 kN and 2.4 kN")


def _zero_faults(**measures: Measure | None) -> Iterator[Fault]:
    for name, measure in measures.items():
        if measure is not None and measure.amount == 0:
            yield Fault(name, "is zero", "type what was measured or stated, or leave it empty")


def _life_faults(limit: LifeLimit) -> Iterator[Fault]:
    yield from text_faults(limit)
    for name in ("years_from_made", "years_from_first_use"):
        years = getattr(limit, name)
        if years is not None and years not in LIFE_YEARS:
            yield Fault(name, f"{years} cannot be right", "type 1 to 50 years as the maker states, such as 10")


def splice_faults(splice: Splice) -> tuple[Fault, ...]:
    """What is wrong with the record of a splice."""
    return tuple(_splice_faults(splice))


def _splice_faults(splice: Splice) -> Iterator[Fault]:
    if is_blank(splice.method):
        yield Fault("method", "is empty", "choose how it was made")
    yield from text_faults(splice)
    yield from _future_faults(splice, ("made_on",))
    yield from _place_faults(splice)
    yield from _zero_faults(finished_eye=splice.finished_eye, finished_length=splice.finished_length)
    if splice.minutes is not None and splice.minutes not in MINUTES:
        yield Fault("minutes", f"{splice.minutes} cannot be right", "type 0 to 6000, such as 45")
    if splice.ease is not None and splice.ease not in EASE:
        yield Fault("ease", f"{splice.ease} is not on the scale", "type 1 (hard) to 5 (easy), such as 3")
    if splice.corrects and is_blank(splice.correction_reason):
        yield Fault("correction_reason", "is empty", "say why the record is corrected, such as misread the tape")


def _place_faults(splice: Splice) -> Iterator[Fault]:
    if splice.end is End.BETWEEN and splice.position is None:
        yield Fault("position", "is empty", "type how far from end A the splice lies, such as 12 m")
    if splice.end is not End.BETWEEN and splice.position is not None:
        yield Fault("position", f"is given, but the splice is at end {splice.end}", "leave it empty, or choose between")


def event_faults(event: Event) -> tuple[Fault, ...]:
    """What is wrong with an entry of an item's history."""
    return tuple(_event_faults(event))


def _event_faults(event: Event) -> Iterator[Fault]:
    yield from text_faults(event)
    yield from _future_faults(event, ("happened_on",))
    yield from _cut_faults(event)
    if event.to and event.kind not in {EventKind.LOANED, EventKind.ASSIGNED}:
        yield Fault("to", "belongs to a loan or an assignment", "leave it empty, or choose loaned or assigned")
    if event.next_due_on is not None:
        yield from _next_due_faults(event, event.next_due_on)


def _cut_faults(event: Event) -> Iterator[Fault]:
    if event.kind is EventKind.CUT:
        yield from _zero_faults(length=event.length)
        if event.cut_end not in {End.A.value, End.B.value}:
            yield Fault("cut_end", "is not one of the two ends", "choose A or B: its splice went with it")
        return
    for name in ("length", "cut_end"):
        if getattr(event, name):
            yield Fault(name, "belongs to a cut", "leave it empty, or choose cut")


def _next_due_faults(event: Event, next_due: PartialDate) -> Iterator[Fault]:
    if event.kind is not EventKind.EXAMINED:
        yield Fault("next_due_on", "belongs to an examination", "leave it empty, or choose examined")
    elif next_due.latest() <= event.happened_on.earliest():
        yield Fault("next_due_on", f"{next_due} is not after the examination", _next_due_way_out(event.happened_on))
    elif next_due.earliest() > event.happened_on.latest() + LONGEST_INTERVAL:
        yield Fault("next_due_on", f"{next_due} is more than five years on", _next_due_way_out(event.happened_on))


def _next_due_way_out(examined: PartialDate) -> str:
    half_a_year_on: date = examined.earliest() + timedelta(days=182)
    return f"type the latest date of the next, such as {half_a_year_on.isoformat()}"
