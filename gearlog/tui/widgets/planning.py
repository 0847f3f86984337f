"""How the planner's form follows the rope: which fields matter for it, and what the log fills in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from gearlog.domain.vocabulary import label
from gearlog.services.forms import CONSTRUCTIONS
from gearlog.services.views import Card, GearRow

if TYPE_CHECKING:
    from gearlog.services.planner import Planner

ONLY_FOR: dict[str, frozenset[str]] = {
    "lay": frozenset({"hollow-braid"}),
    "core_fibre": frozenset({"cover-loaded", "double-braid", "kernmantle"}),
    "lay_length": frozenset({"three-strand"}),
    "pick_length": frozenset({"hollow-braid", "cover-loaded", "double-braid", "kernmantle"}),
}
"""Fields that matter only for some constructions."""
NOT_OF_ROPE = frozenset({"end", "method", "eye", "pin", "fid", "fid_thickness", "design_factor"})
"""Fields that tell of the work, not of the rope; they stay when another rope is taken."""


def relevant(name: str, form: Mapping[str, str]) -> bool:
    """Whether a field matters for the construction; what was typed is never hidden."""
    kind = form.get("construction", "")
    return name not in ONLY_FOR or not kind or kind in ONLY_FOR[name] or bool(form.get(name))


def with_rope(
    form: Mapping[str, str], known: Mapping[str, str], before: Mapping[str, str], planner: Planner
) -> dict[str, str]:
    """The form for another rope: what the log knows of it, the work as it was, and the method that suits.

    What was typed stays where the log knows nothing; ``before``, what the log knew of the rope before, goes.
    """
    typed = {name: text for name, text in form.items() if text and text != before.get(name) and not known.get(name)}
    work = {name: text for name, text in form.items() if name in NOT_OF_ROPE and text}
    filled = dict(known) | typed | work | {name: known[name] for name in ("end", "method") if known.get(name)}
    fitting = [one.method_id for one in planner.advice(filled) if one.fits and one.method_id and not one.finish]
    if filled["method"] not in fitting and (len(fitting) == 1 or not filled["method"]):
        filled["method"] = fitting[0] if len(fitting) == 1 else ""
    return filled


def rope_choices(rows: Sequence[GearRow]) -> tuple[tuple[str, str], ...]:
    """The ropes among the gear by tag, with enough words beside to know them and to find them by typing."""
    ropes = [(row, row.item.rope) for row in rows if row.item.rope is not None]
    titles = dict(CONSTRUCTIONS)
    width = max((len(row.tag) for row, _ in ropes), default=0)
    choices = [
        (row.item.id, ", ".join(filter(None, (f"{row.tag:<{width}}  {row.name}", str(rope.diameter or ""),
                                             titles.get(rope.construction, rope.construction)))))
        for row, rope in ropes
    ]  # fmt: skip
    return tuple(sorted(choices, key=lambda choice: choice[1].casefold()))


def end_choices(card: Card) -> tuple[tuple[str, str], ...]:
    """The two ends of a rope with the state each is in."""
    return tuple((end.value, f"{end.value}: {label(view.state)}, {view.why}") for end, view in card.ends.items())


def method_choices(form: Mapping[str, str], planner: Planner) -> tuple[tuple[str, str], ...]:
    """The methods to choose from: those that fit the form's rope first, the others marked."""
    methods = [one for one in planner.advice(form) if one.method_id]
    if not methods:
        return tuple((method.id, method.title) for method in planner.methods())
    return tuple((one.method_id, one.title if one.fits else f"{one.title} (does not fit)") for one in methods)
