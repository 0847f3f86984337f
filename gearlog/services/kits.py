"""Kits: sets of items that go together, and who has them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id, tag_from
from gearlog.domain.item import Item
from gearlog.domain.kit import Kit, kit_faults
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services.filling_forms import blank, fill
from gearlog.services.forms import Field, FieldKind
from gearlog.services.gear import Gear
from gearlog.services.reading_forms import Form, read_form
from gearlog.services.shelf import Shelf
from gearlog.services.standing import Standing, moved_to
from gearlog.services.views import GearRow
from gearlog.units.quoting import quoted

KIT_FORM: tuple[Field, ...] = (
    Field("name", "name", hint="kit of climber 1", required=True),
    Field("tag", "tag", FieldKind.TAG, hint="made from the name when left empty"),
    Field("assigned_to", "assigned to", hint="climber 1"),
    Field("kept_at", "kept at", hint="van 2"),
    Field("items", "items (tags)", FieldKind.LIST, hint="line-1, con-1, con-2"),
    Field("notes", "notes", FieldKind.WORDS),
)
"""Fields of a kit."""


class KitRow(msgspec.Struct, frozen=True):
    """One kit.

    Attributes:
        kit: the kit.
        rows: its items, in the order in which they were put in.
        out: why items in it must not be used, a line each.
    """

    kit: Kit
    rows: tuple[GearRow, ...]
    out: tuple[str, ...]


class Kits:
    """The kits of one log."""

    def __init__(self, shelf: Shelf, gear: Gear, standing: Standing) -> None:
        self._shelf = shelf
        self._gear = gear
        self._standing = standing

    def rows(self) -> tuple[KitRow, ...]:
        """Every kit in order of entry."""
        return tuple(self._row(kit) for kit in self._shelf.kits())

    def of(self, item_id: str) -> tuple[Kit, ...]:
        """The kits that an item is in."""
        return tuple(kit for kit in self._shelf.kits() if item_id in kit.items)

    def kit(self, kit_id: str) -> Kit:
        """The kit with this id; raises NotFoundError."""
        found = self._shelf.store.get(Kit, kit_id)
        if found is None:
            raise NotFoundError("this kit is not in the log any more; go back to the list")
        return found

    def row(self, kit_id: str) -> KitRow:
        """The row of one kit; raises NotFoundError."""
        return self._row(self.kit(kit_id))

    def by_tag(self, tag: str) -> Kit:
        """The kit that bears this tag; raises NotFoundError."""
        for kit in self._shelf.kits():
            if kit.tag.casefold() == tag.strip().casefold():
                return kit
        raise NotFoundError(f"no kit bears the tag {quoted(tag.strip())}")

    def blank_form(self) -> dict[str, str]:
        """A new kit's form."""
        return blank(KIT_FORM)

    def form_of(self, kit_id: str) -> dict[str, str]:
        """The form of a kit as it stands."""
        kit = self.kit(kit_id)
        tags = tuple(item.tag for item in self._items(kit.items))
        values = {"name": kit.name, "tag": kit.tag, "assigned_to": kit.assigned_to, "kept_at": kit.kept_at}
        return fill(KIT_FORM, {**values, "items": tags, "notes": kit.notes})

    def add(self, form: Form) -> Kit:
        """Save a new kit; quarantined and retired gear is refused with the reason.

        Raises InvalidRecordError with every fault, ReadOnlyError, StorageError.
        """
        return self._saved(form, None)

    def change(self, kit_id: str, form: Form) -> Kit:
        """Save a changed kit; what is in it already may stay in, whatever its state. Raises as ``add``."""
        return self._saved({**self.form_of(kit_id), **form}, self.kit(kit_id))

    def put(self, kit_id: str, text: str) -> Kit:
        """Put the item that ``text`` finds alone into a kit; raises as ``add`` and NotFoundError."""
        kit, hits = self.kit(kit_id), self._gear.find(text)
        if len(hits) != 1:
            what = "no item" if not hits else f"{len(hits)} items"
            raise NotFoundError(f"{quoted(text.strip())} finds {what}; type the whole tag, or scan it")
        item = hits[0].item
        self._standing.must_serve(item)
        return self._keep(replace(kit, items=tuple(dict.fromkeys((*kit.items, item.id)))), f"{item.tag} into {kit.tag}")

    def take(self, kit_id: str, item_id: str) -> Kit:
        """Take an item out of a kit; raises as ``add``."""
        kit, item = self.kit(kit_id), self._shelf.item(item_id)
        return self._keep(replace(kit, items=tuple(one for one in kit.items if one != item_id)),
                          f"{item.tag} out of {kit.tag}")  # fmt: skip

    def assign(self, kit_id: str, to: str) -> Kit:
        """Give a kit and all that is in it to somebody, in one save; raises as ``add``."""
        kit, today = self.kit(kit_id), PartialDate.of(self._shelf.clock.today())
        now = self._shelf.moment()
        items = self._items(kit.items)
        for item in items:
            self._standing.must_serve(item)
        given = replace(kit, assigned_to=to.strip(), changed_at=now)
        self._check(given)
        changed = [replace(item, assigned_to=given.assigned_to, changed_at=now) for item in items]
        moves = [event for new, old in zip(changed, items, strict=True) for event in moved_to(new, old, today, now)]
        self._store(given, [*changed, *moves], f"assign {kit.tag} to {given.assigned_to or 'nobody'}")
        return given

    def _row(self, kit: Kit) -> KitRow:
        rows = tuple(self._gear.row(item.id) for item in self._items(kit.items))
        refused = (self._standing.refusal(row.item.id) for row in rows)
        return KitRow(kit, rows, tuple(why for why in refused if why))

    def _saved(self, form: Form, base: Kit | None) -> Kit:
        values, faults = read_form(KIT_FORM, form)
        items, more = self._picked(values["items"], base)
        now = self._shelf.moment()
        kit = Kit(
            id=base.id if base else new_id(),
            created_at=base.created_at if base else now,
            changed_at=now,
            tag=values["tag"] or tag_from(values["name"], self._taken(base)),
            items=items,
            **{name: values[name] for name in ("name", "assigned_to", "kept_at", "notes")},
        )
        told = {fault.field for fault in faults}
        faults += [*more, *(one for one in kit_faults(kit, taken_tags=self._taken(base)) if one.field not in told)]
        if faults:
            raise InvalidRecordError(tuple(faults))
        self._store(kit, [], f"{'change' if base else 'add'} {kit.tag}")
        return kit

    def _picked(self, tags: Sequence[str], base: Kit | None) -> tuple[tuple[str, ...], list[Fault]]:
        """Ids of the items with these tags, and why some of them cannot be put in."""
        ids: dict[str, None] = {}
        faults: list[Fault] = []
        for tag in tags:
            item = self._shelf.find_tag(tag)
            if item is None:
                faults.append(Fault("items", f"{quoted(tag)} is on no item", "type tags of the log, with commas"))
                continue
            why = "" if base is not None and item.id in base.items else self._standing.refusal(item.id)
            if why:
                faults.append(Fault("items", why, "leave it out, or have it released first"))
            ids[item.id] = None
        return tuple(ids), faults

    def _keep(self, kit: Kit, label: str) -> Kit:
        kit = replace(kit, changed_at=self._shelf.moment())
        self._store(kit, [], label)
        return kit

    def _check(self, kit: Kit) -> None:
        faults = kit_faults(kit, taken_tags=self._taken(kit))
        if faults:
            raise InvalidRecordError(faults)

    def _store(self, kit: Kit, more: Iterable[Item | Event], label: str) -> None:
        self._shelf.store.save(kit, *more, label=label)

    def _items(self, ids: Iterable[str]) -> tuple[Item, ...]:
        found = (self._shelf.find(one) for one in ids)
        return tuple(item for item in found if item is not None)

    def _taken(self, base: Kit | None) -> set[str]:
        others = {kit.tag for kit in self._shelf.kits() if base is None or kit.id != base.id}
        return others | {item.tag for item in self._shelf.items()}
