"""What becomes of each line: the items and entries that it makes, or why it makes none.

An item is known again by its tag, else by serial, maker and model, else by all that its line says. Its id is made from
that, so that a list imported twice adds nothing, also after its items were changed in the log.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable

import msgspec
from msgspec.structs import replace

from gearlog.domain.identity import tag_from
from gearlog.domain.item import Item
from gearlog.domain.record import Record
from gearlog.domain.vocabulary import Status
from gearlog.errors import InvalidRecordError
from gearlog.services.event_forms import read_event
from gearlog.services.filling_forms import blank
from gearlog.services.importing_drafts import Doubt, Draft
from gearlog.services.importing_views import Cell, Fate, LineFate
from gearlog.services.item_forms import FORM, item_form, read_item
from gearlog.services.shelf import Shelf

ID_DIGITS = 16  # hexadecimal, as of every other id
LEAVING = frozenset({Status.QUARANTINED, Status.RETIRED, Status.DESTROYED, Status.LOST})
"""States that a list tells and that become entries of the history."""
COMPARED = ("name", "maker", "model", "serial", "standards", "made_on", "bought_on", "first_used_on", "assigned_to",
            "kept_at", "breaking_strength")  # fmt: skip
"""Fields that are compared with an item that is known."""


class Made(msgspec.Struct):
    """The fate of a line and what it makes."""

    fate: LineFate
    records: tuple[Record, ...] = ()
    doubts: tuple[Doubt, ...] = ()


class Fates:
    """The fates of the lines of one file, decided one after another."""

    def __init__(self, shelf: Shelf, file: str, twins: str) -> None:
        self._shelf = shelf
        self._file = file
        self._twins = twins
        self._now = shelf.moment()
        self._today = shelf.clock.today()
        self._blank = blank(FORM)
        self._tags = {tag.casefold() for tag in _tags(shelf)}
        self._serials = _by_serial(shelf.items())
        self._lines_of: dict[str, int] = {}
        self._seen: Counter[str] = Counter()
        self._numbers: Counter[str] = Counter()

    def of(self, draft: Draft) -> Made:
        """The fate of one line."""
        key = _key(draft.told)
        earlier = self._lines_of.get(key)
        self._seen[key] += 1
        self._lines_of.setdefault(key, draft.line)
        if draft.faults or draft.doubts:
            return self._undecided(draft)
        if earlier is not None:
            twin = self._twin(draft, earlier, by_tag=key.startswith("tag "))
            if twin is not None:
                return twin
        known = self._known(draft, key)
        return known if known is not None else self._added(draft, key)

    def _undecided(self, draft: Draft, *more: str) -> Made:
        reasons = (*draft.faults, *(doubt.fact for doubt in draft.doubts), *more)
        fate = Fate.REFUSE if draft.faults or more else Fate.ASK
        return Made(self._fate(draft, fate, draft.form.get("tag", ""), reasons), doubts=tuple(draft.doubts))

    def _twin(self, draft: Draft, earlier: int, *, by_tag: bool) -> Made | None:
        """What becomes of a line like an earlier one; None where it is an item of its own."""
        if by_tag:
            return self._undecided(draft, f"has the tag of line {earlier}; give it its own, or delete one of the two")
        if self._twins == "keep":
            return None
        reason = f"is like line {earlier}"
        if self._twins == "skip":
            return Made(self._fate(draft, Fate.SKIP, "", (reason,)))
        asks, way_out = "is it a second item, or written down twice?", "--twins keep, or --twins skip"
        draft.doubts.append(Doubt("twins", reason, asks, way_out))
        return self._undecided(draft)

    def _known(self, draft: Draft, key: str) -> Made | None:
        item = self._in_log(draft.form, key)
        if item is None:
            return None
        form = item_form(item)
        other = [field.replace("_", " ") for field in COMPARED
                 if draft.form.get(field) and draft.form[field] != form.get(field)]  # fmt: skip
        note = f"already in the log as {item.tag}" + (f"; the log tells another {', '.join(other)}" if other else "")
        return Made(self._fate(draft, Fate.KNOWN, item.tag, (note,)))

    def _in_log(self, form: dict[str, str], key: str) -> Item | None:
        if "tag" in form:
            return self._shelf.find_tag(form["tag"])
        same = self._serials.get(key, [])
        place = self._seen[key] - 1
        return same[place] if place < len(same) else self._shelf.find(self._id(key))

    def _added(self, draft: Draft, key: str) -> Made:
        form = {**self._blank, **draft.form}
        form["tag"] = draft.form.get("tag") or self._new_tag(draft.form["name"])
        item, faults = read_item(form, base=None, parent=None, tags=(), now=self._now)
        told = [f"{fault.field.replace('_', ' ')}: {fault.reason}; {fault.way_out}" for fault in faults]
        draft.cells += [Cell(*draft.read_from[fault.field], fault.reason) for fault in faults
                        if fault.field in draft.read_from]  # fmt: skip
        if item.tag.casefold() in self._tags:
            told.append(f"tag: '{item.tag}' is borne by a kit or was given up by another item; give it its own")
        if told:
            return self._undecided(draft, *told)
        item = replace(item, id=self._id(key))
        try:
            events = tuple(self._events(draft, item))
        except InvalidRecordError as error:
            return self._undecided(draft, *map(str, error.faults))
        self._tags.add(item.tag.casefold())
        return Made(self._fate(draft, Fate.ADD, item.tag, ()), (item, *events))

    def _events(self, draft: Draft, item: Item) -> Iterable[Record]:
        """The examination and the state that the list tells, as entries of the history."""
        more, said = draft.more, f"as the list {self._file} tells"
        if more.get("examined_on"):
            form = {"kind": "examined", "happened_on": more["examined_on"], "by": more.get("examined_by", "")}
            yield self._event(item, {**form, "next_due_on": more.get("next_due_on", ""), "notes": said})
        elif more.get("next_due_on") or more.get("examined_by"):
            draft.notes.append("next due or examiner without the date of the examination: not taken over")
        if more.get("status") in LEAVING:
            yield self._event(item, {"kind": more["status"], "happened_on": self._today.isoformat(), "notes": said})

    def _event(self, item: Item, form: dict[str, str]) -> Record:
        event = read_event(item.id, form, today=self._today, now=self._now)
        return replace(event, id=_digest(f"{item.id} {form['kind']}"))

    def _id(self, key: str) -> str:
        return _digest(f"{key} {self._seen[key]}")

    def _new_tag(self, name: str) -> str:
        """A tag made from the name, unlike every other; counted on for each base, so that many alike take no time."""
        base = tag_from(name, ())
        tag = base
        while tag.casefold() in self._tags:
            self._numbers[base] = max(self._numbers[base], 1) + 1
            tag = f"{base}-{self._numbers[base]}"
        return tag

    def _fate(self, draft: Draft, fate: Fate, tag: str, reasons: tuple[str, ...]) -> LineFate:
        cells, asked = (tuple(draft.cells), tuple(doubt.id for doubt in draft.doubts)) if reasons else ((), ())
        return LineFate(draft.line, fate, tag, draft.form.get("name", ""), reasons, tuple(draft.notes), cells, asked)


def _tags(shelf: Shelf) -> Iterable[str]:
    for item in shelf.items():
        yield item.tag
        yield from item.former_tags
    yield from (kit.tag for kit in shelf.kits())


def _by_serial(items: Iterable[Item]) -> dict[str, list[Item]]:
    """The items of the log by what tells them apart without a tag."""
    found: dict[str, list[Item]] = {}
    for item in items:
        if item.serial:
            key = _key({"serial": item.serial, "maker": item.maker, "model": item.model})
            found.setdefault(key, []).append(item)
    return found


def _key(form: dict[str, str]) -> str:
    """What a line is known again by."""
    if form.get("tag"):
        return f"tag {form['tag'].casefold()}"
    if form.get("serial"):
        parts = (form.get(field, "").casefold() for field in ("serial", "maker", "model"))
        return "serial " + "\x1f".join(parts)
    return "line " + "\x1f".join(f"{field}={form[field]}" for field in sorted(form))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:ID_DIGITS]
