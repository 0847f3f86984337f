"""Backup, restore, verify and check as a user calls them: one line each, and no log touched that was not named."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from gearlog.services.book import open_book
from tests.cli.conftest import TODAY, Call


@pytest.fixture
def kept(log: Path) -> Path:
    """A log with one item."""
    with open_book(log, today=lambda: TODAY) as book:
        book.gear.add({"name": "line [/]", "category": "connector"})
    return log


def stamps(folder: Path) -> dict[str, tuple[int, bytes]]:
    return {str(path): (path.stat().st_mtime_ns, path.read_bytes()) for path in folder.rglob("*") if path.is_file()}


def test_a_log_goes_into_one_file_and_comes_back_elsewhere(call: Call, kept: Path, tmp_path: Path) -> None:
    file, new = str(tmp_path / "b.zip"), str(tmp_path / "new")
    made = call("backup", file)
    assert (made.code, made.err) == (0, "")
    assert "items 1" in made.out
    assert call("verify", file).code == 0
    assert json.loads(call("verify", file, "--json").out)["records"]["items"] == 1
    before = stamps(kept)
    assert call("restore", file, "--log", new).code == 0
    assert stamps(kept) == before
    assert call("--log", new, "list").out == call("list").out


def test_a_log_that_another_program_writes_can_be_backed_up(call: Call, kept: Path, tmp_path: Path) -> None:
    with open_book(kept, today=lambda: TODAY) as book:
        book.gear.add({"name": "second", "category": "connector"})
        ended = call("backup", str(tmp_path / "b.zip"))
        assert (ended.code, "items 2" in ended.out) == (0, True)
        assert "another program" in ended.err
    call("restore", str(tmp_path / "b.zip"), "--log", str(tmp_path / "new"))
    assert call("--log", str(tmp_path / "new"), "list").out == call("list").out


def test_check_finds_what_is_wrong_and_changes_nothing(call: Call, kept: Path) -> None:
    before = stamps(kept)
    assert call("check").code == 0
    assert stamps(kept) == before
    text = (kept / "log.json").read_text(encoding="utf-8")
    (kept / "log.json").write_text(text.replace('"connector"', '"anvil"'), encoding="utf-8")
    (kept / "log.journal").write_bytes(b"00000000 {nonsense}\n")
    before = stamps(kept)
    ended = call("check")
    assert ended.code == 1
    assert "anvil" in ended.out
    assert "damaged" in ended.out
    assert json.loads(call("check", "--json").out)["findings"] == ended.out.splitlines()
    assert stamps(kept) == before


def test_check_finds_what_breaks_a_rule_or_names_what_is_not_there(call: Call, log: Path) -> None:
    with open_book(log, today=lambda: TODAY) as book:
        first = book.gear.add({"name": "a", "category": "connector"})
        book.gear.add({"name": "b", "category": "connector"})
        book.gear.record_event(first.id, {"kind": "washed", "happened_on": "2026-10-01"})
    text = (log / "log.json").read_text(encoding="utf-8")
    assert text.count(first.id) == 2
    there, _, entry = text.partition(first.id)[2].partition(first.id)
    spoiled = text.partition(first.id)[0] + first.id + there.replace('"tag":"b"', '"tag":"A"') + "0" * 16 + entry
    (log / "log.json").write_text(spoiled, encoding="utf-8")
    (log / "log.journal").unlink()
    told = call("check").out
    assert "the tag 'a' is borne by 2" in told
    assert "washed of 2026-10-01: what it belongs to is not in the log" in told


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (("verify", "no-such.zip"), 1, "no file"),
        (("restore", "no-such.zip"), 2, "--log"),
        (("restore", "no-such.zip", "--log", "new"), 1, "no file"),
        (("--sample", "backup", "x.zip"), 1, "sample"),
        (("--sample", "check"), 2, "sample"),
        (("check", "--log", "nowhere"), 1, "nowhere"),
        (("verify", ""), 2, "name of a file"),
        (("backup",), 2, "FILE"),
    ],
)
def test_what_cannot_be_is_told_in_one_line(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], code: int, told: str
) -> None:
    monkeypatch.chdir(tmp_path)
    ended = call(*arguments)
    assert (ended.code, ended.out) == (code, "")
    assert ended.err.count("\n") == 1
    assert told in ended.err
    assert not list(tmp_path.iterdir())
