"""First paint of the demo log in a pty, against an empty Textual application in the same run.

Run: pytest -s tests/bench/bench_first_paint.py
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import statistics
import struct
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

RATIO = 1.5
ROUNDS = 7
PATIENCE_S = 30.0
QUIT = b"\x11"  # ctrl+q
EMPTY = """
from textual.app import App, ComposeResult
from textual.widgets import Footer, Header
class Empty(App):
    TITLE = "emptyapp"
    def compose(self) -> ComposeResult:
        yield Header()
        yield Footer()
Empty().run()
"""


def first_paint(command: list[str], marker: bytes, folder: Path) -> float:
    """Seconds from the start of the process until ``marker`` is on the screen; then quits it."""
    start = time.perf_counter()
    with opened_in(command, folder) as terminal:
        wait_for(terminal, marker)
        painted = time.perf_counter() - start
        os.write(terminal, QUIT)
        drain(terminal)
    return painted


@contextmanager
def opened_in(command: list[str], folder: Path) -> Iterator[int]:
    """A program in a terminal of 80 by 24; its temporary files lie in ``folder``."""
    pid, terminal = pty.fork()
    if pid == 0:
        environment = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        os.execve(command[0], command, environment | {"TERM": "xterm-256color", "TMPDIR": str(folder)})  # noqa: S606
    try:
        yield terminal
    finally:
        os.close(terminal)
        os.waitpid(pid, 0)


def wait_for(terminal: int, marker: bytes) -> None:
    seen, end = b"", time.monotonic() + PATIENCE_S
    while marker not in seen:
        ready, _, _ = select.select([terminal], [], [], end - time.monotonic())
        assert ready, f"{marker!r} never came; the screen held {seen[-2000:]!r}"
        seen += os.read(terminal, 65536)


def drain(terminal: int) -> None:
    try:
        while os.read(terminal, 65536):
            pass
    except OSError:  # the process is gone and took its side of the terminal along
        return


def test_the_demo_log_paints_nearly_as_soon_as_an_empty_screen(tmp_path: Path) -> None:
    ours, empty = [], []
    for _ in range(ROUNDS):
        empty.append(first_paint([sys.executable, "-c", EMPTY], b"emptyapp", tmp_path))
        ours.append(first_paint([sys.executable, "-m", "gearlog", "--sample"], b"overdue", tmp_path))
    ratio = statistics.median(ours) / statistics.median(empty)
    print(
        f"\nfirst paint: demo log {statistics.median(ours) * 1000:.0f} ms, "
        f"empty application {statistics.median(empty) * 1000:.0f} ms, ratio {ratio:.2f}"
    )
    assert ratio <= RATIO
