"""Same as last time: the newest splice that the next one can begin from, and where it was not the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec
from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan, RopeSpec
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import Outcome
from gearlog.errors import Fault, InvalidRecordError
from gearlog.services.forms import Field
from gearlog.services.reading_forms import BLANKS, Form
from gearlog.services.splice_forms import MEASURED

_NEVER_THE_SAME = frozenset({"made_on"})
FOUND = frozenset(
    {"outcome", "minutes", "checked_by", "finished_eye", "finished_length", "difficulties", "difficulty_words", "ease",
     "photos", "notes"}
)  # fmt: skip
"""What was found at one making says nothing about the next."""


class AsLast(msgspec.Struct, frozen=True):
    """A splice's form filled in as last time.

    Attributes:
        form: the whole form.
        plan: the plan of the splice it was taken from, whose marks are fields of the form; None without one.
        source: the splice it was taken from, or None where there is nothing like it.
        words: where the settings come from.
    """

    form: dict[str, str]
    plan: Plan | None
    source: Splice | None
    words: str


def last_one(splices: Iterable[Splice], method: str, end: str) -> Splice | None:
    """The newest good one of this method, of this end before the other; without a good one, the newest."""
    fitting = [splice for splice in splices if not method or splice.method == method]
    ranked = [
        (splice.outcome in _MADE_WELL, splice.end.value == end, splice.made_on.latest(), place)
        for place, splice in enumerate(fitting)
    ]
    return fitting[max(ranked)[-1]] if ranked else None


_MADE_WELL = frozenset({Outcome.GOOD, Outcome.REMARK})


def like_rope(rope: Item, ropes: Iterable[Item]) -> Iterator[Item]:
    """Other ropes of the same maker and model, or, where those are unknown, of construction, fibre and diameter."""
    for other in ropes:
        if other.id != rope.id and other.rope is not None and _alike(rope, other):
            yield other


def _alike(rope: Item, other: Item) -> bool:
    if rope.maker and rope.model and other.maker and other.model:
        return (rope.maker.casefold(), rope.model.casefold()) == (other.maker.casefold(), other.model.casefold())
    return _facts(rope) == _facts(other)


def _facts(item: Item) -> tuple[object, ...]:
    facts = item.rope
    if facts is None:
        return ()
    return (facts.construction, facts.cover_fibre, facts.diameter.exact if facts.diameter else None)


def moved_to(plan: Plan | None, rope: Item, end: str, same_rope: bool) -> Plan | None:  # noqa: FBT001 (one caller)
    """The plan as it stands for this rope and end; None where its numbers were worked out for another kind of rope."""
    if plan is None or (not same_rope and not _same_spec(plan.inputs.rope, rope)):
        return None
    spec = plan.inputs.rope if same_rope else replace(plan.inputs.rope, name=rope.name, length_m=None)
    return replace(plan, inputs=replace(plan.inputs, rope=spec, rope_id=rope.id, end=end))


def plan_for(form: Form, plan: Plan | None, rope: Item | None) -> Plan | None:
    """The plan that a form is recorded with: none when its rope is of another kind than the plan was made for.

    Raises InvalidRecordError where marks of such a plan were measured, so that nothing typed is lost.
    """
    if plan is None or rope is None or plan.inputs.rope_id in {"", rope.id}:
        return plan
    moved = moved_to(plan, rope, form.get("end", ""), False)  # noqa: FBT003 (it is another rope)
    if moved is None and any(text.strip(BLANKS) for name, text in form.items() if name.startswith(MEASURED)):
        way_out = "plan it on this rope, or empty what was measured at the marks"
        raise InvalidRecordError((Fault("rope", "is of another kind than the rope of the plan's marks", way_out),))
    return moved


def _same_spec(spec: RopeSpec, rope: Item) -> bool:
    facts = rope.rope
    if facts is None or facts.diameter is None:
        return False
    return (spec.construction, spec.fibre, spec.diameter_m) == (
        facts.construction,
        facts.cover_fibre,
        facts.diameter.si,
    )


def differences(form: Form, last: Form, fields: Sequence[Field]) -> tuple[str, ...]:
    """The fields that are not as last time, one line each, in the order of the form; the date always differs.

    What was found last time and not noted this time is no difference: it was never filled in.
    """
    return tuple(_differences(form, last, fields))


def _differences(form: Form, last: Form, fields: Sequence[Field]) -> Iterator[str]:
    for field in fields:
        now, then = (one.get(field.name, "").strip(BLANKS) for one in (form, last))
        silent = not now and (field.name in FOUND or field.name.startswith(MEASURED))
        if now != then and not silent and field.name not in _NEVER_THE_SAME:
            yield f"{field.label}: {now or 'empty'}, last time {then or 'empty'}"
