"""Two ropes side by side, from the log or in words: which one for this job is answered from facts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gearlog.domain.constructions import construction
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.mass import LineMass, carried_kg, line_mass
from gearlog.domain.plan_inputs import RopeSpec
from gearlog.domain.recalled import Query, Recall
from gearlog.domain.ropes_compared import Carried, MadeBefore, RopesCompared, RopeSide, Splicing
from gearlog.domain.vocabulary import Outcome, label
from gearlog.errors import NotFoundError
from gearlog.services.shelf import Shelf
from gearlog.services.typed_ropes import EXAMPLE, read_rope_words, says_a_rope
from gearlog.services.workshop import Workshop
from gearlog.splicing.guidance import Advice, which_methods
from gearlog.units.measure import Force
from gearlog.units.quoting import quoted

LENGTHS_M = (60.0, 90.0)  # ropes climbed on have 200 to 300 ft; common practice
LAST = 3  # splices told one by one


class RopeComparing:
    """Puts two ropes of one log, or ropes that are only said, side by side."""

    def __init__(self, shelf: Shelf, workshop: Workshop) -> None:
        self._shelf = shelf
        self._workshop = workshop

    def compare(self, first: str, second: str) -> RopesCompared:
        """Both ropes by tag or in words; raises NotFoundError or ReadingError."""
        return RopesCompared(first=self.side(first), second=self.side(second))

    def side(self, said: str) -> RopeSide:
        """One rope by tag or in words; raises NotFoundError or ReadingError."""
        item = self._shelf.find_tag(said)
        if item is not None and item.rope is not None:
            return self._side(item.rope, item.breaking_strength, item)
        if item is not None:
            raise NotFoundError(f"{quoted(said)} is no rope; name a rope, or say one in words, such as {EXAMPLE}")
        if not says_a_rope(said):
            raise NotFoundError(
                f"no rope bears the tag {quoted(said)}; see gearlog list, or say one, such as {EXAMPLE}"
            )
        return self._side(*read_rope_words(said), None)

    def _side(self, rope: RopeFacts, strength: Force | None, item: Item | None) -> RopeSide:
        kind = construction(rope.construction)
        mass = _mass(rope)
        advice = which_methods(self._workshop.methods(), _spec(rope, strength))
        past = self._past(rope, item)
        return RopeSide(
            name=item.name if item else kind.title,
            tag=item.tag if item else "",
            construction=kind.title,
            load_bearing=kind.load_bearing,
            load_words=kind.load_words,
            damage_words=kind.damage_words,
            diameter_m=rope.diameter.si if rope.diameter else None,
            strands=rope.strands,
            fibre=rope.cover_fibre,
            core_fibre=rope.core_fibre,
            mass=mass,
            carried=tuple(Carried(length_m=one, mass_kg=carried_kg(one, mass.kg_per_m)) for one in LENGTHS_M),
            splices=_splices(advice),
            instead=next((one.reason for one in advice if not one.method_id), ""),
            mbs_n=strength.si if strength else None,
            elongation_percent=rope.elongation_percent,
            elongation_at_n=rope.elongation_at.si if rope.elongation_at else None,
            made=len(past.matches),
            good=sum(match.splice.outcome is Outcome.GOOD for match in past.matches),
            last=tuple(self._made_before(past)),
        )

    def _past(self, rope: RopeFacts, item: Item | None) -> Recall:
        from gearlog.services.recalling import answered

        query = Query(
            rope_id=item.id if item else "",
            maker=item.maker if item else "",
            model=item.model if item else "",
            construction=rope.construction,
            diameter_m=rope.diameter.si if rope.diameter else None,
            fibre=rope.cover_fibre,
        )
        return answered(query, self._shelf)

    def _made_before(self, past: Recall) -> Iterator[MadeBefore]:
        for match in past.matches[:LAST]:
            yield MadeBefore(
                rope=match.rope.tag if match.rope else "",
                method=self._workshop.title(match.splice),
                made_on=str(match.splice.made_on),
                outcome=label(match.splice.outcome),
                minutes=match.splice.minutes,
                why=match.why,
            )


def _mass(rope: RopeFacts) -> LineMass:
    return line_mass(
        rope.mass_per_length.si if rope.mass_per_length else None,
        rope.diameter.si if rope.diameter else None,
        rope.cover_fibre,
        rope.core_fibre,
        has_core=construction(rope.construction).has_core,
    )


def _spec(rope: RopeFacts, strength: Force | None) -> RopeSpec:
    return RopeSpec(
        construction=rope.construction,
        diameter_m=rope.diameter.si if rope.diameter else 0.0,
        strands=rope.strands,
        lay=rope.lay,
        fibre=rope.cover_fibre,
        core_fibre=rope.core_fibre,
        mbs_n=strength.si if strength else None,
    )


def _splices(advice: Sequence[Advice]) -> tuple[Splicing, ...]:
    return tuple(
        Splicing(method=one.method_id, title=one.title, reason=one.reason)
        for one in advice
        if one.fits and one.method_id
    )
