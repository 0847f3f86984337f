from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date, timedelta

import pytest

from gearlog.domain.validate import event_faults, item_faults, splice_faults
from gearlog.services.book import Book, open_book, open_sample
from gearlog.services.sample import demo_folder

LATER = date(2031, 3, 31)


@pytest.fixture(scope="module")
def sample() -> Iterator[Book]:
    with open_sample(today=lambda: LATER) as book:
        yield book


def anchor() -> date:
    return date.fromisoformat(json.loads((demo_folder() / "demo.json").read_text(encoding="utf-8"))["date"])


def test_the_sample_stands_as_of_today_as_the_demo_does_as_of_its_own_day(
    sample: Book, tmp_path_factory: pytest.TempPathFactory
) -> None:
    copy = tmp_path_factory.mktemp("demo")
    for file in demo_folder().iterdir():
        (copy / file.name).write_bytes(file.read_bytes())
    with open_book(copy, today=anchor) as demo:
        assert len(sample.gear.rows()) == len(demo.gear.rows()) > 50
        moved = LATER - anchor()
        for then, now in zip(demo.gear.rows(), sample.gear.rows(), strict=True):
            assert (now.tag, now.status, now.gaps) == (then.tag, then.status, then.gaps)
            if then.item.bought_on and len(then.item.bought_on.text) == 10:
                assert now.item.bought_on is not None
                assert now.item.bought_on.earliest() - then.item.bought_on.earliest() == moved
            assert now.item.created_at - then.item.created_at == moved
        assert [row.splice.id for row in demo.diary.rows()] == [row.splice.id for row in sample.diary.rows()]


def test_the_sample_reads_without_a_notice_and_nothing_in_it_lies_ahead(sample: Book) -> None:
    assert sample.notices == ()
    assert sample.is_sample
    assert sample.last_change() is None
    assert all(row.made_on.earliest() <= LATER + timedelta(days=1) for row in sample.diary.rows())
    today = sample.lists.today()
    assert today.overdue
    assert today.due_soon
    assert today.quarantined


def test_the_sample_can_be_written_and_leaves_the_demo_as_it_was() -> None:
    before = {path.name: path.read_bytes() for path in demo_folder().iterdir()}
    with open_sample() as book:
        book.gear.add({"name": "new", "category": "other"})
        assert book.undo() == "add new"
        assert book.folder is None
    assert {path.name: path.read_bytes() for path in demo_folder().iterdir()} == before


@pytest.mark.parametrize("day", [date(2026, 11, 1), date(2026, 12, 20), date(2027, 1, 19), date(2028, 2, 29)])
def test_every_record_of_the_sample_keeps_the_rules_on_whatever_day(day: date) -> None:
    with open_sample(today=lambda: day) as book:
        cards = [book.gear.card(row.item.id) for row in book.gear.rows()]
        faults = [fault for card in cards for fault in item_faults(card.item, taken_tags=())]
        faults += [fault for card in cards for event in card.events for fault in event_faults(event)]
        faults += [fault for row in book.diary.rows() for fault in splice_faults(row.splice)]
        assert faults == []
