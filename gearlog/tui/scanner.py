"""Telling a scanner from fingers: a burst of signs that ends with Enter and is a tag of the log was scanned.

A scanner types faster than anybody. On screens where letters are commands, each sign is held for a moment; when the
burst turns out to be no tag, every key goes on in its order as if it had never been held.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

from textual.events import Key, Paste

from gearlog.tui.telling import TellingApp

GAP = 0.035  # seconds between two signs of a scanner at most; the quickest typists need 0.06
LEAST = 3  # signs; a shorter burst is fingers on two keys at once


@dataclass(frozen=True, slots=True)
class Heard:
    """What came of a key: the keys that go on now, and the tag that was scanned, or empty."""

    keys: tuple[Key, ...] = ()
    tag: str = ""


class Scanner:
    """Holds keys; ``take`` each key in its order, ``release`` when nothing came for ``GAP`` seconds.

    ``known`` says whether a text is a tag of the log.
    """

    def __init__(self, known: Callable[[str], bool]) -> None:
        self._known = known
        self._held: list[Key] = []

    def take(self, key: Key) -> Heard:
        """A key that was pressed at ``key.time`` (s)."""
        late = self.release() if self._held and key.time - self._held[-1].time > GAP else ()
        if key.is_printable:
            self._held.append(key)
            return Heard(late)
        tag = "".join(held.character or "" for held in self._held)
        before = self.release()
        if key.key == "enter" and len(before) >= LEAST and self._known(tag):
            return Heard(late, tag)
        return Heard((*late, *before, key))

    @property
    def last(self) -> Key | None:
        """The last of the keys that are held."""
        return self._held[-1] if self._held else None

    def release(self) -> tuple[Key, ...]:
        """The keys held, which are held no longer."""
        held, self._held = tuple(self._held), []
        return held


class ScanningApp(TellingApp):
    """An app that a tag can be scanned into, on any screen where no text is typed.

    Attributes:
        scans: whether it listens for a scanner; None is yes at a terminal, no where a program presses the keys.
    """

    scans: bool | None = None

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._scanner = Scanner(self.knows_tag)

    def knows_tag(self, text: str) -> bool:
        """Whether a text is a tag of the log."""
        return False

    def go_to_tag(self, tag: str) -> None:
        """Show what bears a tag that was scanned."""

    @property
    def takes_commands(self) -> bool:
        """Whether a letter pressed now is a command."""
        return False

    def heard(self, event: Key | Paste) -> Iterable[Key | Paste]:
        """Keys go by the scanner first, as long as letters are commands."""
        if isinstance(event, Key) and self._listens and self.takes_commands:
            return self._hear(event)
        return (*self._scanner.release(), event)

    @property
    def _listens(self) -> bool:
        return not self.is_headless if self.scans is None else self.scans

    def _hear(self, key: Key) -> Iterable[Key]:
        heard = self._scanner.take(key)
        if heard.tag:
            self.go_to_tag(heard.tag)
            self.wait_for_it()
        elif self._scanner.last is key:
            self.set_timer(GAP, partial(self._let_go, key))
        return heard.keys

    async def _let_go(self, last: Key) -> None:
        """What is held was no scan when nothing came after its last sign."""
        if self._scanner.last is last:
            await self.pass_on(self._scanner.release())
