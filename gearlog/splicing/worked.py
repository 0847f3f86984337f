"""A method's named lengths worked out for one rope: what marks, tapers, pulls and steps stand on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from gearlog.domain.constructions import construction
from gearlog.domain.plan import NamedLength, Shortening
from gearlog.domain.plan_inputs import PlanInputs
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.formula import Quantity, evaluate, metres, names_in, put_in
from gearlog.splicing.method import COMMON_PRACTICE, Method
from gearlog.splicing.names import Names, asked_names, asked_on_tape, rope_names
from gearlog.splicing.rules import LengthRule, TuckCount, When
from gearlog.splicing.shortening import OWN_MEASURE, shortening_of
from gearlog.splicing.tape import division_m, nearest, rounded_up
from gearlog.units import showing
from gearlog.units.measure import Length

PLAIN_NUMBERS = frozenset({"n", "tucks", "tapered_tucks"})
UNITS = frozenset({"mm", "inch"})


@dataclass(frozen=True, slots=True)
class Worked:
    """The names of a method with their values for these inputs.

    Attributes:
        names: exact; ``tape_names`` the same with lengths rounded to the user's tape.
        strands: strands or carriers, stated or the construction's usual number.
        strands_assumed: whether the usual number was taken.
        tuck_count: the full tucks to make, or None where the method has none.
        shortening: over all buries, or None where the method has none.
    """

    method: Method
    inputs: PlanInputs
    names: Names
    tape_names: Names
    lengths: tuple[NamedLength, ...]
    strands: int
    strands_assumed: bool
    tuck_count: TuckCount | None
    shortening: Shortening | None

    def length_m(self, formula: str) -> float:
        """A length formula's value in m."""
        return float(evaluate(formula, self.names).value)

    def tape_m(self, formula: str) -> float:
        """A length formula's value on the user's tape, in m."""
        return float(nearest(evaluate(formula, self.tape_names).value, division_m(self.inputs)))

    def show(self, length_m: float) -> str:
        """A length as the user's tape shows it."""
        return shown(length_m, self.inputs)

    def force(self, newtons: float) -> str:
        """A force in the user's unit."""
        return showing.force(newtons, imperial=self.inputs.unit == Unit.IMPERIAL)

    def with_values(self, formula: str) -> str:
        """A formula with the values put in, as the user's tape shows them."""
        return _with_values(formula, self.names, self.inputs)


def work_out(method: Method, inputs: PlanInputs) -> Worked:
    """Resolve every name of ``method`` for ``inputs``; what it asks for must be there."""
    stated = inputs.rope.strands
    strands = stated or construction(inputs.rope.construction).default_strands or 0
    count = first_tuck_count(method, inputs)
    names = rope_names(inputs, strands, count.count if count else 0, tapered_tucks(method, inputs))
    tape = names | asked_on_tape(inputs) | {"fid": Quantity(rounded_up(names["fid"].value, division_m(inputs)), 1)}
    names |= asked_names(inputs)
    lengths = tuple(
        _named(rule, method, inputs, (names, tape))
        for rule in method.lengths
        if rule.name not in names and applies(rule.when, inputs)
    )
    shortening = shortening_of(method, inputs, names, strands)
    _add_cut(method, inputs, (names, tape), shortening)
    return Worked(
        method,
        inputs,
        names,
        tape,
        lengths,
        strands,
        strands_assumed=not stated,
        tuck_count=count,
        shortening=shortening,
    )


def applies(when: When, inputs: PlanInputs) -> bool:
    """Whether an entry of the method applies to these inputs."""
    diameter = metres(inputs.rope.diameter_m).value
    return (
        (not when.fibres or inputs.rope.fibre in when.fibres)
        and (not when.core_fibres or inputs.rope.core_fibre in when.core_fibres)
        and (not when.conditions or inputs.condition in when.conditions)
        and (not when.styles or ("tapered" if inputs.tapered else "plain") in when.styles)
        and (not when.least_diameter or diameter >= _exact(when.least_diameter))
        and (not when.below_diameter or diameter < _exact(when.below_diameter))
    )


def first_tuck_count(method: Method, inputs: PlanInputs) -> TuckCount | None:
    """The first tuck count that applies, or None."""
    counts = method.tucks.counts if method.tucks else ()
    return next((count for count in counts if applies(count.when, inputs)), None)


def tapered_tucks(method: Method, inputs: PlanInputs) -> int:
    """Further tucks of a tapered finish; 0 where none is wanted or the method has none."""
    tapered = method.tucks.tapered if method.tucks else None
    return tapered.extra if tapered and inputs.tapered else 0


def shown(length_m: float, inputs: PlanInputs) -> str:
    """A length as the user's tape shows it."""
    return showing.length(length_m, imperial=inputs.unit == Unit.IMPERIAL, parts=inputs.tape_parts)


@lru_cache(maxsize=64)
def _exact(text: str) -> Fraction:
    return Length.read(text).exact


def _add_cut(method: Method, inputs: PlanInputs, tables: tuple[Names, Names], shortening: Shortening | None) -> None:
    """Add ``shortening``, and ``cut`` where the finished length or the range was given, else the rope's own length."""
    over = metres(shortening.length_m if shortening else 0.0)
    for names in tables:
        names["shortening"] = over
        if formula := cut_formula(method, inputs):
            names["cut"] = evaluate(formula, names)
        elif inputs.rope.length_m is not None:
            names["cut"] = metres(inputs.rope.length_m)
    if "cut" in tables[1]:
        longer = max(names["cut"].value for names in tables)
        tables[1]["cut"] = Quantity(rounded_up(longer, division_m(inputs)), 1)


def cut_formula(method: Method, inputs: PlanInputs) -> str:
    """The formula of the cut length where these inputs ask for one, else an empty text."""
    rule = method.finished
    ranged = inputs.shortest_m is not None and inputs.longest_m is not None and method.shape == "sling"
    if rule is None or not (inputs.finished_m is not None or ranged):
        return ""
    return rule.both_cut if inputs.both_ends and rule.both_cut else rule.cut


def _named(rule: LengthRule, method: Method, inputs: PlanInputs, tables: tuple[Names, Names]) -> NamedLength:
    """Work one rule out, exactly and on the tape, and add its name; the user's own measure goes before the formula."""
    names, tape = tables
    measured = {"lay": inputs.rope.lay_length_m, "pick": inputs.rope.pick_length_m, "twine": inputs.twine_m}.get(
        rule.measured
    )
    formula, source = ("measured", OWN_MEASURE) if measured else (rule.formula, method.source_text(rule.source))
    worked = "measured" if measured else _with_values(rule.formula, names, inputs)
    names[rule.name] = metres(measured) if measured else evaluate(rule.formula, names)
    rough = names[rule.name].value if measured else max(names[rule.name].value, evaluate(rule.formula, tape).value)
    tape[rule.name] = Quantity(rounded_up(rough, division_m(inputs)), 1)
    return NamedLength(
        name=rule.name,
        title=rule.title,
        length_m=float(names[rule.name].value),
        formula=formula,
        worked=worked,
        source=source,
        common_practice=not measured and COMMON_PRACTICE in rule.source,
        tape_m=float(tape[rule.name].value),
    )


def _with_values(formula: str, names: Names, inputs: PlanInputs) -> str:
    return put_in(formula, {name: _figure(name, names, inputs) for name in names_in(formula) - UNITS})


def _figure(name: str, names: Names, inputs: PlanInputs) -> str:
    """A name's value as the user's tape shows it."""
    if name == "d":
        return showing.diameter(inputs.rope.diameter_m, imperial=inputs.unit == Unit.IMPERIAL)
    value = names[name].value
    return str(int(value)) if name in PLAIN_NUMBERS else shown(float(value), inputs)
