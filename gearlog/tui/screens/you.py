"""Who uses the log, and which rule sets say when gear is due: a form over the settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gearlog.services.forms import Field, FieldKind
from gearlog.tui.screens.form_screen import Task
from gearlog.units.visible import visible

if TYPE_CHECKING:
    from gearlog.services.book import Book

DRAFT = "you"
COMMA = ", "


def you_task(book: Book, place: str) -> Task:
    """The user's name and the rule sets; what is chosen holds at once."""
    own = [one for one in book.schedule.sets() if one.own]
    choices = tuple((one.id, f"{one.title} ({one.region})") for one in book.schedule.sets() if not one.own)
    fields = (
        Field("user", "your name or initials", hint="put into new records", group="You"),
        Field("rule_sets", "rule sets that hold", FieldKind.CHOICES, choices, group="When gear is due"),
    )

    def save(form: dict[str, str]) -> str:
        book.schedule.choose([word.strip() for word in form["rule_sets"].split(",") if word.strip()])
        book.keep(user=form["user"].strip())
        return "kept"

    told = [f"Your own file {visible(one.title)} holds too." for one in own]
    return Task(
        place=place,
        title="You and your rules",
        fields=fields,
        start={"user": book.settings.user, "rule_sets": COMMA.join(book.settings.rule_sets)},
        draft=DRAFT,
        save=save,
        told="  ".join([*told, *map(visible, book.schedule.faults())]),
        help="Of all rules that apply to an item the earliest date counts. With no rule set chosen an examination is "
        "due every six months: our default, on the safe side. A look before each use is asked always. Rules of your "
        "own are files in the folder rules of the log.",
    )
