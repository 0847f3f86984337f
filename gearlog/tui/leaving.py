"""Leaving with something typed that cannot be kept with the log: it is told, and put into a file elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from gearlog.reports.words import plural
from gearlog.services.unsaved import put_unsaved, usual_places
from gearlog.tui.dialogs.confirm import ConfirmDialog
from gearlog.tui.memory import Memory
from gearlog.units.visible import visible

if TYPE_CHECKING:
    from gearlog.tui.app import GearlogApp

Forms = dict[str, dict[str, str]]


class LeaveDialog(ConfirmDialog):
    """Asks whether to leave; a second copy is refused."""


def leave(app: GearlogApp) -> None:
    """Leave; where something typed cannot be kept, ask, put it into a file and leave."""
    forms = _at_stake(app)
    if not forms:
        app.exit()
    elif not isinstance(app.screen, LeaveDialog):
        words = (
            f"What was typed in {plural(len(forms), 'form')} is not saved and cannot be kept with the log: "
            f"{app.memory.trouble}. Yes puts it into a text file in {usual_places()[0]} and leaves."
        )
        app.push_screen(LeaveDialog("Leave?", words), lambda sure: _put_and_leave(app, forms) if sure else None)


def put_what_is_left(app: GearlogApp) -> None:
    """Put what is still at stake into a file, where one left without being asked."""
    if forms := _at_stake(app):
        _put_elsewhere(app, forms)


def _at_stake(app: GearlogApp) -> Forms:
    """Forms that were typed into and cannot be kept with the log; where it is only read, a plan is no loss."""
    memory: Memory | None = getattr(app, "memory", None)  # none while the log is being opened
    if memory is None:
        return {}
    return {name: form for name, form in memory.unkept.items() if not memory.only_reads or name not in app.MODES}


def _put_and_leave(app: GearlogApp, forms: Forms) -> None:
    if _put_elsewhere(app, forms):
        return
    words = "What was typed could be written nowhere: it is lost when you leave. Make room on the disk first."
    app.push_screen(LeaveDialog("Leave all the same?", words), lambda sure: app.exit() if sure else None)


def _put_elsewhere(app: GearlogApp, forms: Forms) -> bool:
    """Put forms into a file outside the log and leave, saying where that is; False where it can be nowhere."""
    path = put_unsaved(app.book, forms)
    if path is not None:
        app.memory.give_up()
        app.exit(message=Text(f"gearlog: what was typed and not saved is in {visible(str(path))}"))
    return path is not None
