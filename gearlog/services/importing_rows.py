"""One line of a list as the form of an item: each cell read by its column, what is in doubt kept as a question."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from gearlog.domain.vocabulary import ROPE_CATEGORIES, EndState
from gearlog.errors import ReadingError
from gearlog.services.forms import ROPE_FORM
from gearlog.services.importing_choices import MEASURES, UNKNOWN
from gearlog.services.importing_dates import AmbiguousDateError, read_date
from gearlog.services.importing_drafts import Context, Doubt, Draft
from gearlog.services.importing_measures import KINDS, DecimalAskedError, UnitAskedError, read_measure
from gearlog.services.importing_sizes import sizes_in, take_apart
from gearlog.services.importing_table import FORMULA, Line
from gearlog.services.importing_views import Cell, Column
from gearlog.services.importing_words import read_construction, read_word
from gearlog.units.quoting import quoted
from gearlog.units.reading import FORCE

NOTHING = frozenset({"", "-", "--", "n/a", "na", "none", "unknown", "?", "\u2013", "\u2014", "not known", "before use"})
"""Texts that say that nothing is known."""
DATES = frozenset({"made_on", "bought_on", "first_used_on", "examined_on", "next_due_on"})
ENDS = frozenset(EndState) - {EndState.SPLICED}
OF_ROPE = frozenset(field.name for field in ROPE_FORM) - {"construction", "end_a", "end_b"}
_MARKED = re.compile(r"'(?=[=+\-@\t\r\uff1d\uff0b\uff0d\uff20 ])")
"""The sign that our own lists put before what a spreadsheet would run."""
_COUNT = re.compile(r"(\d+)\s*-?\s*(?:strands?|carriers?|years?|y)?", re.IGNORECASE)


def read_line(line: Line, context: Context) -> Draft:
    """The form that a line tells."""
    draft = Draft(line.number)
    if line.fault:
        draft.faults.append(line.fault)
        return draft
    short = len(context.columns) - len(line.cells)
    if short > 0:
        told = f"has {len(line.cells)} of {len(context.columns)} cells"
        if line.may_be_cut or len(line.cells) == 1:
            draft.faults.append(f"{told}; the file may end in the middle of it")
            return draft
        draft.notes.append(f"{told}; nothing is told in the last {'one' if short == 1 else short}")
    if any(line.cells[len(context.columns) :]):
        draft.faults.append(f"has {len(line.cells)} cells under {len(context.columns)} headings; mend the line")
        return draft
    for place, (column, cell) in enumerate(zip(context.columns, line.cells, strict=False)):
        said = context.choices.cells.get(column.heading, {}).get(cell, cell) if column.field else ""
        if said.casefold() not in NOTHING:
            draft.read_from[column.field] = (column.heading, cell)
            _read_cell(draft, context, place, column, said)
    draft.told = draft.form | {"size": draft.more["size"]} if "size" in draft.more else dict(draft.form)
    _fill_in(draft, context)
    _settle_rope(draft, context)
    return draft


def _read_cell(draft: Draft, context: Context, place: int, column: Column, cell: str) -> None:
    if cell.startswith(FORMULA):  # one formula looks like another, so none can be typed anew here
        draft.faults.append(f"{column.heading} holds a formula; put its value there")
        return
    doubts, faults = len(draft.doubts), len(draft.faults)
    _read_text(draft, context, place, column, cell)
    why = [*(doubt.fact for doubt in draft.doubts[doubts:]), *draft.faults[faults:]]
    if why:
        draft.cells.append(Cell(*draft.read_from[column.field], why[0]))


def _read_text(draft: Draft, context: Context, place: int, column: Column, cell: str) -> None:
    text = _MARKED.sub("", cell) if _MARKED.match(cell) else cell
    try:
        _READERS.get(column.field, _plain)(draft, context, place, text)
    except AmbiguousDateError as error:
        fact, asks = f"{column.heading}: {error.message}", "which is first, day or month?"
        draft.doubts.append(Doubt("dates", fact, asks, "--dates dmy or --dates mdy"))
    except DecimalAskedError as error:
        fact, asks = f"{column.heading}: {error.message}", "does the sign stand before decimals or thousands?"
        draft.doubts.append(Doubt("decimal", fact, asks, "--decimal point or --decimal comma"))
    except UnitAskedError as error:
        unit = "kN" if KINDS[column.field] == FORCE else "mm"
        fact = f"{column.heading}: {error.message}"
        draft.doubts.append(Doubt(f"unit {column.field}", fact, "which unit?", f"--unit {column.field}={unit}"))
    except ReadingError as error:
        draft.faults.append(f"{column.heading}: {error.message}")


def _plain(draft: Draft, context: Context, place: int, text: str) -> None:
    column = context.columns[place]
    if column.field == "notes":
        _note(draft, text if column.why == "by its name" else f"{column.heading}: {text}")
        return
    if "\n" in text or "\r" in text:
        draft.notes.append(f"{quoted(text)} read as one line")
        text = " ".join(text.split())
    draft.form[column.field] = text


def _date(draft: Draft, context: Context, place: int, text: str) -> None:
    field = context.columns[place].field
    order = context.choices.dates or context.orders.get(place, "")
    into = draft.more if field in {"examined_on", "next_due_on"} else draft.form
    into[field] = read_date(text, order, context.today)


def _measure(draft: Draft, context: Context, place: int, text: str) -> None:
    column = context.columns[place]
    unit = column.unit or context.choices.units.get(column.field, "")
    made, note = read_measure(text, column.field, unit, context.decimal)
    draft.form[column.field] = made
    if note and not column.unit:
        draft.notes.append(note)


def _word(draft: Draft, context: Context, place: int, text: str) -> None:
    column = context.columns[place]
    try:
        word = read_word(column.field, text, context.choices.words.get(column.field, {}))
    except ReadingError as error:
        way_out = f"--word {column.field}:{text}=..., with one of the words that gearlog knows"
        draft.doubts.append(Doubt(f"word {column.field} {text.casefold()}", error.message, "what is it?", way_out))
        return
    (draft.more if column.field == "status" else draft.form)[column.field] = word


def _construction(draft: Draft, context: Context, place: int, text: str) -> None:
    try:
        draft.form |= read_construction(text, context.choices.words.get("construction", {}))
    except ReadingError:
        _word(draft, context, place, text)


def _size(draft: Draft, context: Context, place: int, text: str) -> None:
    """Kept as it stands until the category is known."""
    draft.more["size"] = text
    draft.more["size_heading"] = context.columns[place].heading


def _history(draft: Draft, context: Context, place: int, text: str) -> None:
    draft.more[context.columns[place].field] = text


def _end(draft: Draft, context: Context, place: int, text: str) -> None:
    """How an end came; a splice is told in the notes, for the diary asks for more than a list tells."""
    column = context.columns[place]
    if text.casefold() in ENDS:
        draft.form[column.field] = text.casefold()
    else:
        _note(draft, f"{column.heading}: {text}")


def _count(draft: Draft, context: Context, place: int, text: str) -> None:
    found = _COUNT.fullmatch(text)
    draft.form[context.columns[place].field] = found[1] if found else text


def _documents(draft: Draft, context: Context, place: int, text: str) -> None:
    del context, place
    earlier = draft.form.get("documents", "")
    draft.form["documents"] = ", ".join(part for part in (earlier, text.replace(";", ",")) if part)


def _tag(draft: Draft, context: Context, place: int, text: str) -> None:
    del context, place
    draft.form["tag"] = "-".join(text.split())
    if draft.form["tag"] != text:
        draft.notes.append(f"tag {quoted(text)} read as {draft.form['tag']}")


def _cut_from(draft: Draft, context: Context, place: int, text: str) -> None:
    del context, place
    _note(draft, f"cut from {text}")


Reader = Callable[[Draft, Context, int, str], None]
_READERS: dict[str, Reader] = {
    **dict.fromkeys(DATES, _date),
    **dict.fromkeys(MEASURES, _measure),
    **dict.fromkeys(("category", "used_for", "status", "cover_fibre", "core_fibre"), _word),
    **dict.fromkeys(("strands", "life_years_from_made", "life_years_from_first_use"), _count),
    **dict.fromkeys(("end_a", "end_b"), _end),
    "construction": _construction,
    "size": _size,
    "examined_by": _history,
    "documents": _documents,
    "tag": _tag,
    "cut_from": _cut_from,
}
"""How the cells of a field are read; texts as they are."""


def _note(draft: Draft, text: str) -> None:
    draft.form["notes"] = "\n".join(part for part in (draft.form.get("notes", ""), text) if part)


def _fill_in(draft: Draft, context: Context) -> None:
    """What one answer fills for every line, and what no line can do without."""
    line = draft.form.get("tag") or draft.form.get("name", "")
    for field, texts in context.choices.each.items():
        if line in texts:
            (draft.more if field == "status" else draft.form)[field] = texts[line]
    for field, text in context.choices.set.items():
        if not (field == "construction" and text == UNKNOWN):
            into = draft.more if field == "status" else draft.form
            into.setdefault(field, text)
    if not any(column.field == "name" for column in context.columns):
        fact, way_out = "no column is read as the name", "--column 'Rope=name', with the heading of that column"
        draft.doubts.append(Doubt("column name", fact, "which column holds the names of the items?", way_out))
    elif not draft.form.get("name"):
        draft.faults.append("has no name; write one in the list")
    asked = any(doubt.id.startswith("word category") for doubt in draft.doubts)
    if not draft.form.get("category") and not asked:
        way_out = "--set category=lifeline, or a column of categories"
        draft.doubts.append(Doubt("category", "no category is told", "what kind of gear is it?", way_out))


def _settle_rope(draft: Draft, context: Context) -> None:
    """Sizes belong to ropes whose construction is known; other sizes go into the notes, and it is said."""
    category = draft.form.get("category", "")
    if "size" in draft.more:
        _settle_size(draft, context, category)
    known = draft.form.get("construction", "") not in {"", UNKNOWN}
    if known and category in ROPE_CATEGORIES:
        for field, text in sizes_in(draft.form.get("name", ""), context.decimal).items():
            if field not in draft.form:
                draft.form[field] = text
                draft.notes.append(f"{field.partition('_')[0]} {text} taken from the name")
    told = [field for field in draft.form if field in OF_ROPE]
    if not told or known:
        draft.form.pop("construction", "") if not known else None
        return
    unknown = UNKNOWN in {draft.form.get("construction", ""), context.choices.set.get("construction", "")}
    if category and (category not in ROPE_CATEGORIES or unknown):
        _into_notes(draft, told)
    elif not any(doubt.id.startswith("word construction") for doubt in draft.doubts):
        way_out = "--set construction=kernmantle, or --set construction=unknown to keep the sizes in the notes"
        fact = "sizes of a rope are told and not how it is made"
        draft.doubts.append(Doubt("construction", fact, "how is it made?", way_out))


def _settle_size(draft: Draft, context: Context, category: str) -> None:
    text = draft.more["size"]
    if category and category not in ROPE_CATEGORIES:
        draft.form["size"] = text
        return
    try:
        taken = take_apart(text, context.decimal)
    except ReadingError as error:
        heading = draft.more["size_heading"]
        fact = f"{heading}: {quoted(text)}: {error.message}"
        way_out = f"sizes with their units in the list, or --column '{heading}=notes' to keep them as they are"
        draft.doubts.append(Doubt(f"size {text}", fact, "which size is it?", way_out))
        draft.cells.append(Cell(*draft.read_from["size"], fact))
        return
    for field, value in taken.form.items():
        draft.form.setdefault(field, value)
    told = ", ".join(f"{field.partition('_')[0]} {value}" for field, value in taken.form.items())
    kept = "; the whole of it is kept in the notes" if taken.rest else ""
    draft.notes.append(f"{quoted(text)} read as {told or 'words'}{kept}")
    if taken.rest:
        _note(draft, f"{draft.more['size_heading']}: {text}")


def _into_notes(draft: Draft, fields: Sequence[str]) -> None:
    told = ", ".join(f"{field.replace('_', ' ')} {draft.form.pop(field)}" for field in fields)
    draft.form.pop("construction", "")
    _note(draft, told)
    draft.notes.append(f"{told}: kept in the notes")
