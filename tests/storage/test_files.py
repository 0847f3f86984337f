"""The files of a log: who may read them, links, backups, formats, settings, and where a log lives."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import Unit
from gearlog.errors import StorageError
from gearlog.storage import backups, lines, log_folder, memory_store, migrations, open_store, own_methods_folder
from gearlog.storage.lines import Line, Tables

MakeItem = Callable[..., Item]
posix = pytest.mark.skipif(os.name != "posix", reason="modes and links of a POSIX system")


def tags(folder: Path) -> list[str]:
    with open_store(folder, read_only=True) as store:
        return [item.tag for item in store.records(Item)]


@posix
def test_only_the_owner_can_read_a_log(folder: Path, make_item: MakeItem) -> None:
    before = os.umask(0)
    try:
        with open_store(folder) as store:
            store.save(make_item(1), label="Add")
            store.save_settings(Settings(user="AB"))
            lock_and_holder = {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.glob("log.*")}
    finally:
        os.umask(before)
    assert set(lock_and_holder.values()) == {0o600}
    assert {path.is_dir() for path in folder.rglob("*")} == {True, False}
    for path in [folder, *folder.rglob("*")]:
        assert stat.S_IMODE(path.stat().st_mode) == (0o700 if path.is_dir() else 0o600), path


@posix
def test_a_mode_that_the_owner_chose_is_kept(folder: Path, make_item: MakeItem) -> None:
    open_store(folder).close()
    (folder / "log.json").chmod(0o640)
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    assert stat.S_IMODE((folder / "log.json").stat().st_mode) == 0o640


@posix
def test_a_link_stays_a_link_and_its_target_is_replaced(folder: Path, tmp_path: Path, make_item: MakeItem) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    open_store(folder).close()
    for name in ("log.json", "log.journal"):
        (folder / name).rename(elsewhere / name)
        (folder / name).symlink_to(elsewhere / name)
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    assert (folder / "log.json").is_symlink()
    assert b"tag-1" in (elsewhere / "log.json").read_bytes()
    assert tags(folder) == ["tag-1"]


def test_a_file_in_the_folders_place_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "log").write_text("not a folder")
    with pytest.raises(StorageError, match=r"log .*cannot be opened"):
        open_store(tmp_path / "log")


def test_backups_keep_the_newest_and_one_a_day_and_one_a_month() -> None:
    last = datetime(2024, 5, 31, 18, tzinfo=UTC)
    four_a_day = [last - timedelta(hours=6 * n) for n in range(4 * 500)]
    made = [backups.Backup(Path(str(n)), moment, "") for n, moment in enumerate(four_a_day)]
    kept = [backup.made_at for backup in backups.worth_keeping(made)]

    assert kept[:3] == four_a_day[:3]
    assert len({moment.date() for moment in kept if last - moment < timedelta(days=14)}) == 14
    assert len({(moment.year, moment.month) for moment in kept}) == 12
    assert len(kept) <= 3 + 14 + 12


def test_a_backup_lets_other_files_be(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("keep")
    (tmp_path / "log-99999999T999999Z-00000000.json").write_text("keep")
    for day in range(1, 29):
        backups.keep(tmp_path, b"x", datetime(2024, 2, day, tzinfo=UTC))
    left = {path.name for path in tmp_path.iterdir()}
    assert left >= {"mine.txt", "log-99999999T999999Z-00000000.json"}
    assert len(left) == 2 + 14


def as_version(folder: Path, version: int) -> None:
    """Rewrite a log's files as a program of another format would have written them."""
    data = (
        (folder / "log.json")
        .read_bytes()
        .replace(f'"format":{migrations.FORMAT}'.encode(), f'"format":{version}'.encode())
    )
    (folder / "log.json").write_bytes(data)
    heading = Line(n=1, snapshot=lines.checksum(data), format=version)
    (folder / "log.journal").write_bytes(lines.encode(heading))


@pytest.mark.parametrize("read_only", [False, True])
def test_a_log_of_a_newer_program_is_refused_and_not_touched(
    folder: Path, make_item: MakeItem, *, read_only: bool
) -> None:
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    as_version(folder, migrations.FORMAT + 1)
    before = {path.name: path.read_bytes() for path in folder.iterdir() if path.suffix in (".json", ".journal")}
    with pytest.raises(StorageError, match=r"newer gearlog \(format 3.*update gearlog"):
        open_store(folder, read_only=read_only)
    assert {name: (folder / name).read_bytes() for name in before} == before


def test_an_older_log_is_brought_up_to_date_and_its_backup_kept(
    folder: Path, make_item: MakeItem, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There is no format before the first; one is made up, in which gear lay in a table called 'things'."""
    with open_store(folder) as store:
        store.save(make_item(1), label="Add")
    old = (folder / "log.json").read_bytes().replace(b'"items"', b'"things"')
    (folder / "log.json").write_bytes(old)
    as_version(folder, 0)

    def rename(tables: Tables) -> Tables:
        return {("items" if name == "things" else name): rows for name, rows in tables.items()}

    monkeypatch.setitem(migrations.STEPS, 0, rename)
    with open_store(folder) as store:
        assert [item.tag for item in store.records(Item)] == ["tag-1"]
        assert len(store.notices) == 1
        store.save(make_item(2), label="Add 2")
    assert f'"format":{migrations.FORMAT}'.encode() in (folder / "log.json").read_bytes()
    assert tags(folder) == ["tag-1", "tag-2"]


def test_migration_goes_step_by_step_and_says_when_there_is_no_way() -> None:
    def mark(name: str) -> Callable[[Tables], Tables]:
        return lambda tables: {**tables, name: {}}

    steps = {1: mark("one"), 2: mark("two"), 3: mark("three")}
    assert list(migrations.migrate({"items": {}}, 2, steps=steps, newest=4)) == ["items", "two", "three"]
    assert migrations.migrate({}, 4, steps=steps, newest=4) == {}
    with pytest.raises(StorageError, match="format 0"):
        migrations.migrate({}, 0, steps=steps, newest=4)


def test_there_is_a_step_from_every_earlier_format() -> None:
    assert set(migrations.STEPS) == set(range(1, migrations.FORMAT))


def test_settings_come_back_and_damaged_ones_are_set_aside(folder: Path) -> None:
    kept = Settings(unit=Unit.IMPERIAL, drafts={"plan": {"eye": "[/] 15", "name": "\u202e"}}, filters={"gear": "[red]"})
    with open_store(folder) as store:
        store.save_settings(kept)
    with open_store(folder) as store:
        assert store.settings == kept
    (folder / "settings.json").write_text('{"unit": "furlong"}')
    with open_store(folder) as store:
        assert store.settings == Settings()
        assert "settings.json" in store.notices[0]
    assert [path.read_text() for path in folder.glob("settings.damaged-*")] == ['{"unit": "furlong"}']
    with open_store(folder) as store:
        assert store.notices == ()


def test_a_log_in_memory_keeps_settings_for_its_session() -> None:
    store = memory_store()
    store.save_settings(Settings(user="AB"))
    assert (store.folder, store.settings.user, store.notices) == (None, "AB", ())


@pytest.mark.parametrize(
    ("explicit", "environ", "expected"),
    [
        (Path("/van/log"), {"GEARLOG_DIR": "/other"}, Path("/van/log")),
        (None, {"GEARLOG_DIR": "/other"}, Path("/other")),
        (Path("~/log"), {}, Path.home() / "log"),
        (None, {"GEARLOG_DIR": "~/log"}, Path.home() / "log"),
    ],
)
def test_the_log_lies_where_it_was_said(explicit: Path | None, environ: dict[str, str], expected: Path) -> None:
    assert log_folder(explicit, environ) == expected


@pytest.mark.parametrize("environ", [{}, {"GEARLOG_DIR": ""}, {"GEARLOG_DIR": "  "}])
def test_else_it_lies_among_the_users_data(environ: dict[str, str]) -> None:
    assert log_folder(None, environ).name == "gearlog"
    assert own_methods_folder(log_folder(None, environ)).parent == log_folder(None, environ)
