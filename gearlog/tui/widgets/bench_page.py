"""A step at the bench, set to be read from where the rope lies: few words a line, spaced lines, numbers big."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from textual.content import Content

from gearlog.services.bench_verdicts import EYE, EYE_NAME
from gearlog.services.bench_views import BenchView, Measurable
from gearlog.tui.text import cell, content, wrapped
from gearlog.tui.widgets.bench_words import letter_of, measured_words, spent, too_far
from gearlog.tui.widgets.big import big, tall
from gearlog.tui.widgets.plan_figures import Figures

NUMBER = re.compile(r"\b[0-9][0-9.,/ ]*(?:[0-9] )?(?:mm|m|in|ft)\b|\bmarks? \S{1,2}(?= |$)")
"""What stands out in a step's words: lengths and letters of marks."""
NO_BREAK = "\u00a0"
LEAST_ROOM = 16  # cells for the words of a step among all steps
SAID, PLANNED = 36, 10  # cells for what the tape said, and for what was planned
BETWEEN = 4  # cells between two big numbers
NUMBER_STYLE = "$accent bold"


Large = Callable[[str], tuple[str, ...]]
"""Writes a number in rows of blocks."""


@dataclass(frozen=True)
class Setting:
    """How a step is set: cells of a line of words, whether lines are spaced, how numbers are written large."""

    words: int
    spaced: bool
    large: Large | None


SETTINGS = (
    Setting(46, spaced=True, large=tall),
    Setting(46, spaced=True, large=big),
    Setting(58, spaced=True, large=big),
    Setting(58, spaced=False, large=big),
    Setting(58, spaced=True, large=None),
    Setting(76, spaced=False, large=None),
)
"""From the calmest down; the first that fits the window is taken, and the last scrolls."""


def bench_step(view: BenchView, picture: Sequence[str], width: int, height: int) -> Content:
    """The present step; ``picture`` is its small drawing."""
    pages = (Content("\n").join(_step(view, picture, width, setting)) for setting in SETTINGS)
    page = Content("")
    for page in pages:
        if page.plain.count("\n") < height:
            break
    return page


def _step(view: BenchView, picture: Sequence[str], width: int, setting: Setting) -> list[Content]:
    assert view.step is not None  # noqa: S101 (the end has a page of its own)
    parts = (
        _words(view.step.text, min(setting.words, width), spaced=setting.spaced),
        _warnings(view, min(setting.words, width)),
        _numbers(view, width, setting.large) if setting.large else _plain_numbers(view, width),
        _verdicts(view, min(SETTINGS[-1].words, width)),
        [Content(row) for row in picture],
        _told(f"Your remark: {view.remark}", width) if view.remark else [],
    )
    return _joined(part for part in parts if part)


def bench_end(view: BenchView, width: int) -> Content:
    """All steps are done: what was measured, what is still open, and the way on."""
    figures = Figures(view.plan)
    done = _words("All steps are done. Look it over once more.", min(SETTINGS[0].words, width), spaced=True)
    rows = [_row(view, one, figures, width) for one in view.measurable]
    way = "Enter fills in the record: add how it came out and what was hard, then save. m measures, b goes back."
    parts = (done, _warnings(view, width), rows, _verdicts(view, width), _words(way, width, spaced=False))
    return Content("\n").join(_joined(part for part in parts if part))


def bench_steps(view: BenchView, width: int) -> Content:
    """All steps for a look back: what is done, how long it took, what was remarked."""
    lines = [line for step in view.steps for line in _listed(view, step.number, width)]
    return Content("\n").join([Content.styled("All steps", NUMBER_STYLE), Content(""), *lines])


def _listed(view: BenchView, number: int, width: int) -> Iterator[Content]:
    step = view.steps[number - 1]
    here = number == view.number
    state = "done" if step.done else "now" if here else ""
    time = spent(step.seconds) if step.seconds >= 1 else ""
    lead = f"{'>' if here else ' '} {number:>2}  {state:<4} {time:>7}  "
    room, inset = max(width - len(lead), LEAST_ROOM), " " * len(lead)
    first, *more = wrapped(step.text, room)
    yield content(lead + first, "bold" if here else "")
    yield from (content(inset + line, "bold" if here else "") for line in more)
    if step.remark:
        yield from (content(inset + line, "$quiet") for line in wrapped(f"Remark: {step.remark}", room))


def _joined(parts: Iterator[Sequence[Content]]) -> list[Content]:
    lines: list[Content] = []
    for part in parts:
        lines += [*([Content("")] if lines else []), *part]
    return lines


def emphasised(text: str, width: int) -> list[Content]:
    """Words folded to a width, numbers standing out and never parted from their unit."""
    held = NUMBER.sub(lambda match: match.group().replace(" ", NO_BREAK), text.replace(NO_BREAK, " "))
    return [_line(line) for line in _folded(held, width)]


def _folded(text: str, width: int) -> Iterator[str]:
    """As ``wrapped``, but only spaces part words."""
    line = ""
    for word in text.split(" "):
        if line and len(line) + 1 + len(word) > width:
            yield line
            line = ""
        line = f"{line} {word}" if line else word
    yield line


def _line(text: str) -> Content:
    words = text.replace(NO_BREAK, " ")
    shown = content(words)
    for match in NUMBER.finditer(words):
        shown = shown.stylize(NUMBER_STYLE, match.start(), match.end())
    return shown


def _words(text: str, width: int, *, spaced: bool) -> list[Content]:
    lines = emphasised(text, width)
    return [part for line in lines for part in ((line, Content("")) if spaced else (line,))][: 2 * len(lines) - 1]


def _told(text: str, width: int, style: str = "") -> list[Content]:
    return [content(line, style) for line in wrapped(text, width)]


def _warnings(view: BenchView, width: int) -> list[Content]:
    found = [_told(f"WARNING: {words}", width, "$warn bold") for words in view.warnings]
    return _joined(iter(found))


def _verdicts(view: BenchView, width: int) -> list[Content]:
    found = [_told(f"TOO FAR OFF: {verdict.words}", width, "$bad bold") for verdict in too_far(view)]
    return _joined(iter(found))


def _shown(view: BenchView) -> list[Measurable]:
    """The step's marks; the eye where the step's words ask for it, and once it is measured."""
    wanted = {mark.id for mark in view.marks}
    if view.step is not None and EYE_NAME in view.step.text:
        wanted.add(EYE)
    return [one for one in view.measurable if one.what in wanted or one.verdict is not None]


def _numbers(view: BenchView, width: int, large: Large) -> list[Content]:
    """Each mark's place in big figures, as many beside one another as there is room for."""
    figures = Figures(view.plan)
    blocks = [_block(view, one, figures, large) for one in _shown(view)]
    lines: list[Content] = []
    row: list[list[Content]] = []
    for block in blocks:
        if row and sum(_wide(each) + BETWEEN for each in [*row, block]) - BETWEEN > width:
            lines += [*_beside(row), *([Content("")] if large is tall else [])]
            row = []
        row.append(block)
    return [*lines, *(_beside(row) if row else [])]


def _block(view: BenchView, one: Measurable, figures: Figures, large: Large) -> list[Content]:
    letter = letter_of(view, one)
    name = EYE_NAME if one.what == EYE else f"mark {letter}"
    rows = [Content.styled(row, NUMBER_STYLE) for row in large(figures.length(one.planned_m))]
    measured = [] if one.verdict is None else [_measured(one, figures)]
    return [content(name), *rows, *measured]


def _measured(one: Measurable, figures: Figures) -> Content:
    assert one.verdict is not None  # noqa: S101 (asked before)
    return content(measured_words(one.verdict, figures), "$bad bold" if one.verdict.within is False else "bold")


def _wide(block: Sequence[Content]) -> int:
    return max(line.cell_length for line in block)


def _beside(blocks: Sequence[Sequence[Content]]) -> list[Content]:
    height = max(len(block) for block in blocks)
    padded = [[*block, *[Content("")] * (height - len(block))] for block in blocks]
    widths = [_wide(block) for block in blocks]
    return [
        Content(" " * BETWEEN).join(
            Content.assemble(line, " " * (width - line.cell_length)) for line, width in zip(row, widths, strict=True)
        )
        for row in zip(*padded, strict=True)
    ]


def _plain_numbers(view: BenchView, width: int) -> list[Content]:
    figures = Figures(view.plan)
    return [_row(view, one, figures, width) for one in _shown(view)]


def _row(view: BenchView, one: Measurable, figures: Figures, width: int) -> Content:
    """One measure on one line: the letter, what was planned, what the tape said."""
    planned = Content.styled(f"{figures.length(one.planned_m):>{PLANNED}}", NUMBER_STYLE)
    said = Content.styled("not measured", "$quiet") if one.verdict is None else _measured(one, figures)
    name = EYE_NAME if one.what == EYE else f"mark {one.label}"
    return Content.assemble(cell(name, max(width - SAID - PLANNED, LEAST_ROOM)), planned, "   ", said)
