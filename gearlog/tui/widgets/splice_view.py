"""A splice of the diary as lines: what was made, planned against measured, what was hard, older versions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, StrengthTest
from gearlog.domain.vocabulary import End, label
from gearlog.reports.words import Tape, percent, plural
from gearlog.services.bench_verdicts import verdict_of
from gearlog.services.views import Compared
from gearlog.tui.widgets.lines import BLANK, Column, Line, Tone, heading, paragraph, table
from gearlog.tui.widgets.splice_versions import corrected_words, version_lines
from gearlog.units.measure import Length

FACT_WIDTH = 16  # cells; the longest name of a fact and two spaces
NOT_NOTED = "-"
CORRECTED = 2  # versions of a record that was corrected
METRIC = Tape()


@dataclass(frozen=True, kw_only=True)
class SplicePage:
    """All that the page of one splice is made from.

    Attributes:
        splice: the record.
        rope: the rope's tag and name.
        method: the method's title.
        compared: planned against measured, mark by mark.
        drawing: the plan's drawing, or nothing.
        versions: all versions of the record, newest first.
        versions_shown: whether the earlier ones are shown.
        tags: tags of the ropes that the versions name, by id.
        tests: its tests of strength, newest first.
        mbs_n: the rope's breaking strength (N), or None where it is not known.
        tape: how lengths and forces are written.
    """

    splice: Splice
    rope: str
    method: str
    compared: Sequence[Compared] = ()
    drawing: Sequence[str] = ()
    versions: Sequence[Splice] = ()
    versions_shown: bool = False
    tags: Mapping[str, str] = field(default_factory=dict)
    tests: Sequence[StrengthTest] = ()
    mbs_n: float | None = None
    tape: Tape = METRIC

    def lines(self, width: int) -> tuple[Line, ...]:
        """The page for a width in cells."""
        return (
            *paragraph(f"{self.rope}, {end_words(self.splice)}", width, tone=Tone.HEAD),
            *paragraph(self.method, width),
            BLANK,
            *self._facts(width),
            *self._corrected(width),
            *self._comparison(width),
            *strength_lines(self.tests, self.mbs_n, self.tape, width),
            *self._drawing(),
        )

    def _facts(self, width: int) -> Iterator[Line]:
        for name, words in facts(self.splice):
            if words:
                yield from paragraph(words, width, first=name.ljust(FACT_WIDTH))

    def _comparison(self, width: int) -> tuple[Line, ...]:
        columns = (Column("mark"), Column("planned", right=True), Column("measured", right=True),
                   Column("difference", right=True), Column("what"))  # fmt: skip
        rows = [self._row(each) for each in self.compared]
        rows += self._finished_rows()
        if not rows:
            return (
                *heading("Planned against measured"),
                *paragraph("made without a plan: nothing to compare", width),
            )
        return (*heading("Planned against measured"), *table(columns, rows, width))

    def _row(self, each: Compared) -> tuple[str, ...]:
        measured = each.measured.text if each.measured else NOT_NOTED
        difference = self._difference(each.difference_m)
        return (each.mark, self._length(each.planned_m), measured, difference, each.name + self._judged(each))

    def _judged(self, each: Compared) -> str:
        """That a mark was off by more than its method allows."""
        plan = self.splice.plan
        if each.measured is None or plan is None:
            return ""
        return ", TOO FAR OFF" if verdict_of(each.mark_id, each.measured, plan).within is False else ""

    def _finished_rows(self) -> list[tuple[str, ...]]:
        splice, plan = self.splice, self.splice.plan
        if plan is None:
            return []
        wanted = plan.finished.finished_m if plan.finished else None
        rows = (
            ("eye", plan.inputs.eye_m, splice.finished_eye, "inside length, finished"),
            ("all", wanted, splice.finished_length, plan.finished.what if plan.finished else ""),
        )
        return [self._finished_row(*row) for row in rows if row[1] is not None]

    def _finished_row(self, name: str, planned: float | None, came_out: Length | None, what: str) -> tuple[str, ...]:
        measured = came_out.text if came_out else NOT_NOTED
        difference = came_out.si - planned if came_out and planned is not None else None
        return (name, self._length(planned), measured, self._difference(difference), what)

    def _length(self, metres: float | None) -> str:
        return NOT_NOTED if metres is None else self.tape.length(metres)

    def _difference(self, metres: float | None) -> str:
        if metres is None:
            return NOT_NOTED
        size = self._length(abs(metres))
        if not any(sign in "123456789" for sign in size):
            return "none"
        return f"{size} {'over' if metres > 0 else 'short'}"

    def _drawing(self) -> tuple[Line, ...]:
        if not self.drawing:
            return ()
        return (*heading("As it was planned"), *(Line(row) for row in self.drawing))

    def _corrected(self, width: int) -> Iterator[Line]:
        """That it was corrected, or the earlier versions themselves: before all else that follows from the record."""
        if len(self.versions) < CORRECTED:
            return
        if self.versions_shown:
            told = {one.id: (*self._where(one), *facts(one), *sizes(one)) for one in self.versions}
            yield from version_lines(self.versions, told, width, FACT_WIDTH)
        else:
            yield from paragraph(corrected_words(self.versions), width, first="corrected".ljust(FACT_WIDTH))

    def _where(self, one: Splice) -> tuple[tuple[str, str], ...]:
        rope = self.tags.get(one.rope_id, "")
        return (("where", f"{rope}, {end_words(one)}"), ("method", one.method))


def strength_lines(tests: Sequence[StrengthTest], mbs_n: float | None, tape: Tape, width: int) -> tuple[Line, ...]:
    """The tests of one splice; none are said to be none."""
    columns = (Column("tested on"), Column("load"), Column("force", right=True), Column("what"))
    rows = [(test.tested_on.text, label(test.kind), test.force.text, _tested(test, mbs_n)) for test in tests]
    none = paragraph("none; t enters one", width)
    return (*heading("Tests of strength"), *(table(columns, rows, width) if rows else none))


def _tested(test: StrengthTest, mbs_n: float | None) -> str:
    """How it came out, against the rope's stated strength where that is known."""
    share = f"{percent(round(test.force.si / mbs_n, 3))} of the rope's MBS" if mbs_n else "the rope's MBS is not known"
    end = "held" if test.failed_at is FailedAt.NOWHERE else f"failed: {label(test.failed_at)}"
    pin = f"pin {test.pin}" if test.pin else ""
    by = f"by {test.tested_by}" if test.tested_by else ""
    return ", ".join(filter(None, (end, share, pin, test.place, test.machine, by, test.notes)))


def end_words(splice: Splice) -> str:
    """Which end, or where between them."""
    if splice.end is End.BETWEEN:
        return f"{splice.position.text if splice.position else 'somewhere'} from end A"
    return f"end {splice.end.value}"


def facts(splice: Splice) -> tuple[tuple[str, str], ...]:
    """What the record says, name by name; empty words where nothing was noted."""
    return (
        ("made on", splice.made_on.text),
        ("outcome", label(splice.outcome)),
        ("finished eye", splice.finished_eye.text if splice.finished_eye else ""),
        ("minutes", "" if splice.minutes is None else str(splice.minutes)),
        ("condition", label(splice.condition)),
        ("tools", ", ".join(splice.tools)),
        ("finish", ", ".join(map(label, splice.finish))),
        ("made by", splice.made_by),
        ("checked by", splice.checked_by),
        ("difficulties", ", ".join(map(label, splice.difficulties))),
        ("in own words", splice.difficulty_words),
        ("ease", "" if splice.ease is None else f"{splice.ease} of 5"),
        ("photos", f"{plural(len(splice.photos), 'photo')}; V shows them" if splice.photos else ""),
        ("remarks", splice.notes),
    )


def sizes(splice: Splice) -> tuple[tuple[str, str], ...]:
    """What the tape said: the finished length, and each mark by its letter."""
    letters = {mark.id: mark.letter for mark in splice.plan.marks} if splice.plan else {}
    length = splice.finished_length.text if splice.finished_length else ""
    marks = ((f"mark {letters.get(each.mark, each.mark)}", each.at.text) for each in splice.measured)
    return (("finished length", length), *marks)
