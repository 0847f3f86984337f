"""How the planner's form follows the rope: which fields matter for it, and what the log fills in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gearlog.services.forms import CONSTRUCTIONS
from gearlog.services.views import Card, GearRow

if TYPE_CHECKING:
    from gearlog.services.planner import Planner

OF_ROPE = frozenset(
    {"rope", "construction", "strands", "lay", "fibre", "core_fibre", "diameter", "mbs", "use", "condition",
     "measured_diameter", "lay_length", "pick_length", "braid_angle", "swelling", "eye_correction",
     "shortening_correction", "length"}
)  # fmt: skip
"""Fields that tell of the rope; the others tell of the work and stay when another rope is taken."""
OF_THIS_PIECE = frozenset(
    {"measured_diameter", "lay_length", "pick_length", "braid_angle", "swelling", "eye_correction",
     "shortening_correction"}
)  # fmt: skip
"""What was measured on one rope or learned for it; it says nothing of another."""


def with_rope(
    form: Mapping[str, str], known: Mapping[str, str], before: Mapping[str, str], planner: Planner
) -> dict[str, str]:
    """The form for another rope: what the log knows of it, the work as it was, and the method that suits.

    What was typed stays where the log knows nothing; ``before``, what the log knew of the rope before, goes.
    """
    other = known.get("rope") != form.get("rope")
    typed = {
        name: text
        for name, text in form.items()
        if text and text != before.get(name) and not known.get(name) and not (other and name in OF_THIS_PIECE)
    }
    work = {name: text for name, text in form.items() if name not in OF_ROPE and text}
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
    return tuple((end.value, f"{end.value}: {view.words}") for end, view in card.ends.items())


@dataclass(frozen=True)
class MethodList:
    """The methods to choose from.

    Attributes:
        choices: (id, words) pairs, what fits first.
        about: for each id what it does, or why it does not fit.
    """

    choices: tuple[tuple[str, str], ...]
    about: Mapping[str, str]


def methods_to_choose(form: Mapping[str, str], planner: Planner) -> MethodList:
    """Those that fit the form's rope first, finishes after what carries; the others behind, marked."""
    advice = [one for one in planner.advice(form) if one.method_id]
    if not advice:
        methods = sorted(planner.methods(), key=lambda method: not method.carries)
        return MethodList(
            tuple((method.id, method.title) for method in methods), {method.id: method.summary for method in methods}
        )
    advice.sort(key=lambda one: (not one.fits, one.finish))
    return MethodList(
        tuple((one.method_id, one.title if one.fits else f"{one.title} (does not fit)") for one in advice),
        {one.method_id: one.reason for one in advice},
    )
