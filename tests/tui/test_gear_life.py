"""What happens to gear, by keys: cut, out of service and back, handed out, several alike, and a past day to look at."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EndState, EventKind, Status
from gearlog.services.book import Book
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import ROPE, Start, add, happen, text, typed


@pytest.fixture
def rope(book: Book) -> Item:
    """A rope of 45 m, and the user's name."""
    book.keep(user="AB")
    return add(book, **ROPE)


def words(pilot: Pilot[None]) -> str:
    """What the screen shows, without lines and gaps."""
    return " ".join(text(pilot).replace("\u2588", " ").split())


async def pick(pilot: Pilot[None], letters: str) -> None:
    """One of the choices that are asked for, by some letters."""
    await typed(pilot, letters)
    await pilot.press("enter")
    await pilot.pause()


async def fill(pilot: Pilot[None], **fields: str) -> None:
    form = pilot.app.screen.query_one(FormView)
    for name, value in fields.items():
        form.focus_field(name)
        await pilot.pause()
        if len(value) == 1:  # one of few words, taken by its first letter
            await pilot.press(value)
        else:
            await pilot.press("ctrl+u")
            await typed(pilot, value)


async def test_a_trim_says_what_moves_where_and_is_saved_only_after_a_yes(book: Book, rope: Item, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "minus")
        await pick(pilot, "trim")
        await fill(pilot, cut_end="A", length="1.2 m")
        await pilot.press("ctrl+s")
        told = words(pilot)
        assert "1.2 m off end A of long-climbing-line: it goes for good." in told
        assert "The rope: 45 m now, 43.8 m afterwards." in told
        assert "Every distance from end A gets shorter by it." in told
        await pilot.press("n")
        assert book.gear.card(rope.id).events == ()
        await pilot.press("ctrl+s", "y")
        await pilot.pause()
        assert book.gear.card(rope.id).length_now_m == 43.8
        await pilot.press("enter")
        assert "43.8 m" in text(pilot)
        await pilot.press("u", "y")
        assert book.gear.card(rope.id).length_now_m == 45


@pytest.mark.parametrize(("end", "length"), [("A", "400 mm"), ("B", "44.5 m")])
async def test_a_cut_within_a_splice_says_so_before_it_is_saved(
    book: Book, made: Splice, start: Start, end: str, length: str
) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "minus")
        await pick(pilot, "trim")
        await fill(pilot, cut_end=end, length=length)
        await pilot.press("ctrl+s")
        told = words(pilot)
        assert "THROUGH THE SPLICE at A" in told
        assert "no sound splice is left on either side" in told
        assert "goes with it" not in told
        await pilot.press("n")
        assert book.gear.card(made.rope_id).events == ()
        await pilot.press("ctrl+s", "y")
        await pilot.pause()
    assert book.gear.card(made.rope_id).ends[End.A].state is EndState.BARE


async def test_a_cut_that_is_entered_as_what_happened_asks_too_where_it_goes_through_a_splice(
    book: Book, made: Splice, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "r")
        pilot.app.screen.query_one(FormView).fill({"kind": "cut", "cut_end": "A", "length": "400 mm"})
        await pilot.press("ctrl+s")
        assert "THROUGH THE SPLICE at A" in words(pilot)
        await pilot.press("n")
        assert book.gear.card(made.rope_id).events == ()
        pilot.app.screen.query_one(FormView).fill({"length": "4 m"})
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert len(book.gear.card(made.rope_id).events) == 1


async def test_a_piece_becomes_an_item_of_its_own_and_the_account_adds_up(book: Book, rope: Item, start: Start) -> None:
    async with start(book, (80, 60)) as pilot:
        await pilot.press("2", "minus")
        await pick(pilot, "piece")
        await fill(pilot, name="lanyard of climber 2", length_bought="4 m", parent_end="B")
        await pilot.press("ctrl+s")
        assert "off end B of long-climbing-line: it becomes lanyard of climber 2." in words(pilot)
        await pilot.press("y")
        await pilot.pause()
        assert sorted(row.tag for row in book.gear.rows()) == ["lanyard-of-climber-2", "long-climbing-line"]
        await pilot.press("end", "enter")
        await pilot.pause()
        shown = text(pilot)
        assert "45.000 m  as bought" in shown
        assert "- 4.000 m  piece lanyard-of-climber-2, off end B" in shown
        assert "41.000 m  = what is there now" in shown
        assert "It adds up." in shown


async def test_a_cut_longer_than_the_rope_is_refused_and_what_was_typed_stays(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "minus")
        await pick(pilot, "end")
        await fill(pilot, cut_end="A", length="46 m")
        await pilot.press("ctrl+s", "y")
        assert "more than the 45 m that are left" in words(pilot)
        assert "46 m" in text(pilot)


async def test_out_of_service_and_back_each_with_its_reason_and_retirement_asked_once(
    book: Book, rope: Item, start: Start
) -> None:
    def status() -> Status:
        return book.gear.row(rope.id).status

    async with start(book) as pilot:
        await pilot.press("2", "O")
        await pick(pilot, "quarantine")
        await pilot.press("ctrl+s")
        assert "say why it is taken out of use" in words(pilot)
        await fill(pilot, notes="glazed at 3 m")
        await pilot.press("ctrl+s")
        assert status() is Status.QUARANTINED
        await pilot.press("p")
        assert "No plan: long-climbing-line is quarantined" in words(pilot)
        await pilot.press("L")
        assert "cannot be handed out" in words(pilot)
        await pilot.press("O")
        await pick(pilot, "release")
        assert "It is there because: quarantined on 2025-03-03: glazed at 3 m." in words(pilot)
        assert "how each of these was resolved" in words(pilot), "what is asked for stands in the empty field"
        await fill(pilot, notes="end cut off, examined")
        await pilot.press("ctrl+s")
        assert status() is Status.IN_SERVICE


async def test_retirement_is_asked_once_undone_by_a_key_and_its_destruction_is_asked_for(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "O")
        await pick(pilot, "retire")
        await fill(pilot, notes="worn through")
        await pilot.press("ctrl+s")
        assert "Only striking the entry out brings it back" in words(pilot)
        await pilot.press("y", "enter")
        await pilot.pause()
        assert book.gear.row(rope.id).status is Status.RETIRED
        assert "its destruction is not noted" in words(pilot)
        await pilot.press("u", "y")
        assert book.gear.row(rope.id).status is Status.IN_SERVICE


async def test_lent_out_and_taken_back(book: Book, rope: Item, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "L")
        await pick(pilot, "lend")
        await fill(pilot, to="climber 2")
        await pilot.press("ctrl+s", "enter")
        await pilot.pause()
        assert "on loan to climber 2 since 2025-03-03" in words(pilot)
        await pilot.press("L")
        await pick(pilot, "back")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert book.gear.card(rope.id).loan is None
        assert [event.kind for event in book.gear.card(rope.id).events] == [EventKind.RETURNED, EventKind.LOANED]


async def test_ten_alike_with_their_serials_in_one_go_and_in_the_order_people_count(book: Book, start: Start) -> None:
    async with start(book) as pilot:
        await pilot.press("2", "A")
        await fill(pilot, serials="F8..F12", name="steel connector", tag="con-8", category="c")
        assert "gate" in text(pilot)
        assert "sheave" not in text(pilot), "a connector has none"
        await pilot.press("ctrl+s")
        await pilot.pause()
        rows = {row.tag: row.item.serial for row in book.gear.rows()}
        assert rows == {f"con-{number}": f"F{number}" for number in range(8, 13)}
        shown = text(pilot)
        assert shown.index("con-9") < shown.index("con-10") < shown.index("con-12")
        await pilot.press("u", "y")
        assert book.gear.rows() == ()


async def look_at(pilot: Pilot[None], day: str) -> None:
    await pilot.press("D", "ctrl+u")
    await typed(pilot, day)
    await pilot.press("enter")
    await pilot.pause()


async def test_a_past_day_is_chosen_by_day_month_or_year_and_the_future_is_refused(
    book: Book, rope: Item, start: Start
) -> None:
    happen(book, rope, "examined", days_ago=40)
    happen(book, rope, "quarantined", days_ago=10)
    async with start(book) as pilot:
        await pilot.press("2")
        await look_at(pilot, "2025-03")
        assert "PAST DAY" not in text(pilot), "this month's last day is today"
        await look_at(pilot, "2026")
        assert "has not come yet" in text(pilot)
        await pilot.press("escape")
        await look_at(pilot, "2025-02")
        assert "PAST DAY 2025-02-28" in text(pilot)
        assert "by the items' data and the rules of today" in " ".join(text(pilot).split())
        assert "quarantined" in text(pilot)
        await look_at(pilot, "")
        assert "PAST DAY" not in text(pilot)


async def test_on_a_past_day_all_stands_as_then_and_nothing_can_be_changed(
    book: Book, rope: Item, start: Start
) -> None:
    happen(book, rope, "examined", days_ago=40)
    happen(book, rope, "quarantined", days_ago=10)
    async with start(book) as pilot:
        await pilot.press("2")
        await look_at(pilot, "2025-02-01")
        await pilot.press("enter")
        await pilot.pause()
        assert "PAST DAY 2025-02-01" in text(pilot)
        assert "in service" in text(pilot)
        assert "quarantined" not in text(pilot)
        version = book.version
        for key in ("a", "e", "r", "c", "x", "p", "i", "minus", "O", "L", "A", "u", "U", "K", "comma"):
            await pilot.press(key)
            assert "nothing can be changed there" in words(pilot), key
            assert len(pilot.app.screen_stack) == 1, key
        assert book.version == version
        await look_at(pilot, "")
        assert "QUARANTINED" in text(pilot)


async def test_a_renamed_tag_keeps_its_links_and_the_old_label_still_finds_it(
    book: Book, rope: Item, start: Start
) -> None:
    add(book, name="piece", category="lanyard", length_bought="2 m", parent=rope.tag, parent_end="B")
    async with start(book) as pilot:
        await pilot.press("2", "e")
        await fill(pilot, tag="blue-1")
        await pilot.press("ctrl+s")
        await pilot.pause()
        assert book.gear.item(rope.id).tag == "blue-1"
        parent = book.gear.card(book.gear.by_tag("piece").id).parent
        assert parent is not None
        assert parent.tag == "blue-1"
        await pilot.press("f", *"long-climbing-line", "enter")
        await pilot.pause()
        assert "former tags" in text(pilot) or "blue-1, lifeline" in text(pilot)


async def test_one_like_a_piece_is_no_second_cut_of_its_parent(book: Book, rope: Item, start: Start) -> None:
    add(book, name="piece", category="lanyard", length_bought="2 m", parent=rope.tag, parent_end="B")
    async with start(book) as pilot:
        await pilot.press("2", "end", "c", "enter", "ctrl+s")
        await pilot.pause()
        copy = book.gear.by_tag("piece-2")
        assert copy.rope is not None
        assert (copy.rope.parent_id, copy.rope.cut_from) == ("", None)
        assert book.gear.card(rope.id).length_now_m == 43


async def test_an_inspection_is_struck_out_like_any_entry(book: Book, rope: Item, start: Start) -> None:
    from gearlog.domain.inspection import InspectionKind

    sheet = book.inspecting.sheet(rope.id, InspectionKind.THOROUGH)
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    form = book.inspecting.form_for(rope.id, InspectionKind.THOROUGH)
    book.inspecting.record(sheet.pass_rest(), form | {"competence": "course"})
    async with start(book) as pilot:
        await pilot.press("2", "x", "enter")
        await typed(pilot, "of the other rope")
        await pilot.press("enter")
        (struck,) = book.inspecting.of(rope.id)
        assert struck.struck_because == "of the other rope"
        assert book.gear.row(rope.id).due.state == "never-examined"
