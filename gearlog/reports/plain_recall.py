"""What worked last time as plain lines, one fact a line."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.recalled import Bias, Match, Recall, StrengthFound, Summary
from gearlog.domain.vocabulary import End, label
from gearlog.reports.recalled_words import interval, outcomes, share
from gearlog.reports.words import Tape, percent, plural
from gearlog.units.visible import visible

MOST_MATCHES = 10  # more than these nobody reads before a splice


def recall_lines(
    recall: Recall, *, imperial: bool = False, parts: int = 16, most: int = MOST_MATCHES
) -> tuple[str, ...]:
    """The summary, then the ``most`` alike splices with the reason for each match."""
    tape = Tape(imperial, parts)
    return tuple(visible(line) for line in _lines(recall, tape, most))


def _lines(recall: Recall, tape: Tape, most: int) -> Iterator[str]:
    if not recall.matches:
        yield "Nothing like it is in the diary yet"
        return
    if recall.same_rope is not None:
        yield from _summary("In this rope", recall.same_rope, tape)
    yield from _summary("In all like ropes", recall.summary, tape)
    for group in recall.groups:
        heading = f"Only {group.method} in {group.construction or 'ropes of unknown make'}"
        yield from _summary(heading, group.summary, tape)
    if recall.strength is not None:
        yield from _strength(recall.strength, tape)
    for number, match in enumerate(recall.matches[:most], 1):
        yield from _match(number, match, tape)
    left = len(recall.matches) - most
    if left > 0:
        yield f"Not shown: {left} less alike"


def _summary(heading: str, summary: Summary, tape: Tape) -> Iterator[str]:
    yield f"{heading}: {summary.made} made ({summary.scope})"
    if not summary.made:
        return
    yield f"{heading}: {', '.join(outcomes(summary))}"
    if summary.rate is not None and summary.rate_interval is not None:
        low, high = (share(edge) for edge in summary.rate_interval)
        yield f"{heading}: {share(summary.rate)} good, 95 % interval from {low} to {high}"
    if summary.median_minutes is not None:
        timed = plural(summary.timed, "splice")
        yield f"{heading}: median {summary.median_minutes:g} minutes, of {timed} whose time was written down"
    if summary.eye_bias is not None:
        yield f"{heading}: {_bias('the finished eye came out', 'than marked', summary.eye_bias, tape)}"
    if summary.shortening_bias is not None:
        more = _bias("the shortening over the bury was", "than reckoned", summary.shortening_bias, tape)
        yield f"{heading}: {more}; a plan takes it as its shortening's correction"
    yield from _worked_with(heading, summary)


def _worked_with(heading: str, summary: Summary) -> Iterator[str]:
    """Tools of the good and of the others, difficulties and what was noted against them."""
    for tool in summary.tools:
        yield f"{heading}: {tool.word} was used in {tool.times} good"
    for tool in summary.tools_remade:
        yield f"{heading}: {tool.word} was used in {tool.times} remade, failed or given up"
    noted = {one.word: one.notes for one in summary.noted}
    for difficulty in summary.difficulties:
        yield f"{heading}: {difficulty.word}, met in {difficulty.times}"
        for words in noted.get(difficulty.word, ()):
            yield f"{heading}: against {difficulty.word} was noted: {in_one_line(words)}"


def _strength(found: StrengthFound, tape: Tape) -> Iterator[str]:
    """Nothing where nothing was tested; the mean never without the bound."""
    if not found.tests:
        return
    yield f"Strength: {found.scope}"
    if found.mean_n is not None and found.lower_n is not None and found.deviation_n is not None:
        bound = f"{percent(found.coverage)} of such splices hold {tape.capacity(found.lower_n)}"
        yield f"Strength: {bound}, with {percent(found.confidence)} confidence (mean less {found.k:.3f} deviations)"
        spread = f"standard deviation {tape.force(found.deviation_n)}"
        yield f"Strength: mean {tape.force(found.mean_n)}, {spread}, n {found.n}"
    for failed in found.failed_at:
        yield f"Strength: {failed.times} failed at: {failed.word}"
    if found.proof_n is not None:
        yield f"Strength: {found.proofs} held a proof load, the highest {tape.force(found.proof_n)}"


def in_one_line(words: str) -> str:
    """What was written in several lines, in one."""
    return "; ".join(filter(None, map(str.strip, words.split("\n"))))


def _bias(what: str, than: str, bias: Bias, tape: Tape) -> str:
    return f"{what} {tape.longer(bias.mean_m)} {than} on average, {interval(bias, tape)}, n {bias.n}"


def _match(number: int, match: Match, tape: Tape) -> Iterator[str]:
    splice = match.splice
    rope = f"{match.rope.tag} ({match.rope.name})" if match.rope else "a rope no longer in the log"
    end = f"at {splice.position or 'a place'} from end A" if splice.end is End.BETWEEN else f"end {splice.end}"
    yield f"Match {number}: made on {splice.made_on} in {rope}, {end}, by {splice.method}, {label(splice.outcome)}"
    yield f"Match {number}, why: {'; '.join(match.why)}"
    yield f"Match {number}, id: {splice.id}"
    if splice.minutes is not None:
        yield f"Match {number}, time: {plural(splice.minutes, 'minute')}"
    if splice.finished_eye is not None:
        eye = splice.plan.inputs.eye_m if splice.plan else None
        planned = "" if eye is None else f", planned {tape.length(eye)}"
        yield f"Match {number}, finished eye: {splice.finished_eye}{planned}"
    if splice.tools:
        yield f"Match {number}, tools: {', '.join(splice.tools)}"
    words = [*(difficulty.value for difficulty in splice.difficulties), splice.difficulty_words,
             in_one_line(splice.notes)]  # fmt: skip
    if any(words):
        yield f"Match {number}, remarks: {'; '.join(filter(None, words))}"
