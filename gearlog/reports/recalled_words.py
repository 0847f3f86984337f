"""How the sums of recall are worded: outcomes, shares and means, the same on every page and in plain lines."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.recalled import Bias, Summary
from gearlog.domain.vocabulary import Outcome, label
from gearlog.reports.words import LONGER, NOTHING_MM, Tape, percent

LEAST_SHARE = 0.001  # shares are shown to a tenth of a per cent; none and all are said only of none and all


def outcomes(summary: Summary) -> Iterator[str]:
    """How many came out how; what never happened is left out but the good ones."""
    counts = {
        Outcome.GOOD: summary.good,
        Outcome.REMARK: summary.with_remark,
        Outcome.REMADE: summary.remade,
        Outcome.FAILED: summary.failed,
        Outcome.CUT_OFF: summary.cut_off,
        Outcome.GIVEN_UP: summary.given_up,
    }
    for outcome, number in counts.items():
        if number or outcome is Outcome.GOOD:
            yield f"{number} {label(outcome)}"


def share(fraction: float) -> str:
    """A share in per cent; one that is neither none nor all is never rounded to either."""
    whole = fraction in {0.0, 1.0}
    return percent(fraction if whole else min(max(fraction, LEAST_SHARE), 1 - LEAST_SHARE))


def interval(bias: Bias, tape: Tape, ways: tuple[str, str] = LONGER) -> str:
    """The interval of a mean: ``95 % interval from 10 mm shorter to 2 mm longer``."""
    return f"95 % interval from {_edge(bias.low_m, tape, ways)} to {_edge(bias.high_m, tape, ways)}"


def _edge(metres: float, tape: Tape, ways: tuple[str, str]) -> str:
    """One end of an interval; zero is told as a length, for ``to no longer or shorter`` reads as nonsense."""
    nothing = abs(metres) * 1000 < NOTHING_MM
    return tape.length(0.0) if nothing else tape.longer(metres, ways)
