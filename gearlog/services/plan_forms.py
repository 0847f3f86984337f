"""The planner's form: from typed text, with the rope's record behind it, to the inputs of a plan."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.plan_inputs import Hardware, PlanInputs, RopeSpec, Tool
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import Condition, Lay, Unit, Use
from gearlog.errors import Fault, InvalidRecordError, ReadingError
from gearlog.services.correcting import read_correction, read_shortening
from gearlog.services.filling_forms import fill
from gearlog.services.forms import PLAN_FORM, Field
from gearlog.services.method_fields import matters, missing_faults, used
from gearlog.services.reading_forms import BLANKS, Form, Values, read_field, read_form
from gearlog.services.typed_lists import read_hardware, read_tools
from gearlog.splicing.method import Method
from gearlog.units.quoting import quoted

FID = "fid"
"""Name of the tool that the planner's form asks for."""
_OF_CONSTRUCTION = ("strands", "lay", "fibre", "core_fibre")
"""Fields that say nothing once another construction than the rope's is typed."""
MILLIMETRES = 1000  # in a metre
HAIR = Fraction(1, 1000)  # of a millimetre; a float of 12.3 m lies a hair below it


def plan_fields(methods: Sequence[Method]) -> tuple[Field, ...]:
    """The form's fields with the methods to choose from."""
    choices = tuple((method.id, method.title) for method in methods)
    return tuple(replace(field, choices=choices) if field.name == "method" else field for field in PLAN_FORM)


def rope_form(item: Item, length_now_m: float | None, unit: Unit) -> dict[str, str]:
    """What the log knows of a rope, as it would be typed into the planner's form; unknown fields are empty."""
    rope = item.rope
    if rope is None:
        return {"rope": item.tag}
    values: dict[str, object] = {
        "rope": item.tag,
        "construction": rope.construction,
        "strands": rope.strands,
        "lay": rope.lay,
        "fibre": rope.cover_fibre,
        "core_fibre": rope.core_fibre,
        "diameter": rope.diameter,
        "mbs": item.breaking_strength,
        "use": item.used_for,
        "condition": Condition.USED if item.first_used_on else Condition.NEW,
        "length": _length_text(item, length_now_m, unit),
    }
    return fill(PLAN_FORM, values)


def with_rope(form: Form, known: Form) -> dict[str, str]:
    """The form with its empty fields taken from what is known of the rope; what was typed wins."""
    typed = {name: text for name, text in form.items() if text.strip(BLANKS)}
    behind = {name: text for name, text in known.items() if text}
    construction = " ".join(typed.get("construction", "").casefold().split())
    if construction and construction != behind.get("construction"):
        behind = {name: text for name, text in behind.items() if name not in _OF_CONSTRUCTION}
    return {**form, **behind, **typed}


def read_inputs(form: Form, methods: Sequence[Method], settings: Settings, rope: Item | None) -> PlanInputs:
    """The inputs of a plan; raises InvalidRecordError with every fault.

    What the method cannot use is left out, also where it does not read: a screen hides it.
    """
    fields = plan_fields(methods)
    method = method_of(form, fields, methods)
    values, faults = read_form(fields, used(form, method) if method else form)
    faults += rope_fault(values, rope)
    if method is not None:
        faults += missing_faults(method, values, frozenset(fault.field for fault in faults))
    if values["fid_thickness"] is not None and values["fid"] is None:
        faults.append(Fault("fid", "is empty though its thickness is filled", "type the fid's length, such as 260 mm"))
    if values["girth"] is not None and values["pin"] is not None:
        faults.append(Fault("girth", "is filled beside the pin", "type the pin's diameter or the stem's girth"))
    tools, hardware = _lists(values, faults)
    correction = read_correction(values["eye_correction"], _si(values["eye"]), faults)
    shortening = read_shortening(values["shortening_correction"], faults)
    if faults:
        raise InvalidRecordError(tuple(faults))
    return replace(
        _inputs(values, settings, rope, tools=tools, hardware=hardware),
        eye_correction_m=correction.length_m,
        correction_words=correction.words,
        shortening_correction_m=shortening.length_m,
        shortening_words=shortening.words,
    )


def method_of(form: Form, fields: Sequence[Field], methods: Sequence[Method]) -> Method | None:
    """The method that the form names, or None where it names none that is there."""
    field = next(field for field in fields if field.name == "method")
    try:
        chosen = read_field(field, form.get("method", ""))
    except ReadingError:
        return None
    return next((method for method in methods if method.id == chosen), None)


def unused_fields(form: Form, methods: Sequence[Method]) -> tuple[str, ...]:
    """Names of the filled fields that the form's method cannot use; raises InvalidRecordError where one is wrong."""
    fields = plan_fields(methods)
    method = method_of(form, fields, methods)
    filled = (field for field in fields if form.get(field.name, "").strip(BLANKS))
    unused = [field for field in filled if method is not None and not matters(field.name, method)]
    _, faults = read_form(unused, {field.name: form[field.name] for field in unused})
    if faults:
        raise InvalidRecordError(tuple(faults))
    return tuple(field.name for field in unused)


def _lists(values: Values, faults: list[Fault]) -> tuple[tuple[Tool, ...], tuple[Hardware, ...]]:
    """Tools and hardware; what does not read is added to ``faults``."""
    tools, tool_faults = read_tools("tool", values["tool"])
    hardware, hardware_faults = read_hardware("hardware", values["hardware"])
    faults += tool_faults + hardware_faults
    return (*_fid(values), *tools), hardware


def rope_fault(values: Values, rope: Item | None) -> list[Fault]:
    """The fault of a tag that no rope of the log bears."""
    if not values["rope"] or (rope is not None and rope.rope is not None):
        return []
    way_out = "type the tag of a rope in the log, or leave it empty and type the rope"
    return [Fault("rope", f"{quoted(values['rope'])} is not the tag of a rope in the log", way_out)]


def _pin_m(values: Values) -> float | None:
    """The pin's diameter; a stem of girth g is round enough to be a pin of g / pi."""
    if values["girth"] is not None and values["pin"] is None:
        return float(values["girth"].si) / math.pi
    return _si(values["pin"])


def _inputs(
    values: Values, settings: Settings, rope: Item | None, *, tools: tuple[Tool, ...], hardware: tuple[Hardware, ...]
) -> PlanInputs:
    return PlanInputs(
        method=values["method"],
        rope=_rope_spec(values, rope),
        eye_m=_si(values["eye"]),
        pin_m=_pin_m(values),
        finished_m=_si(values["finished"]),
        shortest_m=_si(values["shortest"]),
        longest_m=_si(values["longest"]),
        twine_m=_si(values["twine"]),
        measured_diameter_m=_si(values["measured_diameter"]),
        tools=tools,
        condition=Condition(values["condition"] or Condition.NEW),
        use=Use(values["use"] or Use.PEOPLE),
        design_factor=values["design_factor"],
        unit=settings.unit,
        tape_parts=settings.tape_parts,
        both_ends=bool(values["both_ends"]),
        tapered=bool(values["tapered"]),
        braid_angle_deg=values["braid_angle"],
        swelling=values["swelling"],
        knots=values["knot"],
        hardware=hardware,
        rope_id=rope.id if rope else "",
        end=values["end"],
    )


def read_rope(form: Form, rope: Item | None) -> RopeSpec | None:
    """The form's rope as far as it reads, the rest unknown; None without a construction."""
    values, _ = read_form(PLAN_FORM, {name: text for name, text in form.items() if name != "method"})
    return _rope_spec(values, rope) if values["construction"] else None


def _rope_spec(values: Values, rope: Item | None) -> RopeSpec:
    """A diameter of zero stands for one that is not known yet; ``read_inputs`` lets none pass."""
    return RopeSpec(
        construction=values["construction"],
        diameter_m=_si(values["diameter"]) or 0.0,
        strands=values["strands"],
        lay=Lay(values["lay"]) if values["lay"] else None,
        fibre=values["fibre"],
        core_fibre=values["core_fibre"],
        mbs_n=_si(values["mbs"]),
        length_m=_si(values["length"]),
        lay_length_m=_si(values["lay_length"]),
        pick_length_m=_si(values["pick_length"]),
        name=rope.name if rope else "",
    )


def _fid(values: Values) -> tuple[Tool, ...]:
    if values["fid"] is None:
        return ()
    return (Tool(name=FID, length_m=values["fid"].si, thickness_m=_si(values["fid_thickness"])),)


def _si(measure: object) -> float | None:
    si: float | None = getattr(measure, "si", None)
    return si


def _length_text(item: Item, length_now_m: float | None, unit: Unit) -> str:
    """The length as bought where nothing was cut, else the length now, rounded down to a millimetre."""
    bought = item.rope.length_bought if item.rope else None
    if length_now_m is None or length_now_m <= 0:
        return ""
    if bought is not None and abs(bought.si - length_now_m) * MILLIMETRES < 1:
        return bought.text
    return _typed_length(length_now_m, unit)


def _typed_length(metres: float, unit: Unit) -> str:
    from gearlog.units.convert import from_si

    symbol = "ft" if unit is Unit.IMPERIAL else "m"
    thousandths = int(from_si(metres, symbol) * MILLIMETRES + HAIR)
    return f"{thousandths // MILLIMETRES}.{thousandths % MILLIMETRES:03d}".rstrip("0").rstrip(".") + f" {symbol}"
