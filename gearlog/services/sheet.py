"""The sheet of an inspection under way: its lines, which of them were seen, the answers, the findings.

A sheet never changes; each step gives a new one. It goes into a draft and comes back from it, so that closing the lid
loses nothing. The rest can be passed at one stroke only after every line was seen.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Self

import msgspec
from msgspec.structs import replace

from gearlog.domain.inspection import Answer, Finding, InspectionKind, Mark, Severity, Verdict
from gearlog.domain.inspection_rules import verdict_by_rules
from gearlog.domain.record import from_plain, to_plain
from gearlog.errors import Fault, InvalidRecordError, NotFoundError
from gearlog.units.quoting import quoted
from gearlog.upkeep.asking import Line, code_of

DRAFT = "sheet"
"""The field of a draft that holds the sheet."""


LEAST = {Severity.WATCH: Mark.WATCH, Severity.STOP: Mark.FAIL}
"""What a line is answered at least, by the gravest finding under it."""
_GRAVE = {Mark.NOT_APPLICABLE: 0, Mark.PASS: 0, Mark.WATCH: 1, Mark.FAIL: 2}


class Given(msgspec.Struct, frozen=True):
    """An answer and a remark."""

    mark: Mark
    words: str = ""


class _Kept(msgspec.Struct, frozen=True):
    """What a draft keeps of a sheet."""

    item_id: str
    kind: InspectionKind
    seen: tuple[str, ...] = ()
    answers: dict[str, Given] = {}
    findings: tuple[Finding, ...] = ()


class Sheet(msgspec.Struct, frozen=True):
    """One inspection under way.

    Attributes:
        item_id: the item.
        kind: why it is inspected.
        lines: what is asked, in order.
        seen: keys of the lines that were before the inspector's eyes.
        answers: by the line's key.
        findings: what was seen so far.
    """

    item_id: str
    kind: InspectionKind
    lines: tuple[Line, ...]
    seen: frozenset[str] = frozenset()
    answers: Mapping[str, Given] = {}
    findings: tuple[Finding, ...] = ()

    @property
    def unseen(self) -> tuple[Line, ...]:
        """Lines that were not looked at yet."""
        return tuple(line for line in self.lines if line.key not in self.seen)

    @property
    def unanswered(self) -> tuple[Line, ...]:
        """Lines without an answer."""
        return tuple(line for line in self.lines if line.key not in self.answers)

    @property
    def ruled(self) -> Verdict:
        """The verdict that the rules give for the answers and findings so far."""
        return verdict_by_rules(self.given(), self.findings)

    @property
    def code(self) -> str:
        """A code that stands for just these lines."""
        return code_of(self.lines)

    def given(self) -> tuple[Answer, ...]:
        """The answers in the order of the lines, each with what was asked."""
        found = ((line, self.answers.get(line.key)) for line in self.lines)
        return tuple(
            Answer(line=line.key, asked=line.look, mark=one.mark, words=one.words)
            for line, one in found
            if one is not None
        )

    def see(self, key: str) -> Self:
        """The line is before the inspector's eyes; raises NotFoundError."""
        self._line(key)
        return replace(self, seen=self.seen | {key})

    def answer(self, key: str, mark: Mark, words: str = "") -> Self:
        """Answer a line, which is to have seen it; raises NotFoundError."""
        seen = self.see(key)
        return replace(seen, answers={**self.answers, key: Given(mark, words.strip())})

    def clear(self, key: str) -> Self:
        """Take an answer back; the line stays seen."""
        return replace(self, answers={name: one for name, one in self.answers.items() if name != key})

    def pass_rest(self) -> Self:
        """Let every line without an answer pass; raises InvalidRecordError while one was not seen."""
        if self.unseen:
            first = self.unseen[0]
            reason = f"{len(self.unseen)} of {len(self.lines)} were not looked at yet, first: {first.look}"
            raise InvalidRecordError((Fault("lines", reason, "look at each of them, then let the rest pass"),))
        rest = {line.key: Given(Mark.PASS) for line in self.unanswered}
        return replace(self, answers={**self.answers, **rest})

    def with_finding(self, finding: Finding) -> Self:
        """One finding more, or changed: a finding of the same id is replaced.

        Its line does not pass any more: what is to be watched is answered so at least, what stops fails.
        """
        kept = tuple(one for one in self.findings if one.id != finding.id)
        found, least = replace(self, findings=(*kept, finding)), LEAST.get(finding.severity)
        given = self.answers.get(finding.line)
        if least is None or finding.line not in _keys(self.lines) or (given and _GRAVE[given.mark] >= _GRAVE[least]):
            return found
        return found.answer(finding.line, least, given.words if given else "")

    def without_finding(self, finding_id: str) -> Self:
        """One finding less."""
        return replace(self, findings=tuple(one for one in self.findings if one.id != finding_id))

    def draft(self) -> dict[str, str]:
        """The sheet as a draft keeps it."""
        kept = _Kept(self.item_id, self.kind, tuple(sorted(self.seen)), dict(self.answers), self.findings)
        return {DRAFT: msgspec.json.encode(to_plain(kept)).decode()}

    def _line(self, key: str) -> Line:
        for line in self.lines:
            if line.key == key:
                return line
        raise NotFoundError(f"{quoted(key)} is no line of this inspection")


def kept_in(draft: Mapping[str, str]) -> tuple[str, InspectionKind] | None:
    """Which item a draft's sheet is of, and its kind; None where it holds none that reads."""
    kept = _kept(draft)
    return (kept.item_id, kept.kind) if kept is not None else None


def restored(sheet: Sheet, draft: Mapping[str, str]) -> Sheet:
    """An empty sheet with what a draft kept for it; lines that are not asked any more fall away."""
    kept = _kept(draft)
    if kept is None or (kept.item_id, kept.kind) != (sheet.item_id, sheet.kind):
        return sheet
    keys = _keys(sheet.lines)
    return replace(
        sheet,
        seen=frozenset(kept.seen) & keys,
        answers={key: one for key, one in kept.answers.items() if key in keys},
        findings=kept.findings,
    )


def _keys(lines: Sequence[Line]) -> frozenset[str]:
    return frozenset(line.key for line in lines)


def _kept(draft: Mapping[str, str]) -> _Kept | None:
    try:
        return from_plain(_Kept, msgspec.json.decode(draft.get(DRAFT, "").encode()))
    except (ValueError, msgspec.MsgspecError, InvalidRecordError):
        return None
