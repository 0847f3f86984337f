"""Reports of single examinations: what the log holds of Schedule 1 of LOLER 1998, and a form for the rest.

Paragraphs 1 to 8(c) are read from the law; 8(d), 8(e), 9, 10 and the two dates from second-hand sources.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from gearlog.domain.audited import Examined
from gearlog.domain.dates import PartialDate
from gearlog.domain.examination_report import ExaminationReport, Told
from gearlog.domain.history import History
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import label
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.services.auditing_digest import canonical, digest
from gearlog.services.auditing_forms import BASES, REPORT_FORM
from gearlog.services.auditing_items import examined
from gearlog.services.filling_forms import blank
from gearlog.services.forms import Field
from gearlog.services.reading_forms import Form, Values, read_form
from gearlog.services.shelf import Shelf

SAFE, UNSAFE = frozenset({"fit", "watch"}), frozenset({"out of service", "retire"})
"""Verdicts by which an item is, or is not, safe to operate."""
EXAMINATIONS = frozenset({"thorough", "after event", ""})
"""Reasons that make a thorough examination; an entry by hand names none."""


class Reports:
    """Reports of the examinations of one log."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf

    def fields(self) -> tuple[Field, ...]:
        """What a report asks for."""
        return REPORT_FORM

    def blank_form(self, tag: str = "") -> dict[str, str]:
        """A new form, dated today."""
        return blank(REPORT_FORM) | {"tag": tag, "reported_on": self._shelf.clock.today().isoformat()}

    def report(self, form: Form) -> ExaminationReport:
        """The report of an item's last thorough examination, or of that of a date.

        Raises InvalidRecordError with every fault, NotFoundError for an item that is not there or was not examined.
        """
        values, faults = read_form(REPORT_FORM, form)
        if faults:
            raise InvalidRecordError(tuple(faults))
        history = self._shelf.history_of(self._shelf.by_tag(values["tag"]).id)
        found = thorough(examined(history))
        one, before = _chosen(found, values["examined_on"], history.item)
        if values["repair_by"] is not None and not values["repair"]:
            raise InvalidRecordError((Fault("repair", "is empty, but has a date", "say what has to be done by then"),))
        return ExaminationReport(
            tag=history.item.tag,
            name=history.item.name,
            on=one.on,
            safe=_safe(one),
            told=tuple(_told(history, one, before, values)),
            digest=digest(canonical([history.item, *history.events, *history.inspections])),
        )


def thorough(examinations: Iterable[Examined]) -> list[Examined]:
    """Those that a report can be made of."""
    return [one for one in examinations if one.reason in EXAMINATIONS]


def _chosen(found: list[Examined], on: PartialDate | None, item: Item) -> tuple[Examined, Examined | None]:
    """The examination, and the one before it."""
    for place, one in enumerate(found):
        if on is None or one.on == on.text:
            return one, found[place + 1] if place + 1 < len(found) else None
    known = ", ".join(dict.fromkeys(one.on for one in found))
    way_out = f"examined on: {known}" if known else "record its examination first"
    raise NotFoundError(f"{item.tag} has no thorough examination{f' of {on}' if on else ''} on record; {way_out}")


def _safe(one: Examined) -> bool | None:
    if one.result in SAFE:
        return True
    return False if one.result in UNSAFE else None


def _told(history: History, one: Examined, before: Examined | None, values: Values) -> Iterator[Told]:
    item = history.item
    yield Told("1", "Employer for whom the examination was made: name and address", values["employer"])
    yield Told("2", "Address of the premises", values["premises"])
    yield Told("3", "The equipment, with its date of manufacture where known", _identified(item))
    yield Told("4", "Date of the last thorough examination", before.on if before else "none on record before this one")
    yield Told("5", "Safe working load, for each configuration", _load(item))
    yield Told("6", "First examination after installation or assembly at a new site", values["first"])
    yield Told(
        "7", "Made within 6 or 12 months, under a scheme, or after exceptional circumstances", _basis(one, values)
    )
    yield Told("7", "Safe to operate", {True: "yes", False: "NO", None: ""}[_safe(one)])
    yield from _defects(one, values)
    yield Told("8(d)", "Latest date of the next thorough examination", one.next_due)
    yield Told("8(e)", "Particulars of any test", values["tests"])
    yield Told("8(f)", "Date of this examination", one.on)
    yield Told("9", "Examined by: name", one.by)
    yield Told("9", "The examiner's address", values["examiner_address"])
    yield Told("9", "The examiner's qualifications", one.competence)
    yield Told("9", "Self-employed, or the examiner's employer: name and address", values["examiner_employer"])
    yield Told("10", "Authenticated by: name and address", values["authenticated_by"])
    yield Told("11", "Date of this report", str(values["reported_on"] or ""))


def _defects(one: Examined, values: Values) -> Iterator[Told]:
    found = "; ".join(one.findings) or ("none found" if one.told else "")
    needed = values["repair"] or ("none: nothing was found" if one.told and not one.findings else "")
    by_when = str(values["repair_by"] or "") or ("does not apply" if needed.startswith("none") else "")
    yield Told("8(a)", "Any part with a defect that is or could become a danger to persons", found)
    yield Told("8(b)", "Repair, renewal or alteration that remedies it", needed)
    yield Told("8(c)", "Where the danger lies ahead: by when", by_when)


def _identified(item: Item) -> str:
    parts = [
        f"tag {item.tag}: {item.name}",
        label(item.category),
        item.maker,
        item.model,
        f"serial or batch {item.serial}" if item.serial else "serial or batch not on record",
        item.standards,
        f"made {item.made_on}" if item.made_on else "date of manufacture not known",
    ]
    return ", ".join(part for part in parts if part)


def _load(item: Item) -> str:
    """The safe working load as the maker states it; a breaking strength never stands in for it."""
    return str(item.safe_working_load) if item.safe_working_load else ""


def _basis(one: Examined, values: Values) -> str:
    if values["basis"]:
        return dict(BASES)[values["basis"]]
    return dict(BASES)["exceptional"] if one.reason == "after event" else ""
