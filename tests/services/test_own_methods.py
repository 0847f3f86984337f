"""The user's own methods: copied, checked, used by plans, and marked wherever they appear."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from gearlog.errors import GearlogError, MethodError, NotFoundError
from gearlog.services.book import Book, memory_book, open_book
from gearlog.splicing.method import OWN_MARK

TYPED = {"construction": "hollow-braid", "diameter": "12 mm", "fibre": "polyester", "eye": "150 mm"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "methods"


@pytest.fixture
def disk(tmp_path: Path, folder: Path) -> Iterator[Book]:
    folder.mkdir()
    with open_book(tmp_path) as book:
        yield book


def copied(book: Book, new_id: str = "my-eye") -> Path:
    path, text = book.planner.own.copy("hollow-eye", new_id)
    path.write_text(text, encoding="utf-8")
    book.planner.read_methods_again()
    return path


def test_a_copy_goes_to_the_logs_folder_reads_and_keeps_every_line_of_the_original(disk: Book, folder: Path) -> None:
    path = copied(disk)
    assert path == folder / "my-eye.toml"
    assert disk.planner.own.check(path).id == "my-eye"
    original = disk.planner.method("hollow-eye")
    copy = disk.planner.own.check(path)
    assert (copy.lengths, copy.marks, copy.steps, copy.limits) == (
        original.lengths, original.marks, original.steps, original.limits
    )  # fmt: skip
    assert "break-test" in path.read_text(encoding="utf-8").splitlines()[0]


def test_two_copies_of_one_method_are_told_apart_by_their_titles(disk: Book) -> None:
    """Lists show titles: two copies of one method looked the same there."""
    titles = [disk.planner.own.check(copied(disk, new_id)).title for new_id in ("my-eye", "my-eye-2")]
    original = disk.planner.method("hollow-eye").title
    assert [title.partition(original)[0] for title in titles] == ["my-eye: ", "my-eye-2: "]


@pytest.mark.parametrize(
    ("method", "new_id", "error", "told"),
    [
        ("hollow-eye", "My Eye", MethodError, "such as my-eye"),
        ("hollow-eye", "laid-eye", MethodError, "is taken"),
        ("no-such", "my-eye", NotFoundError, "gearlog methods"),
    ],
)
def test_a_copy_that_cannot_be_is_refused(
    disk: Book, method: str, new_id: str, error: type[GearlogError], told: str
) -> None:
    with pytest.raises(error, match=told):
        disk.planner.own.copy(method, new_id)


def test_a_log_in_memory_asks_for_a_file() -> None:
    own = memory_book().planner.own
    with pytest.raises(GearlogError, match=r"my-eye\.toml"):
        own.copy("hollow-eye", "my-eye")
    assert own.copy("hollow-eye", "my-eye", Path("x.toml"))[0] == Path("x.toml")


def test_an_own_method_is_planned_with_and_marked_wherever_its_title_stands(disk: Book) -> None:
    copied(disk)
    plan = disk.planner.plan(TYPED | {"method": "my-eye", "mbs": "24 kN"})
    assert plan.own
    assert OWN_MARK in plan.method_title
    (warned,) = [check for check in plan.checks if check.code == "own-method"]
    assert (warned.level, "break-test" in warned.message, "life" in warned.message) == ("warn", True, True)
    assert any(OWN_MARK in line for line in disk.planner.plain(plan)[:3])
    assert any(OWN_MARK in link.name for link in plan.strength.chain)
    labels = dict(next(field.choices for field in disk.planner.fields() if field.name == "method"))
    assert OWN_MARK in labels["my-eye"]
    assert OWN_MARK not in labels["hollow-eye"]
    advised = {one.method_id: one.title for one in disk.planner.advice(TYPED)}
    assert OWN_MARK in advised["my-eye"]
    assert "eye" in {field.name for field in disk.planner.fields_for("my-eye") if field.required}


def test_a_stopped_plan_of_an_own_method_is_marked_too(disk: Book) -> None:
    copied(disk)
    plan = disk.planner.plan(TYPED | {"method": "my-eye", "construction": "three-strand"})
    assert plan.stopped
    assert OWN_MARK in plan.method_title


def test_a_file_that_does_not_read_is_named_and_stops_nothing(disk: Book, folder: Path) -> None:
    good = copied(disk)
    (folder / "torn.toml").write_text(good.read_text(encoding="utf-8").replace("72 * d", "72 * x"), encoding="utf-8")
    (folder / "empty.toml").write_bytes(b"")
    (folder / "picture.toml").write_bytes(b"\x89PNG\0")
    (folder / "same.toml").write_text(good.read_text(encoding="utf-8"), encoding="utf-8")
    (folder / "folder.toml").mkdir()
    os.mkfifo(folder / "pipe.toml")
    (folder / "notes.txt").write_text("no method", encoding="utf-8")
    disk.planner.read_methods_again()
    told = disk.planner.method_faults()
    for name in ("torn.toml, line", "empty.toml, line 1", "picture.toml", "same.toml", "folder.toml", "pipe.toml"):
        assert any(name in line for line in told), (name, told)
    assert len(told) == 6
    assert disk.planner.plan(TYPED | {"method": "my-eye"}).own
    assert not disk.planner.plan(TYPED | {"method": "hollow-eye"}).own


def test_the_id_of_a_built_in_method_is_refused_with_its_line(disk: Book, folder: Path) -> None:
    path = copied(disk)
    text = path.read_text(encoding="utf-8").replace('id = "my-eye"', 'id = "hollow-eye"')
    path.write_text(text, encoding="utf-8")
    with pytest.raises(MethodError, match=r"line 5: the id 'hollow-eye' belongs to a built-in"):
        disk.planner.own.check(path)
    with pytest.raises(MethodError, match="name a file that is there"):
        disk.planner.own.check(folder / "not-there.toml")


def test_a_plan_of_another_version_of_its_method_is_not_explained_wrongly(disk: Book) -> None:
    from msgspec.structs import replace

    plan = disk.planner.plan(TYPED | {"method": "hollow-eye"})
    assert disk.planner.explain(plan)
    with pytest.raises(NotFoundError, match="plan it anew"):
        disk.planner.explain(replace(plan, method_version=plan.method_version + 1))


LAID = {"construction": "three-strand", "diameter": "12 mm", "fibre": "polyester", "eye": "150 mm", "mbs": "24 kN"}


def copied_laid(book: Book, **instead: str) -> Path:
    """A copy of the laid eye, whose file states a published figure; ``instead`` changes its strength's entries."""
    path, text = book.planner.own.copy("laid-eye", "my-laid")
    for name, value in instead.items():
        text = re.sub(rf"(?m)(^\[strength\]\n(?:#.*\n)*(?:\w+ = .*\n)*?){name} = .*$", rf"\g<1>{name} = {value}", text)
    path.write_text(text, encoding="utf-8")
    book.planner.read_methods_again()
    return path


def test_what_a_copy_keeps_is_unknown_though_its_file_bears_the_published_figure(disk: Book) -> None:
    """A working load stood beside 'not for life support', from a figure of another splice than the one planned."""
    published = disk.planner.plan(LAID | {"method": "laid-eye"})
    assert published.strength.retained_fraction == 0.9
    assert published.strength.wll_n == pytest.approx(2160)
    path = copied_laid(disk)
    plan = disk.planner.plan(LAID | {"method": "my-laid"})
    made = plan.strength
    assert (made.retained_fraction, made.retained_source, made.wll_n) == (None, None, None)
    link = next(link for link in made.chain if link.name == plan.method_title)
    assert (link.retained_fraction, link.strength_n, link.wll_n) == (None, None, None)
    assert link.source == "no break tests entered"
    (told,) = [check.message for check in plan.checks if check.code == "retained-unknown"]
    assert "of the published method" in told
    assert 'source = "own"' in told
    explained = {one.key for one in disk.planner.explain(plan)}
    assert not {"strength.retained_fraction", "strength.wll_n", "strength.chain[1].wll_n"} & explained
    plain = "\n".join(disk.planner.plain(plan))
    assert "Kept by the splice: unknown" in plain
    assert "Working load limit: unknown" in plain
    assert "90 %" not in plain
    table = path.read_text(encoding="utf-8").partition("[strength]\n")[2]
    assert table.startswith("# The figure below is of the published method")
    assert '#   source = "own"' in table.partition("fraction = 0.90")[0]


@pytest.mark.parametrize("source", ["own", "own samples 1 to 5 of 2024", "own + own samples 6 to 8"])
def test_a_figure_of_the_users_own_counts_with_its_source_told(disk: Book, source: str) -> None:
    copied_laid(disk, fraction="0.80", source=f'"{source}"')
    made = disk.planner.plan(LAID | {"method": "my-laid"}).strength
    assert made.retained_fraction == 0.8
    assert made.wll_n == pytest.approx(24_000 * 0.8 / 10)
    assert made.retained_source == source.replace("own", "the user's own").replace(" +", ";")


@pytest.mark.parametrize("source", ["common-practice", "comdtinst Table 7-6", "own + comdtinst Table 7-6"])
def test_a_figure_that_is_not_all_the_users_own_does_not_count(disk: Book, source: str) -> None:
    copied_laid(disk, fraction="0.80", source=f'"{source}"')
    made = disk.planner.plan(LAID | {"method": "my-laid"}).strength
    assert (made.retained_fraction, made.wll_n) == (None, None)


def test_a_copied_finish_is_not_asked_for_a_strength_that_it_does_not_have(disk: Book) -> None:
    text = disk.planner.own.copy("laid-back", "my-back")[1]
    assert text.partition("[strength]\n")[2].startswith("why = ")
