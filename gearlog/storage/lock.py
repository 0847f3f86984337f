"""One writer at a time: a side file is held for the session, and says in words by whom."""

from __future__ import annotations

import os
import socket
from contextlib import suppress
from datetime import datetime
from typing import TYPE_CHECKING

import msgspec

from gearlog.storage import durable
from gearlog.storage.locations import LogFiles

if TYPE_CHECKING:
    from filelock import BaseFileLock


class Holder(msgspec.Struct, frozen=True):
    """Which program holds the log.

    Attributes:
        process: its number.
        computer: the computer's name.
        since: when it opened the log.
    """

    process: int
    computer: str
    since: datetime

    def __str__(self) -> str:
        return f"process {self.process} on {self.computer}, since {self.since.astimezone():%Y-%m-%d %H:%M}"


class SessionLock:
    """The lock of one log; it is let go when the program ends, however it ends."""

    def __init__(self, files: LogFiles) -> None:
        self._files = files
        self._lock: BaseFileLock | None = None

    def take(self, now: datetime) -> bool:
        """Whether the lock is ours now; raises OSError where none can be made."""
        from filelock import FileLock, Timeout  # late: a reader needs none of it

        lock = FileLock(self._files.lock, timeout=0, mode=durable.PRIVATE_FILE, thread_local=False)
        try:
            lock.acquire()
        except Timeout:
            return False
        self._lock = lock
        self._sign(now)
        return True

    def _sign(self, now: datetime) -> None:
        holder = Holder(os.getpid(), socket.gethostname(), now)
        with suppress(OSError):  # only words for others; the lock holds without them
            durable.write_whole(self._files.holder, msgspec.json.encode(holder))

    def release(self) -> None:
        """Let the lock go, if it is ours."""
        if self._lock is None:
            return
        with suppress(OSError):
            self._files.holder.unlink()
        self._lock.release()
        self._lock = None


def holder_of(files: LogFiles) -> Holder | None:
    """Who wrote their name beside the lock, or None when nothing legible is there."""
    try:
        return msgspec.json.decode(files.holder.read_bytes(), type=Holder)
    except (OSError, ValueError, msgspec.MsgspecError):
        return None
