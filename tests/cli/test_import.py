"""``gearlog import`` as a user calls it: tried, answered, taken in, and not twice."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from gearlog.services.book import open_book
from tests.cli.conftest import TODAY, Call

SAMPLE = str(Path(__file__).resolve().parents[2] / "sample_data" / "import.csv")
ANSWERS = ("--dates", "dmy", "--set", "construction=cover-loaded")


def test_a_dry_run_tells_the_fate_of_every_line_and_saves_nothing(call: Call, log: Path) -> None:
    ended = call("import", SAMPLE, "--dry-run")
    assert (ended.code, ended.err) == (1, "")
    for line in (*range(3, 9), 10, 11):
        assert f"\nline {line}: " in ended.out
    assert "QUESTION: " in ended.out
    assert "--dates dmy" in ended.out
    assert "nothing was saved" in ended.out
    well = call("import", SAMPLE, "--dry-run", *ANSWERS)
    assert well.code == 0
    assert call("list").out == "No items yet\n"
    with open_book(log, today=lambda: TODAY) as book:
        assert book.last_change() is None


def test_a_list_is_taken_in_once_and_taken_back_as_one_step(call: Call, log: Path) -> None:
    assert call("import", SAMPLE).code == 1
    done = call("import", SAMPLE, *ANSWERS)
    assert done.code == 0
    assert "8 items were saved" in done.out
    again = call("import", SAMPLE, *ANSWERS)
    assert again.code == 0
    assert "nothing new to save: 8 known already" in again.out
    with open_book(log, today=lambda: TODAY) as book:
        assert len(book.gear.rows()) == 8
        assert book.undo() == "import 8 items from import.csv"
        assert book.gear.rows() == ()


def test_a_mapping_is_saved_looked_at_and_given_again(call: Call, tmp_path: Path) -> None:
    kept = tmp_path / "map.toml"
    call("import", SAMPLE, "--dry-run", *ANSWERS, "--save-map", str(kept))
    text = kept.read_text(encoding="utf-8")
    assert 'dates = "dmy"' in text
    assert '"Batch no" = "serial"' in text
    assert call("import", SAMPLE, "--map", str(kept)).code == 0


def test_json_tells_the_same(call: Call) -> None:
    told = json.loads(call("import", SAMPLE, "--dry-run", "--json").out)
    assert [fate["line"] for fate in told["fates"]] == [3, 4, 5, 6, 7, 8, 10, 11]
    assert {question["id"] for question in told["questions"]} == {"dates", "construction"}
    assert told["imported"] == 0


def test_the_good_lines_are_taken_when_they_are_asked_for(call: Call, tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text("Name,Kind,Serial\na,helmet,1\nb,sail,2\n")
    assert call("import", str(tmp_path / "l.csv")).code == 1
    ended = call("import", str(tmp_path / "l.csv"), "--good-lines")
    assert ended.code == 1
    assert "1 item was saved" in ended.out
    assert call("list").out.count("\n") == 1


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("no-such.csv",), "no-such.csv"),
        ((".",), "folder"),
        (("",), "no file is named"),
        ((SAMPLE, "--dates", "day"), "--dates"),
        ((SAMPLE, "--set", "category"), "--set"),
        ((SAMPLE, "--set", "colour=red"), "colour"),
        ((SAMPLE, "--set", "category=sail"), "sail"),
        ((SAMPLE, "--column", "Item"), "--column"),
        ((SAMPLE, "--column", "Item=nome"), "nome"),
        ((SAMPLE, "--unit", "diameter=parsec"), "parsec"),
        ((SAMPLE, "--word", "category=sail"), "--word"),
        ((SAMPLE, "--word", "category:saddle=sail"), "sail"),
        ((SAMPLE, "--cell", "Bought=2024"), "--cell"),
        ((SAMPLE, "--each", "construction=kernmantle"), "--each"),
        ((SAMPLE, "--each", "construction:K-1=string"), "string"),
        ((SAMPLE, "--each", "colour:K-1=red"), "colour"),
        ((SAMPLE, "--map", "no-such.toml"), "no-such.toml"),
        ((SAMPLE, "--map", SAMPLE), "import.csv"),
        ((SAMPLE, "--encoding", "klingon"), "klingon"),
        ((SAMPLE, "--encoding", "utf-16"), "utf-16"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(call: Call, arguments: tuple[str, ...], told: str) -> None:
    ended = call("import", *arguments)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err.count("\n") == 1
    assert told in ended.err


def test_names_in_a_list_are_shown_and_kept_as_typed_and_commands_are_not_obeyed(call: Call, tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text(
        "Name;Kind;Serial\n[/] [red] חבל 釣り;helmet;1\n\u202eevil;helmet;2\n", encoding="utf-8"
    )
    ended = call("import", str(tmp_path / "l.csv"), "--dry-run")
    assert "[/] [red] חבל 釣り" in ended.out
    assert "\u202e" not in ended.out


def test_one_cell_and_one_line_are_answered_and_kept_in_the_mapping(call: Call, tmp_path: Path) -> None:
    path, kept = tmp_path / "l.csv", tmp_path / "kept.toml"
    path.write_text("Tag,Name,Kind,Diameter,Length,Bought\nr1,blue,lifeline,11,45 m,03/04/2024\nr2,b,helmet,,,soon\n")
    said = ("--cell", "Bought:03/04/2024=2024-04-03", "--cell", "Bought:soon=", "--cell", "Diameter:11=11 mm")
    ended = call("import", str(path), *said, "--each", "construction:r1=kernmantle", "--save-map", str(kept))
    assert ended.code == 0, ended
    assert "2 items were saved" in ended.out
    assert call("import", str(path), "--map", str(kept), "--dry-run").code == 0
    assert kept.read_text(encoding="utf-8").count("[cells.") == 2
