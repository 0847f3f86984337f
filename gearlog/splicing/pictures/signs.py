"""The signs of a drawing: one cell each, so that it stands on any terminal, on paper and in daylight."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.picture.parts import PASSES, TAPERED_TUCKS, count_of, is_exchange, shown_spans
from gearlog.domain.plan import Plan

WHOLE, THINNER, HALF, THIRD, NOTHING = "#", "=", "-", ".", " "
SIGNS = ((0.9, WHOLE), (0.6, THINNER), (0.3, HALF), (0.0, THIRD))
"""A sign stands for more than this share of the cross-section; thinner signs put less ink on the page."""
GOES_ON, COMES_FROM, ENDS = ">", "<", "]"
EYE, STRANDS, TUCKS, EXCHANGED, TURNS, STITCHES = "o", "~", "x", "%", "(", "z"
CUT = "/ /"

TAPERS = frozenset({"taper", "core-taper", TAPERED_TUCKS})
WORDS = (
    (THINNER, "thinner"),
    (HALF, "about half"),
    (THIRD, "a third or less"),
    (EYE, "becomes the {eye}"),
    (STRANDS, "strands opened"),
    (TUCKS, "tucked"),
    (EXCHANGED, "one strand exchanged"),
    (TURNS, "turns of twine"),
    (STITCHES, "stitched"),
)


def sign(fraction: float) -> str:
    """The sign for what is left; a blank where nothing is."""
    return next((shown for least, shown in SIGNS if fraction > least), NOTHING)


def sign_of(plan: Plan, kind: str) -> str | None:
    """The sign of a stretch that is drawn with one of its own, or None."""
    if kind == "whip":
        return STITCHES if count_of(plan, PASSES) else TURNS
    if kind == "tucks":
        return EXCHANGED if is_exchange(plan) else TUCKS
    return {"unlay": STRANDS, "eye": EYE}.get(kind)


def sign_words(plan: Plan, *, cut: bool) -> Iterator[str]:
    """Each sign that this plan is drawn with, and what it means."""
    kinds = {span.kind for span in shown_spans(plan)}
    used = {sign_of(plan, kind) for kind in kinds}
    if kinds & TAPERS:
        used |= {THINNER, HALF, THIRD}
    yield f"{WHOLE} whole"
    eye = "loop" if plan.shape == "sling" else "eye"
    yield from (f"{shown} {meaning.format(eye=eye)}" for shown, meaning in WORDS if shown in used)
    yield f"{GOES_ON} goes on"
    if cut:
        yield f"{CUT} cut through"
