"""Where answers go: files whole or not at all, quiet endings, names shown as typed, life without a terminal."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from gearlog.cli import output
from gearlog.services.book import open_book
from tests.cli.conftest import Call

PROGRAM = [sys.executable, "-m", "gearlog"]


def run(*arguments: str, **more: object) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(  # type: ignore[call-overload,no-any-return]
        [*PROGRAM, *arguments], stdin=subprocess.DEVNULL, capture_output=True, timeout=60, check=False, **more
    )


def test_the_audit_is_written_whole_and_says_what_it_replaced(call: Call, tmp_path: Path) -> None:
    target = tmp_path / "out" / "audit.csv"
    target.parent.mkdir()
    first = call("--sample", "audit", "--format", "csv", "--out", str(target))
    again = call("--sample", "audit", "--out", str(target))
    on_screen = call("--sample", "audit", "--out", "-")
    assert (first.code, again.code) == (0, 0)
    assert "60 items written" in first.out
    assert "in place of" in again.out
    assert target.read_bytes().decode() == on_screen.out
    assert [path.name for path in target.parent.iterdir()] == ["audit.csv"]


def test_a_full_disk_leaves_the_earlier_list_as_it_was(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "audit.csv"
    target.write_text("earlier")

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    call("list")
    monkeypatch.setattr("gearlog.cli.output.os.fsync", full)
    ended = call("--log", str(tmp_path / "log"), "audit", "--out", str(target))
    monkeypatch.undo()
    assert ended.code == 2
    assert "No space left on device; make room on that disk, or name a file on another" in ended.err
    assert target.read_text() == "earlier"
    assert not list(tmp_path.glob(".audit*"))


def test_a_device_is_written_to_and_not_replaced(call: Call) -> None:
    assert call("audit", "--out", os.devnull).code == 0
    assert Path(os.devnull).is_char_device()


def test_names_are_shown_as_typed(call: Call, log: Path) -> None:
    names = ["[/] and [red]", "=1+1", "釣り糸 長", "חבל ארוך", "é" * 100]
    with open_book(log) as book:
        for number, name in enumerate(names):
            book.gear.add(book.gear.blank_form() | {"name": name, "tag": f"t-{number}", "category": "other"})
    shown, handed_over = call("list").out, call("audit", "--out", "-").out
    for name in names:
        assert name in shown
        assert name in handed_over


def test_signs_that_a_terminal_would_obey_are_written_out(capsys: pytest.CaptureFixture[str]) -> None:
    output.lines(["\x1b[31mred\x07 \u202eturned"])
    assert capsys.readouterr().out == "\\x1b[31mred\\x07 \\u202eturned\n"


def test_the_sample_without_a_terminal_prints_the_main_job() -> None:
    ended = run("--sample")
    told = ended.stdout.decode()
    assert (ended.returncode, ended.stderr) == (0, b"")
    for part in ("overdue: 6", "Mark a: ", "Finished, eye 115 mm inside", "In this rope: 2 made", "access-1: "):
        assert part in told
    assert "screens need a terminal" in told


def test_the_screens_without_a_terminal_are_a_wrong_call_that_names_the_verbs(log: Path) -> None:
    ended = run()
    assert (ended.returncode, ended.stdout) == (2, b"")
    assert b"terminal" in ended.stderr
    assert b"plan, recall, list, audit, methods" in ended.stderr
    assert not log.exists()


def test_a_reader_that_goes_away_ends_the_program_quietly() -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run(
        [*PROGRAM, "--sample"],
        stdin=subprocess.DEVNULL,
        stdout=writing,
        stderr=subprocess.PIPE,
        timeout=60,
        check=False,
    )
    os.close(writing)
    assert (ended.returncode, ended.stderr) == (0, b"")


@pytest.mark.parametrize("call_with", ["list >&-", "--sample <&- >&-", "list >/dev/full"])
def test_an_answer_that_cannot_be_printed_is_no_fault_of_the_program(call_with: str) -> None:
    ended = subprocess.run(
        ["sh", "-c", f"{sys.executable} -m gearlog {call_with}"], capture_output=True, timeout=60, check=False
    )
    assert ended.returncode == (1 if "full" in call_with else 0)
    assert ended.stderr.count(b"\n") == ended.returncode
    assert b"Traceback" not in ended.stderr


def test_ctrl_c_ends_the_program_quietly(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    heard = signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell in the background has it ignored
    try:
        program = subprocess.Popen(
            [*PROGRAM, "audit", "--out", str(pipe)], stdin=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
    finally:
        signal.signal(signal.SIGINT, heard)
    try:
        time.sleep(1.0)  # it waits for a reader of the pipe by now, or on a loaded machine soon
        told = pressed_until_it_ends(program)
    finally:
        program.kill()
    assert (program.returncode, told) == (130, b"")


def pressed_until_it_ends(program: subprocess.Popen[bytes]) -> bytes:
    """Press ctrl+c, once more where the program was still starting; returns what it said."""
    for _ in range(10):
        program.send_signal(signal.SIGINT)
        try:
            return program.communicate(timeout=3)[1]
        except subprocess.TimeoutExpired:
            continue
    raise AssertionError("ctrl+c does not end it")


def test_a_terminal_of_few_signs_shows_what_it_can(log: Path) -> None:
    with open_book(log) as book:
        book.gear.add(book.gear.blank_form() | {"name": "釣り糸", "tag": "t-1", "category": "other"})
    ended = run("list", env={**os.environ, "PYTHONIOENCODING": "ascii", "GEARLOG_DIR": str(log)})
    assert ended.returncode == 0
    assert b"\\u91e3" in ended.stdout
