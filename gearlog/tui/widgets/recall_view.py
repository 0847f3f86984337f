"""What worked last time, as lines: summed up for this rope and for like ropes, then each match and why it is one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from gearlog.domain.vocabulary import End, Unit, label
from gearlog.recall import Bias, Match, Recall, Summary
from gearlog.reports.recalled_words import interval, outcomes
from gearlog.reports.words import Tape
from gearlog.services.correcting import SHORTENING
from gearlog.tui.widgets.learn_view import counted, why_no_mean
from gearlog.tui.widgets.lines import BLANK, Line, Tone, heading, paragraph
from gearlog.units import showing

LESSONS = "On this page, l tells what they teach, and d takes a correction that they offer."
MOST_MATCHES = 20  # nobody reads on; the diary holds them all
FACT_WIDTH = 14  # cells; the longest name of a fact and two spaces
SAME_MM = 0.0005  # metres; less than this rounds to 0 mm and no tape shows it


@dataclass(frozen=True)
class RecallPage:
    """The page of what worked last time.

    Attributes:
        recall: what the diary answers.
        unit: how lengths are written.
        tape_parts: parts of an inch on the user's tape.
    """

    recall: Recall
    unit: Unit = Unit.METRIC
    tape_parts: int = 16

    def lines(self, width: int) -> tuple[Line, ...]:
        """The page for a width in cells."""
        if not self.recall.matches:
            return _nothing(width)
        shown = self.recall.matches[:MOST_MATCHES]
        return (
            *self._summaries(width)[1:],
            BLANK,
            *paragraph(LESSONS, width, tone=Tone.MUTED),
            *heading(f"The splices that match, the most alike first ({_count(len(shown), self.recall)})"),
            *(line for match in shown for line in self._match(match, width)),
        )

    def _summaries(self, width: int) -> tuple[Line, ...]:
        here, all_of_them = self.recall.same_rope, self.recall.summary
        in_this = self._summary("Last time in this rope", here, width) if here else ()
        if here and here.made == all_of_them.made:
            return in_this
        return (*in_this, *self._summary("Last time in this rope and in like ropes", all_of_them, width))

    def one_line(self) -> str:
        """The sum in a few words, for where there is no room for more."""
        summary = self.recall.same_rope or self.recall.summary
        if not summary.made:
            return "none like it in the diary yet"
        where = "in this rope" if self.recall.same_rope else summary.scope
        parts = [f"{where}: {summary.made} made", f"{summary.good} good", _minutes(summary), self._short_bias(summary)]
        return ", ".join(filter(None, parts))

    def _summary(self, title: str, summary: Summary, width: int) -> tuple[Line, ...]:
        facts = (
            ("which", summary.scope if summary is not self.recall.same_rope else ""),
            ("made", ", ".join((f"{summary.made} made", *outcomes(summary)))),
            ("time", _minutes(summary) or "not noted"),
            ("tools", counted(summary.tools) or "none noted"),
            ("difficulties", counted(summary.difficulties) or "none noted"),
            ("eye", self._bias(summary) or why_no_mean(summary.eyes, "finished eye")),
            ("shortening", self._shortening(summary)),
        )
        told = [(name, words) for name, words in facts if words]
        body = [line for name, words in told for line in paragraph(words, width, first=name.ljust(FACT_WIDTH))]
        return (*heading(title), *body)

    def _bias(self, summary: Summary) -> str:
        bias = summary.eye_bias
        if bias is None:
            return ""
        tape = Tape(self.unit is Unit.IMPERIAL, self.tape_parts)
        return f"{tape.longer(bias.mean_m)} than marked in the mean of {bias.n}, {interval(bias, tape)}"

    def _shortening(self, summary: Summary) -> str:
        bias = summary.shortening_bias
        if bias is None:
            return ""
        tape = Tape(self.unit is Unit.IMPERIAL, self.tape_parts)
        by = tape.longer(bias.mean_m, SHORTENING.ways)
        return f"{by} than reckoned in the mean of {bias.n}, {interval(bias, tape, SHORTENING.ways)}"

    def _short_bias(self, summary: Summary) -> str:
        bias = summary.eye_bias
        return "" if bias is None else f"eye {self._mean(bias)} (n {bias.n})"

    def _mean(self, bias: Bias) -> str:
        if abs(bias.mean_m) < SAME_MM:
            return "as marked"
        return f"{self._length(abs(bias.mean_m))} {'longer' if bias.mean_m > 0 else 'shorter'}"

    def _length(self, metres: float) -> str:
        return showing.length(metres, imperial=self.unit is Unit.IMPERIAL, parts=self.tape_parts)

    def _match(self, match: Match, width: int) -> Iterator[Line]:
        splice = match.splice
        end = "between the ends" if splice.end is End.BETWEEN else f"end {splice.end.value}"
        rope = f"{match.rope.tag}, {end}" if match.rope else "a rope no longer in the log"
        yield BLANK
        yield from paragraph(f"{splice.made_on.text}  {rope}: {label(splice.outcome)}", width, tone=Tone.STRONG)
        for name, words in (
            ("because", "; ".join(match.why)),
            ("took", _took(match)),
            ("tools", ", ".join(splice.tools)),
            ("eye", self._eye(match)),
            ("hard was", ", ".join([*map(label, splice.difficulties), *filter(None, [splice.difficulty_words])])),
            ("remarks", splice.notes),
        ):
            if words:
                yield from paragraph(words, width, first="  " + name.ljust(FACT_WIDTH - 2))

    def _eye(self, match: Match) -> str:
        finished = match.splice.finished_eye
        planned = match.splice.plan.inputs.eye_m if match.splice.plan else None
        if finished is None:
            return ""
        return f"{finished.text} finished" + ("" if planned is None else f", {self._length(planned)} planned")


def _nothing(width: int) -> tuple[Line, ...]:
    words = (
        "Nothing like it is in the diary yet. Once a splice in this rope or a like one is recorded, "
        "this page tells how it came out, how long it took and with which tools."
    )
    return paragraph(words, width)


def _count(shown: int, recall: Recall) -> str:
    total = len(recall.matches)
    return f"{total}" if shown == total else f"{shown} of {total}"


def _minutes(summary: Summary) -> str:
    if summary.median_minutes is None:
        return ""
    return f"median {summary.median_minutes:g} min of {summary.timed} timed"


def _took(match: Match) -> str:
    minutes = match.splice.minutes
    return "" if minutes is None else f"{minutes} min"
