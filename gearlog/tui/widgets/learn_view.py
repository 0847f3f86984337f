"""What splices like one teach, as lines: how they came out, with what, what was hard, by how much eyes are off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gearlog.domain.recalled import Bias, Counted, Noted, Recall, StrengthFound, Summary
from gearlog.reports.pictures import Picture
from gearlog.reports.recalled_words import interval, outcomes, share
from gearlog.reports.words import LONGER, Tape, percent, plural
from gearlog.services.correcting import SHORTENING
from gearlog.tui.widgets.lines import BLANK, Line, Tone, heading, paragraph

FACT = 14  # cells for the name of a fact
MOST_NOTES = 3  # words noted against one difficulty; the records hold the others


@dataclass(frozen=True)
class Offered:
    """One correction on the page.

    Attributes:
        of: what is corrected: the eye, or the shortening.
        words: the offer, or why there is none.
        there_is_one: whether something is offered.
        taken: the correction that the plan holds now, as typed, or empty.
        by_key: whether a key takes it here; a page without a plan has none.
    """

    of: str
    words: str
    there_is_one: bool
    taken: str = ""
    by_key: bool = False


@dataclass(frozen=True)
class LearnPage:
    """The page.

    Attributes:
        recall: what the diary answers.
        offered: the corrections.
        pictures: small pictures for a width, made when it is known.
        tape: how lengths and forces are written.
    """

    recall: Recall
    offered: Sequence[Offered]
    pictures: Sequence[Picture]
    tape: Tape

    def lines(self, width: int) -> tuple[Line, ...]:
        """The page for a width in cells."""
        summary = self.recall.summary
        if not summary.made:
            return (BLANK, *paragraph("Nothing like it is in the diary yet.", width))
        return (
            BLANK,
            *_facts(self._how(summary), width),
            *self._tools(summary, width),
            *self._difficulties(summary, width),
            *self._sizes(summary, width),
            *(line for offered in self.offered for line in correction(offered, width)),
            *self._groups(width),
            *self._strength(width),
            *self._pictures(width),
        )

    def _how(self, summary: Summary) -> Iterator[tuple[str, str]]:
        yield "which", f"{plural(summary.made, 'splice')}: {summary.scope}"
        yield "came out", ", ".join(outcomes(summary))
        yield "success", success(summary)
        minutes = "not told: no time was written down, or several methods are together"
        if summary.median_minutes is not None:
            minutes = f"median {summary.median_minutes:g} minutes, n {summary.timed}"
        yield "time", minutes

    def _tools(self, summary: Summary, width: int) -> tuple[Line, ...]:
        rows = (
            ("in good ones", counted(summary.tools) or "none noted"),
            ("in others", counted(summary.tools_remade) or "none noted"),
        )
        return (*heading("Tools: in good ones, and in those remade, failed or given up"), *_facts(iter(rows), width))

    def _difficulties(self, summary: Summary, width: int) -> tuple[Line, ...]:
        lines = [line for noted in summary.noted for line in _noted(noted, width)]
        return (*heading("What was hard, and what was noted against it"), *(lines or paragraph("nothing noted", width)))

    def _sizes(self, summary: Summary, width: int) -> tuple[Line, ...]:
        rows = (
            ("eye", self.bias(summary.eye_bias, "than marked", summary.eyes, "finished eye")),
            ("shortening", self._shortening(summary)),
        )
        return (*heading("How sizes came out, in the mean"), *_facts(iter(rows), width))

    def bias(self, bias: Bias | None, than: str, n: int, what: str, ways: tuple[str, str] = LONGER) -> str:
        """A mean with its interval and n; why there is none where it cannot be told."""
        if bias is None:
            return why_no_mean(n, what)
        return f"{self.tape.longer(bias.mean_m, ways)} {than}, {interval(bias, self.tape, ways)}, n {bias.n}"

    def _shortening(self, summary: Summary) -> str:
        return self.bias(
            summary.shortening_bias, "than reckoned", summary.lengths, "finished length", ways=SHORTENING.ways
        )

    def _groups(self, width: int) -> tuple[Line, ...]:
        if not self.recall.groups:
            return ()
        rows = (
            (f"{group.method} in {group.construction or 'ropes of unknown make'}", _short(group.summary))
            for group in self.recall.groups
        )
        lines = [line for name, words in rows for line in paragraph(words, width, first=f"{name}: ")]
        return (*heading("Each method and construction by itself"), *lines)

    def _strength(self, width: int) -> tuple[Line, ...]:
        found = self.recall.strength
        if found is None or not found.tests:
            return (*heading("Strength"), *paragraph("none of them was tested", width))
        lines = [line for words in strength_words(found, self.tape) for line in paragraph(words, width)]
        return (*heading("Strength"), *lines)

    def _pictures(self, width: int) -> tuple[Line, ...]:
        return tuple(line for picture in self.pictures for line in _picture(picture, width))


def correction(offered: Offered, width: int) -> tuple[Line, ...]:
    """What is offered or taken of one correction, or why nothing is."""
    if offered.taken:
        out = " d takes it out again." if offered.by_key else ""
        body = paragraph(f"TAKEN into the plan: {offered.taken}.{out}", width, tone=Tone.STRONG)
    elif offered.there_is_one:
        way = "d takes it into the plan" if offered.by_key else "in the planner, d takes it into a plan"
        body = paragraph(f"Offered: {offered.words}; {way}.", width, tone=Tone.STRONG)
    else:
        body = paragraph(f"None is offered: {offered.words}.".replace("..", "."), width)
    return (*heading(f"Correction of the {offered.of}"), *body)


def about_lines(about: str, width: int) -> tuple[Line, ...]:
    """Which splices the page is about; this stays in view."""
    return paragraph(f"What they teach: {about}", width, tone=Tone.HEAD)


def success(summary: Summary) -> str:
    """The share of good ones with its interval."""
    if summary.rate is None or summary.rate_interval is None:
        return "not told"
    low, high = (share(edge) for edge in summary.rate_interval)
    return f"{share(summary.rate)} good; with 95 % confidence between {low} and {high}"


def counted(words: Sequence[Counted]) -> str:
    """Words with how often they were written."""
    return ", ".join(f"{each.word} ({each.times})" for each in words)


def strength_words(found: StrengthFound, tape: Tape) -> Iterator[str]:
    """What tests say: the lower bound before the mean, or why there is none."""
    if found.lower_n is not None and found.mean_n is not None and found.k is not None:
        yield (
            f"{percent(found.coverage)} of such splices hold {tape.capacity(found.lower_n)} or more, told with "
            f"{percent(found.confidence)} confidence: the mean, {tape.force(found.mean_n)}, less {found.k:.3f} "
            f"standard deviations of {tape.force(found.deviation_n)}; n {found.n}, {found.scope}"
        )
    else:
        yield f"No bound is told: {found.scope.removeprefix('no bound: ')}."
    if found.failed_at:
        yield f"Failed at: {counted(found.failed_at)}"
    if found.proof_n is not None:
        yield f"{found.proofs} held a proof load, the highest {tape.force(found.proof_n)}"


def why_no_mean(n: int, what: str) -> str:
    """Why no mean is told of ``n`` measured sizes."""
    if n == 0:
        return f"not told: no {what} was measured against a plan"
    if n == 1:
        return f"too few: one {what} was measured against a plan, two are needed"
    return f"not told: the {n} that were measured are of several methods or constructions"


def _facts(rows: Iterator[tuple[str, str]], width: int) -> tuple[Line, ...]:
    return tuple(line for name, words in rows for line in paragraph(words, width, first=name.ljust(FACT)))


def _noted(noted: Noted, width: int) -> Iterator[Line]:
    yield from paragraph(f"{noted.word} ({noted.times})", width)
    for words in noted.notes[:MOST_NOTES]:
        yield from paragraph(words, width, first="    ")


def _short(summary: Summary) -> str:
    minutes = "" if summary.median_minutes is None else f"median {summary.median_minutes:g} min"
    return ", ".join(filter(None, (f"{summary.made} made", f"{summary.good} good", minutes)))


def _picture(picture: Picture, width: int) -> Iterator[Line]:
    yield BLANK
    yield from paragraph(picture.title, width, tone=Tone.HEAD)
    yield from (Line(row) for row in picture.lines)
    yield from paragraph(picture.words, width)
