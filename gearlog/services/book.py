"""The book: a log opened and wired. Screens and verbs get one and nothing else."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date, datetime
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from msgspec.structs import replace

from gearlog.domain.done import Done
from gearlog.domain.settings import Settings
from gearlog.services.bench import Benches
from gearlog.services.clock import Clock, clock
from gearlog.services.diary import Diary
from gearlog.services.gear import Gear
from gearlog.services.lists import Lists
from gearlog.services.schedule import Schedule
from gearlog.services.shelf import Shelf
from gearlog.services.standing import Standing
from gearlog.services.workshop import Workshop
from gearlog.storage import Store, log_folder, memory_store, open_store, own_methods_folder, own_rules_folder

if TYPE_CHECKING:
    from gearlog.services.auditing import Auditing
    from gearlog.services.importing import Importing
    from gearlog.services.inspecting import Inspecting
    from gearlog.services.keeping import Keeping
    from gearlog.services.kits import Kits
    from gearlog.services.learning import Learning
    from gearlog.services.planner import Planner
    from gearlog.services.strength_tests import StrengthTests


class Book:
    """One open log and all that can be done with it.

    Attributes:
        gear: items and their histories.
        diary: splices as they were made.
        bench: splices that are being made.
        schedule: the rule sets that hold.
        standing: quarantine, release, retirement; assignment and loan.
        lists: what is due, and the plain list.
        is_sample: whether it is a throw-away copy of the demo log.
    """

    def __init__(self, store: Store, clock: Clock, *, is_sample: bool = False) -> None:
        folder = store.folder
        shelf = Shelf(store, clock)
        workshop = Workshop(own_methods_folder(folder) if folder is not None else None)
        self._store = store
        self._clock = clock
        self._shelf = shelf
        self._workshop = workshop
        self.is_sample = is_sample
        self.diary = Diary(shelf, workshop)
        self.bench = Benches(shelf, self.diary)
        self.schedule = Schedule(store, own_rules_folder(folder) if folder is not None else None)
        self.gear = Gear(shelf, self.diary, self.schedule, workshop.title)
        self.standing = Standing(shelf, self.schedule)
        self.lists = Lists(self.gear, self.diary, clock)

    # Loaded when they are asked for: the first picture needs none of them

    @cached_property
    def strength(self) -> StrengthTests:
        """Tests of the strength of splices."""
        from gearlog.services.strength_tests import StrengthTests

        return StrengthTests(self._shelf)

    @cached_property
    def inspecting(self) -> Inspecting:
        """Inspections."""
        from gearlog.services.inspecting import Inspecting

        return Inspecting(self._shelf, self.schedule)

    @cached_property
    def kits(self) -> Kits:
        """Sets of items that go together."""
        from gearlog.services.kits import Kits

        return Kits(self._shelf, self.gear, self.standing)

    @cached_property
    def planner(self) -> Planner:
        """Plans, drawings, what worked last time."""
        from gearlog.services.planner import Planner

        return Planner(self._shelf, self._workshop)

    @cached_property
    def learning(self) -> Learning:
        """The corrections that the diary offers."""
        from gearlog.services.learning import Learning

        return Learning(self._shelf, self.planner)

    @cached_property
    def auditing(self) -> Auditing:
        """What an examiner is handed, on paper and in files."""
        from gearlog.services.auditing import Auditing

        return Auditing(self._shelf, self._workshop, self.schedule.book)

    @cached_property
    def importing(self) -> Importing:
        """Lists that people already keep, taken in."""
        from gearlog.services.importing import Importing

        return Importing(self._shelf)

    @cached_property
    def keeping(self) -> Keeping:
        """Backups of the whole log."""
        from gearlog.services.keeping import Keeping

        return Keeping(self._store, self._clock.now)

    @property
    def settings(self) -> Settings:
        """What the program remembers about its user."""
        return self._store.settings

    @property
    def read_only(self) -> bool:
        """Whether saving is refused, because another program holds the log or the disk does not let us."""
        return self._store.read_only

    @property
    def found(self) -> tuple[str, ...]:
        """What was found on opening, before all records are read: damage, another program, an older format."""
        return self._store.found

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found on opening, in the user's words."""
        return self._store.notices

    @property
    def version(self) -> int:
        """Grows with every change of the log."""
        return self._store.version

    @property
    def folder(self) -> Path | None:
        """The log's folder, or None for a log in memory."""
        return self._store.folder

    def today(self) -> date:
        """The day as of which the log is looked at."""
        return self._clock.today()

    def keep(self, **changes: Any) -> None:
        """Change settings and keep them; raises StorageError."""
        self._store.save_settings(replace(self._store.settings, **changes))

    def undo(self) -> str | None:
        """Take back the last change and return what it was; None when there is none. Raises ReadOnlyError."""
        return self._store.undo()

    def redo(self) -> str | None:
        """Do again what was taken back last and return what it was; None when there is none."""
        return self._store.redo()

    def last_change(self) -> str | None:
        """What ``undo`` would take back, in words, or None."""
        return self._store.last_change()

    def done(self, most: int) -> tuple[Done, ...]:
        """The last changes that ``undo`` would take back one by one, the newest first."""
        return self._store.done(most)

    def refresh(self) -> bool:
        """Follow another program that writes the log; whether anything was new."""
        return self._store.refresh()

    def read_ahead(self, *, whole: bool = False) -> None:
        """Read what the screen shown last tells, so that it is there at once when it is entered; ``whole``: all."""
        if whole:
            self._store.read()
        (self.diary.rows if self.settings.screen == "splices" else self.lists.today)()
        self.bench.open_views()

    def read_rest(self) -> None:
        """Read what was not asked for yet, while others go on using the log; the diary is made ready to be asked."""
        for kind in Store.KINDS:
            self._store.read_ahead(kind)
        self._shelf.lessons.columns()

    def close(self) -> None:
        """Let the log go."""
        self._store.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def open_book(
    folder: Path | None = None,
    *,
    today: Callable[[], date] = date.today,
    now: Callable[[], datetime] | None = None,
) -> Book:
    """Open the log in ``folder``, else where ``GEARLOG_DIR`` or the platform says; raises StorageError.

    ``now`` is the moment of saving (UTC), by default that of the computer on the day that ``today`` tells.
    """
    hands = clock(today, now)
    return Book(open_store(log_folder(folder, os.environ), now=hands.now), hands)


def memory_book(*, today: Callable[[], date] = date.today, now: Callable[[], datetime] | None = None) -> Book:
    """A book on an empty log that leaves nothing on the disk."""
    hands = clock(today, now)
    return Book(memory_store(now=hands.now), hands)


def open_sample(*, today: Callable[[], date] = date.today, now: Callable[[], datetime] | None = None) -> Book:
    """A book on a throw-away copy of the demo log in memory, its dates moved so that it stands as of today.

    Raises StorageError when the demo log is not there.
    """
    from gearlog.services.sample import sample_store

    hands = clock(today, now)
    return Book(sample_store(hands), hands, is_sample=True)
