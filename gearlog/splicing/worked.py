"""A method's named lengths worked out for one rope and eye: what marks, tapers, pulls and steps stand on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from gearlog.domain.constructions import construction
from gearlog.domain.plan import NamedLength, PlanInputs
from gearlog.domain.vocabulary import Unit
from gearlog.splicing.formula import Quantity, evaluate, metres, number, put_in
from gearlog.splicing.method import COMMON_PRACTICE, LengthRule, Method, TuckCount, When
from gearlog.splicing.tape import INCH_M, MILLIMETRE_M, division_m, nearest, rounded_up
from gearlog.units import showing
from gearlog.units.measure import Length

FID_DIAMETERS = 21  # fid length over rope diameter; common practice, no source
PLAIN_NUMBERS = frozenset({"n", "tucks"})


@dataclass(frozen=True, slots=True)
class Worked:
    """The names of a method with their values for these inputs.

    Attributes:
        names: exact; ``tape_names`` the same with lengths rounded to the user's tape.
        strands: strands or carriers, stated or the construction's usual number.
        strands_assumed: whether the usual number was taken.
        tuck_count: the full tucks to make, or None where the method has none.
    """

    method: Method
    inputs: PlanInputs
    names: dict[str, Quantity]
    tape_names: dict[str, Quantity]
    lengths: tuple[NamedLength, ...]
    strands: int
    strands_assumed: bool
    tuck_count: TuckCount | None

    def length_m(self, formula: str) -> float:
        """A length formula's value in m."""
        return float(evaluate(formula, self.names).value)

    def tape_m(self, formula: str) -> float:
        """A length formula's value on the user's tape, in m."""
        return float(nearest(evaluate(formula, self.tape_names).value, division_m(self.inputs)))

    def show(self, length_m: float) -> str:
        """A length as the user's tape shows it."""
        return shown(length_m, self.inputs)

    def with_values(self, formula: str) -> str:
        """A formula with the values put in, as the user's tape shows them."""
        return _with_values(formula, self.names, self.inputs)


def work_out(method: Method, inputs: PlanInputs) -> Worked:
    """Resolve every named length of ``method`` for ``inputs``."""
    stated = inputs.rope.strands
    usual = construction(inputs.rope.construction).default_strands or 0
    strands = stated or usual
    count = first_tuck_count(method, inputs)
    names = base_names(inputs, strands, count.count if count else 0)
    tape = names | _eye_on_tape(inputs)
    lengths = tuple(
        _named(rule, method, inputs, (names, tape))
        for rule in method.lengths
        if rule.name not in names and applies(rule.when, inputs)
    )
    return Worked(method, inputs, names, tape, lengths, strands, strands_assumed=not stated, tuck_count=count)


def base_names(inputs: PlanInputs, strands: int, tucks: int) -> dict[str, Quantity]:
    """The names that every formula may use: ``d fid eye loop n tucks mm inch``."""
    d, eye = metres(inputs.rope.diameter_m), metres(inputs.eye_m)
    return {
        "d": d,
        "fid": Quantity(FID_DIAMETERS * d.value, 1),
        "eye": eye,
        "loop": Quantity(2 * eye.value, 1),
        "n": number(strands),
        "tucks": number(tucks),
        "mm": Quantity(MILLIMETRE_M, 1),
        "inch": Quantity(INCH_M, 1),
    }


def applies(when: When, inputs: PlanInputs) -> bool:
    """Whether an entry of the method applies to these inputs."""
    diameter = metres(inputs.rope.diameter_m).value
    return (
        (not when.fibres or inputs.rope.fibre in when.fibres)
        and (not when.conditions or inputs.condition in when.conditions)
        and (not when.least_diameter or diameter >= _exact(when.least_diameter))
        and (not when.below_diameter or diameter < _exact(when.below_diameter))
    )


def first_tuck_count(method: Method, inputs: PlanInputs) -> TuckCount | None:
    """The first tuck count that applies, or None."""
    counts = method.tucks.counts if method.tucks else ()
    return next((count for count in counts if applies(count.when, inputs)), None)


def shown(length_m: float, inputs: PlanInputs) -> str:
    """A length as the user's tape shows it."""
    return showing.length(length_m, imperial=inputs.unit == Unit.IMPERIAL, parts=inputs.tape_parts)


@lru_cache(maxsize=64)
def _exact(text: str) -> Fraction:
    return Length.read(text).exact


def _eye_on_tape(inputs: PlanInputs) -> dict[str, Quantity]:
    eye = nearest(metres(inputs.eye_m).value, division_m(inputs))
    return {"eye": Quantity(eye, 1), "loop": Quantity(2 * eye, 1)}


def _named(
    rule: LengthRule, method: Method, inputs: PlanInputs, tables: tuple[dict[str, Quantity], dict[str, Quantity]]
) -> NamedLength:
    """Work one rule out, exactly and on the tape, and add its name; the user's own measure goes before the formula."""
    names, tape = tables
    measured = {"lay": inputs.rope.lay_length_m, "pick": inputs.rope.pick_length_m}.get(rule.measured)
    worked = _with_values(rule.formula, names, inputs) if measured is None else "measured"
    names[rule.name] = evaluate(rule.formula, names) if measured is None else metres(measured)
    rough = evaluate(rule.formula, tape) if measured is None else metres(measured)
    tape[rule.name] = Quantity(rounded_up(rough.value, division_m(inputs)), 1)
    return NamedLength(
        name=rule.name,
        title=rule.title,
        length_m=float(names[rule.name].value),
        formula=rule.formula if measured is None else "measured",
        worked=worked,
        source=method.source_text(rule.source) if measured is None else "the user's own measure",
        common_practice=measured is None and COMMON_PRACTICE in rule.source,
        tape_m=float(tape[rule.name].value),
    )


def _with_values(formula: str, names: dict[str, Quantity], inputs: PlanInputs) -> str:
    values = {
        name: str(int(value.value)) if name in PLAIN_NUMBERS else shown(float(value.value), inputs)
        for name, value in names.items()
        if name not in {"mm", "inch"}
    }
    values["d"] = showing.diameter(inputs.rope.diameter_m, imperial=inputs.unit == Unit.IMPERIAL)
    return put_in(formula, values)
