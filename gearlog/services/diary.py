"""The diary: splices as they were made, corrected only by a new version."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.lifecycle import length_now
from gearlog.domain.plan import Plan
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services import photos
from gearlog.services.as_last import FOUND, AsLast, differences, last_one, like_rope, moved_to, plan_for
from gearlog.services.comparing import compared
from gearlog.services.diary_rows import DiaryRows
from gearlog.services.diary_search import filter_fields, narrowed
from gearlog.services.filling_forms import blank, fill
from gearlog.services.forms import Field
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.services.shelf import Shelf
from gearlog.services.splice_forms import (
    MEASURED,
    Making,
    cut_told,
    read_splice,
    splice_fields,
    splice_form,
)
from gearlog.services.views import Compared, SpliceRow
from gearlog.services.workshop import Workshop

if TYPE_CHECKING:
    from gearlog.reports.pictures import Picture

Also = Callable[[Splice], Iterable[Record]]
"""What else is saved with a splice, in the same line of the journal."""


def nothing_else(splice: Splice) -> Iterable[Record]:
    """The usual case: the splice is saved alone."""
    del splice
    return ()


class Diary:
    """The splices of one log: seen, recorded, corrected, copied, compared."""

    def __init__(self, shelf: Shelf, workshop: Workshop) -> None:
        self._shelf = shelf
        self._workshop = workshop
        self._rows = DiaryRows(shelf, workshop)

    def rows(self) -> tuple[SpliceRow, ...]:
        """Every splice, newest first; superseded versions are left out."""
        return self._rows.all()

    def newest(self, most: int) -> tuple[SpliceRow, ...]:
        """The splices made last, the newest first, as ``rows`` has them; the others are not read for it."""
        return self._rows.newest(most)

    def rows_of(self, rope_id: str) -> tuple[SpliceRow, ...]:
        """The splices of one rope, newest first."""
        return self._rows.of(rope_id)

    def splice(self, splice_id: str) -> Splice:
        """The splice with this id, superseded or not; raises NotFoundError."""
        return self._shelf.splice(splice_id)

    def fields(self, plan: Plan | None = None) -> tuple[Field, ...]:
        """The form's fields, with the methods to choose from and one field for each mark of the plan."""
        return splice_fields(self._workshop.methods(), plan)

    def fields_of(self, splice_id: str) -> tuple[Field, ...]:
        """The fields of the form that corrects a splice."""
        splice = self._shelf.splice(splice_id)
        return splice_fields(self._workshop.methods(), splice.plan, also=splice.method)

    def blank_form(self) -> dict[str, str]:
        """The form of a splice made without a plan, dated today."""
        return blank(self.fields()) | self._new()

    def form_from_plan(self, plan: Plan) -> dict[str, str]:
        """The form of a splice made by this plan: what was done and measured is left to type.

        The outcome is left open, and the finish is never taken from the plan: a record must not say that a whipping is
        there because one was asked. Of the tools only those with which the plan pulls are filled in, to be changed.
        """
        inputs = plan.inputs
        rope = self._shelf.find(inputs.rope_id)
        known = {
            "rope": rope.tag if rope else "",
            "end": inputs.end,
            "method": plan.method,
            "condition": inputs.condition,
            "tools": tuple(dict.fromkeys(pull.tool for pull in plan.pulls if pull.tool)),
        }
        fields = self.fields(plan)
        return blank(fields) | {name: fill(fields, known)[name] for name in known} | self._new()

    def form_of(self, splice_id: str) -> dict[str, str]:
        """The form of a splice as it stands, to correct it."""
        splice = self._shelf.splice(splice_id)
        return splice_form(splice, self._tag(splice))

    def form_like(self, splice_id: str) -> dict[str, str]:
        """The form of a new splice made as this one was: the settings, not what was found, nor how it came out."""
        old = self.form_of(splice_id)
        measured = {name for name in old if name.startswith(MEASURED)}
        emptied = dict.fromkeys(FOUND | measured, "")
        return old | emptied | self._new()

    def form_as_last(self, rope_tag: str, end: str, method: str = "") -> AsLast:
        """The form of a new splice at this end as the last one in this rope was made, else in a rope like it.

        ``method`` empty takes any. Where nothing like it was made, only rope, end and method are filled in.
        Raises NotFoundError for a tag that no rope bears.
        """
        rope = self._shelf.by_tag(rope_tag)
        source = last_one(self._shelf.splices_of(rope.id), method, end)
        words = "as last time in this rope"
        if source is None:
            likes = like_rope(rope, self._shelf.items())
            source = last_one((one for like in likes for one in self._shelf.splices_of(like.id)), method, end)
            words = f"as last time in a rope like it, {self._tag(source)}" if source else "nothing like it was made yet"
        place = {"rope": rope.tag, "end": end} | ({"method": method} if method else {})
        if source is None:
            return AsLast(self.blank_form() | place, None, None, words)
        plan = moved_to(source.plan, rope, end, source.rope_id == rope.id)
        form = self.form_like(source.id) | place | {"position": ""}
        return AsLast({field.name: form[field.name] for field in self.fields(plan)}, plan, source, words)

    def differences(self, form: Form, splice_id: str) -> tuple[str, ...]:
        """The fields of a form that are not as in this splice, one line each; the date is left out."""
        return differences(form, self.form_of(splice_id), self.fields_of(splice_id))

    def filters(self) -> tuple[Field, ...]:
        """The fields that narrow the diary."""
        return filter_fields(self._workshop.methods())

    def search(self, filters: Form) -> tuple[SpliceRow, ...]:
        """The rows that pass every filter, newest first; raises InvalidRecordError with every fault of the filters."""
        return narrowed(self.rows(), filters, self.filters(), self._shelf.items_by_id())

    def pictures(self, rows: Iterable[SpliceRow], width: int | None = None) -> tuple[Picture, ...]:
        """Eyes over time, minutes, tests of strength of these rows, as characters with their words."""
        from gearlog.reports.pictures import WIDTH
        from gearlog.services.diary_pictures import pictures  # late: no list shows a picture

        return pictures((row.splice for row in rows), self._shelf, width or WIDTH)

    def add_photo(self, splice_id: str, photo: str) -> Splice:
        """Copy a picture into the log's folder and name it in a new version of the splice; raises as ``correct``."""
        typed = self.form_of(splice_id)
        names, faults = photos.kept((photo,), (), self._shelf.store.folder)
        if faults:
            raise InvalidRecordError(tuple(faults))
        both = ", ".join(filter(None, (typed["photos"], *names)))
        return self.correct(splice_id, typed | {"photos": both}, "a photo was added")

    def photo_command(self, name: str) -> tuple[str, ...]:
        """The program and its argument that show a photo of the log, to start without a shell; raises NotFoundError."""
        return photos.viewer_command(self._shelf.store.folder, name)

    def record(self, form: Form, plan: Plan | None, *, also: Also = nothing_else) -> Splice:
        """Save a new splice with the whole plan it was made by, and what belongs to it in the same save.

        Raises InvalidRecordError with every fault, ReadOnlyError, StorageError.
        """
        return self._save(form, self._making(form, plan_for(form, plan, self._rope(form))), also)

    def correct(self, splice_id: str, form: Form, reason: str) -> Splice:
        """Save a new version of a splice; the old one is kept. Raises as ``record``, and NotFoundError."""
        old = self._shelf.splice(splice_id)
        if self._shelf.corrected_by(splice_id):
            way_out = "open the newest version and correct that"
            raise InvalidRecordError((Fault("corrects", "is a version that was already corrected", way_out),))
        why = reason.strip(BLANKS)
        making = self._making(form, old.plan, old, why)
        missing = Fault("correction_reason", "is empty", "say why it is corrected, such as: misread the tape")
        return self._save(form, making, nothing_else, *(() if why else (missing,)))

    def versions(self, splice_id: str) -> tuple[Splice, ...]:
        """All versions of a splice, newest first."""
        newest = self._shelf.splice(splice_id)
        while later := self._shelf.corrected_by(newest.id):
            newest = self._shelf.splice(later)
        found = [newest]
        while found[-1].corrects:
            found.append(self._shelf.splice(found[-1].corrects))
        return tuple(found)

    def comparison(self, splice: Splice) -> tuple[Compared, ...]:
        """Each mark of the splice's plan beside what was measured."""
        return compared(splice)

    def _new(self) -> dict[str, str]:
        return {"made_on": self._shelf.clock.today().isoformat(), "made_by": self._shelf.store.settings.user}

    def _tag(self, splice: Splice) -> str:
        rope = self._shelf.find(splice.rope_id)
        return rope.tag if rope else ""

    def _making(self, form: Form, plan: Plan | None, old: Splice | None = None, reason: str = "") -> Making:
        clock, rope = self._shelf.clock, self._rope(form)
        return Making(
            rope=rope,
            plan=plan,
            methods=self._workshop.methods(),
            now=clock.now(),
            today=clock.today(),
            corrects=old,
            reason=reason,
            left_m=self._length_now(rope) if rope else None,
        )

    def _length_now(self, rope: Item) -> float | None:
        return length_now(rope, self._shelf.events_of(rope.id), self._shelf.versions_of(rope.id))

    def _rope(self, form: Form) -> Item | None:
        found = self._shelf.find_tag(form.get("rope", ""))
        return found if found is not None and found.rope is not None else None

    def _save(self, form: Form, making: Making, also: Also, *more: Fault) -> Splice:
        splice, faults = read_splice(form, making)
        if faults or more:
            raise InvalidRecordError((*faults, *more))
        already = making.corrects.photos if making.corrects else ()
        names, faults = photos.kept(splice.photos, already, self._shelf.store.folder)
        if faults:
            raise InvalidRecordError(tuple(faults))
        splice = replace(splice, photos=names)
        words = "correct a splice" if making.corrects else "record a splice"
        cut = cut_told(form, splice, making)
        tag = making.rope.tag if making.rope else ""
        self._shelf.store.save(splice, *cut, *also(splice), label=f"{words} in {tag}")
        return splice
