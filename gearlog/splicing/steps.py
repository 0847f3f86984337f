"""The steps in words, with this rope's numbers put in."""

from __future__ import annotations

from gearlog.domain.plan import Count, GuideStep, Mark, Pull, TaperStep
from gearlog.splicing.wording import filled, placeholders
from gearlog.splicing.worked import PLAIN_NUMBERS, Worked, applies

FIDS_TO_KNOT = 5  # fid lengths from the end to the slip knot that holds a double braid's core; common practice
STEP_WORDS = frozenset(
    {
        *("reach", "marks", "strands", "strands_left", "stages", "turns", "tucks", "tapered_tucks", "all_tucks"),
        *("tucked", "d", "fid", "five_fids", "cut"),
    }
)
"""Names beside the method's lengths, marks, counts and asked inputs that a step may use."""


def guide_of(
    worked: Worked,
    marks: tuple[Mark, ...],
    taper: tuple[TaperStep, ...],
    pulls: tuple[Pull, ...],
    counts: tuple[Count, ...],
) -> tuple[GuideStep, ...]:
    """The steps that apply, in order, with the marks that each touches."""
    steps = [step for step in worked.method.steps if applies(step.when, worked.inputs)]
    named = {name for step in steps for name in placeholders(step.text)}
    words = _lengths(worked, named) | _marks(worked, marks) | _numbers(worked, taper, pulls, counts)
    return tuple(GuideStep(text=filled(step.text, words), marks=_touched(step.text, marks)) for step in steps)


def _touched(text: str, marks: tuple[Mark, ...]) -> tuple[str, ...]:
    """Ids of the marks that a step names; all of them where it names them as a whole."""
    named = placeholders(text)
    return tuple(mark.id for mark in marks if "marks" in named or f"mark_{mark.id}" in named)


def _lengths(worked: Worked, named: set[str]) -> dict[str, str]:
    """The lengths that the steps name, as the tape shows them."""
    tape = worked.tape_names
    words = {name: worked.show(float(tape[name].value)) for name in named & tape.keys() - PLAIN_NUMBERS}
    if "five_fids" in named:
        words["five_fids"] = worked.show(FIDS_TO_KNOT * float(tape["fid"].value))
    if "tucked" in named:
        each = tape["tuck"].value if "tuck" in tape else 0
        words["tucked"] = worked.show(float(worked.names["tucks"].value * each))
    return words


def _marks(worked: Worked, marks: tuple[Mark, ...]) -> dict[str, str]:
    show = worked.show
    words = {f"mark_{mark.id}": f"mark {mark.letter} ({show(mark.shown_m)})" for mark in marks}
    return words | {
        "reach": show(max((mark.shown_m for mark in marks), default=0.0)),
        "marks": ", ".join(f"{mark.letter} at {show(mark.shown_m)}" for mark in marks),
    }


def _numbers(
    worked: Worked, taper: tuple[TaperStep, ...], pulls: tuple[Pull, ...], counts: tuple[Count, ...]
) -> dict[str, str]:
    tucks = int(worked.names["tucks"].value)
    sides = worked.method.tucks.sides if worked.method.tucks else 1
    return {count.name: str(count.count) for count in counts} | {
        "strands": str(worked.strands),
        "strands_left": str(taper[-1].strands_left if taper else worked.strands),
        "stages": _counted(len(pulls), "pull"),
        "turns": _turns(worked),
        "tucks": str(tucks),
        "tapered_tucks": str(int(worked.names["tapered_tucks"].value)),
        "all_tucks": str(sides * tucks),
    }


def _turns(worked: Worked) -> str:
    if not {"unlay", "lay"} <= worked.names.keys() or not worked.names["lay"].value:
        return "no turns counted"
    return f"about {float(worked.names['unlay'].value / worked.names['lay'].value):.1f} turns of the lay"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
