from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from gearlog.domain.vocabulary import Unit
from gearlog.errors import ReadOnlyError
from gearlog.services.book import open_book
from tests.making import made_form

ROPE = {"name": "line", "category": "lifeline", "construction": "hollow-braid", "diameter": "12 mm"}


def today() -> date:
    return date(2025, 6, 1)


def test_what_was_saved_is_there_when_the_log_is_opened_again(tmp_path: Path) -> None:
    with open_book(tmp_path, today=today) as book:
        rope = book.gear.add(ROPE)
        plan = book.planner.plan({"rope": "line", "end": "A", "method": "hollow-eye", "eye": "150 mm"})
        form = made_form(book, plan) | {"measured.1": "0 mm", "finished_eye": "149 mm"}
        splice = book.diary.record(form, plan)
        book.keep(unit=Unit.IMPERIAL, user="k.l.", drafts={"item": {"name": "half typ"}})
        settings = book.settings
    with open_book(tmp_path, today=today) as book:
        assert book.gear.item(rope.id) == rope
        assert book.diary.splice(splice.id) == splice
        assert book.settings == settings
        assert (book.notices, book.read_only, book.is_sample) == ((), False, False)


def test_a_second_program_reads_follows_and_cannot_save(tmp_path: Path) -> None:
    with open_book(tmp_path, today=today) as first, open_book(tmp_path, today=today) as second:
        assert second.read_only
        assert second.notices
        assert second.gear.rows() == ()
        rope = first.gear.add(ROPE)
        assert second.refresh()
        assert [row.item for row in second.gear.rows()] == [rope]
        with pytest.raises(ReadOnlyError):
            second.gear.add(ROPE | {"name": "other"})
        with pytest.raises(ReadOnlyError):
            second.undo()


def test_the_environment_names_the_log_where_nothing_else_does(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GEARLOG_DIR", str(tmp_path / "log"))
    with open_book(today=today) as book:
        assert book.folder == tmp_path / "log"
