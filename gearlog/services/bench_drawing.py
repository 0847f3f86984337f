"""The small drawing of a step at the bench."""

from __future__ import annotations

from gearlog.services.bench_views import BenchView


def drawn(view: BenchView, width: int) -> tuple[str, ...]:
    """The rope with the marks and stretches that the step touches, ``width`` columns wide; nothing at the end."""
    from gearlog.splicing.pictures.step import touched

    if view.step is None:
        return ()
    return touched(view.plan, view.step.marks, width)
