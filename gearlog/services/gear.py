"""Gear: what a user does with items and their histories."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from gearlog.domain.constructions import construction
from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import EndView, end_states, length_now, status_of
from gearlog.domain.vocabulary import End, label
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services import pieces
from gearlog.services.diary import Diary
from gearlog.services.event_forms import read_event
from gearlog.services.filling_forms import blank
from gearlog.services.forms import EVENT_FORM, Field
from gearlog.services.gaps import gaps_of
from gearlog.services.item_forms import FORM, item_form, read_item
from gearlog.services.reading_forms import BLANKS, Form, field_fault
from gearlog.services.rows import GearRows
from gearlog.services.shelf import Shelf
from gearlog.services.views import Card, GearRow
from gearlog.upkeep.due import due_of
from gearlog.upkeep.life import end_of_life


class Gear:
    """The items of one log: seen, added, changed, and what happened to them."""

    def __init__(self, shelf: Shelf, diary: Diary) -> None:
        self._shelf = shelf
        self._diary = diary
        self._rows = GearRows(shelf)

    def rows(self) -> tuple[GearRow, ...]:
        """Every item in order of entry, with its state as of today."""
        return self._rows.all()

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
        cut = pieces.cut_of(form, item, parent, self._left(parent), self._shelf.clock)
        self._shelf.store.save(item, cut, label=f"add {item.tag}, cut from {parent.tag}")
        return item

    def change(self, item_id: str, form: Form) -> Item:
        """Save an item's changed data; raises InvalidRecordError, NotFoundError, ReadOnlyError, StorageError."""
        base = self._shelf.item(item_id)
        item = self._read(form, base, self._parent(form, base))
        self._shelf.store.save(item, label=f"change {item.tag}")
        return item

    def blank_event(self) -> dict[str, str]:
        """A new event's form, dated today."""
        return blank(EVENT_FORM) | {
            "happened_on": self._shelf.clock.today().isoformat(),
            "by": self._shelf.store.settings.user,
        }

    def record_event(self, item_id: str, form: Form) -> Event:
        """Enter what happened into an item's history; raises InvalidRecordError and as ``change``."""
        item = self._shelf.item(item_id)
        event = read_event(item.id, form, today=self._shelf.clock.today(), now=self._shelf.clock.now())
        self._check_cut(event, item)
        self._shelf.store.save(event, label=f"{item.tag}: {label(event.kind)}")
        return event

    def strike(self, event_id: str, reason: str) -> Event:
        """Strike out an entry; it stays in the history with its reason. Raises as ``change``."""
        event = self._shelf.store.get(Event, event_id)
        if event is None:
            raise NotFoundError("this entry is not in the history any more; go back to the item")
        why = reason.strip(BLANKS)
        if not why:
            way_out = "say why the entry is struck out, such as: entered for the wrong rope"
            raise InvalidRecordError((Fault("struck_because", "is empty", way_out),))
        struck = replace(event, struck_because=why, changed_at=self._shelf.clock.now())
        self._shelf.store.save(struck, label=f"strike out {label(event.kind)} of {event.happened_on}")
        return struck

    def card(self, item_id: str) -> Card:
        """All that is known of one item; raises NotFoundError."""
        item = self._shelf.item(item_id)
        events = self._shelf.events_of(item_id)
        today = self._shelf.clock.today()
        return Card(
            item=item,
            status=status_of(events),
            due=due_of(item, events, today),
            life_end=end_of_life(item, today),
            ends=self._ends(item),
            length_now_m=self._length_now(item),
            events=_newest_first(events),
            splices=self._diary.rows_of(item_id),
            children=self._shelf.children_of(item_id),
            parent=self._shelf.parent_of(item),
            construction=construction(item.rope.construction) if item.rope else None,
            gaps=gaps_of(item, events),
        )

    def field_fault(self, form_fields: Sequence[Field], name: str, text: str) -> str | None:
        """What is wrong with the text of one field, in one line, or None."""
        return field_fault(form_fields, name, text)

    def _read(self, form: Form, base: Item | None, parent: Item | None) -> Item:
        tags = {item.tag for item in self._shelf.items() if base is None or item.id != base.id}
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
        return pieces.Left(self._length_now(parent), self._ends(parent))

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


def _newest_first(events: Sequence[Event]) -> tuple[Event, ...]:
    order = sorted(enumerate(events), key=lambda pair: (pair[1].happened_on.latest(), pair[0]), reverse=True)
    return tuple(event for _, event in order)
