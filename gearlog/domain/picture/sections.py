"""What is left of a tail and of the core at a place: by the plan's cuts, or in a straight line without them."""

from __future__ import annotations

from dataclasses import dataclass

from gearlog.domain.picture.parts import ALIKE, CORE, TAPERED_TUCKS, spans_of
from gearlog.domain.plan import Plan, Span

TIP = 0.01  # share drawn at the very tip of a taper, so that the tip is seen
NEAR = 1e-9  # m; two places that differ by less are one

Cut = tuple[float, float]  # share of the way from the tip, and what is left towards the tip from there on


@dataclass(frozen=True, slots=True)
class Taper:
    """A tail that thins from ``thick_m`` to its tip at ``thin_m``; either may be the greater.

    Attributes:
        cuts: where strands leave, the nearest to the tip first.
    """

    part: str
    thick_m: float
    thin_m: float
    cuts: tuple[Cut, ...]

    def covers(self, at_m: float) -> bool:
        """Whether the place lies on the taper."""
        return min(self.thick_m, self.thin_m) - NEAR <= at_m <= max(self.thick_m, self.thin_m) + NEAR

    def left(self, at_m: float) -> float:
        """The share of the cross-section left at a place on the taper."""
        way = (at_m - self.thin_m) / (self.thick_m - self.thin_m) if self.thick_m != self.thin_m else 1.0
        if way >= 1:
            return 1.0
        if self.cuts:
            return min((left for share, left in self.cuts if share > way), default=1.0)
        return max(way, TIP)


@dataclass(frozen=True, slots=True)
class Sections:
    """The tapers of a plan: those of its tails, and that of the core or None."""

    tails: tuple[Taper, ...]
    core: Taper | None

    def tail_left(self, at_m: float) -> float:
        """The share of the main part left at a place; 1 where nothing is taken out."""
        return min((taper.left(at_m) for taper in self.tails if taper.covers(at_m)), default=1.0)

    def changes(self) -> list[float]:
        """Where the thickness of a tail or of the core changes (m)."""
        tapers = [*self.tails, *([self.core] if self.core else [])]
        cuts = [taper.thin_m + share * (taper.thick_m - taper.thin_m) for taper in tapers for share, _ in taper.cuts]
        return [*cuts, *(place for taper in tapers for place in (taper.thick_m, taper.thin_m))]

    def core_left(self, at_m: float) -> float:
        """The share of the core left: nothing before its taper, all of it after."""
        if self.core is None or at_m >= self.core.thick_m:
            return 1.0
        return self.core.left(at_m) if at_m >= self.core.thin_m else 0.0


def sections_of(plan: Plan) -> Sections:
    """The sections of every part of the plan."""
    own = [_tail_taper(plan, span) for span in spans_of(plan, "taper")]
    core = next(iter(spans_of(plan, "core-taper")), None)
    return Sections(
        tails=(*own, *_mirrored(plan, own)),
        core=_taper(plan, core, thick_m=core.to_m, thin_m=core.from_m) if core else None,
    )


def strands_left(plan: Plan, at_m: float) -> float:
    """The share of each strand left at a place among the tapered tucks of laid rope; 1 elsewhere."""
    tucked = next(iter(spans_of(plan, TAPERED_TUCKS)), None)
    if tucked is None or not tucked.from_m <= at_m <= tucked.to_m + NEAR:
        return 1.0
    return min((step.fraction_left for step in plan.taper if step.at_m <= at_m + NEAR), default=1.0)


def _tail_taper(plan: Plan, span: Span) -> Taper:
    """It thins towards the free end of the tail that it lies on; to the working end where no tail is named."""
    tails = [
        tail for tail in spans_of(plan, "tail") if tail.from_m - NEAR <= span.from_m and span.to_m <= tail.to_m + NEAR
    ]
    far = bool(tails) and abs(tails[0].from_m - span.from_m) > NEAR and abs(tails[0].to_m - span.to_m) <= NEAR
    thick, thin = (span.from_m, span.to_m) if far else (span.to_m, span.from_m)
    return _taper(plan, span, thick_m=thick, thin_m=thin)


def _taper(plan: Plan, span: Span, *, thick_m: float, thin_m: float) -> Taper:
    inside = [step for step in plan.taper if step.part == span.part and span.from_m <= step.at_m <= span.to_m]
    cuts = [((step.at_m - thin_m) / (thick_m - thin_m), step.fraction_left) for step in inside if thick_m != thin_m]
    return Taper(CORE if span.kind == "core-taper" else span.part, thick_m, thin_m, tuple(sorted(cuts)))


def _mirrored(plan: Plan, own: list[Taper]) -> list[Taper]:
    """Tails at the far end that the plan names without a taper of their own: both ends are worked alike."""
    if plan.shape not in ALIKE or len(own) != 1:
        return []
    taper, long = own[0], abs(own[0].thick_m - own[0].thin_m)
    bare = [tail for tail in spans_of(plan, "tail") if not any(tail.from_m <= one.thick_m <= tail.to_m for one in own)]
    return [Taper(tail.part, tail.to_m - long, tail.to_m, taper.cuts) for tail in bare]
