"""Importing: what is certain is read, what is not is asked about, and the log is touched only when all is well."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from gearlog.domain.vocabulary import EventKind, Status
from gearlog.services.book import Book, memory_book, open_sample
from gearlog.services.importing_answers import asked as answers_of
from gearlog.services.importing_answers import of_line, typed_anew
from gearlog.services.importing_choices import Choices, read_choices, written
from gearlog.services.importing_table import MOST_LINES, ImportRefusedError
from gearlog.services.importing_views import Fate, Trial

TODAY = date(2026, 11, 1)
SAMPLE = Path(__file__).resolve().parents[2] / "sample_data" / "import.csv"
HEAD = "Name,Kind,Serial\n"
LINE = "Screw connector,carabiner,D 1\n"


@pytest.fixture
def book() -> Book:
    return memory_book(today=lambda: TODAY)


def csv(*lines: str) -> bytes:
    return "\n".join(lines).encode()


def tried(book: Book, data: bytes, **choices: object) -> Trial:
    return book.importing.trial(data, "list.csv", Choices(**choices))  # type: ignore[arg-type]


def taken(book: Book, data: bytes, **choices: object) -> Trial:
    return book.importing.take_in(data, "list.csv", Choices(**choices))  # type: ignore[arg-type]


def asked(trial: Trial) -> set[str]:
    return {question.id.partition(" ")[0] for question in trial.questions}


def workbook(*rows: tuple[Any, ...], change: Callable[[openpyxl.Workbook], None] | None = None) -> bytes:
    book = openpyxl.Workbook()
    for row in rows:
        sheet_of(book).append(row)
    if change is not None:
        change(book)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def sheet_of(book: openpyxl.Workbook) -> Worksheet:
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    return sheet


def test_the_sample_list_asks_two_questions_and_is_then_taken_in_whole(book: Book) -> None:
    data = SAMPLE.read_bytes()
    first = book.importing.take_in(data, SAMPLE.name)
    assert asked(first) == {"dates", "construction"}
    assert first.questions[0].first == 3
    assert (first.imported, book.gear.rows()) == (0, ())
    answers = {"dates": "dmy", "set": {"construction": "cover-loaded"}}
    done = book.importing.take_in(data, SAMPLE.name, Choices(**answers))  # type: ignore[arg-type]
    assert (done.all_well, done.imported) == (True, 8)
    line = book.gear.by_tag("K-1")
    assert line.rope is not None
    assert (str(line.rope.length_bought), str(line.rope.diameter)) == ("45m", "11.7mm")
    assert (str(line.breaking_strength), str(line.first_used_on)) == ("26.7 kN", "2024-04-03")
    assert str(book.gear.by_tag("K-4").breaking_strength) == "18.5 kN"
    (event,) = book.gear.card(line.id).events
    assert (event.kind, str(event.happened_on), event.by) == (EventKind.EXAMINED, "2025-05-02", "inspector 1")
    assert str(event.next_due_on) == "2025-11-02"


def test_an_import_is_one_step_that_undo_takes_back_whole_and_twice_adds_nothing(book: Book) -> None:
    data = csv(HEAD + LINE, "Helmet,helmet,E 2")
    assert taken(book, data).imported == 2
    book.gear.change(
        book.gear.by_tag("helmet").id, book.gear.form_of(book.gear.by_tag("helmet").id) | {"serial": "E 9"}
    )
    again = taken(book, data)
    assert (again.imported, again.count(Fate.KNOWN)) == (0, 2)
    book.undo()
    assert book.undo() == "import 2 items from list.csv"
    assert book.gear.rows() == ()
    assert taken(book, data).imported == 2


def test_what_is_in_the_log_by_hand_is_known_by_tag_or_by_serial_maker_and_model(book: Book) -> None:
    book.gear.add({"name": "a", "tag": "K-1", "category": "connector", "maker": "Maker A"})
    book.gear.add({"name": "b", "category": "connector", "serial": "S1", "maker": "Maker A", "model": "m"})
    data = csv(
        "No,Name,Kind,Maker,Model,Serial",
        "k 1,x,carabiner,Maker B,,",
        ",y,carabiner,MAKER A,M,s1",
        ",z,carabiner,Maker B,m,S1",
    )
    trial = tried(book, data)
    assert [one.fate for one in trial.fates] == [Fate.KNOWN, Fate.KNOWN, Fate.ADD]
    assert "another name, maker" in trial.fates[0].reasons[0]


def test_lines_that_are_alike_are_asked_about_unless_their_tags_tell(book: Book) -> None:
    data = csv(HEAD + LINE + LINE)
    assert asked(tried(book, data)) == {"twins"}
    assert [one.fate for one in tried(book, data, twins="skip").fates] == [Fate.ADD, Fate.SKIP]
    assert taken(book, data, twins="keep").imported == 2
    assert taken(book, data, twins="keep").imported == 0
    same = tried(book, csv("No,Name,Kind", "7,a,helmet", "7,b,helmet"))
    assert same.fates[1].fate is Fate.REFUSE
    assert "line 2" in same.fates[1].reasons[0]


def test_all_or_nothing_unless_the_good_lines_are_asked_for(book: Book) -> None:
    data = csv(HEAD + LINE, "Helmet,sailcloth,E 2", "X,helmet,E 3,one too many")
    trial = taken(book, data)
    assert [(one.line, one.fate) for one in trial.fates] == [(2, Fate.ADD), (4, Fate.ASK), (5, Fate.REFUSE)]
    assert (trial.imported, book.gear.rows()) == (0, ())
    some = book.importing.take_in(data, "list.csv", Choices(), good_lines=True)
    assert (some.imported, [row.tag for row in book.gear.rows()]) == (1, ["screw-connector"])


@pytest.mark.parametrize(
    ("dates", "order", "read"),
    [
        (["03/04/2024"], "", None),
        (["03/04/2024"], "dmy", "2024-04-03"),
        (["03/04/2024"], "mdy", "2024-03-04"),
        (["03/04/2024", "25/12/2023"], "", "2024-04-03"),
        (["03/04/2024", "12/25/2023"], "", "2024-03-04"),
        (["03/04/2024", "12/25/2023", "25/12/2023"], "", None),
        (["3.4.2024"], "", "2024-04-03"),
        (["2024-04"], "", "2024-04"),
        (["04/2024"], "", "2024-04"),
        (["3 April 2024"], "", "2024-04-03"),
        (["Apr 3, 2024"], "", "2024-04-03"),
        (["3/4/24"], "dmy", "2024-04-03"),
        (["3/4/24"], "", None),
        (["2024/4/3"], "", "2024-04-03"),
        (["20240403"], "", "2024-04-03"),
    ],
)
def test_a_date_is_read_where_it_can_mean_one_day_only(
    book: Book, dates: list[str], order: str, read: str | None
) -> None:
    lines = [f"item {place};helmet;{place};{text}" for place, text in enumerate(dates)]
    trial = taken(book, csv("Name;Kind;Serial;Bought", *lines), dates=order)
    if read is None:
        assert asked(trial) == {"dates"}
    else:
        assert str(book.gear.by_tag("item-0").bought_on) == read


@pytest.mark.parametrize(
    ("text", "why"),
    [("45413", "spreadsheet's number"), ("31/02/2024", "can be"), ("soon", "not a date"), ("2024-13", "can be")],
)
def test_what_is_no_date_is_refused_with_its_line(book: Book, text: str, why: str) -> None:
    (fate,) = tried(book, csv("Name,Kind,Bought", f"a,helmet,{text}")).fates
    assert (fate.line, fate.fate) == (2, Fate.REFUSE)
    assert why in fate.reasons[0]


@pytest.mark.parametrize(
    ("heading", "text", "choices", "read"),
    [
        ("Strength (kN)", "24", {}, "24 kN"),
        ("Strength", "24 kN", {}, "24 kN"),
        ("Strength", "24KN", {}, "24 kN"),
        ("Strength", "2400 kg", {}, "2400 kgf"),
        ("Strength", "5400 lbs", {}, "5400 lbf"),
        ("Strength, kN", "26,7", {}, "26.7 kN"),
        ("Strength", "24", {}, "unit"),
        ("Strength", "24", {"units": {"breaking_strength": "kN"}}, "24 kN"),
        ("Strength", "5,400 lbf", {}, "decimal"),
        ("Strength", "5,400 lbf", {"decimal": "point"}, "5400 lbf"),
        ("Strength", "5,400 lbf", {"decimal": "comma"}, "5.400 lbf"),
        ("Strength", "1,234.5 kN", {}, "1234.5 kN"),
        ("Strength", "strong", {}, None),
        ("Strength (kN)", "24 mm", {}, None),
    ],
)
def test_a_quantity_is_read_with_its_unit_or_asked_about(
    book: Book, heading: str, text: str, choices: dict[str, object], read: str | None
) -> None:
    trial = taken(book, f'Name;Kind;"{heading}"\na;helmet;{text}\n'.encode(), **choices)
    if read is None:
        assert trial.fates[0].fate is Fate.REFUSE
    elif trial.questions:
        assert asked(trial) == {read}
    else:
        assert str(book.gear.by_tag("a").breaking_strength) == read


@pytest.mark.parametrize(
    ("text", "length", "diameter"),
    [
        ("45m 11.7mm", "45m", "11.7mm"),
        ("11,7 mm / 45 m", "45 m", "11.7 mm"),
        ("150 ft 1/2 in", "150 ft", "1/2 in"),
        ("1/2\" x 150'", "150'", '1/2"'),
        ("60m 14mm polyester", "60m", "14mm"),
        ("45m", "45m", None),
        ("45/11.7", "asked", None),
        ("45 x 11.7 mm", "asked", None),
        ("12m 11m", "asked", None),
        ("20 cm 45 m 11 mm", "asked", None),
    ],
)
def test_free_text_is_taken_apart_where_that_is_certain(
    book: Book, text: str, length: str, diameter: str | None
) -> None:
    data = f"Name;Kind;Size;Construction\na;climbing line;{text};kernmantle\n".encode()
    trial = taken(book, data)
    if length == "asked":
        assert asked(trial) == {"size"}
        return
    rope = book.gear.by_tag("a").rope
    assert rope is not None
    assert str(rope.length_bought) == length
    assert (str(rope.diameter) if rope.diameter else None) == diameter
    assert ("polyester" in text) == (rope.cover_fibre == "polyester")


def test_sizes_without_a_construction_are_asked_about_or_kept_in_the_notes(book: Book) -> None:
    data = csv("Name,Kind,Size", "a,climbing line,45m 11.7mm", "b,webbing sling,1.2 m", "c,helmet,2")
    assert asked(tried(book, data)) == {"construction"}
    assert taken(book, data, set={"construction": "unknown"}).imported == 3
    assert book.gear.by_tag("a").rope is None
    assert "11.7mm" in book.gear.by_tag("a").notes
    assert "1.2 m" in book.gear.by_tag("b").notes
    device = book.gear.by_tag("c").device
    assert device is not None
    assert device.size == "2"


def test_a_word_with_two_meanings_is_asked_about_and_answered_once(book: Book) -> None:
    data = csv(HEAD + "a,Rope,1\nb,rope,2\nc,Karabiners,3")
    trial = tried(book, data)
    assert [(question.id, question.lines) for question in trial.questions] == [("word category rope", 2)]
    assert taken(book, data, words={"category": {"ROPE": "lifeline"}}).imported == 3
    assert asked(tried(book, csv("Name", "a"))) == {"category"}


def test_a_state_in_the_list_is_never_dropped(book: Book) -> None:
    data = csv("Name,Kind,Status,Serial", "a,helmet,retired,1", "b,helmet,in use,2", "c,helmet,out of service,3")
    assert taken(book, data).imported == 3
    assert [row.status for row in book.gear.rows()] == [Status.RETIRED, Status.IN_SERVICE, Status.QUARANTINED]
    assert asked(tried(book, csv("Name,Kind,Status", "d,helmet,hmm"))) == {"word"}


def test_a_column_that_is_not_known_is_told_and_can_be_named(book: Book) -> None:
    data = csv("Was heisst es,Kind,Serial,Shelf", "a,helmet,1,left")
    trial = tried(book, data)
    assert [column.heading for column in trial.columns if not column.field] == ["Was heisst es", "Shelf"]
    assert trial.fates[0].fate is Fate.ASK
    assert asked(trial) == {"column"}  # one question, not a refusal of every line
    assert taken(book, data, columns={"was heisst es": "name", "Shelf": "notes"}).imported == 1
    assert book.gear.by_tag("a").notes == "Shelf: left"


def test_a_mapping_is_kept_in_a_file_and_read_back_the_same() -> None:
    said = Choices(
        columns={'Rope "x"\x7f': "name", "Größe": "-"},
        units={"diameter": "mm"},
        set={"category": "lifeline"},
        words={"category": {"rope": "lifeline"}},
        cells={'Bought "on".x': {"03/04/2024": "2024-04-03", "a\nb": ""}},
        each={"construction": {"[r] 1": "kernmantle"}},
        dates="dmy",
        twins="keep",
    )
    assert read_choices(written(said), "map.toml") == said


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("dates = 'dym'", "dym"),
        ("[columns]\nA = 'nam'", "nam"),
        ("[units]\ndiameter = 'parsec'", "parsec"),
        ("[words.category]\nrope = 'string'", "string"),
        ("[each.construction]\nr1 = 'string'", "string"),
        ("[each.colour]\nr1 = 'red'", "colour"),
        ("[colums]\nA = 'name'", "colums"),
        ("dates = ", "map.toml"),
    ],
)
def test_a_mapping_with_a_fault_is_refused_with_its_place(text: str, told: str) -> None:
    with pytest.raises(Exception, match=told):
        read_choices(text, "map.toml")


TYPED = (
    *("name", "category", "maker", "model", "serial", "standards", "used_for", "made_on", "bought_on"),
    *("first_used_on", "assigned_to", "kept_at", "breaking_strength", "safe_working_load"),
)


@pytest.mark.parametrize(("order", "text"), [("dmy", "4/30/2024"), ("mdy", "30/4/2024")])
def test_a_date_that_does_not_fit_the_order_that_was_said_is_told_as_such(book: Book, order: str, text: str) -> None:
    (fate,) = tried(book, csv("Name,Kind,Serial,Bought", f"a,helmet,1,{text}"), dates=order).fates
    assert "does not fit the order" in fate.reasons[0]
    assert [cell.text for cell in fate.cells] == [text]


def test_our_own_list_comes_back_as_the_same_items() -> None:
    """Everything that is typed, and nothing that is worked out; the demo log's list read into an empty one."""
    with open_sample(today=lambda: TODAY) as old, memory_book(today=lambda: TODAY) as new:
        audit = old.auditing.audit(old.auditing.wanted(old.auditing.blank_form()))
        done = new.importing.take_in(old.auditing.table(audit), "audit.csv", Choices(twins="keep"))
        assert (done.all_well, done.imported) == (True, len(old.gear.rows()))
        for row in old.gear.rows():
            item, copy = row.item, new.gear.by_tag(row.tag)
            for field in TYPED:
                assert getattr(copy, field) == getattr(item, field), (row.tag, field)
            if item.rope is not None:
                assert copy.rope is not None
                assert copy.rope.construction == item.rope.construction
                assert (copy.rope.strands, copy.rope.lay) == (item.rope.strands, item.rope.lay)
            if row.status is not Status.IN_SERVICE:
                assert new.gear.row(copy.id).status is row.status


def test_a_workbook_is_read_by_its_values_with_dates_as_dates(book: Book) -> None:
    data = workbook(
        ("Rope list", None, None, None),
        ("Name", "Kind", "Length (m)", "Bought", "Construction", "No"),
        ("a", "climbing line", 45.5, date(2024, 4, 3), "kernmantle", 7),
        ("b", "climbing line", 0.1 + 0.2, "2024", "kernmantle", 8.0),
    )
    done = taken(book, data)
    assert (done.kind, done.heading_line, done.imported) == ("xlsx", 2, 2)
    rope = book.gear.by_tag("7").rope
    assert rope is not None
    assert (str(rope.length_bought), str(book.gear.by_tag("7").bought_on)) == ("45.5 m", "2024-04-03")
    other = book.gear.by_tag("8").rope
    assert other is not None
    assert str(other.length_bought) == "0.3 m"


NASTY: dict[str, tuple[bytes, str]] = {
    "empty": (b" \r\n\n", "is empty"),
    "binary": (bytes(range(256)) * 40, "no list of text"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(200), "no list of text"),
    "an old workbook": (b"\xd0\xcf\x11\xe0" + bytes(200), "old kind"),
    "half a workbook": (workbook(("Name", "Kind"), ("a", "helmet"))[:2000], "part of a workbook"),
    "an archive": (b"PK\x03\x04" + b"x" * 50, "part of a workbook, or damaged"),
    "letters that were lost": ("Name,Kind\nGr\ufffdn,helmet\n".encode(), "lost letters"),
    "read wrongly once before": ("Name,Kind\nGrÃ¼n,helmet\n".encode(), "wrong encoding"),
    "not UTF-8 and not Windows": (b"Name,Kind\nGr\x81n,helmet\n", "encoding that is not recognised"),
    "half a line": (b'Name,Kind,Serial\na,helmet,1\n"b,hel', "ends in the middle"),
    "no headings": (b"a,b,c\n1,2,3\n", "no heading is known"),
    "headings only": (b"Name,Kind\n", "no lines beneath"),
    "too many lines": (b"Name,Kind\n" + b"a,helmet\n" * MOST_LINES, "more than"),
    "control signs": (b"Name,Kind\na\x1b[31m,helmet\n", "control signs"),
}


@pytest.mark.parametrize("data", NASTY.values(), ids=NASTY.keys())
def test_what_is_no_list_is_refused_in_one_line_and_the_log_stays_as_it_is(book: Book, data: tuple[bytes, str]) -> None:
    version = book.version
    with pytest.raises(ImportRefusedError, match=data[1]) as refused:
        taken(book, data[0])
    assert "\n" not in refused.value.message
    assert book.version == version


ODD: dict[str, bytes] = {
    "windows-1252": "Name,Kind,Serial\nGrün Öse,helmet,1\nb,helmet,2\n".encode("cp1252"),
    "utf-16": "Name,Kind,Serial\nGrün Öse,helmet,1\nb,helmet,2\n".encode("utf-16"),
    "utf-16 without its mark": "Name,Kind,Serial\nGrün Öse,helmet,1\nb,helmet,2\n".encode("utf-16-le"),
    "utf-16 the other way round": "Name,Kind,Serial\nGrün Öse,helmet,1\nb,helmet,2\n".encode("utf-16-be"),
    "utf-8 with its mark": "Name,Kind,Serial\nGrün Öse,helmet,1\nb,helmet,2\n".encode("utf-8-sig"),
    "semicolons": "Name;Kind;Serial\nGrün Öse;helmet;1\nb;helmet;2\n".encode(),
    "tabs": "Name\tKind\tSerial\nGrün Öse\thelmet\t1\nb\thelmet\t2\n".encode(),
    "told separator": "sep=|\r\nName|Kind|Serial\r\nGrün Öse|helmet|1\r\nb|helmet|2\r\n".encode(),
    "quoted newlines": 'Name,Kind,Serial,Notes\nGrün Öse,helmet,1,"two\nlines, ""so"""\nb,helmet,2,\n'.encode(),
    "merged headings above": "Old list,,,\n,,,\nName,Kind,Serial,\nGrün Öse,helmet,1,\n,,,\nb,helmet,2,\n".encode(),
    "old line ends": "Name,Kind,Serial\rGrün Öse,helmet,1\rb,helmet,2\r".encode(),
}


@pytest.mark.parametrize("data", ODD.values(), ids=ODD.keys())
def test_an_odd_file_is_read_and_it_is_said_how(book: Book, data: bytes) -> None:
    done = taken(book, data)
    assert (done.all_well, done.imported) == (True, 2)
    assert book.gear.by_tag("grun-ose").name == "Grün Öse"
    assert done.read_as
    assert ("Windows-1252" in "".join(done.notes)) == (data == ODD["windows-1252"])


def test_a_formula_is_never_taken_for_a_value(book: Book) -> None:
    lines = csv(HEAD + '=HYPERLINK("x"),helmet,1', "'=1+1,helmet,2", "-5,helmet,3")
    trial = tried(book, lines)
    assert [one.fate for one in trial.fates] == [Fate.REFUSE, Fate.ADD, Fate.ADD]
    assert "formula" in trial.fates[0].reasons[0]
    assert trial.fates[1].name == "=1+1"
    data = workbook(("Name", "Kind", "Serial"), ("=A1", "helmet", "1"))
    (fate,) = tried(book, data).fates
    assert (fate.fate, "formula" in fate.reasons[0]) == (Fate.REFUSE, True)


def test_a_line_that_is_cut_short_is_refused(book: Book) -> None:
    trial = tried(book, b"Name,Kind,Serial,Bought\na,helmet,1,2024\nb,hel")
    assert [one.fate for one in trial.fates] == [Fate.ADD, Fate.REFUSE]
    assert "2 of 4 cells" in trial.fates[1].reasons[0]


def test_cells_that_are_left_out_at_the_end_of_a_line_tell_nothing_and_it_is_said(book: Book) -> None:
    """Programs leave out what is empty at the end; only where the file itself ends can a line have been cut."""
    trial = tried(book, b"Name,Kind,Serial,Bought\na,helmet\nb,helmet,2\nfooter\nc,helmet,3,2024\n")
    assert [one.fate for one in trial.fates] == [Fate.ADD, Fate.ADD, Fate.REFUSE, Fate.ADD]
    assert trial.fates[0].notes == ("has 2 of 4 cells; nothing is told in the last 2",)
    assert tried(book, b"Name,Kind,Serial\na,helmet\n").all_well
    assert not tried(book, b"Name,Kind,Serial\na,helmet").all_well


def test_a_name_on_two_lines_is_one_name_and_it_is_said(book: Book) -> None:
    trial = taken(book, b'Name,Kind,Serial,Notes\n"Blue\nline",helmet,1,"one\ntwo"\n')
    assert (trial.imported, trial.fates[0].notes) == (1, ("'Blue\\nline' read as one line",))
    assert book.gear.by_tag("blue-line").name == "Blue line"
    assert book.gear.by_tag("blue-line").notes == "one\ntwo"


def test_cells_that_are_merged_below_the_headings_are_gaps_and_no_guesses(book: Book) -> None:
    def merge(made: openpyxl.Workbook) -> None:
        sheet_of(made).merge_cells("D2:D3")

    data = workbook(
        ("Name", "Kind", "Serial", "Maker"), ("a", "helmet", 1, "Maker A"), ("b", "helmet", 2, None), change=merge
    )
    trial = tried(book, data)
    assert [one.fate for one in trial.fates] == [Fate.ADD, Fate.REFUSE]
    assert "merged" in trial.fates[1].reasons[0]


def test_two_lists_in_one_workbook_are_asked_about(book: Book) -> None:
    def second(made: openpyxl.Workbook) -> None:
        sheet = made.create_sheet("Van 2")
        sheet.append(("Name", "Kind"))
        sheet.append(("b", "helmet"))

    data = workbook(("Name", "Kind"), ("a", "helmet"), change=second)
    with pytest.raises(ImportRefusedError, match="--sheet") as refused:
        taken(book, data)
    assert (refused.value.settles, [value for value, _ in refused.value.answers]) == ("sheet", ["Sheet", "Van 2"])
    assert taken(book, data, sheet="Van 2").fates[0].name == "b"


def test_a_list_whose_names_are_not_recognised_asks_once_which_column_holds_them(book: Book) -> None:
    data = csv("Xyz,Kind,Serial", "a,helmet,1", "b,helmet,2")
    trial = tried(book, data)
    (question,) = trial.questions
    assert question.lines == 2
    found = answers_of(question, trial)
    assert ("Xyz", "Xyz, such as a") in found.answers
    assert book.importing.trial(data, "list.csv", found.settle(Choices(), "Xyz")).all_well


ROPES = csv(
    "Tag,Name,Kind,Diameter,Length,Bought",
    "r1,blue,lifeline,11,45 m,03/04/2024",
    "r2,white,rigging rope,1/2,60 m,04/03/2024",
    "r3,old,rigging rope,14 mm,30 m,2024-02-31",
)
HOW = {"construction": {"r1": "kernmantle", "r2": "three-strand", "r3": "unknown"}}
CELLS = {
    "Diameter": {"11": "11 mm", "1/2": "1/2 in"},
    "Bought": {"03/04/2024": "2024-04-03", "04/03/2024": "2024-04-03", "2024-02-31": "2024-02"},
}


def test_what_differs_from_line_to_line_is_answered_for_one_value_and_for_one_line(book: Book) -> None:
    """One answer cannot fit all ropes of a list, all bare numbers, or dates that two people wrote."""
    trial = tried(book, ROPES)
    cells = [(one.line, cell.heading, cell.text) for one in trial.fates for cell in one.cells]
    assert cells == [
        *((2, "Diameter", "11"), (2, "Bought", "03/04/2024"), (3, "Diameter", "1/2"), (3, "Bought", "04/03/2024")),
        (4, "Bought", "2024-02-31"),
    ]
    assert ["construction" in one.asked for one in trial.fates] == [True, True, True]
    choices = Choices()
    for fate in trial.fates:
        for cell in fate.cells:
            choices = typed_anew(choices, cell, CELLS[cell.heading][cell.text])
        found = of_line("construction", fate)
        assert found is not None
        choices = found.settle(choices, HOW["construction"][fate.tag])
    assert (choices.cells, choices.each) == (CELLS, HOW)
    assert book.importing.take_in(ROPES, "list.csv", choices).imported == 3
    first, second, third = (book.gear.by_tag(tag) for tag in ("r1", "r2", "r3"))
    assert first.rope is not None
    assert second.rope is not None
    assert (first.rope.construction, str(first.rope.diameter)) == ("kernmantle", "11 mm")
    assert (second.rope.construction, str(second.rope.diameter)) == ("three-strand", "1/2 in")
    assert (str(first.bought_on), str(second.bought_on), str(third.bought_on)) == (
        "2024-04-03",
        "2024-04-03",
        "2024-02",
    )
    assert third.rope is None
    assert "14 mm" in third.notes


def test_a_cell_that_was_typed_anew_and_still_does_not_read_is_typed_once_more(book: Book) -> None:
    data = csv("Name,Kind,Serial,Bought", "a,helmet,1,soon")
    choices = typed_anew(Choices(), tried(book, data).fates[0].cells[0], "later")
    (cell,) = tried(book, data, cells=choices.cells).fates[0].cells
    assert (cell.text, "later" in cell.why) == ("soon", True)
    choices = typed_anew(choices, cell, "2024-05")
    assert tried(book, data, cells=choices.cells).all_well
    assert tried(book, data, cells={"Bought": {"soon": ""}}).all_well  # nothing there


def test_a_rule_of_the_items_form_that_is_broken_names_its_cell(book: Book) -> None:
    data = csv("Tag,Name,Kind,Construction,Diameter,Length", "r1,a,lifeline,kernmantle,11 mm,900 km")
    (fate,) = tried(book, data).fates
    assert fate.fate is Fate.REFUSE
    assert [(cell.heading, cell.text) for cell in fate.cells] == [("Length", "900 km")]


def test_one_formula_looks_like_another_and_none_is_typed_anew(book: Book) -> None:
    (fate,) = tried(book, csv("Name,Kind,Serial,Bought", "a,helmet,1,=TODAY()")).fates
    assert (fate.fate, fate.cells) == (Fate.REFUSE, ())


def test_answers_that_differ_do_not_make_a_second_item_of_a_line_without_tag_and_serial(book: Book) -> None:
    data = csv("Name,Kind,Diameter,Length", "blue,lifeline,11 mm,45 m")
    assert taken(book, data, set={"construction": "unknown"}).imported == 1
    again = taken(book, data, set={"construction": "kernmantle"})
    assert (again.imported, again.fates[0].fate) == (0, Fate.KNOWN)
    assert taken(book, data, each={"construction": {"blue": "kernmantle"}}).imported == 0


def test_what_was_prepared_is_saved_as_it_was_shown_unless_the_log_was_changed_since(book: Book) -> None:
    data = (HEAD + LINE).encode()
    prepared = book.importing.prepared(data, "list.csv")
    assert book.gear.rows() == ()
    assert book.importing.save(prepared).imported == 1
    again = book.importing.save(prepared)
    assert (again.imported, again.fates[0].fate) == (0, Fate.KNOWN)
    assert len(book.gear.rows()) == 1


@pytest.mark.parametrize("data", [
    "Inventar-Nr.;Bezeichnung;Art;Hersteller;Seriennummer;Herstelljahr;Kaufdatum;Größe;Gurtgröße;"
    "Letzte Prüfung;Geprüft von;Bemerkungen\n"
    "H-1;Gurt;harness;Maker A;A 7;2021;3. März 2022;M;;01.02.2024;KL;neu\n",
    "N°;Désignation;Catégorie;Fabricant;N° de série;Année de fabrication;Date d'achat;Taille;Rien;"
    "Dernier contrôle;Contrôlé par;Observations\n"
    "H-1;Gurt;harness;Maker A;A 7;2021;3 mars 2022;M;;1 février 2024;KL;neu\n",
])  # fmt: skip
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_lists_that_were_kept_in_german_and_in_french_are_read_by_their_headings(
    book: Book, data: str, encoding: str
) -> None:
    assert taken(book, data.encode(encoding)).imported == 1
    item = book.gear.by_tag("H-1")
    assert (item.name, item.maker, item.serial, item.notes) == ("Gurt", "Maker A", "A 7", "neu")
    assert (str(item.made_on), str(item.bought_on)) == ("2021", "2022-03-03")
    assert item.device is not None
    assert item.device.size == "M"
    (event,) = book.gear._shelf.events_of(item.id)
    assert (event.happened_on.text, event.by) == ("2024-02-01", "KL")


def test_no_heading_means_two_things() -> None:
    from gearlog.services.importing_headings import KNOWN, plain
    from gearlog.services.importing_tongues import FRENCH, GERMAN

    for known in (KNOWN, GERMAN, FRENCH):
        assert all(heading == plain(heading) for headings in known.values() for heading in headings)
    pairs = {(heading, field) for known in (KNOWN, GERMAN, FRENCH) for field, all_ in known.items() for heading in all_}
    assert len({heading for heading, _ in pairs}) == len(pairs)
