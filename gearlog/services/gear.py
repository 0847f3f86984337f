"""Gear: what a user does with items and their histories."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from msgspec.structs import replace

from gearlog.domain.counting import DERIVED
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import Tags
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView, end_states, length_now, status_of
from gearlog.domain.vocabulary import End, EventKind, label
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services import pieces
from gearlog.services.along import rope_along
from gearlog.services.cards import Cards
from gearlog.services.diary import Diary
from gearlog.services.event_forms import read_event
from gearlog.services.filling_forms import blank
from gearlog.services.finding import found
from gearlog.services.forms import EVENT_FORM, Field
from gearlog.services.gear_views import RopeAlong
from gearlog.services.item_forms import FORM, item_form, read_item
from gearlog.services.look import Look
from gearlog.services.many import many
from gearlog.services.reading_forms import BLANKS, Form, field_fault
from gearlog.services.rope_cuts import read_cut
from gearlog.services.rows import GearRows
from gearlog.services.schedule import Schedule
from gearlog.services.shelf import Shelf
from gearlog.services.standing import Standing, moved_to
from gearlog.services.story import Titles
from gearlog.services.views import Card, GearRow


class Gear:
    """The items of one log: seen, added, changed, and what happened to them."""

    def __init__(self, shelf: Shelf, diary: Diary, schedule: Schedule, title: Titles) -> None:
        self._shelf = shelf
        self._title = title
        self._standing = Standing(shelf, schedule)
        self._rows = GearRows(shelf, schedule)
        self._cards = Cards(shelf, diary, schedule, title)

    def rows(self, on: date | None = None, *, recorded: bool = False) -> tuple[GearRow, ...]:
        """Every item in order of entry, with its state as of today or of a past day, as ``card`` tells it."""
        return self._rows.all() if on is None else self._rows.past(Look(on, recorded))

    def find(self, text: str) -> tuple[GearRow, ...]:
        """Items by a few letters or a scanned tag, the likeliest first; a whole tag finds its item alone."""
        return found(text, self.rows(), self._shelf.find_tag(text.strip(BLANKS)))

    def row(self, item_id: str) -> GearRow:
        """The row of one item; raises NotFoundError."""
        return self._rows.of(self._shelf.item(item_id))

    def item(self, item_id: str) -> Item:
        """The item with this id; raises NotFoundError."""
        return self._shelf.item(item_id)

    def by_tag(self, tag: str) -> Item:
        """The item that bears this tag; raises NotFoundError."""
        return self._shelf.by_tag(tag)

    def blank_form(self) -> dict[str, str]:
        """A new item's form."""
        return blank(FORM)

    def form_of(self, item_id: str) -> dict[str, str]:
        """The form of an item as it stands."""
        item = self._shelf.item(item_id)
        return item_form(item, self._parent_tag(item))

    def form_for_piece(self, parent_id: str) -> dict[str, str]:
        """The form of a piece to be cut from a rope: its data, without its own name, tag and length."""
        parent = self._shelf.item(parent_id)
        return pieces.form_for_piece(item_form(parent), parent)

    def add(self, form: Form) -> Item:
        """Save a new item; a piece cut from a rope enters that rope's history in the same save.

        Raises InvalidRecordError with every fault, ReadOnlyError, StorageError.
        """
        parent = self._parent(form, None)
        if parent is None:
            item = self._read(form, None, None)
            self._shelf.store.save(item, label=f"add {item.tag}")
            return item
        item = self._read(pieces.with_parent(form, item_form(parent)), None, parent)
        left = self._left(parent)
        cut = pieces.cut_of(form, item, parent, left, PartialDate.of(self._shelf.clock.today()), self._shelf.moment())
        faults = pieces.day_faults(cut)
        if faults:
            raise InvalidRecordError(faults)
        item = pieces.with_ends(item, cut, left)
        self._shelf.store.save(item, cut, label=f"add {item.tag}, cut from {parent.tag}")
        return item

    def add_many(self, form: Form, serials: str = "", count: str = "") -> tuple[Item, ...]:
        """Save equal items in one go, told apart by their serials (``F101, F102`` or ``F101..F110``) or only counted.

        Raises InvalidRecordError with every fault, ReadOnlyError, StorageError.
        """
        forms = many(form, serials, count)
        made: list[Item] = []
        tags = self._tags(None)
        for one in forms:
            made.append(self._read(one, None, None, tags))
            tags.add(made[-1].tag)
        self._shelf.store.save(*made, label=f"add {len(made)} x {made[0].name}")
        return tuple(made)

    def change(self, item_id: str, form: Form) -> Item:
        """Save an item's changed data; raises InvalidRecordError, NotFoundError, ReadOnlyError, StorageError."""
        base = self._shelf.item(item_id)
        whole = {**self.form_of(item_id), **form}
        item = self._read(whole, base, self._parent(whole, base))
        given = moved_to(item, base, PartialDate.of(self._shelf.clock.today()), self._shelf.moment())
        self._shelf.store.save(item, *given, label=f"change {item.tag}")
        return item

    def cut(self, item_id: str, form: Form) -> Event:
        """Cut an end off a rope, with what is on it, or trim it (``CUT_FORM``); a piece that goes on is ``add``ed.

        Raises as ``change``.
        """
        item = self._shelf.item(item_id)
        made = read_cut(item, form, self._ends(item), self._shelf)
        self._check_cut(made, item)
        self._shelf.store.save(made, label=f"{item.tag}: {made.length} cut off end {made.cut_end}")
        return made

    def blank_event(self) -> dict[str, str]:
        """A new event's form, dated today."""
        return blank(EVENT_FORM) | {
            "happened_on": self._shelf.clock.today().isoformat(),
            "by": self._shelf.store.settings.user,
        }

    def record_event(self, item_id: str, form: Form) -> Event:
        """Enter what happened into an item's history; raises InvalidRecordError and as ``change``."""
        item = self._shelf.item(item_id)
        event = read_event(item.id, form, today=self._shelf.clock.today(), now=self._shelf.moment())
        self._check_cut(event, item)
        if event.kind is EventKind.RELEASED:
            event = self._standing.with_findings(item, event)
        given = (
            (replace(item, assigned_to=event.to, changed_at=event.changed_at),)
            if event.kind is EventKind.ASSIGNED
            else ()
        )
        self._shelf.store.save(event, *given, label=f"{item.tag}: {label(event.kind)}")
        return event

    def strike(self, event_id: str, reason: str) -> Event:
        """Strike out an entry; it stays in the history with its reason. Raises as ``change``."""
        event = self._shelf.store.get(Event, event_id)
        if event is None and DERIVED in event_id:
            raise NotFoundError("this entry comes from an inspection; strike that inspection out instead")
        if event is None:
            raise NotFoundError("this entry is not in the history any more; go back to the item")
        why = reason.strip(BLANKS)
        if not why:
            way_out = "say why the entry is struck out, such as: entered for the wrong rope"
            raise InvalidRecordError((Fault("struck_because", "is empty", way_out),))
        struck = replace(event, struck_because=why, changed_at=self._shelf.clock.now())
        self._shelf.store.save(struck, label=f"strike out {label(event.kind)} of {event.happened_on}")
        return struck

    def card(self, item_id: str, on: date | None = None, *, recorded: bool = False) -> Card:
        """All that is known of an item, now or as of a past day; raises NotFoundError.

        ``recorded`` shows that day as it was shown then: only what had been written down.
        """
        return self._cards.card(item_id, Look(on, recorded))

    def along(self, card: Card) -> RopeAlong | None:
        """The rope of a card from end A to end B, for a drawing; None where its length is not known."""
        return rope_along(card, self._title)

    def field_fault(self, form_fields: Sequence[Field], name: str, text: str) -> str | None:
        """What is wrong with the text of one field, in one line, or None."""
        return field_fault(form_fields, name, text)

    def _read(self, form: Form, base: Item | None, parent: Item | None, tags: Tags | None = None) -> Item:
        tags = tags if tags is not None else self._tags(base)
        item, faults = read_item(form, base=base, parent=parent, tags=tags, now=self._shelf.clock.now())
        faults += pieces.parent_faults(form, parent)
        if base is not None:
            faults += pieces.added_only_fault(form)
        elif parent is not None and parent.rope is not None:
            faults += pieces.cut_faults(form, item, parent, self._left(parent))
        if base is not None and base.rope is not None and item.rope is None and self._shelf.splices_of(base.id):
            faults.append(Fault("construction", "is empty, but splices are on record in this rope", "choose it again"))
        if faults:
            raise InvalidRecordError(tuple(faults))
        return item

    def _tags(self, base: Item | None) -> Tags:
        """The tags of all items but the one that is changed."""
        return Tags(item.tag for item in self._shelf.items() if base is None or item.id != base.id)

    def _parent(self, form: Form, base: Item | None) -> Item | None:
        """The rope that ``parent`` names; None when it names none, or one that was itself cut from this item."""
        found = self._shelf.find_tag(form.get("parent", ""))
        above, seen = found, set()
        while above is not None and above.id not in seen:
            if base is not None and above.id == base.id:
                return None
            seen.add(above.id)
            above = self._shelf.parent_of(above)
        return found

    def _left(self, parent: Item) -> pieces.Left:
        status = status_of(self._shelf.events_of(parent.id))
        return pieces.Left(self._length_now(parent), self._ends(parent), status)

    def _ends(self, item: Item) -> Mapping[End, EndView]:
        return end_states(item, self._shelf.versions_of(item.id), self._shelf.events_of(item.id))

    def _parent_tag(self, item: Item) -> str:
        parent = self._shelf.parent_of(item)
        return parent.tag if parent else ""

    def _length_now(self, item: Item | None) -> float | None:
        if item is None or item.rope is None:
            return None
        return length_now(item, self._shelf.events_of(item.id), self._shelf.versions_of(item.id))

    def _check_cut(self, event: Event, item: Item) -> None:
        """More cannot be cut off than there is."""
        left = self._length_now(item)
        if event.length is not None and left is not None and event.length.si > left:
            raise InvalidRecordError((pieces.too_long("length", left),))
