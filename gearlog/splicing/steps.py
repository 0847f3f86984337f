"""The steps in words, with this rope's numbers put in."""

from __future__ import annotations

from gearlog.domain.plan import Mark, Pull, TaperStep
from gearlog.splicing.wording import filled
from gearlog.splicing.worked import Worked, applies

STEP_WORDS = frozenset(
    {"reach", "marks", "loop", "eye", "strands", "strands_left", "stages", "turns", "tucks", "tucked", "d", "fid"}
)
"""Names beside the method's lengths and marks that a step may use."""


def steps_of(
    worked: Worked, marks: tuple[Mark, ...], taper: tuple[TaperStep, ...], pulls: tuple[Pull, ...]
) -> tuple[str, ...]:
    """The steps that apply, in order."""
    words = _words(worked, marks, taper, pulls)
    steps = [step for step in worked.method.steps if applies(step.when, worked.inputs)]
    return tuple(filled(step.text, words) for step in steps)


def _words(
    worked: Worked, marks: tuple[Mark, ...], taper: tuple[TaperStep, ...], pulls: tuple[Pull, ...]
) -> dict[str, str]:
    show = worked.show
    words = {name: show(float(value.value)) for name, value in worked.tape_names.items()}
    words |= {f"mark_{mark.id}": f"mark {mark.letter} ({show(mark.shown_m)})" for mark in marks}
    tucked = worked.tape_names["tucks"].value * worked.tape_names["tuck"].value if "tuck" in worked.names else 0
    return words | {
        "reach": show(max((mark.shown_m for mark in marks), default=0.0)),
        "marks": ", ".join(f"{mark.letter} at {show(mark.shown_m)}" for mark in marks),
        "strands": str(worked.strands),
        "strands_left": str(taper[-1].strands_left if taper else worked.strands),
        "stages": _counted(len(pulls), "pull"),
        "turns": _turns(worked),
        "tucks": str(int(worked.names["tucks"].value)),
        "tucked": show(float(tucked)),
    }


def _turns(worked: Worked) -> str:
    if not {"unlay", "lay"} <= worked.names.keys() or not worked.names["lay"].value:
        return "no turns counted"
    return f"about {float(worked.names['unlay'].value / worked.names['lay'].value):.1f} turns of the lay"


def _counted(count: int, word: str) -> str:
    return f"{count} {word}" if count == 1 else f"{count} {word}s"
