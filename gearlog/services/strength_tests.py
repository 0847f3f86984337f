"""Tests of strength: entered for a splice, struck out with a reason, found again whatever was corrected since."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.identity import new_id
from gearlog.domain.lifecycle import status_of
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, LoadKind, StrengthTest
from gearlog.domain.text_rules import text_faults
from gearlog.domain.validate import ONE_DAY
from gearlog.domain.vocabulary import EventKind, Status
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services.filling_forms import blank
from gearlog.services.forms import STRENGTH_FORM, Field
from gearlog.services.reading_forms import BLANKS, Form, Values, read_form
from gearlog.services.shelf import Shelf

_LABEL = "test of strength in"


class StrengthTests:
    """The tests of one log."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf

    def fields(self) -> tuple[Field, ...]:
        """The form's fields."""
        return STRENGTH_FORM

    def blank_form(self) -> dict[str, str]:
        """A new form, dated today."""
        today = self._shelf.clock.today().isoformat()
        return blank(STRENGTH_FORM) | {"tested_on": today, "tested_by": self._shelf.store.settings.user}

    def of(self, splice_id: str) -> tuple[StrengthTest, ...]:
        """The standing tests of a splice and of its earlier versions, newest first; raises NotFoundError."""
        self._shelf.splice(splice_id)
        lessons = self._shelf.lessons
        return lessons.tests().get(lessons.newest(splice_id), ())

    def record(self, splice_id: str, form: Form) -> StrengthTest:
        """Save a test of a splice; a rope that was loaded until something broke is quarantined in the same save.

        Raises InvalidRecordError with every fault, NotFoundError, ReadOnlyError, StorageError.
        """
        splice = self._shelf.splice(splice_id)
        values, faults = read_form(STRENGTH_FORM, form)
        if faults:
            raise InvalidRecordError(tuple(faults))
        test = self._test(splice, values)
        wrong = tuple(_faults(test, splice))
        if wrong:
            raise InvalidRecordError(wrong)
        self._shelf.store.save(test, *self._quarantine(test, splice), label=f"{_LABEL} {self._tag(splice)}")
        return test

    def strike(self, test_id: str, reason: str) -> StrengthTest:
        """Strike a test out; it stays in the log with the reason. Raises InvalidRecordError, NotFoundError."""
        test = self._shelf.store.get(StrengthTest, test_id)
        if test is None:
            raise NotFoundError("this test is not in the log any more; go back to the splice")
        why = reason.strip(BLANKS)
        if not why:
            raise InvalidRecordError((Fault("struck_because", "is empty", "say why, such as: load cell was off"),))
        struck = replace(test, struck_because=why, changed_at=self._shelf.clock.now())
        tag = self._tag(self._shelf.splice(test.splice_id))
        self._shelf.store.save(struck, label=f"strike out a {_LABEL} {tag}")
        return struck

    def _test(self, splice: Splice, values: Values) -> StrengthTest:
        now = self._shelf.clock.now()
        plain = {name: values[name] for name in ("force", "pin", "place", "machine", "tested_on", "tested_by", "notes")}
        return StrengthTest(
            id=new_id(),
            created_at=now,
            changed_at=now,
            splice_id=splice.id,
            kind=LoadKind(values["kind"]),
            failed_at=FailedAt(values["failed_at"] or FailedAt.NOWHERE),
            **plain,
        )

    def _quarantine(self, test: StrengthTest, splice: Splice) -> tuple[Record, ...]:
        """What broke is not to be used until a competent person has looked at it."""
        in_service = status_of(self._shelf.events_of(splice.rope_id)) is Status.IN_SERVICE
        if test.kind is LoadKind.PROOF or self._shelf.find(splice.rope_id) is None or not in_service:
            return ()
        event = Event(
            id=new_id(),
            created_at=test.created_at,
            changed_at=test.changed_at,
            item_id=splice.rope_id,
            kind=EventKind.QUARANTINED,
            happened_on=test.tested_on,
            by=test.tested_by,
            notes=f"broken in a test of strength at {test.force}",
        )
        return (event,)

    def _tag(self, splice: Splice) -> str:
        rope = self._shelf.find(splice.rope_id)
        return rope.tag if rope else "a rope no longer in the log"


def _faults(test: StrengthTest, splice: Splice) -> Iterator[Fault]:
    yield from text_faults(test)
    held = test.failed_at is FailedAt.NOWHERE
    if test.kind is LoadKind.BREAK and held:
        yield Fault("failed_at", "is not told", "choose where it failed, or other; what held is a proof load")
    if test.kind is LoadKind.PROOF and not held:
        yield Fault("failed_at", "is told, but a proof load is one that held", "choose break, with the highest force")
    yield from _date_faults(test.tested_on, splice.made_on, test)


def _date_faults(tested: PartialDate, made: PartialDate, test: StrengthTest) -> Iterator[Fault]:
    if tested.earliest() > test.changed_at.date() + ONE_DAY:
        yield Fault("tested_on", f"{tested} has not come yet", "type the day, month or year it was, such as 2024-05-31")
    elif tested.latest() < made.earliest():
        yield Fault("tested_on", f"{tested} is before the splice was made, {made}", "correct one of the two dates")
