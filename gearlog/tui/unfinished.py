"""What is offered at the start: a splice that was left at the bench. Loads nothing that the first picture can spare."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gearlog.services.bench_views import BenchView


def unfinished(views: Sequence[BenchView]) -> Iterator[str]:
    """One line for what was left at the bench, the one last worked on named; none where nothing was."""
    if views:
        more = f" and {len(views) - 1} more" if len(views) > 1 else ""
        rope = views[0].tag or views[0].plan.inputs.rope.name or "a rope in no log"
        yield f"Unfinished at the bench: {rope}, {views[0].plan.method_title}{more}. 5 or F6 goes on with it."
