"""Checks of what is known: remarks of the method, strength, own methods, common practice, used rope."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.plan import Check
from gearlog.splicing.draft import Draft, found
from gearlog.splicing.knots import knot
from gearlog.splicing.method import COMMON_PRACTICE_LABEL
from gearlog.splicing.worked import applies
from gearlog.units import showing

NEAR_NOMINAL = 0.05  # of the diameter; OCIMF mooring guidelines name a loss of more than about 5 % (by abrasion)
KNOTS_SOURCE = "29 CFR 1926.251(d)(2), 29 CFR 1910.184(h)(3), rules for rope slings"
NEAR_SOURCE = "OCIMF mooring guidelines, 2nd ed., of mooring rope (loss of diameter by abrasion)"


def remarks(draft: Draft) -> Iterator[Check]:
    """What the method says of this fibre, condition or size."""
    for remark in draft.worked.method.remarks:
        if applies(remark.when, draft.worked.inputs):
            source = draft.worked.method.source_text(remark.source)
            yield found(remark.level, remark.code, remark.message, source)


def strength_known(draft: Draft) -> Iterator[Check]:
    """What is not known of the strength."""
    method = draft.worked.method
    if draft.worked.inputs.rope.mbs_n is None and method.carries:
        message = "The rope's breaking strength is not known, so no working load is shown."
        yield found("note", "mbs-unknown", message, "nothing was typed")
    if method.strength.fraction is None and method.carries:
        message = f"The strength that this splice keeps is not known: {method.strength.why}."
        yield found("note", "retained-unknown", message, method.keeps_unknown)


def knots(draft: Draft) -> Iterator[Check]:
    """Knots that stay in the line."""
    inputs = draft.worked.inputs
    if inputs.knots and draft.worked.method.carries:
        named = ", ".join(knot(one).title for one in inputs.knots)
        message = (
            f"A knot stays in the line ({named}): it weakens it, and slings may bear no knot in place of a splice."
        )
        yield found("warn", "knot-in-line", message, KNOTS_SOURCE)


def own_method(draft: Draft) -> Iterator[Check]:
    """A method of the user's own is an experiment."""
    if draft.worked.method.own:
        message = (
            "Own, experimental method: make samples and break-test them, or have the maker's sheet confirm it, "
            "before it carries life. Until then it is not for life support."
        )
        yield found("warn", "own-method", message, "the user's own")


def measured_diameter(draft: Draft) -> Iterator[Check]:
    """A used rope that measures otherwise than its nominal diameter."""
    measured, nominal = draft.worked.inputs.measured_diameter_m, draft.worked.inputs.rope.diameter_m
    if measured is None:
        return
    change = measured / nominal - 1
    imperial = draft.worked.inputs.unit == "imperial"
    size = f"{showing.diameter(measured, imperial=imperial)}, {abs(change):.0%} {'more' if change > 0 else 'less'}"
    if change < -NEAR_NOMINAL:
        message = f"The rope measures {size} than its nominal diameter: worn ropes are retired from about 5 % on."
        yield found("warn", "diameter-lost", f"{message} Let a competent person decide first.", NEAR_SOURCE)
    elif change > NEAR_NOMINAL:
        message = f"The rope measures {size} than its nominal diameter: it has shrunk in length and swollen."
        yield found(
            "warn", "diameter-grown", f"{message} It is stiffer, and tools must be thinner.", COMMON_PRACTICE_LABEL
        )


def correction(draft: Draft) -> Iterator[Check]:
    """A correction taken from the diary is said."""
    inputs, over = draft.worked.inputs, draft.worked.shortening
    if over is not None and over.learned_m:
        by = draft.worked.show(abs(over.learned_m))
        message = (
            f"{by} {'more' if over.learned_m > 0 else 'less'} shortening is reckoned with than braid geometry gives"
        )
        yield found("note", "shortening-corrected", f"{message}: {inputs.shortening_words}.", "the user's own diary")
    if over is not None and over.length_m < 0:
        message = "Corrected so, the rope would grow over its bury. Measure again, or plan without the correction."
        yield found("warn", "shortening-below-nothing", message, "the user's own diary")
    if inputs.eye_correction_m:
        by = draft.worked.show(abs(inputs.eye_correction_m))
        way = "longer" if inputs.eye_correction_m > 0 else "shorter"
        message = f"The eye is marked {by} {way} than asked, as learned from the diary: {inputs.correction_words}."
        yield found("note", "eye-corrected", message, "the user's own diary")
