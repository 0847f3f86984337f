"""Nothing leaves the machine, nobody else reads the log, and no text of a log takes hold of the terminal."""

from __future__ import annotations

import fcntl
import hashlib
import os
import pty
import select
import socket
import stat
import struct
import sys
import termios
import time
from pathlib import Path

import pytest
from msgspec.structs import replace

from gearlog.cli.main import main
from gearlog.domain.item import Item
from gearlog.domain.splice import Splice
from gearlog.errors import GearlogError
from gearlog.services.book import memory_book, open_book
from gearlog.tui.app import GearlogApp
from tests.faults.conftest import opened
from tests.making import made_form
from tests.services.conftest import EYE, HOLLOW, TODAY

TITLE = "\x1b]0;stolen\x07"  # sets the title of a terminal that obeys
EVIL = f"line{TITLE}\x1b[2J\x9b31m\u202e"
PATIENCE_S = 20.0
PHOTOS = ("../../etc/passwd", "/etc/passwd", "photos/../log.json", "..\\log.json", "a" * 64 + ".jpg/../../x", "~/x.jpg")


def no_socket(*_: object, **__: object) -> None:
    raise AssertionError("a socket was opened")


@pytest.fixture
def sealed(monkeypatch: pytest.MonkeyPatch) -> None:
    """No socket of the network; what an event loop wakes itself up with is a pair inside the process."""
    real = socket.socket.__new__

    def only_pairs(kind: type[socket.socket], family: int = -1, *more: object, **named: object) -> socket.socket:
        if family in {-1, socket.AF_INET, socket.AF_INET6}:
            no_socket()
        return real(kind, family, *more, **named)  # type: ignore[call-arg] # object's, as socket inherits it

    monkeypatch.setattr(socket.socket, "__new__", only_pairs)
    for name in ("create_connection", "getaddrinfo", "gethostbyname"):
        monkeypatch.setattr(socket, name, no_socket)


def test_the_seal_of_these_tests_holds(sealed: None) -> None:
    with pytest.raises(AssertionError, match="socket"):
        socket.socket(socket.AF_INET)


def test_the_main_job_opens_no_socket(sealed: None, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = str(tmp_path / "log")
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        rope = book.gear.add(HOLLOW | {"tag": "rope"})
        plan = book.planner.plan(book.planner.form_for(rope.id, "A") | EYE)
        book.diary.record({**made_form(book, plan), "end": "A", "made_on": "2025-05-01"}, plan)
        book.planner.card(plan, "pdf")
    for words in (
        ("list",), ("recall", "--rope", "rope"), ("due",), ("check",), ("methods",),
        ("audit", "--out", str(tmp_path / "a.xlsx")), ("audit", "--out", str(tmp_path / "a.pdf")),
        ("backup", str(tmp_path / "b.zip")), ("verify", str(tmp_path / "b.zip")),
    ):  # fmt: skip
        assert main(["--log", log, *words], today=lambda: TODAY) in (0, 1), words
    assert "a fault of the program" not in capsys.readouterr().err


async def test_the_screens_open_no_socket(sealed: None) -> None:
    app = GearlogApp(memory_book(today=lambda: TODAY))
    async with app.run_test(size=(80, 24)) as pilot:
        for place in app.MODES:
            app.go(place)
            await pilot.pause()


@pytest.mark.skipif(os.name != "posix", reason="modes are those of POSIX")
def test_whatever_the_work_leaves_in_the_log_is_its_owners_alone(folder: Path) -> None:
    picture = folder.with_name("eye.jpg")
    picture.write_bytes(b"a picture")
    before = os.umask(0o000)
    try:
        with opened(folder) as book:
            book.diary.add_photo(book.diary.rows()[0].splice.id, str(picture))
            book.keep(user="AB")
        with opened(folder) as book:
            book.undo()
    finally:
        os.umask(before)
    open_to_others = [
        path
        for path in (folder, *folder.rglob("*"))
        if stat.S_IMODE(path.stat().st_mode) & (stat.S_IRWXG | stat.S_IRWXO)
    ]
    assert open_to_others == []
    assert len(list((folder / "photos").iterdir())) == 1


@pytest.mark.parametrize("name", PHOTOS)
def test_the_name_of_a_photo_never_leads_out_of_the_log(folder: Path, name: str) -> None:
    """Also one that was written into the file by hand."""
    with opened(folder) as book:
        splice = book.diary.rows()[0].splice
        book._store.save(replace(splice, photos=(name,)), label="by hand")
        with pytest.raises(GearlogError):
            book.diary.photo_command(name)
    with opened(folder) as book:
        assert book._store.records(Splice)[0].photos == (name,)


@pytest.mark.skipif(os.name != "posix", reason="links need rights elsewhere")
def test_a_link_in_the_place_of_a_photo_is_neither_shown_nor_written_through(folder: Path) -> None:
    outside, picture = folder.with_name("outside.txt"), folder.with_name("eye.jpg")
    outside.write_text("of somebody else")
    picture.write_bytes(b"a picture")
    place = folder / "photos" / f"{hashlib.sha256(b'a picture').hexdigest()}.jpg"
    place.parent.mkdir()
    place.symlink_to(outside)
    with opened(folder) as book:
        with pytest.raises(GearlogError):
            book.diary.photo_command(place.name)
        book.diary.add_photo(book.diary.rows()[0].splice.id, str(picture))
        assert outside.read_text() == "of somebody else"
        assert not place.is_symlink()
        assert place.read_bytes() == b"a picture"
        assert str(place) in book.diary.photo_command(place.name)


def evil_log(folder: Path) -> Path:
    """A log whose texts were written by another program, with everything in them that a terminal obeys."""
    with opened(folder) as book:
        item = book.gear.add({"name": "connector", "category": "connector"})
        book._store.save(replace(item, name=EVIL, notes=EVIL, maker=EVIL), label=EVIL)
        assert any(one.name == EVIL for one in book._store.records(Item))
    return folder


@pytest.mark.parametrize("words", [("list",), ("due",), ("undo", "--list"), ("show", "connector"), ("check",)])
def test_verbs_show_control_signs_and_never_send_them(
    folder: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    main(["--log", str(evil_log(folder)), *words], today=lambda: TODAY)
    told = "".join(capsys.readouterr())
    assert "stolen" in told or words in {("due",), ("check",)}, "the texts are told, where the verb tells them"
    assert not {"\x1b", "\x07", "\x9b", "\u202e"} & set(told)


def painted(command: list[str], until: bytes, keys: bytes) -> bytes:
    """All that a program sends to a terminal of 80 by 24 until it shows some words, after keys were pressed."""
    pid, terminal = pty.fork()
    if pid == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        os.execve(command[0], command, os.environ | {"TERM": "xterm-256color"})  # noqa: S606 (no shell)
    sent, ended = b"", time.monotonic() + PATIENCE_S
    try:
        while until not in sent and time.monotonic() < ended:
            ready, _, _ = select.select([terminal], [], [], 0.2)
            sent += os.read(terminal, 1 << 16) if ready else b""
            if keys and b"gearlog" in sent:
                os.write(terminal, keys)
                keys = b""
        os.write(terminal, b"\x11")  # ctrl+q
        time.sleep(0.3)
    finally:
        os.close(terminal)
        os.waitpid(pid, 0)
    return sent


@pytest.mark.skipif(sys.platform == "win32", reason="it has no pseudo-terminals")
def test_the_screens_show_control_signs_and_never_send_them(folder: Path) -> None:
    sent = painted([sys.executable, "-m", "gearlog", "--log", str(evil_log(folder))], b"stolen", b"2")
    assert b"stolen" in sent, "the name is on the screen"
    assert b"]0;stolen\x07" not in sent
    assert b"\x1b]0;" not in sent
    assert "\u202e".encode() not in sent
    assert "\x9b".encode() not in sent
