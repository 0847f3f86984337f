"""A worked plan on which explanations are written: its names as figures, and where each of them is from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from gearlog.domain.explained import Explained
from gearlog.domain.plan import NamedLength, Plan
from gearlog.splicing.explaining.figures import Figures, plain
from gearlog.splicing.formula import Quantity, evaluate, put_in, words_in
from gearlog.splicing.method import COMMON_PRACTICE_LABEL, Method
from gearlog.splicing.worked import Worked, shown, work_out
from gearlog.units import showing

TYPED = "as typed"
DEFINITION = "by definition: distances run along the relaxed rope"
ROUNDED_UP = "rounded up to the user's tape, so that no length is shorter than its rule asks"
ROUNDED = "worked out again from the rounded lengths, to the nearest mark of the user's tape"
LEARNED_LOOP = "2 * eye, with what was learned from the diary"
BASE = {
    "d": f"rope diameter, {TYPED}",
    "fid": f"21 * d, {COMMON_PRACTICE_LABEL}",
    "n": "strands or carriers",
    "tucks": "full tucks on a side",
    "tapered_tucks": "further, thinned tucks",
    "eye": f"inside length of the eye, {TYPED}",
    "loop": "2 * eye",
    "finished": f"finished length, {TYPED}",
    "shortest": f"shortest setting, {TYPED}",
    "longest": f"longest setting, {TYPED}",
    "shortening": "what the buries shorten, explained under the shortening",
    "cut": "cut length, explained as such",
}
"""Names that are there before the method's own, and where they are from."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How a number comes about.

    Attributes:
        formula: in names; ``worked`` with the values put in.
        went_in: each name with its value and where that is from.
    """

    formula: str
    worked: str
    source: str
    went_in: tuple[str, ...] = ()

    @classmethod
    def given(cls, figure: str, source: str) -> Rule:
        """A number that is not worked out: a source or the user gives it."""
        return cls(figure, figure, source)


@dataclass(frozen=True)
class Sheet:
    """One plan with the method that gave it."""

    plan: Plan
    method: Method

    @cached_property
    def worked(self) -> Worked:
        """The method worked out again; only for a plan that has numbers."""
        return work_out(self.method, self.plan.inputs)

    @cached_property
    def figures(self) -> Figures:
        """How the reader measures."""
        return Figures.of(self.plan.inputs)

    @cached_property
    def lengths(self) -> dict[str, NamedLength]:
        """The method's lengths by name."""
        return {length.name: length for length in self.plan.lengths}

    @cached_property
    def exact(self) -> dict[str, str]:
        """Every name with its exact value."""
        return {name: self.quantity(value) for name, value in self.worked.names.items()}

    @cached_property
    def on_tape(self) -> dict[str, str]:
        """Every name with its value on the user's tape."""
        return {name: self.quantity(value) for name, value in self.worked.tape_names.items()}

    def quantity(self, value: Quantity) -> str:
        """A value as it stands in a formula."""
        return self.figures.length(value.value) if value.dimension else plain(value.value)

    def by_formula(self, formula: str, source: str, also: Mapping[str, str] | None = None) -> Rule:
        """The rule of an exact length; ``also`` holds names that the method does not know."""
        return Rule(formula, put_in(formula, {**self.exact, **(also or {})}), source, self.went_in(formula))

    def up_to_tape(self, formula: str) -> Rule:
        """The rule of a length rounded up to the tape, from the exact names where those on the tape give less."""
        step = self.figures.step
        less = evaluate(formula, self.worked.tape_names).value < evaluate(formula, self.worked.names).value
        shown = self.exact if less else self.on_tape
        text = f"ceil(({put_in(formula, shown)}) / {step}) * {step}"
        return Rule(f"ceil(({formula}) / step) * step", text, ROUNDED_UP, self._went_in(formula, shown))

    def nearest_on_tape(self, formula: str, also: Mapping[str, str] | None = None) -> Rule:
        """The rule of a place to the nearest mark of the tape."""
        step = self.figures.step
        worked = f"floor(({put_in(formula, {**self.on_tape, **(also or {})})}) / {step} + 1/2) * {step}"
        return Rule(f"floor(({formula}) / step + 1/2) * step", worked, ROUNDED, self.went_in(formula, tape=True))

    def typed_up_to_tape(self, name: str, metres: float) -> Rule:
        """The rule of a measure of the user's own, rounded up to the tape."""
        step = self.figures.step
        worked = f"ceil({self.figures.length(metres)} / {step}) * {step}"
        return Rule(f"ceil({name} / step) * step", worked, ROUNDED_UP)

    def went_in(self, formula: str, *, tape: bool = False) -> tuple[str, ...]:
        """Each name of the formula with its value and where that is from."""
        return self._went_in(formula, self.on_tape if tape else self.exact)

    def _went_in(self, formula: str, table: Mapping[str, str]) -> tuple[str, ...]:
        return tuple(f"{name} = {table[name]}: {self._origin(name)}" for name in sorted(words_in(formula) & set(table)))

    def _origin(self, name: str) -> str:
        if name in self.lengths:
            length = self.lengths[name]
            return f"{length.title}, {length.formula}, {length.source}"
        if name == "loop" and self.plan.inputs.eye_correction_m:
            return LEARNED_LOOP
        return BASE.get(name, "unit")

    def length(self, key: str, title: str, number: float, rule: Rule) -> Explained:
        """A length explained."""
        return _explained(key, title, number, shown(number, self.plan.inputs), rule)

    def force(self, key: str, title: str, number: float, rule: Rule) -> Explained:
        """A force explained."""
        return _explained(key, title, number, showing.force(number, imperial=self.figures.imperial), rule)

    def number(self, key: str, title: str, number: float, rule: Rule) -> Explained:
        """A plain number explained."""
        return _explained(key, title, number, f"{number:.6g}", rule)


def _explained(key: str, title: str, number: float, value: str, rule: Rule) -> Explained:
    return Explained(
        key=key,
        title=title,
        number=number,
        value=value,
        formula=rule.formula,
        worked=rule.worked,
        inputs=rule.went_in,
        source=rule.source,
        common_practice=COMMON_PRACTICE_LABEL in rule.source,
    )
