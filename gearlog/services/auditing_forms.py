"""What an audit is asked for: its day, its set of items, and how it is put on paper."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

import msgspec

from gearlog.domain.dates import PartialDate
from gearlog.domain.vocabulary import Category
from gearlog.errors import Fault, InvalidRecordError
from gearlog.reports.audit_tables import TABLES
from gearlog.services.forms import YES, Field, FieldKind, words_of
from gearlog.services.reading_forms import BLANKS, Form, read_form
from gearlog.units.quoting import quoted

FORMATS = ("csv", "xlsx", "html", "pdf", "json")
"""What an audit can be written as."""
PAPERS = ("a4", "letter")
"""Papers that it is laid out for."""
A_YEAR = timedelta(days=365)
"""Before the day of an audit, where the last one is not named."""
ALL_ITEMS = "all items"
SETS = ("climber", "kit", "category", "place", "tag")
"""By what a part of the items is chosen; one of each kind named, all kinds at once."""

ALSO = {"crew": "climber"}
"""Other words for them: a crew is several climbers, or has gear by its own name, as a climber has."""
MOST_TOLD = 12
"""So many names are offered in a refusal."""

AUDIT_FORM: tuple[Field, ...] = (
    Field("on", "as of", FieldKind.DATE, hint="2024-05-31"),
    Field("since", "last audit on", FieldKind.DATE, hint="the last one written, else a year before"),
    Field("climber", "only of climber/crew", FieldKind.LIST, hint="climber 1, climber 2"),
    Field("kit", "only of kit (tag)", FieldKind.LIST, hint="kit-1"),
    Field("category", "only of category", FieldKind.CHOICES, words_of(Category), hint="lifeline, harness"),
    Field("place", "only kept at", FieldKind.LIST, hint="van 2"),
    Field("tag", "only the items", FieldKind.LIST, hint="line-3, helmet-1"),
    Field("format", "format", FieldKind.CHOICE, tuple((one, one.upper()) for one in FORMATS), default="pdf"),
    Field("paper", "paper", FieldKind.CHOICE, (("a4", "A4"), ("letter", "Letter")), default="a4"),
    Field("pages", "a page for each item", FieldKind.CHOICE, YES),
    Field("table", "table", FieldKind.CHOICE, tuple((one, one) for one in TABLES), default=TABLES[0]),
    Field("bom", "mark of UTF-8 (BOM)", FieldKind.CHOICE, YES),
)
"""Fields of an audit."""

BASES = (
    ("6-months", "within an interval of 6 months"),
    ("12-months", "within an interval of 12 months"),
    ("scheme", "in accordance with an examination scheme"),
    ("exceptional", "after exceptional circumstances"),
)
"""Why an examination is made (Schedule 1, paragraph 7)."""
YES_OR_NO = (("yes", "yes"), ("no", "no"))
REPORT_FORM: tuple[Field, ...] = (
    Field("tag", "item (tag)", required=True),
    Field("examined_on", "date of the examination", FieldKind.DATE, hint="the last one, unless you say"),
    Field("employer", "employer, name and address", hint="for whom it was examined"),
    Field("premises", "premises", hint="where it was examined"),
    Field("first", "first after installation", FieldKind.CHOICE, YES_OR_NO),
    Field("basis", "why it was made", FieldKind.CHOICE, BASES),
    Field("repair", "repair or change needed", hint="none, or what remedies the defect"),
    Field("repair_by", "by when", FieldKind.DATE, hint="where the danger lies ahead"),
    Field("tests", "tests made", hint="none, or particulars"),
    Field("examiner_address", "examiner's address"),
    Field("examiner_employer", "examiner's employer", hint="self-employed, or name and address"),
    Field("authenticated_by", "authenticated by", hint="name and address"),
    Field("reported_on", "date of the report", FieldKind.DATE),
)
"""What a report asks for beyond what the log holds."""


class Wanted(msgspec.Struct, frozen=True, kw_only=True):
    """An audit as it was asked for.

    Attributes:
        on: the day as of which it tells; ``since`` the day of the last one.
        sets: by each kind of set, what was named, as the log spells it; a kind without names leaves all.
        format: one of FORMATS; ``paper`` one of PAPERS.
        pages: whether each item gets a page with its history.
        table: which of the tables a CSV file holds; ``bom`` whether it begins with the mark that some spreadsheets ask
            for.
        since_is: where ``since`` comes from, in words; empty where it was typed.
    """

    on: date
    since: date
    sets: Mapping[str, tuple[str, ...]] = {}
    format: str = "pdf"
    paper: str = "a4"
    pages: bool = False
    table: str = TABLES[0]
    bom: bool = False
    since_is: str = ""


def read_wanted(
    form: Form, today: date, known: Mapping[str, Iterable[str]], audits: Sequence[tuple[str, str]] = ()
) -> Wanted:
    """The audit that a form asks for; ``known`` are the names there are, by kind of set, ``audits`` the earlier ones.

    Raises InvalidRecordError with every fault.
    """
    values, faults = read_form(AUDIT_FORM, form)
    on = _day(values["on"]) or today
    sets = {kind: _named(kind, form, values[kind], known) for kind in SETS}
    faults += _strangers(sets, known)
    named = {kind: names for kind, names in sets.items() if names}
    since, since_is = _since(_day(values["since"]), on, words_of_sets(named), audits)
    if since > on:
        faults.append(Fault("since", f"{since} is after the day of the audit, {on}", "type an earlier day"))
    if faults:
        raise InvalidRecordError(tuple(faults))
    return Wanted(
        on=on,
        since=since,
        sets=named,
        format=values["format"] or FORMATS[0],
        paper=values["paper"] or PAPERS[0],
        pages=bool(values["pages"]),
        table=values["table"] or TABLES[0],
        bom=bool(values["bom"]),
        since_is=since_is,
    )


def _since(typed: date | None, on: date, chosen: str, audits: Sequence[tuple[str, str]]) -> tuple[date, str]:
    """The day of the last audit, and where that is from: the last one before ``on`` of these items or of all."""
    if typed is not None:
        return typed, ""
    days = [day for words, day in audits if words in {chosen, ALL_ITEMS} and day < on.isoformat()]
    if days:
        return date.fromisoformat(max(days)), "the last audit that was written"
    return on - A_YEAR, "a year before, as no earlier audit was written"


def _day(read: PartialDate | None) -> date | None:
    """The last day that a date can mean: a month's list holds all of the month."""
    return read.latest() if read is not None else None


def _named(kind: str, form: Form, read: tuple[str, ...], known: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    """The names as the log spells them; a text that is one name with a comma in it is one name."""
    spelled = {name.casefold(): name for name in known.get(kind, ())}
    whole = form.get(kind, "").strip(BLANKS)
    typed = (whole,) if whole.casefold() in spelled else read
    return tuple(dict.fromkeys(spelled.get(name.casefold(), name) for name in typed))


def _strangers(sets: Mapping[str, tuple[str, ...]], known: Mapping[str, Iterable[str]]) -> list[Fault]:
    faults = []
    for kind, names in sets.items():
        there = list(known.get(kind, ()))
        for name in names:
            if kind != "category" and name not in there:
                choose = f"choose of: {', '.join(there[:MOST_TOLD])}" if there else "leave it empty: there is none"
                faults.append(Fault(kind, f"{quoted(name)} names no {kind} in the log", choose))
    return faults


def in_words(wanted: Wanted) -> str:
    """Which items an audit lists, in words for its head."""
    return words_of_sets(wanted.sets)


def words_of_sets(sets: Mapping[str, tuple[str, ...]]) -> str:
    """The same of the sets."""
    parts = [f"{kind} {' or '.join(names)}" for kind, names in sets.items()]
    return "; ".join(parts) if parts else ALL_ITEMS
