"""Find anything by some letters, or by scanning its tag: every sign is taken in order, however fast it comes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from gearlog.domain.vocabulary import label
from gearlog.errors import GearlogError
from gearlog.tui.dialogs.base import Dialog
from gearlog.tui.keys import bindings
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.record_list import RecordList
from gearlog.units.natural import natural

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.services.kits import KitRow
    from gearlog.services.views import GearRow, SpliceRow

LEAST, MOST, FRAME = 3, 14, 9  # lines of the list; what stands around it
NOTHING = "Nothing bears these letters. Backspace takes one back, ctrl+u all."
KIT = "kit"
"""Under this name the gear screen is told which kit to show."""
HINT = "type letters of a tag, a name, a serial; or scan a tag"


@dataclass(frozen=True, slots=True)
class Found:
    """One thing that can be found.

    Attributes:
        place: the screen that shows it; ``record_id`` what it shows there.
        tag: what is written on it, or empty.
        words: its name; ``what`` what it is and how it stands.
        search: what the letters are looked for in, in small letters.
        tags: texts that mean just this one: its tag, and those that it bore before, in small letters.
        form: what the screen is told beside the record.
    """

    place: str
    record_id: str
    tag: str
    words: str
    what: str
    search: str
    tags: frozenset[str] = frozenset()
    form: Mapping[str, str] | None = None


def everything(book: Book) -> tuple[Found, ...]:
    """All that can be found: gear by its tag, kits, then splices, the newest first."""
    return (*gear_found(book), *map(_kit, book.kits.rows()), *map(_splice, book.diary.rows()))


def tagged(book: Book, text: str) -> Found | None:
    """What bears just this tag, an item or a kit; None where nothing does."""
    with suppress(GearlogError):
        return _gear(book.gear.row(book.gear.by_tag(text).id))
    with suppress(GearlogError):
        return _kit(book.kits.row(book.kits.by_tag(text).id))
    return None


def gear_found(book: Book) -> tuple[Found, ...]:
    """All gear in order of its tags."""
    return tuple(map(_gear, sorted(book.gear.rows(), key=lambda row: natural(row.tag))))


def _gear(row: GearRow) -> Found:
    former = frozenset(tag.casefold() for tag in row.item.former_tags)
    what = f"{row.category}, {label(row.status)}"
    return Found("gear", row.item.id, row.tag, row.name, what, row.search, former | {row.tag.casefold()})


def _kit(row: KitRow) -> Found:
    kit, count = row.kit, len(row.rows)
    search = "\n".join((kit.tag, kit.name, kit.assigned_to, kit.kept_at, kit.notes)).lower()
    what = f"kit, {count} {'item' if count == 1 else 'items'}"
    return Found("gear", "", kit.tag, kit.name, what, search, frozenset({kit.tag.casefold()}), {KIT: kit.id})


def _splice(row: SpliceRow) -> Found:
    what = f"end {row.end}, {label(row.outcome)}"
    return Found("splices", row.splice.id, row.tag, f"splice of {row.made_on}", what, row.search)


class FindDialog(Dialog[Found]):
    """Answers what was found, or None. A text that is a tag finds just that one."""

    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = bindings("dialog", "choose")
    DEFAULT_CSS = """
    FindDialog > Vertical { width: 78; }
    FindDialog RecordList { background: $raised; }
    FindDialog #typed { height: 1; background: $ground; }
    """

    def __init__(self, found: Sequence[Found]) -> None:
        super().__init__()
        self.found = found
        self.typed = ""

    def compose(self) -> ComposeResult:
        """The line over the list."""
        with Vertical():
            yield Static(content("Find"), classes="dialog--title")
            yield Static(id="typed")
            yield RecordList(_columns(), identity=_identity, search=lambda found: found.search,
                             empty="The log is empty.")  # fmt: skip
            yield Static(content("enter: go there    up, down: choose    esc: back"), classes="dialog--keys")

    def on_mount(self) -> None:
        """The dialog itself takes the keys: with no second queue of keys none can overtake another."""
        found = self.query_one(RecordList)
        found.can_focus = False
        found.nothing = NOTHING
        found.styles.height = max(LEAST, min(len(self.found), MOST, self.size.height - FRAME)) + 1
        found.show(self.found)
        self._show()

    def on_key(self, event: events.Key) -> None:
        """Letters are typed, Enter takes."""
        if event.key == "enter":
            self._take()
        elif event.key == "backspace":
            self._type(self.typed[:-1])
        elif event.key == "ctrl+u":
            self._type("")
        elif event.is_printable and event.character:
            self._type(self.typed + event.character)
        else:
            return
        event.stop()
        event.prevent_default()

    def on_paste(self, event: events.Paste) -> None:
        """What is pasted is typed."""
        event.stop()
        self._type(self.typed + " ".join(event.text.splitlines()))

    def _type(self, text: str) -> None:
        self.typed = text
        if self.is_mounted:
            self.query_one(RecordList).filter(text)
            self._show()

    def _show(self) -> None:
        cursor = Content.styled(" ", "reverse")
        words = content(self.typed) if self.typed else content(HINT, "$quiet")
        parts = (words, cursor) if self.typed else (cursor, words)
        self.query_one("#typed", Static).update(Content.assemble(*parts))

    def _take(self) -> None:
        wanted = self.typed.strip().casefold()
        exact = next((found for found in self.found if wanted in found.tags), None)
        chosen = exact or self.query_one(RecordList).chosen_row
        if chosen is not None:
            self.answer(chosen)

    @on(RecordList.Opened)
    def _opened(self) -> None:
        self._take()

    def action_row(self, step: int) -> None:
        """Move in the list."""
        for found in self.query(RecordList):  # none before the dialog is drawn: a key may come that early
            found.action_row(step)


def _identity(found: Found) -> str:
    return f"{found.place}:{found.record_id}"


def _columns() -> tuple[Column[Found], ...]:
    return (
        Column("tag", "tag", lambda found: found.tag, 14, share=1),
        Column("words", "name", lambda found: found.words, 14, share=1),
        Column("what", "what", lambda found: found.what, 14, share=1, style=lambda _: "quiet"),
    )
