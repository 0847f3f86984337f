"""From a plan to the bench: the end is chosen where the plan names none, an unfinished splice there is gone on with."""

from __future__ import annotations

from gearlog.domain.plan import Plan
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.screens.base import MainScreen
from gearlog.tui.widgets.bench_words import step_words
from gearlog.tui.widgets.planning import end_choices


def take_to_bench(screen: MainScreen, plan: Plan) -> None:
    """Go to the bench with this plan; a rope of the log is asked for its end."""
    inputs = plan.inputs
    if inputs.end or not inputs.rope_id or plan.stopped:
        _start(screen, plan, inputs.end)
        return
    card = screen.book.gear.card(inputs.rope_id)
    choices = end_choices(card)
    question = f"At which end of {card.item.tag}?"
    screen.app.push_screen(
        ChooseDialog(question, choices, choices[0][0]),
        lambda end: _start(screen, plan, end) if end else None,
    )


def _start(screen: MainScreen, plan: Plan, end: str) -> None:
    app, bench = screen.gearlog, screen.book.bench
    there = bench.open_at(plan.inputs.rope_id, end)
    if there is not None:
        app.go("bench", chosen=there.id)
        app.tell(
            f"This end is at the bench already, {step_words(there)}: go on with it, or give it up with X.", "warning"
        )
        return
    begun = app.attempt(lambda: bench.start(plan, end=end))
    if begun is not None:
        app.go("bench", chosen=begun.id)
