"""Controls for closed lists: one of several words, or several of them, with few keys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rich.cells import cell_len
from textual import events
from textual.binding import BindingType
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from gearlog.services.forms import YES, Field
from gearlog.tui.keys import bindings
from gearlog.tui.text import cell
from gearlog.units.visible import visible

if TYPE_CHECKING:
    from gearlog.tui.dialogs.choose import ChooseDialog

Choice = tuple[str, str]


def _within(words: str, width: int) -> str:
    """Words that are never wider than the control: a folded one would push the last ones out of it."""
    return cell(words, width) if cell_len(words) > width else words


class PickOne(Widget, can_focus=True):
    """One of a few words: left and right change it, a letter jumps, space opens the list to type in.

    Attributes:
        choices: (value, words) pairs, the empty one first.
        letters_open: whether a letter opens the list with it typed, for lists too long to jump in.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings("choice")
    DEFAULT_CSS = """
    PickOne {
        height: 1; background: $raised; color: $ink;
        &:focus { background: $chosen; text-style: bold; }
        &:nocolor:focus { text-style: bold reverse; }
    }
    """

    text: reactive[str] = reactive("")

    @dataclass
    class Changed(Message):
        """Another word was taken."""

        picker: PickOne

        @property
        def control(self) -> PickOne:
            """The field."""
            return self.picker

    def __init__(self, field: Field, text: str = "") -> None:
        super().__init__()
        self.field = field
        self.set_reactive(PickOne.text, text)
        self.choices = self._with_empty(field.choices)
        self.letters_open = False
        self._about: Mapping[str, str] = {}
        self._opened: ChooseDialog | None = None

    def _with_empty(self, choices: Sequence[Choice]) -> tuple[Choice, ...]:
        return (("", self._empty_words(choices)), *choices)

    def _empty_words(self, choices: Sequence[Choice]) -> str:
        if self.field.required:
            return "choose: a letter, arrows or space"
        return "no" if tuple(choices) == YES else self.field.empty

    def offer(self, choices: Sequence[Choice], about: Mapping[str, str] | None = None) -> None:
        """Offer other words, with what is told of each; the word taken stays, even when it is not among them."""
        self.choices = self._with_empty(choices)
        self._about = about or {}
        self.refresh()

    def render(self) -> Content:
        """The word taken, between arrows while the field has the focus."""
        known = dict(self.choices)
        words = known.get(self.text, f"{self.text} (not in the list)")
        if not self.has_focus:
            return Content.styled(cell(words, self.size.width), "" if self.text else "$quiet")
        return Content(cell(f"< {visible(words)} >", self.size.width))

    def watch_text(self) -> None:
        """Tell of the change."""
        self.post_message(self.Changed(self))

    def _step(self, step: int) -> None:
        values = [value for value, _ in self.choices]
        place = values.index(self.text) if self.text in values else 0
        self.text = values[(place + step) % len(values)]

    def action_next_choice(self) -> None:
        """One to the right."""
        self._step(1)

    def action_previous_choice(self) -> None:
        """One to the left."""
        self._step(-1)

    def action_clear(self) -> None:
        """Take none."""
        self.text = ""

    def action_pick(self) -> None:
        """Open the list to type in."""
        self._open_list("")

    def _open_list(self, typed: str) -> None:
        """Open it, with ``typed`` in its line."""
        from gearlog.tui.dialogs.choose import ChooseDialog

        self._opened = ChooseDialog(self.field.label, self.choices, self.text, about=self._about, typed=typed)
        self.app.push_screen(self._opened, self._picked)

    def _picked(self, value: str | None) -> None:
        if value is not None:
            self.text = value

    def on_key(self, event: events.Key) -> None:
        """A letter takes the next word that begins with it, or opens the list."""
        sign = event.character
        if not sign or not event.is_printable:
            return
        if self._opened is not None and self._opened in self.app.screen_stack:
            event.stop()  # the list is open but has not the keys yet: a burst over a slow line goes into it, whole
            self._opened.type_more(sign)
            return
        if sign == " ":
            return
        event.stop()
        if self.letters_open:
            self._open_list(sign)
            return
        values = [value for value, words in self.choices if value and words.lower().startswith(sign.lower())]
        if values:
            place = values.index(self.text) + 1 if self.text in values else 0
            self.text = values[place % len(values)]


class PickSome(Widget, can_focus=True):
    """Several words of a list, with a tick before each: left and right move, space ticks.

    Its text is the ticked values with commas; words that are not in the list are kept and shown behind.
    """

    BINDINGS: ClassVar[list[BindingType]] = bindings("ticks")
    DEFAULT_CSS = """
    PickSome { height: auto; background: $raised; color: $ink; &:focus { background: $chosen; } }
    """

    text: reactive[str] = reactive("", layout=True)
    at: reactive[int] = reactive(0)

    @dataclass
    class Changed(Message):
        """A tick was set or cleared."""

        picker: PickSome

        @property
        def control(self) -> PickSome:
            """The field."""
            return self.picker

    def __init__(self, field: Field, text: str = "") -> None:
        super().__init__()
        self.field = field
        self.set_reactive(PickSome.text, text)

    @property
    def _ticked(self) -> list[str]:
        return [word.strip() for word in self.text.split(",") if word.strip()]

    def _parts(self) -> list[str]:
        ticked = self._ticked
        known = {value for value, _ in self.field.choices}
        parts = [f"[{'x' if value in ticked else ' '}] {visible(words)}" for value, words in self.field.choices]
        return parts + [f"[x] {visible(word)} (not in the list)" for word in ticked if word not in known]

    def _lines(self, width: int) -> list[list[int]]:
        lines: list[list[int]] = [[]]
        used = 0
        for place, part in enumerate(self._parts()):
            length = min(cell_len(part), width) + 2
            if lines[-1] and used + length > width + 2:
                lines.append([])
                used = 0
            lines[-1].append(place)
            used += length
        return lines

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the words need."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The words with their ticks; the one to be ticked is marked."""
        parts = self._parts()
        return Content("\n").join(
            Content("  ").join(self._part(_within(parts[place], self.size.width), place) for place in line)
            for line in self._lines(self.size.width)
        )

    def _part(self, part: str, place: int) -> Content:
        return Content.styled(part, "bold reverse") if self.has_focus and place == self.at else Content(part)

    def watch_text(self) -> None:
        """Tell of the change."""
        self.post_message(self.Changed(self))

    def action_next_choice(self) -> None:
        """One to the right."""
        self.at = (self.at + 1) % len(self.field.choices)

    def action_previous_choice(self) -> None:
        """One to the left."""
        self.at = (self.at - 1) % len(self.field.choices)

    def action_pick(self) -> None:
        """Set or clear the tick."""
        value = self.field.choices[self.at][0]
        ticked = self._ticked
        left = [word for word in ticked if word != value]
        self.text = ", ".join(left if value in ticked else [*ticked, value])
