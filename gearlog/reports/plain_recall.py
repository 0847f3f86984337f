"""What worked last time as plain lines, one fact a line."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.recalled import Bias, Match, Recall, Summary
from gearlog.domain.vocabulary import End, label
from gearlog.reports.words import Tape, plural
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
    for number, match in enumerate(recall.matches[:most], 1):
        yield from _match(number, match, tape)
    left = len(recall.matches) - most
    if left > 0:
        yield f"Not shown: {left} less alike"


def _summary(heading: str, summary: Summary, tape: Tape) -> Iterator[str]:
    yield f"{heading}: {summary.made} made ({summary.scope})"
    if not summary.made:
        return
    yield f"{heading}: {_outcomes(summary)}"
    if summary.median_minutes is not None:
        timed = plural(summary.timed, "splice")
        yield f"{heading}: median {summary.median_minutes:g} minutes, of {timed} whose time was written down"
    if summary.eye_bias is not None:
        yield f"{heading}: {_bias(summary.eye_bias, tape)}"
    for tool in summary.tools:
        yield f"{heading}: {tool.word} was used in {tool.times} good"
    for difficulty in summary.difficulties:
        yield f"{heading}: {difficulty.word}, met in {difficulty.times}"


def _outcomes(summary: Summary) -> str:
    others = ((summary.with_remark, "usable with a remark"), (summary.cut_off, "cut off"))
    always = ((summary.good, "good"), (summary.remade, "remade"), (summary.failed, "failed"))
    counts = (*always, *((count, words) for count, words in others if count))
    return ", ".join(f"{count} {words}" for count, words in counts)


def _bias(bias: Bias, tape: Tape) -> str:
    interval = f"95 % interval from {tape.longer(bias.low_m)} to {tape.longer(bias.high_m)}"
    return f"the finished eye came out {tape.longer(bias.mean_m)} than planned on average, {interval}, n {bias.n}"


def _match(number: int, match: Match, tape: Tape) -> Iterator[str]:
    splice = match.splice
    rope = f"{match.rope.tag} ({match.rope.name})" if match.rope else "a rope no longer in the log"
    end = f"at {splice.position or 'a place'} from end A" if splice.end is End.BETWEEN else f"end {splice.end}"
    yield f"Match {number}: made on {splice.made_on} in {rope}, {end}, by {splice.method}, {label(splice.outcome)}"
    yield f"Match {number}, why: {'; '.join(match.why)}"
    if splice.minutes is not None:
        yield f"Match {number}, time: {plural(splice.minutes, 'minute')}"
    if splice.finished_eye is not None:
        eye = splice.plan.inputs.eye_m if splice.plan else None
        planned = "" if eye is None else f", planned {tape.length(eye)}"
        yield f"Match {number}, finished eye: {splice.finished_eye}{planned}"
    if splice.tools:
        yield f"Match {number}, tools: {', '.join(splice.tools)}"
    words = [*(difficulty.value for difficulty in splice.difficulties), splice.difficulty_words, splice.notes]
    if any(words):
        yield f"Match {number}, remarks: {'; '.join(filter(None, words))}"
