"""Auditing: what an examiner is handed, as of a day, for a part of the gear, in the formats that people ask for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date
from threading import Lock

from msgspec.structs import replace

from gearlog.domain.audited import OUT_OF_USE, Audit, AuditItem
from gearlog.domain.counting import counted
from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.examination_report import ExaminationReport
from gearlog.domain.history import History
from gearlog.domain.inspection import Inspection
from gearlog.domain.past import as_of, assigned_on, known_from, written_since
from gearlog.domain.record import Record
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import StrengthTest
from gearlog.domain.vocabulary import Category
from gearlog.errors import StorageError
from gearlog.services.audit import HEADINGS
from gearlog.services.auditing_digest import canonical, digest
from gearlog.services.auditing_forms import AUDIT_FORM, Wanted, in_words, read_wanted
from gearlog.services.auditing_items import audit_item
from gearlog.services.auditing_reports import Reports
from gearlog.services.auditing_splices import end_titles, spliced
from gearlog.services.filling_forms import blank
from gearlog.services.forms import Field
from gearlog.services.reading_forms import Form
from gearlog.services.shelf import Shelf
from gearlog.services.workshop import Workshop
from gearlog.storage.loading import quiet
from gearlog.units.natural import natural
from gearlog.upkeep.schedule import DEFAULT_BOOK, RuleBook

REMEMBERED = 100  # audits; a crew of twenty that is audited twice a year has them for two years and more


class Auditing:
    """Audits of one log.

    Attributes:
        reports: reports of single examinations.
    """

    def __init__(self, shelf: Shelf, workshop: Workshop, rules: Callable[[], RuleBook] = lambda: DEFAULT_BOOK) -> None:
        self._shelf = shelf
        self._beside = Shelf(shelf.store, shelf.clock)  # an audit may be made in a thread, where nobody else reads
        self._one = Lock()
        self._workshop = workshop
        self._rules = rules
        self.reports = Reports(shelf)

    def fields(self) -> tuple[Field, ...]:
        """What an audit is asked for."""
        return AUDIT_FORM

    def blank_form(self) -> dict[str, str]:
        """The form of an audit of everything as of today."""
        return blank(AUDIT_FORM) | {"on": self._shelf.clock.today().isoformat()}

    def known(self) -> Mapping[str, tuple[str, ...]]:
        """By kind of set, the names that can be chosen: ``climber``, ``kit``, ``category``, ``place``, ``tag``."""
        items = tuple(self._shelf.items())
        people = {self._holder(self._shelf.history_of(item.id)) for item in items} | {i.assigned_to for i in items}
        return {
            "climber": _sorted(people),
            "kit": _sorted(kit.tag for kit in self._shelf.kits()),
            "category": tuple(Category),
            "place": _sorted(item.kept_at for item in items),
            "tag": _sorted(item.tag for item in items),
        }

    def wanted(self, form: Form) -> Wanted:
        """The audit that a form asks for; raises InvalidRecordError with every fault."""
        return read_wanted(form, self._shelf.clock.today(), self.known(), self._shelf.store.settings.audits)

    def size(self) -> int:
        """How many items the log has, by which one can tell whether an audit takes long."""
        return sum(1 for _ in self._shelf.items())

    def remember(self, wanted: Wanted) -> None:
        """Keep the day of an audit that was handed out: what leaves use from then on is told in the next one."""
        store = self._shelf.store
        one = (in_words(wanted), wanted.on.isoformat())
        audits = (*(kept for kept in store.settings.audits if kept != one), one)[-REMEMBERED:]
        with suppress(StorageError):  # an audit that was written counts for more than that it is remembered
            store.save_settings(replace(store.settings, audits=audits))

    def audit(self, wanted: Wanted) -> Audit:
        """What is listed, and what is missing, before anything is printed; may be asked for in a thread."""
        with self._one, quiet():
            return self._audit(wanted)

    def written(self, audit: Audit, wanted: Wanted) -> bytes:
        """The audit as a file of the wanted format."""
        from gearlog.reports.audit_files import written

        if wanted.format == "csv":
            return self.table(audit, wanted.table, bom=wanted.bom)
        return written(audit, wanted.format, paper=wanted.paper, pages=wanted.pages)

    def table(self, audit: Audit, name: str = "register", *, bom: bool = False) -> bytes:
        """One of the audit's tables as CSV; ``name`` is one of ``reports.audit_tables.TABLES``."""
        from gearlog.reports.audit_files import csv_of

        return csv_of(audit, name, bom=bom)

    def report_written(self, report: ExaminationReport, kind: str, *, paper: str = "a4") -> bytes:
        """The report of one examination as ``pdf``, ``html`` or ``json``."""
        from gearlog.reports.examination import written

        return written(report, kind, paper=paper)

    def labelled(self, audit: Audit) -> tuple[AuditItem, ...]:
        """The items of an audit that get a label: those that are not out of use."""
        return tuple(item for item in audit.items if item.status not in OUT_OF_USE)

    def labels(self, audit: Audit, *, paper: str = "a4") -> bytes:
        """Their sheets as a PDF."""
        from gearlog.reports.audit_words import label_words
        from gearlog.reports.labels import Label, sheet_of

        made = [Label(item.tag, item.name, label_words(item)) for item in self.labelled(audit)]
        return sheet_of(made, paper=paper)

    def page_count(self, audit: Audit, wanted: Wanted) -> int:
        """How many pages its PDF has."""
        from gearlog.reports.audit_pdf import leaves_of

        return len(leaves_of(audit, paper=wanted.paper, pages=wanted.pages).leaves)

    def _audit(self, wanted: Wanted) -> Audit:
        found = [(full, as_of(full, wanted.on)) for full in self._histories(wanted)]
        tests = self._tests(wanted)
        items = tuple(self._item(history, wanted, tests) for _, history in found)
        records = canonical(record for _, history in found for record in _records(history, tests))
        return Audit(
            on=wanted.on,
            since=wanted.since,
            chosen=in_words(wanted),
            made_on=self._shelf.clock.today(),
            headings=HEADINGS,
            items=items,
            retired=tuple(item for item in items if _left_since(item, wanted.since)),
            gaps=_gaps(items),
            late=len({one.id for full, _ in found for one in written_since(full, wanted.on)}),
            digest=digest(records),
            records=records,
        )

    def _item(self, history: History, wanted: Wanted, tests: Mapping[str, Sequence[StrengthTest]]) -> AuditItem:
        entries = counted(history)  # once for all that is told of the item
        splices = spliced(history, entries, tests, self._workshop)
        titles = end_titles(history, entries, self._workshop)
        return audit_item(history, entries, wanted.on, self._rules(), splices, titles)

    def _histories(self, wanted: Wanted) -> Iterator[History]:
        """The histories of the chosen items in the order of their tags; of a past day, those known by then."""
        now = wanted.on >= self._shelf.clock.today()
        kits = {item for kit in self._beside.kits() if kit.tag in wanted.sets.get("kit", ()) for item in kit.items}
        for item in sorted(self._beside.items(), key=lambda item: natural(item.tag)):
            history = self._beside.history_of(item.id)
            if (now or known_from(history) <= wanted.on) and _is_chosen(history, wanted, kits):
                yield history

    def _tests(self, wanted: Wanted) -> dict[str, list[StrengthTest]]:
        """The standing tests that had been made by the day, by the version of the splice that they name."""
        tests: dict[str, list[StrengthTest]] = {}
        for test in self._beside.store.records(StrengthTest):
            if not test.struck_because and test.tested_on.earliest() <= wanted.on:
                tests.setdefault(test.splice_id, []).append(test)
        return tests

    def _holder(self, history: History) -> str:
        return assigned_on(history.item, history.events, self._shelf.clock.today())


def _is_chosen(history: History, wanted: Wanted, kits: set[str]) -> bool:
    """One of each kind of set that was named."""
    item, sets = history.item, wanted.sets
    has = {
        "climber": assigned_on(item, history.events, wanted.on),
        "category": item.category,
        "place": item.kept_at,
        "tag": item.tag,
    }
    if "kit" in sets and item.id not in kits:
        return False
    return all(has[kind] in names for kind, names in sets.items() if kind in has)


def _records(history: History, tests: Mapping[str, Sequence[StrengthTest]]) -> Iterator[Record]:
    """What is listed of an item; what a piece took over from its parent is listed with the piece too."""
    listed: tuple[tuple[Event | Inspection | Splice, ...], ...] = (history.events, history.inspections, history.splices)
    yield history.item
    for records in listed:
        yield from records
    for splice in history.splices:
        yield from tests.get(splice.id, ())


def _left_since(item: AuditItem, since: date) -> bool:
    """Whether it went out of use since the last audit, also on its day, for that may have been after it."""
    return bool(item.left_on) and PartialDate(item.left_on).latest() >= since


def _gaps(items: Sequence[AuditItem]) -> tuple[tuple[str, int], ...]:
    counts = Counter(gap for item in items if item.status not in OUT_OF_USE for gap in item.gaps)
    return tuple(counts.most_common())


def _sorted(names: Iterator[str] | set[str]) -> tuple[str, ...]:
    return tuple(sorted({name for name in names if name}, key=natural))
