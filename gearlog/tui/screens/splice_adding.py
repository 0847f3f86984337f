"""Recording a splice made without the bench: rope, end and method by a few letters, the rest as last time."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from gearlog.domain.vocabulary import End, EndState
from gearlog.services.splice_forms import OTHER_METHOD
from gearlog.services.views import Card
from gearlog.tui.dialogs.choose import Choice, ChooseDialog
from gearlog.tui.dialogs.rope import RopeDialog
from gearlog.tui.screens.record import added
from gearlog.tui.widgets.planning import end_choices, methods_to_choose, rope_choices

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.tui.screens.base import MainScreen

LAST_TIME = " (as last time)"
BETWEEN = (End.BETWEEN.value, "between: somewhere along the rope")


def ask_what_was_made(screen: MainScreen, done: Callable[[str], None], *, start_on: str = "") -> None:
    """Ask rope, end and method one after the other; ``done`` gets the draft's name of the form to open.

    ``start_on`` is the id of the rope to begin with.
    """
    rows = screen.book.gear.rows()
    choices = rope_choices(rows)
    if not choices:
        screen.gearlog.tell("No rope is in the log yet: press 2, then a, and add it first.", "warning")
        return
    tags = {row.tag.casefold(): row.item.id for row in rows if row.item.rope is not None}

    def rope_taken(item_id: str | None) -> None:
        if item_id:
            _ask_end(screen, screen.book.gear.card(item_id), done)

    screen.app.push_screen(RopeDialog(choices, tags, start_on), rope_taken)


def _ask_end(screen: MainScreen, card: Card, done: Callable[[str], None]) -> None:
    def taken(end: str | None) -> None:
        if end:
            _ask_method(screen, card, end, done)

    choices = (*end_choices(card), BETWEEN)
    screen.app.push_screen(ChooseDialog(f"Which end of {card.item.tag}?", choices, _free_end(card)), taken)


def _free_end(card: Card) -> str:
    """The first end that is not spliced yet, else the first."""
    free = [end.value for end, view in card.ends.items() if view.state is not EndState.SPLICED]
    return free[0] if free else End.A.value


def _ask_method(screen: MainScreen, card: Card, end: str, done: Callable[[str], None]) -> None:
    tag = card.item.tag
    last = screen.book.diary.form_as_last(tag, end)
    chosen = last.form["method"] if last.source else ""
    choices, about = _methods(screen.book, card, end, chosen)

    def taken(method: str | None) -> None:
        if method:
            done(added(tag, end, method))

    screen.app.push_screen(ChooseDialog("By which method?", choices, chosen, about=about), taken)


def _methods(book: Book, card: Card, end: str, last: str) -> tuple[tuple[Choice, ...], dict[str, str]]:
    """The methods, that of last time first, and what each does."""
    known = methods_to_choose(book.planner.form_for(card.item.id, end if end != End.BETWEEN else ""), book.planner)
    choices = [*known.choices, OTHER_METHOD]
    if last and last not in dict(choices):
        choices.append((last, last))
    marked = [(value, f"{words}{LAST_TIME}" if value == last else words) for value, words in choices]
    marked.sort(key=lambda choice: choice[0] != last)
    return tuple(marked), dict(known.about)
