"""The folder goes away, cannot be written, or the clock is set back: told in words, and nothing is lost."""

from __future__ import annotations

import shutil
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gearlog.errors import GearlogError, ReadOnlyError
from gearlog.services.book import Book, open_book
from tests.faults.conftest import opened
from tests.services.conftest import TODAY
from tests.storage.test_full_disk import FailingDisk

CONNECTOR = {"name": "connector", "category": "connector"}


def tags(book: Book) -> list[str]:
    return [row.tag for row in book.gear.rows()]


def test_a_folder_that_was_taken_away_never_stops_the_closing_and_comes_back_whole(folder: Path) -> None:
    """A stick that is pulled out, with the log on it; on Linux the open journal goes with it."""
    away = folder.with_name("away")
    book = opened(folder)
    book.gear.add(CONNECTOR)
    folder.rename(away)
    try:
        book.gear.add(CONNECTOR | {"name": "pulley"})
        saved = ["rope", "connector", "pulley"]
    except GearlogError as error:
        assert "saved" in error.message
        saved = ["rope", "connector"]
    book.close()
    shutil.rmtree(folder, ignore_errors=True)  # what the closing may have made anew in its place
    away.rename(folder)
    with opened(folder) as again:
        assert tags(again) == saved


def test_a_folder_that_was_renamed_takes_no_save_and_no_second_log_is_made_in_its_old_place(folder: Path) -> None:
    """It was made anew there at the closing, without photos and methods: two logs, and nobody knew."""
    away = folder.with_name("away")
    book = opened(folder)
    book.gear.add(CONNECTOR)
    folder.rename(away)
    for _ in range(2):
        with pytest.raises(GearlogError, match="saved") as told:
            book.gear.add(CONNECTOR | {"name": "pulley"})
        assert "find where it is now" in told.value.message
        assert tags(book) == ["rope", "connector"]
    book.close()
    assert not folder.exists()
    with opened(away) as again:
        assert tags(again) == ["rope", "connector"]
        assert again.notices == ()


def test_a_folder_that_was_renamed_before_the_closing_is_not_made_anew(folder: Path) -> None:
    away = folder.with_name("away")
    book = opened(folder)
    book.gear.add(CONNECTOR)
    folder.rename(away)
    book.close()
    assert not folder.exists()
    with opened(away) as again:
        assert tags(again) == ["rope", "connector"]


def test_a_folder_that_is_removed_takes_no_save_and_is_not_made_anew(folder: Path) -> None:
    """The system writes on into a removed file as if nothing were wrong; what was seen before stays in sight."""
    book = opened(folder)
    shutil.rmtree(folder)
    for _ in range(2):
        with pytest.raises(GearlogError, match="saved"):
            book.gear.add(CONNECTOR)
        assert tags(book) == ["rope"]
    book.close()
    assert not folder.exists()


def test_a_folder_that_was_removed_before_the_closing_is_not_made_anew(folder: Path) -> None:
    book = opened(folder)
    book.gear.add(CONNECTOR)
    shutil.rmtree(folder)
    book.close()
    assert not folder.exists()


def test_a_folder_that_cannot_be_written_says_so_at_opening_and_at_each_save(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with FailingDisk(1, for_ever=True).installed():
        book = opened(folder)
        assert book.read_only
        assert "read-only" in book.notices[0]
        with pytest.raises(ReadOnlyError, match="nothing was saved"):
            book.gear.add(CONNECTOR)
        book.close()
    with opened(folder) as again:
        assert tags(again) == ["rope"]


@pytest.mark.parametrize("years", [1, 30])
def test_a_clock_set_back_keeps_the_order_of_entries_undo_and_folds(folder: Path, years: int) -> None:
    early = datetime(TODAY.year - years, 6, 1, 12, tzinfo=UTC)
    with open_book(folder, today=early.date, now=lambda: early) as book:
        book.gear.add(CONNECTOR)
        assert tags(book) == ["rope", "connector"]
    with open_book(folder, today=early.date, now=lambda: early) as book:
        assert book.notices == ()
        assert tags(book) == ["rope", "connector"]
        assert book.undo() == "add connector"
    with opened(folder) as book:
        assert tags(book) == ["rope"]
        book.gear.record_event(book.gear.by_tag("rope").id, book.gear.blank_event() | {"kind": "washed"})
        assert date.fromisoformat(book.gear.card(book.gear.by_tag("rope").id).events[0].happened_on.text) == TODAY
