"""Whether a method fits a rope at all; where it does not, the plan stops before any number is shown."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.constructions import Construction, construction
from gearlog.domain.plan import Check
from gearlog.domain.plan_inputs import PlanInputs, RopeSpec
from gearlog.domain.vocabulary import Lay
from gearlog.splicing.method import COMMON_PRACTICE_LABEL, Method
from gearlog.splicing.names import missing

HOLLOW = "hollow-braid"
ASKED_WORDS = {
    "eye": "the eye's inside length",
    "finished": "the wanted finished length",
    "shortest": "the shortest setting, crown to crown",
    "longest": "the longest setting, crown to crown",
}
ASKED_EXAMPLE = "600 mm or 24 in"


def unfit(method: Method, rope: RopeSpec) -> tuple[Check, ...]:
    """The stops and warnings that come from the rope's construction alone."""
    kind = construction(rope.construction)
    refused = tuple(_no_published_splice(kind, rope)) if method.shape != "finish" else ()
    if refused and not method.own:
        return refused
    return (
        refused_as_warning(refused)
        + tuple(_construction_fits(method, kind))
        + tuple(_strands_fit(method, rope, kind))
        + tuple(_lay_known(method, rope, kind))
    )


def inputs_missing(method: Method, inputs: PlanInputs) -> tuple[Check, ...]:
    """A stop for each input that the method asks for and was not given."""
    return tuple(
        Check(
            level="stop",
            code=f"{name}-missing",
            message=f"'{method.title}' needs {ASKED_WORDS[name]}; type it, such as {ASKED_EXAMPLE}.",
            source="nothing was typed",
        )
        for name in missing(method.asks, inputs)
    )


def lay_of(rope: RopeSpec) -> Lay:
    """The lay of a hollow braid: loose unless said."""
    return rope.lay or Lay.LOOSE


def refused_as_warning(refused: tuple[Check, ...]) -> tuple[Check, ...]:
    """For the user's own experiment the missing published splice is a warning, never silence."""
    return tuple(Check(level="warn", code=check.code, message=check.message, source=check.source) for check in refused)


def _no_published_splice(kind: Construction, rope: RopeSpec) -> Iterator[Check]:
    lay = lay_of(rope) if kind.id == HOLLOW else None
    if kind.splices(lay):
        return
    name = f"{lay} {kind.title}" if lay else kind.title
    message = f"For {name} there is no commonly published eye splice: {kind.instead_of_splice(lay)}."
    yield Check(level="stop", code="no-published-splice", message=message, source=COMMON_PRACTICE_LABEL)


def _lay_known(method: Method, rope: RopeSpec, kind: Construction) -> Iterator[Check]:
    """A hollow braid of which nobody said whether it is loose: planned as loose, but never without a word."""
    if kind.id != HOLLOW or rope.lay is not None or method.shape == "finish" or kind.id not in method.constructions:
        return
    message = (
        "Nobody said whether this braid is loose or tight; a loose one is taken. Push it together: if it does not open "
        "wide enough for itself, it is tight, and no eye splice is commonly published for it."
    )
    yield Check(level="warn", code="lay-unknown", message=message, source=COMMON_PRACTICE_LABEL)


def _construction_fits(method: Method, kind: Construction) -> Iterator[Check]:
    if kind.id not in method.constructions:
        meant = " or ".join(construction(one).title for one in method.constructions)
        message = f"'{method.title}' is for {meant}, not for {kind.title}. Choose a method that fits this rope."
        yield Check(
            level="stop", code="construction-unfit", message=message, source=method.source_text(method.fits.source)
        )


def _strands_fit(method: Method, rope: RopeSpec, kind: Construction) -> Iterator[Check]:
    counts = method.fits.strands
    if rope.strands is None or not counts or rope.strands in counts or kind.id not in method.constructions:
        return
    listed = " or ".join(str(count) for count in counts)
    laid = kind.id == "three-strand"
    message = f"The method was made for {listed} strands, and this rope has {rope.strands}."
    way_out = "Choose a method for its strands." if laid else "Check the taper against the maker's sheet."
    yield Check(
        level="stop" if laid else "warn",
        code="strands-unfit",
        message=f"{message} {way_out}",
        source=method.source_text(method.fits.source),
    )
