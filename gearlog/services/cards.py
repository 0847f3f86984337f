"""The card of one item: all that is known of it, today or as of a past day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from gearlog.domain.constructions import find_construction
from gearlog.domain.counting import counted, from_inspection
from gearlog.domain.event import Event
from gearlog.domain.handed import loan_of
from gearlog.domain.history import History
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView, end_states, length_now, open_findings, status_of
from gearlog.domain.past import assigned_on, written_since
from gearlog.domain.places import findings_of, splices_between
from gearlog.domain.vocabulary import End
from gearlog.errors import NotFoundError
from gearlog.services.diary import Diary
from gearlog.services.gaps import gaps_of
from gearlog.services.gear_views import FindingRow
from gearlog.services.look import Look
from gearlog.services.notes import notes_on
from gearlog.services.schedule import Schedule
from gearlog.services.shelf import Shelf
from gearlog.services.story import Titles, story_of
from gearlog.services.views import Card, SpliceRow
from gearlog.upkeep.account import Account, account_of
from gearlog.upkeep.due import due_of
from gearlog.upkeep.life import end_of_life
from gearlog.upkeep.schedule import all_dates


class Cards:
    """Makes the cards of one log's items."""

    def __init__(self, shelf: Shelf, diary: Diary, schedule: Schedule, title: Titles) -> None:
        self._shelf = shelf
        self._diary = diary
        self._schedule = schedule
        self._title = title

    def card(self, item_id: str, look: Look) -> Card:
        """The card of an item; raises NotFoundError, also for a day on which the item was not there yet."""
        whole = self._shelf.history_of(item_id)
        if not look.sees(whole):
            raise NotFoundError(f"{whole.item.tag} is known from {look.first(whole)} on; ask for a later day")
        return self._made(whole, look.at(whole), look)

    def _made(self, whole: History, history: History, look: Look) -> Card:
        item, events = history.item, counted(history)
        day = look.on or self._shelf.clock.today()
        ends = end_states(item, history.splices, events)
        account = self._account(history, ends)
        book = self._schedule.book()
        return Card(
            item=item,
            status=status_of(events),
            due=due_of(item, events, day, book),
            life_end=end_of_life(item, day),
            ends=ends,
            length_now_m=length_now(item, events, history.splices) if item.rope else None,
            events=_newest_first((*history.events, *_said(history))),
            splices=self._splices(history),
            children=tuple(child for child in self._shelf.children_of(item.id) if self._seen(child, look)),
            parent=self._shelf.parent_of(item),
            construction=find_construction(item.rope.construction) if item.rope else None,
            gaps=gaps_of(item, events),
            inspections=tuple(
                sorted(history.inspections, key=lambda one: (one.inspected_on.latest(), one.created_at), reverse=True)
            ),
            findings=_findings(history, events),
            story=story_of(history, self._title, self._tags()),
            account=account,
            dates=all_dates(item, events, day, book),
            notes=notes_on(item, events, account),
            places=_places(history),
            assigned_to=assigned_on(item, events, day),
            loan=loan_of(events),
            on=look.on,
            written_later=len(written_since(whole, look.on)) if look.on and not look.recorded else 0,
        )

    def _splices(self, history: History) -> tuple[SpliceRow, ...]:
        """Its own splices and those that it took with it from its parent, the newest first."""
        known = {splice.id for splice in history.splices}
        rows = self._diary.rows() if history.taken else self._diary.rows_of(history.item.id)
        return tuple(row for row in rows if row.splice.id in known)

    def _account(self, history: History, ends: Mapping[End, EndView]) -> Account | None:
        lengths: dict[str, Fraction | None] = {}
        for child in self._shelf.children_of(history.item.id):
            length = child.rope.length_bought if child.rope is not None else None
            lengths[child.id] = length.exact if length is not None else None
        return account_of(history, ends, lengths)

    def _seen(self, child: Item, look: Look) -> bool:
        return look.on is None or look.sees(self._shelf.history_of(child.id))

    def _tags(self) -> Mapping[str, str]:
        return {item.id: item.tag for item in self._shelf.items()}


def _said(history: History) -> tuple[Event, ...]:
    return tuple(event for inspection in history.inspections for event in from_inspection(inspection))


def _newest_first(events: Sequence[Event]) -> tuple[Event, ...]:
    order = sorted(enumerate(events), key=lambda pair: (pair[1].happened_on.latest(), pair[0]), reverse=True)
    return tuple(event for _, event in order)


def _findings(history: History, events: Sequence[Event]) -> tuple[FindingRow, ...]:
    stopped = set(open_findings(events))
    return tuple(
        FindingRow(
            finding=found.finding,
            inspection=found.inspection,
            from_m=_metres(found.where.start) if found.where is not None else None,
            to_m=_metres(found.where.stop) if found.where is not None else None,
            gone=found.where is not None and found.where.gone is not None,
            inherited=found.inherited,
            open=found.finding.id in stopped,
        )
        for found in findings_of(history)
    )


def _places(history: History) -> dict[str, float]:
    """Where the splices between the ends lie now."""
    found = ((one.splice.id, one.where.start) for one in splices_between(history))
    return {splice_id: float(start) for splice_id, start in found if start is not None}


def _metres(length: Fraction | None) -> float | None:
    return None if length is None else float(length)
