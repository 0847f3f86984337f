"""Tucks of laid rope: how many, how much strand to unlay, how much tail to leave."""

from __future__ import annotations

from gearlog.domain.plan import NamedLength, Tucks
from gearlog.splicing.worked import Worked, tapered_tucks


def tucks_of(worked: Worked) -> Tucks | None:
    """The tucks with their sources, or None where the method has none."""
    rule, count = worked.method.tucks, worked.tuck_count
    if rule is None or count is None:
        return None
    unlay, tail, tuck = (_length(worked, name) for name in (rule.unlay, rule.tail, rule.tuck))
    tapered = tapered_tucks(worked.method, worked.inputs)
    return Tucks(
        count=rule.sides * count.count,
        unlay_m=unlay.length_m,
        tail_m=tail.length_m,
        tuck_m=tuck.length_m,
        source=worked.method.source_text(count.source),
        tail_source=tail.source,
        unlay_source=unlay.source,
        sides=rule.sides,
        tapered=tapered,
        tapered_source=worked.method.source_text(rule.tapered.source) if tapered and rule.tapered else "",
    )


def _length(worked: Worked, name: str) -> NamedLength:
    return next(length for length in worked.lengths if length.name == name)
