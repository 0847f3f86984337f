"""Finding in the diary, recording as last time, cuts and photos that go with a splice."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import End, EndState, Outcome
from gearlog.errors import InvalidRecordError, NotFoundError
from gearlog.services.book import Book, open_book
from gearlog.services.photos import viewer_command
from tests.making import GOOD, NEW_ROPE, made_form
from tests.services.conftest import EYE, HOLLOW, TODAY, Faults


@pytest.fixture
def diary(book: Book, rope: Item, plan: Plan) -> Book:
    """Four splices in two ropes: by two makers, two methods, over a year."""
    other = book.gear.add(HOLLOW | {"name": "sling line", "construction": "three-strand", "strands": "3", "lay": ""})
    form = made_form(book, plan) | {"finish": "whipping, lock-stitch"}
    for tag, changes in (
        (rope.tag, {"made_on": "2024-05-31", "made_by": "k.l.", "difficulties": "stiff rope, tail stuck"}),
        (rope.tag, {"made_on": "2025-01", "made_by": "m.", "outcome": "remade", "notes": "Cold hands"}),
        (rope.tag, {"made_on": "2025-03-02", "made_by": "K.L.", "difficulties": "tail stuck", "end": "B"}),
    ):
        book.diary.record(form | changes | {"rope": tag}, plan)
    laid = (
        book.diary.blank_form()
        | {"rope": other.tag, "method": "laid-eye", "made_on": "2024", "made_by": "m.", "end": "A"}
        | GOOD
        | NEW_ROPE
    )
    book.diary.record(laid, None)
    return book


@pytest.mark.parametrize(
    ("filters", "dates"),
    [
        ({}, ["2025-03-02", "2025-01", "2024", "2024-05-31"]),
        ({"rope": "SLING"}, ["2024"]),
        ({"rope": "long-climbing"}, ["2025-03-02", "2025-01", "2024-05-31"]),
        ({"construction": "hollow braid"}, ["2025-03-02", "2025-01", "2024-05-31"]),
        ({"method": "laid-eye"}, ["2024"]),
        ({"made_by": "k.l."}, ["2025-03-02", "2024-05-31"]),
        ({"outcome": "remade, failed"}, ["2025-01"]),
        ({"difficulty": "tail stuck"}, ["2025-03-02", "2024-05-31"]),
        ({"difficulty": "stiff rope"}, ["2024-05-31"]),
        ({"made_from": "2025-01-15"}, ["2025-03-02", "2025-01"]),
        ({"made_to": "2024-06"}, ["2024", "2024-05-31"]),
        ({"made_from": "2024-06-01", "made_to": "2024-12"}, ["2024"]),
        ({"words": "hands COLD"}, ["2025-01"]),
        ({"words": "warm hands"}, []),
        ({"made_by": "m.", "method": "hollow-eye"}, ["2025-01"]),
    ],
)
def test_the_diary_is_narrowed_by_every_filter(diary: Book, filters: dict[str, str], dates: list[str]) -> None:
    """What is known only to the year is found wherever it may belong."""
    assert [row.made_on.text for row in diary.diary.search(filters)] == dates


def test_filters_that_say_nothing_that_can_be_are_refused(diary: Book, faults: Faults) -> None:
    assert set(faults(lambda: diary.diary.search({"made_from": "2025-02", "made_to": "2025-01"}))) == {"made_to"}
    assert set(faults(lambda: diary.diary.search({"outcome": "lost", "color": "red"}))) == {"outcome", "color"}


def test_as_last_time_fills_all_but_what_was_found(diary: Book, rope: Item, plan: Plan) -> None:
    diary.keep(user="n.")
    last = diary.diary.form_as_last(rope.tag, "A", "hollow-eye")
    assert last.source is not None
    assert last.source.made_on.text == "2024-05-31", "the good one of this end, not the remade one, not end B's"
    filled = {name: text for name, text in last.form.items() if text}
    assert filled == {
        "rope": rope.tag, "end": "A", "method": "hollow-eye", "made_on": "2025-06-01", "made_by": "n.",
        "condition": "new", "finish": "whipping, lock-stitch",
    }  # fmt: skip
    made = diary.diary.record(last.form | GOOD | {"made_on": "2025-05-20", "minutes": "40"}, last.plan)
    assert (made.plan, made.made_on.text) == (plan, "2025-05-20"), "a paper note of last week keeps its date"
    assert diary.diary.differences(diary.diary.form_of(made.id), last.source.id) == (
        "minutes: 40, last time empty",
        "made by: n., last time k.l.",
    )


def test_as_last_time_on_the_other_end_and_on_a_like_rope(diary: Book, rope: Item) -> None:
    end_b = diary.diary.form_as_last(rope.tag, "B")
    assert end_b.plan is not None
    assert (end_b.form["end"], end_b.plan.inputs.end) == ("B", "B")
    twin = diary.gear.add(HOLLOW | {"name": "twin line"})
    like = diary.diary.form_as_last(twin.tag, "A", "hollow-eye")
    assert (like.words, like.form["rope"]) == (f"as last time in a rope like it, {rope.tag}", twin.tag)
    assert like.plan is not None
    assert like.plan.inputs.rope_id == twin.id
    thick = diary.gear.add(HOLLOW | {"name": "thick line", "diameter": "16 mm"})
    none = diary.diary.form_as_last(thick.tag, "A", "hollow-eye")
    assert (none.plan, none.source, none.words) == (None, None, "nothing like it was made yet")
    assert (none.form["rope"], none.form["method"]) == (thick.tag, "hollow-eye")
    with pytest.raises(NotFoundError):
        diary.diary.form_as_last("nobody", "A")


def test_a_splice_cut_off_shortens_the_rope_and_bares_its_end_in_one_save(book: Book, rope: Item, plan: Plan) -> None:
    splice = book.diary.record(made_form(book, plan), plan)
    assert book.gear.card(rope.id).ends[End.A].state is EndState.SPLICED
    form = book.diary.form_of(splice.id) | {"outcome": "cut-off", "cut_length": "1.2 m"}
    book.diary.correct(splice.id, form, "worn through at the crown")
    card = book.gear.card(rope.id)
    assert card.ends[End.A].state is EndState.BARE
    assert card.length_now_m == pytest.approx(43.8)
    assert [(event.cut_end, str(event.length), event.happened_on.text) for event in card.events] == [
        ("A", "1.2 m", "2025-06-01")
    ]
    book.undo()
    assert book.gear.card(rope.id).length_now_m == 45
    assert book.diary.rows()[0].outcome is Outcome.GOOD


def test_one_that_had_to_be_made_again_leaves_the_end_to_the_next(book: Book, rope: Item, plan: Plan) -> None:
    form = made_form(book, plan)
    book.diary.record(form | {"outcome": "remade", "cut_length": "2 ft"}, plan)
    assert book.gear.card(rope.id).ends[End.A].state is EndState.BARE
    book.diary.record(form | {"made_on": "2025-06-01"}, plan)
    card = book.gear.card(rope.id)
    assert card.length_now_m == pytest.approx(45 - 0.6096)
    assert len(card.splices) == 2


@pytest.mark.parametrize(
    "change",
    [
        {"outcome": "good", "cut_length": "1 m"},
        {"outcome": "remade", "cut_length": "46 m"},
        {"outcome": "remade", "cut_length": "0 m"},
        {"outcome": "remade", "cut_length": "a bit"},
        {"outcome": "remade", "cut_length": "1 m", "end": "between", "position": "5 m"},
    ],
)
def test_a_cut_that_cannot_be_is_refused(book: Book, plan: Plan, faults: Faults, change: dict[str, str]) -> None:
    form = made_form(book, plan) | change
    assert set(faults(lambda: book.diary.record(form, plan))) == {"cut_length"}


@pytest.fixture
def on_disk(tmp_path: Path) -> Book:
    return open_book(tmp_path / "log", today=lambda: TODAY)


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    place = tmp_path / "eye [red], 1.JPG"
    place.write_bytes(b"\xff\xd8\xff a picture")
    return place


def test_a_photo_is_copied_once_under_the_name_of_its_content(on_disk: Book, picture: Path, tmp_path: Path) -> None:
    rope = on_disk.gear.add(HOLLOW)
    plan = on_disk.planner.plan(on_disk.planner.form_for(rope.id, "A") | EYE)
    made = on_disk.diary.record(made_form(on_disk, plan), plan)
    with_photo = on_disk.diary.add_photo(made.id, str(picture))
    name = hashlib.sha256(picture.read_bytes()).hexdigest() + ".jpg"
    assert with_photo.photos == (name,)
    again = on_disk.diary.add_photo(with_photo.id, str(picture))
    assert again.photos == (name,)
    assert [one.name for one in (tmp_path / "log" / "photos").iterdir()] == [name]
    picture.unlink()
    corrected = on_disk.diary.correct(again.id, on_disk.diary.form_of(again.id) | {"ease": "4"}, "forgotten")
    assert corrected.photos == (name,)
    program, place = on_disk.diary.photo_command(name)
    assert (program, Path(place)) == ("xdg-open", (tmp_path / "log" / "photos" / name).resolve())
    on_disk.close()


@pytest.mark.parametrize("name", ["../log.json", "/etc/passwd", "a.jpg", "", f"{'0' * 64}.jpg", f"{'0' * 64}.sh"])
def test_no_name_leads_out_of_the_folder_of_photos(on_disk: Book, name: str) -> None:
    with pytest.raises(NotFoundError):
        on_disk.diary.photo_command(name)
    on_disk.close()


def test_a_link_in_the_folder_of_photos_is_not_followed(on_disk: Book, tmp_path: Path) -> None:
    folder = tmp_path / "log" / "photos"
    folder.mkdir()
    link = folder / f"{'0' * 64}.jpg"
    link.symlink_to("/etc/hostname")
    with pytest.raises(NotFoundError):
        on_disk.diary.photo_command(link.name)
    on_disk.close()


@pytest.mark.parametrize("photo", ["nowhere.jpg", "program.sh", ".", "a\0b.jpg", "~nobody-here/a.jpg"])
def test_what_is_no_photo_is_refused_and_nothing_is_saved(
    on_disk: Book, faults: Faults, tmp_path: Path, photo: str
) -> None:
    (tmp_path / "program.sh").write_text("#!/bin/sh\n")
    rope = on_disk.gear.add(HOLLOW)
    plan = on_disk.planner.plan(on_disk.planner.form_for(rope.id, "A") | EYE)
    typed = photo if photo.startswith("~") else str(tmp_path / photo)
    form = made_form(on_disk, plan) | {"photos": typed}
    assert set(faults(lambda: on_disk.diary.record(form, plan))) == {"photos"}
    assert on_disk.diary.rows() == ()
    on_disk.close()


def test_a_log_in_memory_keeps_no_photos(book: Book, plan: Plan, picture: Path) -> None:
    with pytest.raises(InvalidRecordError):
        book.diary.record(made_form(book, plan) | {"photos": str(picture)}, plan)
    with pytest.raises(NotFoundError):
        book.diary.photo_command("a.jpg")


@pytest.mark.parametrize(("system", "program"), [("linux", "xdg-open"), ("darwin", "open"), ("win32", "explorer")])
def test_each_system_has_its_own_viewer(tmp_path: Path, system: str, program: str) -> None:
    name = f"{'a' * 64}.png"
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / name).write_bytes(b"picture")
    assert viewer_command(tmp_path, name, system) == (program, str((tmp_path / "photos" / name).resolve()))
