"""Kits: sets of items that go together; what is in each, who has it, and what in it must not be used."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Static

from gearlog.domain.vocabulary import Status, label
from gearlog.services.kits import KIT_FORM, KitRow
from gearlog.services.views import GearRow
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.find import FindDialog, Found, gear_found
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.keys import bindings
from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.screens.form_screen import FormScreen, Task
from gearlog.tui.screens.gear_list import due_words
from gearlog.tui.screens.taking_back import TakesBack
from gearlog.tui.text import content
from gearlog.tui.widgets.columns import Column
from gearlog.tui.widgets.paper import Paper
from gearlog.tui.widgets.prose import facts, heading, joined, prose, table
from gearlog.tui.widgets.record_list import RecordList

if TYPE_CHECKING:
    from gearlog.services.book import Book

WIDE = 100  # columns from which the kits and one of them stand side by side
MARGINS, LEAST = 5, 20  # cells beside the words; the least to set them in
TAG, DUE = 16, 11  # cells for the tag of an item in a kit, and for when it is due or where it stands
LATE = frozenset({"overdue", "never-examined"})
EMPTY = "There is no kit yet. Press a to make one: a climber's set, the bag in van 2."


def kit_task(book: Book, kit_id: str = "") -> Task:
    """Add a kit, or change one."""
    return Task(
        place="gear",
        title="Change a kit" if kit_id else "Add a kit",
        fields=KIT_FORM,
        start=book.kits.form_of(kit_id) if kit_id else book.kits.blank_form(),
        draft=f"kits.kit:{kit_id}",
        save=lambda form: book.kits.change(kit_id, form) if kit_id else book.kits.add(form),
        check=lambda name, text: book.gear.field_fault(KIT_FORM, name, text),
        help="Items are named by their tags, with commas. What is in quarantine or retired is refused with the reason.",
    )


class KitsScreen(TakesBack, GearlogScreen[None]):
    """The list of kits with one of them beside it."""

    PLACE = "gear"
    KEYS = "kits"
    TOPIC = "Kits"
    BINDINGS: ClassVar[list[BindingType]] = bindings("kits")
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (WIDE, "-wide")]  # noqa: RUF012 (the toolkit's shape)
    HELP = (
        "Sets of items that go together, such as a climber's kit. + puts an item in, by letters or by scanning its "
        "tag; x takes one out; L gives the kit with all that is in it to somebody, in one change; u takes the last "
        "change back. What is in quarantine or retired is refused with the reason, and a kit that holds such an item "
        "says so."
    )
    DEFAULT_CSS = """
    KitsScreen > .kits--title { padding: 1 2 0 2; text-style: bold; height: auto; }
    KitsScreen #sides { height: 1fr; margin-top: 1; }
    KitsScreen RecordList { width: 1fr; }
    KitsScreen Paper { width: 1fr; height: 1fr; }
    KitsScreen.-narrow #sides { layout: vertical; }
    KitsScreen.-narrow RecordList { height: 8; }
    KitsScreen.-narrow Paper { border-top: solid $line; }
    KitsScreen.-wide Paper { border-left: solid $line; }
    """

    def __init__(self, kit_id: str = "") -> None:
        super().__init__()
        self._first = kit_id

    def parts(self) -> ComposeResult:
        """The list, and the kit under the cursor."""
        yield Static(content("Kits"), classes="kits--title")
        with Horizontal(id="sides"):
            yield RecordList(_columns(), identity=lambda row: row.kit.id, search=lambda row: row.kit.name.lower(),
                             empty=EMPTY, records=self.book.kits.rows())  # fmt: skip
            yield Paper()

    def on_mount(self) -> None:
        """The list has the focus."""
        self.kits.focus()
        self.kits.choose(self._first)
        self.call_after_refresh(self._describe)

    @property
    def kits(self) -> RecordList[KitRow]:
        """The list."""
        return self.query_one(RecordList)

    def renew_if_changed(self) -> None:
        """Draw everything anew, for something was taken back."""
        self.renew()

    def renew(self) -> None:
        """Draw everything anew."""
        self.kits.show(self.book.kits.rows())
        self._describe()

    def _describe(self) -> None:
        row, paper = self.kits.chosen_row, self.query_one(Paper)
        width = max(paper.size.width - MARGINS, LEAST)
        paper.show(_words(row, width) if row is not None else Content(""))

    @on(Paper.Widened)
    def _widened(self) -> None:
        self._describe()

    @on(RecordList.Chosen)
    def _chosen(self) -> None:
        self._describe()

    @on(RecordList.Opened)
    def _opened(self) -> None:
        self.action_change()

    # What one does with a kit

    def action_add(self) -> None:
        """Make a kit."""
        self.app.push_screen(FormScreen(kit_task(self.book)), self._done)

    def action_change(self) -> None:
        """Change the kit under the cursor."""
        if self.kits.chosen_id:
            self.app.push_screen(FormScreen(kit_task(self.book, self.kits.chosen_id)), self._done)

    def action_put(self) -> None:
        """Put an item in, found by letters or by its scanned tag."""
        kit_id = self.kits.chosen_id
        if kit_id:
            self.app.push_screen(
                FindDialog(gear_found(self.book)),
                lambda found: self._put(kit_id, found) if found is not None else None,
            )

    def _put(self, kit_id: str, found: Found) -> None:
        self._done(self.gearlog.attempt(lambda: self.book.kits.put(kit_id, found.tag)))

    def action_strike(self) -> None:
        """Take an item out of the kit."""
        row = self.kits.chosen_row
        if row is None or not row.rows:
            self.gearlog.tell("There is nothing in it.")
            return
        choices = [(one.item.id, f"{one.tag}  {one.name}") for one in row.rows]
        kit_id = row.kit.id
        self.app.push_screen(
            ChooseDialog(f"Take what out of {row.kit.tag}?", choices, choices[0][0]),
            lambda item_id: self._take(kit_id, item_id) if item_id else None,
        )

    def _take(self, kit_id: str, item_id: str) -> None:
        self._done(self.gearlog.attempt(lambda: self.book.kits.take(kit_id, item_id)))

    def action_hand(self) -> None:
        """Give the kit and all that is in it to somebody."""
        row = self.kits.chosen_row
        if row is None:
            return
        kit_id = row.kit.id
        late = ", ".join(one.tag for one in _late(row))
        words = "All that is in it is assigned with it, in one change." + (f" OVERDUE in it: {late}." if late else "")
        dialog = ReasonDialog(f"Who gets {row.kit.tag}?", words, hint="climber 1", start=row.kit.assigned_to)
        self.app.push_screen(dialog, lambda to: self._assign(kit_id, to) if to else None)

    def _assign(self, kit_id: str, to: str) -> None:
        self._done(self.gearlog.attempt(lambda: self.book.kits.assign(kit_id, to)))

    def _done(self, record: object) -> None:
        if record is not None:
            self.renew()
            self.kits.choose(str(getattr(record, "id", "")))
            self.gearlog.tell("Saved.")

    def action_back(self) -> None:
        """Back to the gear."""
        if self.is_current:
            self.dismiss(None)


def _columns() -> Sequence[Column[KitRow]]:
    return (
        Column("tag", "tag", lambda row: row.kit.tag, 12, share=1),
        Column("name", "name", lambda row: row.kit.name, 14, share=2),
        Column("to", "assigned to", lambda row: row.kit.assigned_to, 12, share=1, needs=72),
        Column("items", "items", lambda row: str(len(row.rows)), 5, right=True),
        Column("out", "", _trouble, 11, style=lambda _: "bad"),
    )


def _trouble(row: KitRow) -> str:
    """What is wrong with a kit, the gravest, in a word."""
    if row.out:
        return "NOT ALL FIT"
    return "OVERDUE" if _late(row) else ""


def _late(row: KitRow) -> list[GearRow]:
    return [one for one in row.rows if one.due.state in LATE]


def _words(row: KitRow, width: int) -> Content:
    kit = row.kit
    pairs = (("tag", kit.tag), ("assigned to", kit.assigned_to), ("kept at", kit.kept_at), ("notes", kit.notes))
    inside = [(one.tag, _standing(one), one.name) for one in row.rows]
    return joined(
        [
            *prose(kit.name, width, "bold"),
            *facts(pairs, width),
            *(heading("Must not be used") if row.out else ()),
            *(line for why in row.out for line in prose(why, width, "$bad")),
            *heading("In it"),
            *(table(inside, (TAG, DUE), width) or prose("Nothing yet. + puts an item in.", width, "$quiet")),
        ]
    )


def _standing(row: GearRow) -> str:
    """When an item is due, or where it stands when it is out of service."""
    return due_words(row) if row.status is Status.IN_SERVICE else label(row.status)
