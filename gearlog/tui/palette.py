"""The command palette: every key of the present screen by its words, to be found by typing some of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gearlog.tui.keys import EVERYWHERE, Key, key, keys_of

if TYPE_CHECKING:
    from gearlog.tui.app import GearlogApp
    from gearlog.tui.screens.base import GearlogScreen

SHOWN_TWICE = frozenset({"help-typing", "find-typing"})  # the same actions as other rows
FORM_SCREEN = "form-screen"
WORDS = 19  # cells of the words before their sentence


def offered(place: str) -> tuple[Key, ...]:
    """What can be done on a screen whose keys are those of ``place``; its own first, then what works everywhere."""
    own = keys_of(place, *(("form",) if place == FORM_SCREEN else ()))
    everywhere = tuple(row for row in keys_of(EVERYWHERE) if row not in own)
    return tuple(row for row in (*own, *everywhere) if row.id not in SHOWN_TWICE)


def show_palette(app: GearlogApp, screen: GearlogScreen[object]) -> None:
    """Let the user choose, then do it."""
    from gearlog.tui.dialogs.choose import ChooseDialog

    def run(name: str | None) -> None:
        if name is not None:
            row = key(name)
            namespace = app if EVERYWHERE in row.where else _owner(screen, row)
            app.call_later(app.run_action, row.action or row.id.replace("-", "_"), namespace)

    choices = [(row.id, f"{row.words:<{WORDS}}{row.tip}  ({row.shown})") for row in offered(screen.keys_place)]
    app.push_screen(ChooseDialog("What do you want to do?", choices, choices[0][0]), run)


def _owner(screen: GearlogScreen[object], row: Key) -> GearlogScreen[object] | object:
    """The screen, or its form for a key of forms."""
    if "form" not in row.where or screen.keys_place in row.where:
        return screen
    from gearlog.tui.widgets.form import FormView

    return screen.query_one(FormView)
