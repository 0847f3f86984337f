"""What was planned beside what was measured."""

from __future__ import annotations

from gearlog.domain.plan import Mark
from gearlog.domain.splice import Splice
from gearlog.services.views import Compared
from gearlog.units.measure import Length


def compared(splice: Splice) -> tuple[Compared, ...]:
    """Each mark of the splice's plan in order, where the tape was to show it; none for a splice made without a plan."""
    measured = {one.mark: one.at for one in splice.measured}
    marks = splice.plan.marks if splice.plan is not None else ()
    return tuple(_compared(mark, measured.get(mark.id)) for mark in marks)


def _compared(mark: Mark, at: Length | None) -> Compared:
    return Compared(
        mark=mark.letter,
        mark_id=mark.id,
        name=mark.name,
        planned_m=mark.shown_m,
        measured=at,
        difference_m=None if at is None else at.si - mark.shown_m,
    )
