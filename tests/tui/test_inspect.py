"""Inspecting by keys: every line seen and answered, findings at their metre, the verdict by rules, kept over a quit."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from gearlog.domain.inspection import InspectionKind, Mark, Verdict
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Status
from gearlog.services.book import Book, open_book
from gearlog.tui.look import LOOKS
from gearlog.tui.screens.inspect import InspectScreen
from gearlog.tui.widgets.asked import finding_words
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import ROPE, TODAY, Start, add, text, typed
from tests.tui.test_looks import faint

CUTS = "cover-cuts"


@pytest.fixture
def rope(book: Book) -> Item:
    """A rope whose cover carries, with the inspector's name on record."""
    book.keep(user="inspector 1")
    return add(book, **ROPE)


def screen(pilot: Pilot[None]) -> InspectScreen:
    assert isinstance(pilot.app.screen, InspectScreen), pilot.app.screen
    return pilot.app.screen


async def begin(pilot: Pilot[None], kind: str = "") -> InspectScreen:
    """From the list to the sheet; without a kind the one that is offered first."""
    await pilot.press("2", "i")
    if kind:
        await typed(pilot, kind)
    await pilot.press("enter")
    await pilot.pause()
    return screen(pilot)


async def look_at_all(pilot: Pilot[None]) -> None:
    for _ in screen(pilot).sheet.lines:
        await pilot.press("down")


async def all_seen(pilot: Pilot[None]) -> None:
    """The same without a key a line; the test of the cursor itself presses them."""
    sheet = screen(pilot).sheet
    for line in sheet.lines:
        sheet = sheet.see(line.key)
    screen(pilot).take(sheet)


def at(pilot: Pilot[None]) -> str:
    return screen(pilot).key


async def fill(pilot: Pilot[None], **words: str) -> None:
    """Type into fields of the form that is open."""
    form = pilot.app.screen.query_one(FormView)
    for name, word in words.items():
        form.focus_field(name)
        await pilot.pause()
        await pilot.press("ctrl+u")
        await typed(pilot, word)


async def test_the_rest_passes_only_after_every_line_was_under_the_cursor(book: Book, rope: Item, start: Start) -> None:
    async with start(book) as pilot:
        sheet_screen = await begin(pilot)
        lines = [line.key for line in sheet_screen.sheet.lines]
        assert CUTS in lines
        await pilot.press("p", "P")  # line 1 passed; line 2 was seen, the rest never
        assert sheet_screen.sheet.answers.keys() == {lines[0]}
        assert at(pilot) == lines[2], "the cursor goes to the first line that nobody saw"
        assert "were not looked at yet" in " ".join(text(pilot).split())
        await pilot.press("end", "P")
        assert len(sheet_screen.sheet.answers) == 1, "a jump to the end has seen nothing between"
        await pilot.press("home")
        await look_at_all(pilot)
        await pilot.press("P")
        assert not sheet_screen.sheet.unanswered
        assert {given.mark for given in sheet_screen.sheet.answers.values()} == {Mark.PASS}


async def examined_with_a_stop(pilot: Pilot[None]) -> None:
    """A fail with its finding, the rest passes; ends on the form of the verdict."""
    await begin(pilot)
    screen(pilot).lines.choose(CUTS)
    await pilot.pause()
    assert "lost from the strength" in " ".join(text(pilot).split())
    await pilot.press("f")
    await fill(pilot, words="two [red] cuts", at="3.2 m")
    await pilot.press("ctrl+s")
    assert "OUT OF SERVICE: finding 'two [red] cuts'" in text(pilot)
    await all_seen(pilot)
    await pilot.press("P", "ctrl+s")


async def test_a_whole_examination_is_one_change_with_finding_verdict_and_next_date(
    book: Book, rope: Item, start: Start
) -> None:
    version = book.version
    async with start(book, (80, 30)) as pilot:
        await examined_with_a_stop(pilot)
        told = " ".join(text(pilot).split())
        assert "By the rules: out of service, because of finding 'two [red] cuts'" in told
        assert "Next due by 2025-09-03: 6 months after" in told
        await pilot.press("ctrl+s")
        assert "say why the inspector is competent" in " ".join(text(pilot).split())
        await fill(pilot, competence="course 2024, certificate 12")
        await pilot.press("ctrl+s")
        await pilot.pause()
    assert book.version == version + 1
    (made,) = book.inspecting.of(rope.id)
    assert (made.kind, made.ruled, made.verdict) == (InspectionKind.THOROUGH, *2 * (Verdict.OUT_OF_SERVICE,))
    assert (made.inspector, made.competence) == ("inspector 1", "course 2024, certificate 12")
    assert [(one.words, str(one.at), one.line) for one in made.findings] == [("two [red] cuts", "3.2 m", CUTS)]
    assert str(made.next_due_on) == "2025-09-03"
    assert book.gear.row(rope.id).status is Status.QUARANTINED


async def test_the_card_tells_what_stops_it_and_undo_takes_the_inspection_back(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book, (80, 30)) as pilot:
        await examined_with_a_stop(pilot)
        await fill(pilot, competence="course 2024")
        await pilot.press("ctrl+s", "enter")
        await pilot.pause()
        shown = text(pilot)
        assert "QUARANTINED" in shown
        assert "STOP: two [red] cuts, at 3.2 m from A" in shown
        await pilot.press("u", "y")
        assert book.inspecting.of(rope.id) == ()


async def test_a_milder_verdict_needs_its_reason_and_a_stricter_one_does_not(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book, (80, 40)) as pilot:
        await begin(pilot, "interim")
        await pilot.press("w")
        await all_seen(pilot)
        await pilot.press("P", "ctrl+s")
        form = pilot.app.screen.query_one(FormView)
        assert form.values()["verdict"] == "watch"
        assert "why milder" not in text(pilot)
        assert "next due on" not in text(pilot), "only an examination sets the next date"
        form.focus_field("verdict")
        await pilot.pause()
        await pilot.press("left")
        assert form.values()["verdict"] == "fit"
        assert "why milder" in text(pilot)
        await pilot.press("ctrl+s")
        assert "more lenient than the rules'" in " ".join(text(pilot).split())
        assert book.inspecting.of(rope.id) == ()
        await fill(pilot, verdict_reason="washed, the shine is gone")
        await pilot.press("ctrl+s")
        await pilot.pause()
        (made,) = book.inspecting.of(rope.id)
        assert (made.ruled, made.verdict, made.verdict_reason) == (
            Verdict.WATCH, Verdict.FIT, "washed, the shine is gone",
        )  # fmt: skip


async def test_a_half_done_inspection_comes_back_after_a_quit_answers_findings_and_all(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book) as pilot:
        await begin(pilot)
        await pilot.press("p", "n", "a")
        await fill(pilot, words="dirt at the throat", at="40 m", until="41 m")
        await pilot.press("ctrl+s")
        kept = screen(pilot).sheet
        await pilot.press("a")
        await typed(pilot, "half typed")
        await pilot.press("ctrl+q")
    async with start(book) as pilot:
        await pilot.pause()
        sheet = screen(pilot).sheet
        assert (sheet.answers, sheet.findings, sheet.kind) == (kept.answers, kept.findings, kept.kind)
        assert sheet.seen >= kept.seen
        await pilot.press("escape", "i")
        await pilot.pause()
        assert len(screen(pilot).sheet.answers) == 3, "going on asks for no kind again; what was found is an answer"
        await pilot.press("ctrl+n", "y")
        assert screen(pilot).sheet.answers == {}


async def test_findings_are_changed_and_taken_away_before_anything_is_saved(
    book: Book, rope: Item, start: Start
) -> None:
    async with start(book) as pilot:
        await begin(pilot)
        await pilot.press("a")
        await fill(pilot, words="a lump", at="50 m")
        await pilot.press("ctrl+s")
        assert "is beyond the rope's 45 m" in " ".join(text(pilot).split())
        await fill(pilot, at="44 m")
        await pilot.press("ctrl+s", "e", "enter")
        await fill(pilot, words="a big lump")
        await pilot.press("ctrl+s")
        assert [finding.words for finding in screen(pilot).sheet.findings] == ["a big lump"]
        await pilot.press("x", "enter")
        assert screen(pilot).sheet.findings == ()


async def test_what_was_lost_is_not_inspected_and_an_event_offers_its_own_kind(full: Book, start: Start) -> None:
    item = add(full, name="dropped ring", category="ring-or-swivel", tag="a-ring")
    full.gear.record_event(item.id, full.gear.blank_event() | {"kind": "dropped"})
    async with start(full) as pilot:
        assert (await begin(pilot)).sheet.kind is InspectionKind.AFTER_EVENT
        await pilot.press("escape")
        full.gear.record_event(item.id, full.gear.blank_event() | {"kind": "lost"})
        await pilot.press("i", "enter")
        assert "a-ring is lost" in text(pilot)


async def test_today_goes_straight_to_the_inspection_of_its_line(full: Book, start: Start) -> None:
    async with start(full) as pilot:
        await pilot.press("1", "i", "enter")
        await pilot.pause()
        assert screen(pilot).item.name == "long climbing line"
        await pilot.press("escape")
        assert pilot.app.current_mode == "gear"


@pytest.mark.parametrize("look", LOOKS)
async def test_every_word_of_an_inspection_a_card_and_a_past_day_is_legible(
    book: Book, rope: Item, start: Start, look: str
) -> None:
    book.keep(theme=look)
    async with start(book, (120, 40)) as pilot:
        await begin(pilot)
        await pilot.press("w", "n", "a")
        await fill(pilot, words="a cut", at="3 m")
        await pilot.press("ctrl+s")
        for keys in ((), ("escape",), ("K",), ("escape", "D"), (*"2025-03-01", "enter"), ("enter",)):
            await pilot.press(*keys)
            await pilot.pause()
            strips = pilot.app.screen._compositor.render_strips(pilot.app.size)
            assert faint([segment for strip in strips for segment in strip]) == [], keys


async def test_an_inspection_fits_the_smallest_terminal(book: Book, rope: Item, start: Start) -> None:
    async with start(book, (60, 20)) as pilot:
        await begin(pilot)
        lines = text(pilot).splitlines()
        assert lines[-1].rstrip().endswith("help")
        assert any("1 of 16" in line for line in lines)
        await pilot.press("end")
        assert "> seen" in text(pilot), "the line under the cursor is in view"


async def test_what_was_photographed_is_shown_from_the_card(
    tmp_path: Path, start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[list[str]] = []
    monkeypatch.setattr("gearlog.tui.viewer.opened", lambda command: asked.append(list(command)))
    picture = tmp_path / "cut [red].png"
    picture.write_bytes(b"a picture")
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        item = add(book, name="sling", category="sling")
        async with start(book) as pilot:
            await begin(pilot)
            await pilot.press("f")
            await fill(pilot, words="a cut of 3 mm", photos=str(picture))
            await pilot.press("ctrl+s", "end")
            await pilot.pause()
            sheet = screen(pilot).sheet
            assert "1 photo" in finding_words(sheet.findings[0])
            for line in sheet.lines:
                sheet = sheet.see(line.key)
            book.inspecting.record(sheet.pass_rest(), {"inspected_on": "2025-03-01", "inspector": "AB",
                                                       "competence": "course"})  # fmt: skip
            await pilot.press("escape", "V")
            await pilot.pause()
            assert "a cut of 3 mm" in text(pilot)
            await pilot.press("enter")
            await pilot.app.workers.wait_for_complete()
            assert [Path(command[-1]).parent.name for command in asked] == ["photos"]
            await pilot.press("enter")
            assert "1 photo; V shows them" in " ".join(text(pilot).split())
        assert book.gear.card(item.id).inspections[0].findings[0].photos
