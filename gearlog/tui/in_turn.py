"""Keys one after another: each waits until the one before has done all that it does.

The toolkit hands a key to the field that has the focus when the key arrives. A scanner, a key held down or a slow line
bring many keys in one moment; then those behind a Tab would be typed into the field before it. Here a key that may move
the focus is followed by a mark that goes the same way through the widgets, and what was pressed meanwhile waits until
the mark is back. Letters for the same line of text wait for nothing.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Iterable

from textual.app import App, ScreenError
from textual.events import Event, Key, Paste
from textual.message import Message
from textual.message_pump import MessagePump

LAPS = 2  # of the mark from where the key went: what the key did, and what came of that
LOOK_S = 0.1  # after which a mark that is not back is looked for: its widget may be gone
LOOKS = 30  # then the keys go on, whatever still works


class TurnMark(Message):
    """Goes behind a key, from widget to widget up to the app.

    Attributes:
        number: which of the marks it is.
    """

    def __init__(self, number: int) -> None:
        super().__init__()
        self.number = number


class InTurnApp(App[None]):
    """An app in which a burst of keys does what the same keys do one by one."""

    def __init__(self, *, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self._waiting: deque[Key | Paste] = deque()
        self._judged: deque[Key | Paste] = deque()  # heard, and next
        self._number = 0  # of the last mark
        self._start: MessagePump | None = None  # where the last key went, and its mark starts
        self._before: MessagePump | None = None  # the screen on which it was pressed
        self._laps = 0  # still to go
        self._looks = 0  # still to be taken
        self._moving = False  # whether the key under way may move the focus
        self._watch: asyncio.TimerHandle | None = None

    @property
    def keys_under_way(self) -> bool:
        """Whether a key that was pressed has not done yet what it does."""
        return self._watch is not None or bool(self._judged or self._waiting)

    async def on_event(self, event: Event) -> None:
        """A key or a paste takes its turn; all else goes on at once."""
        if not isinstance(event, Key | Paste) or event.is_forwarded:
            await super().on_event(event)
        else:
            self._waiting.append(event)
            await self._hand_on()

    def heard(self, event: Key | Paste) -> Iterable[Key | Paste]:
        """What goes on now that it is this one's turn: by default itself."""
        return (event,)

    async def pass_on(self, events: Iterable[Key | Paste]) -> None:
        """Let go on, before all that waits, what was heard earlier."""
        self._judged.extend(events)
        await self._hand_on()

    def wait_for_it(self) -> None:
        """Something was done that may move the focus: what follows waits for that."""
        self._start, self._before, self._moving = self._here(), self._top(), True
        self._laps, self._looks = LAPS, LOOKS
        self._next_lap()

    async def _hand_on(self) -> None:
        while self._judged or self._waiting:
            if self._must_wait((self._judged or self._waiting)[0]):
                return
            if self._judged:
                await self._take(self._judged.popleft())
            else:
                self._judged.extend(self.heard(self._waiting.popleft()))

    def _must_wait(self, event: Key | Paste) -> bool:
        return self._watch is not None and (self._moving or self._moves(event))

    def _moves(self, event: Key | Paste) -> bool:
        """Whether it may do more than type into the line of text that has the focus."""
        typing = getattr(self._here(), "TAKES_LETTERS", False)
        return not (typing and (isinstance(event, Paste) or event.is_printable))

    def _here(self) -> MessagePump | None:
        """Where keys go now; None while there is no screen."""
        try:
            return self.focused or self.screen
        except ScreenError:
            return None

    def _top(self) -> MessagePump | None:
        return self.screen_stack[-1] if self.screen_stack else None

    async def _take(self, event: Key | Paste) -> None:
        """Pass it on, and send the mark behind it."""
        self._start, self._before, self._moving = self._here(), self._top(), self._moves(event)
        await super().on_event(event)
        self._laps, self._looks = LAPS, LOOKS
        self._next_lap()

    def _next_lap(self) -> None:
        self._laps -= 1
        self._number += 1
        self._look_later()
        start = self._start if _stands(self._start) else self._here()
        if start is None or not start.post_message(TurnMark(self._number)):
            self.post_message(TurnMark(self._number))

    def _look_later(self) -> None:
        self._end_watch()
        self._watch = asyncio.get_running_loop().call_later(LOOK_S, self._look)

    def _end_watch(self) -> None:
        if self._watch is not None:
            self._watch.cancel()
        self._watch = None

    def _look(self) -> None:
        """The mark is long away: send another where its widget is gone, else have patience, though not for ever."""
        self._looks -= 1
        if self._looks <= 0:
            self._laps = 0
            self.post_message(TurnMark(self._number))
        elif _stands(self._start):
            self._look_later()
        else:
            self._laps += 1
            self._next_lap()

    async def on_turn_mark(self, mark: TurnMark) -> None:
        """The mark is back: another lap, then the next key."""
        if mark.number != self._number:
            return
        if self._laps > 0:
            self._next_lap()
        elif self._top() is not self._before and self._looks > 0:
            self._await_new_screen()
        else:
            self._end_watch()
            await self._hand_on()

    def _await_new_screen(self) -> None:
        """Another screen came up: it must stand and have its focus before it gets a key."""
        self._before, self._start, self._laps = self._top(), None, 1
        self._number += 1
        self._look_later()
        mark = TurnMark(self._number)
        if self._before is None or not self._before.call_after_refresh(self.post_message, mark):
            self.post_message(mark)


def _stands(pump: MessagePump | None) -> bool:
    """Whether a mark that starts there can come back."""
    return pump is not None and pump.is_running and pump.is_attached
