"""A log that is opened in a thread of its own, so that the screens stand while a long one is still being read.

A short log is open before the first picture is painted, and nothing of this is seen. Of a long one nothing is read, and
none of the services is loaded, until the first picture stands; so nothing of them is imported above.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import CancelledError, Future
from datetime import date
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

from gearlog.services.clock import clock
from gearlog.storage import Glance, glance, log_folder, open_store

if TYPE_CHECKING:
    from gearlog.services.book import Book

LONG_LOG = 8_000_000
"""Bytes of a log from which on reading it takes longer than one waits for a key, about 50 ms."""
PATIENCE = 0.3
"""Seconds that the first picture waits for a short log: a slow disk must not hold up the screens."""


class Opening:
    """A log that is being opened.

    Attributes:
        seen: what could be told of it before.
        is_long: whether reading it takes long.
    """

    def __init__(self, make: Callable[[], Book], seen: Glance) -> None:
        self.seen = seen
        self.is_long = seen.bytes >= LONG_LOG
        self._make = make
        self._found: Future[Book] = Future()
        self._go, self._left = Event(), False
        self._thread = Thread(target=self._open, name="opening", daemon=True)
        self._thread.start()
        if not self.is_long:
            self.go_on()

    def soon(self) -> Book | None:
        """The open log where that takes no time to speak of, else None; raises what opening it raised."""
        if self.is_long:
            return None
        self._thread.join(PATIENCE)
        return self._found.result() if self._found.done() else None

    def go_on(self) -> None:
        """Read the log: the first picture stands."""
        self._go.set()

    def tell(self, done: Callable[[], object]) -> None:
        """Call ``done`` when ``result`` is there, from the thread."""
        self._found.add_done_callback(lambda _: done())

    def result(self) -> Book:
        """The open log; raises what opening it raised: StorageError and other faults."""
        return self._found.result()

    def leave(self) -> None:
        """Let the log go, whether it was read to the end or not."""
        self._left = True
        self.go_on()
        self._thread.join()
        if self._found.exception() is None:
            self._found.result().close()

    def _open(self) -> None:
        self._go.wait()
        if self._left:
            self._found.set_exception(CancelledError())
            return
        try:
            book = self._read()
        except BaseException as error:  # told by whoever waits for the log
            self._found.set_exception(error)
        else:
            self._found.set_result(book)

    def _read(self) -> Book:
        book = self._make()
        try:
            if not self._left:
                book.read_ahead(whole=not self.is_long)
        except BaseException:
            book.close()
            raise
        return book


def open_meanwhile(folder: Path | None, today: Callable[[], date]) -> Opening:
    """Begin to open the log in ``folder``, else where ``GEARLOG_DIR`` or the platform says."""
    place = log_folder(folder, os.environ)

    def opened() -> Book:
        hands = clock(today, None)
        store = open_store(place, now=hands.now)  # its bytes are read while others load the services
        from gearlog.services.book import Book

        return Book(store, hands)

    return Opening(opened, glance(place))


def open_sample_meanwhile(today: Callable[[], date]) -> Opening:
    """The same with a throw-away copy of the demo log."""

    def opened() -> Book:
        from gearlog.services.book import open_sample

        return open_sample(today=today)

    return Opening(opened, Glance())
