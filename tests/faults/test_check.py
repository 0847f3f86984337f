"""``gearlog check`` finds every planted fault, says what to do, and changes nothing in the folder."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from gearlog.cli.main import main
from gearlog.storage import lines
from gearlog.storage.lines import Line
from gearlog.storage.migrations import FORMAT
from gearlog.tui.app import GearlogApp
from tests.faults.conftest import files_of, make_log, opened
from tests.services.conftest import TODAY
from tests.tui.conftest import text

Plant = Callable[[Path], object]


def rewritten(folder: Path, change: Callable[[dict[str, Any]], object]) -> None:
    """Change the log's records behind the program's back, with sums that fit."""
    path = folder / "log.json"
    tables = json.loads(path.read_bytes())
    change(tables)
    path.write_bytes(json.dumps(tables).encode())
    heading = Line(n=9, at="2025-06-01T00:00:00", snapshot=lines.checksum(path.read_bytes()), format=FORMAT)
    (folder / "log.journal").write_bytes(lines.encode(heading))


def rows(table: str, **fields: object) -> Plant:
    """Set fields of every row of a table."""

    def plant(folder: Path) -> None:
        rewritten(folder, lambda tables: [row.update(fields) for row in tables[table].values()])

    return plant


def flipped(name: str, part: float) -> Plant:
    """Change one bit of a file."""

    def plant(folder: Path) -> None:
        data = bytearray((folder / name).read_bytes())
        data[int(part * (len(data) - 1))] ^= 1
        (folder / name).write_bytes(data)

    return plant


def cut_off(name: str, part: float) -> Plant:
    """Leave only the first part of a file."""

    def plant(folder: Path) -> None:
        data = (folder / name).read_bytes()
        (folder / name).write_bytes(data[: int(part * len(data))])

    return plant


def of_another(folder: Path) -> None:
    """Another log's records in the place of ours."""
    other = make_log(folder.with_name("other"))
    shutil.copyfile(other / "log.json", folder / "log.json")


def twin(folder: Path) -> None:
    rewritten(folder, lambda tables: tables["items"].update({"99": {**tables["items"]["1"], "id": "f" * 16}}))


def newer(folder: Path) -> None:
    heading = Line(n=9, at="2025-06-01T00:00:00", snapshot="00000000", format=FORMAT + 1)
    (folder / "log.journal").write_bytes(lines.encode(heading))


PLANTED: dict[str, Plant] = {
    "a bit of the records": flipped("log.json", 0.5),
    "the first bit of the records": flipped("log.json", 0.0),
    "a bit of the journal": flipped("log.journal", 0.5),
    "half of the records": cut_off("log.json", 0.5),
    "empty records": cut_off("log.json", 0.0),
    "half of the journal": cut_off("log.journal", 0.5),
    "no records": lambda folder: (folder / "log.json").unlink(),
    "no journal": lambda folder: (folder / "log.journal").unlink(),
    "another log's records": of_another,
    "a newer version": newer,
    "two of one tag": twin,
    "no name": rows("items", name=" "),
    "a word that is none": rows("items", category="anvil"),
    "a day to come": rows("splices", made_on="2190-01-01"),
    "a splice of no rope": rows("splices", rope_id="0" * 16),
    "an entry of no item": rows("events", item_id="0" * 16),
    "a lost photo": rows("splices", photos=["0" * 64 + ".jpg"]),
}


@pytest.mark.parametrize("name", PLANTED)
def test_every_planted_fault_is_found_and_nothing_is_changed(
    folder: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    def check() -> int:
        return main(["--log", str(folder), "check"], today=lambda: TODAY)

    assert check() == 0, "the log of this test is sound before"
    PLANTED[name](folder)
    before = files_of(folder)
    capsys.readouterr()

    assert check() != 0

    told = "".join(capsys.readouterr())
    assert told.strip()
    assert "Traceback" not in told
    assert files_of(folder) == before


async def test_a_rope_of_an_unknown_make_is_told_of_and_shown_all_the_same(folder: Path) -> None:
    """A word that a later program or a hand wrote into the file closed every screen that showed the rope."""
    rewritten(folder, lambda tables: [row["rope"].update(construction="plaited") for row in tables["items"].values()])
    assert main(["--log", str(folder), "check"], today=lambda: TODAY) != 0
    with opened(folder) as book:
        app = GearlogApp(book)
        async with app.run_test(size=(120, 40)) as pilot:
            for keys in (("f3", "enter"), ("f4",), ("f5",), ("f6",), ("f7",), ("f2",)):
                await pilot.press(*keys)
            await pilot.press("f3", "enter")
            assert "plaited" in text(pilot)


def refuse(*words: object, **_: object) -> Any:
    raise PermissionError(13, "Permission denied", "/of/another/log.json")


def test_a_log_that_may_not_be_read_is_told_so_by_check(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It was told that the answer could not be written."""
    monkeypatch.setattr(Path, "exists", refuse)
    assert main(["--log", str(folder), "check"], today=lambda: TODAY) == 1
    told = capsys.readouterr().err
    assert "'/of/another/log.json' cannot be read: Permission denied" in told
    assert "answer" not in told


def test_a_file_that_refuses_in_the_middle_of_a_verb_is_named(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("gearlog.services.book.open_book", refuse)
    assert main(["--log", str(folder), "list"], today=lambda: TODAY) == 1
    told = capsys.readouterr().err
    assert "'/of/another/log.json': Permission denied" in told
    assert "answer" not in told
