"""The words of the bench: times, measures and what they mean, on the tape that the plan was made for."""

from __future__ import annotations

from gearlog.services.bench_verdicts import EYE, EYE_NAME
from gearlog.services.bench_views import BenchView, Measurable, Verdict
from gearlog.tui.widgets.plan_figures import Figures

MINUTE, HOUR = 60, 3600  # s
SAME_M = 0.0005  # less than this rounds to 0 mm and no tape shows it


def spent(seconds: float) -> str:
    """A time as on a watch: ``0:07``, ``12:40``, ``1:02:09``."""
    whole = int(seconds)
    hours, rest = divmod(whole, HOUR)
    minutes, left = divmod(rest, MINUTE)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


def clock_words(view: BenchView) -> str:
    """How the clock stands and what can be done about it."""
    if view.at_end:
        return "the clock stands: all is done"
    return {
        "running": "the clock runs",
        "idle": "the clock waits; any key lets it go on",
        "paused": "the clock is HELD; h lets it go on",
        "stopped": "the clock stands",
    }[view.clock]


def away_words(view: BenchView) -> str:
    """What was left out because nobody pressed a key, or empty."""
    if view.away_s < 1:
        return ""
    return f"{spent(view.away_s)} without a key were not counted; H counts them."


def place_words(view: BenchView) -> str:
    """Which rope and end, or that it is none of the log's."""
    rope = ", ".join(filter(None, (view.tag, view.rope_name))) or view.plan.inputs.rope.name
    end = f", end {view.end}" if view.end else ""
    return f"{rope or 'a rope that is not in the log'}{end}"


def step_words(view: BenchView) -> str:
    """How far it has come."""
    return f"all {view.count} steps done" if view.at_end else f"step {view.number} of {view.count}"


def measured_words(verdict: Verdict, figures: Figures) -> str:
    """A measure in few words: what the tape said, how far off, whether that is within the tolerance."""
    judged = {True: ", within", False: ", TOO FAR OFF", None: ""}[verdict.within]
    return f"{verdict.measured.text}, {off_words(verdict, figures)}{judged}"


def kept_words(verdict: Verdict) -> str:
    """A measure that is kept, in the fewest words."""
    judged = {True: ", within", False: ", TOO FAR", None: ""}[verdict.within]
    return f"{verdict.measured.text}{judged}"


def off_words(verdict: Verdict, figures: Figures) -> str:
    """How far a measure is off its plan."""
    if abs(verdict.difference_m) < SAME_M:
        return "as planned"
    return f"{figures.length(abs(verdict.difference_m))} {'long' if verdict.difference_m > 0 else 'short'}"


def too_far(view: BenchView) -> tuple[Verdict, ...]:
    """What is off by more than the method allows, of what belongs to this step."""
    found = (one.verdict for one in view.measurable)
    return tuple(verdict for verdict in found if verdict is not None and verdict.within is False)


def first_to_measure(view: BenchView) -> str:
    """What is most likely measured now: the eye where the step asks for it, else the step's next mark."""
    asks = view.step is None or EYE_NAME in view.step.text
    open_eye = any(one.what == EYE and one.verdict is None for one in view.measurable)
    return EYE if asks and open_eye else next_unmeasured(view) or view.measurable[0].what


def next_unmeasured(view: BenchView, after: str = "") -> str:
    """What to measure next of this step: the first mark without a measure behind ``after``, or empty."""
    names = [one.what for one in view.measurable]
    start = names.index(after) + 1 if after in names else 0
    return next((one.what for one in view.measurable[start:] if one.verdict is None), "")


def letter_of(view: BenchView, one: Measurable) -> str:
    """The letter of a mark, or ``eye``."""
    mark = next((mark for mark in view.plan.marks if mark.id == one.what), None)
    return mark.letter if mark is not None else "eye"
