"""Which fields of the planner's form matter for a method, and which it cannot do without."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from msgspec.structs import replace

from gearlog.domain.constructions import construction
from gearlog.errors import Fault
from gearlog.services.forms import Field
from gearlog.splicing.fitting import HOLLOW
from gearlog.splicing.formula import names_in
from gearlog.splicing.method import Method

ALWAYS_READ = frozenset({"lay", "core_fibre"})
"""Facts of the rope, known from its record, that stay true where a method does not ask for them."""


def fields_for(method: Method, fields: Sequence[Field]) -> tuple[Field, ...]:
    """The fields that change something in a plan of this method, with those required that it asks for."""
    asked = frozenset(method.asks)
    shown = (field for field in fields if matters(field.name, method))
    return tuple(replace(field, required=True) if field.name in asked else field for field in shown)


def matters(name: str, method: Method) -> bool:
    """Whether a field of the form changes anything in a plan of this method."""
    rule = _RULES.get(name)
    return rule is None or rule(method)


def used(form: Mapping[str, str], method: Method) -> dict[str, str]:
    """The form without what the method cannot use; the rope's own facts stay."""
    return {name: text for name, text in form.items() if name in ALWAYS_READ or matters(name, method)}


def missing_faults(method: Method, values: Mapping[str, object], faulty: frozenset[str]) -> list[Fault]:
    """A fault for each thing that the method asks for and nothing was typed for; ``faulty`` is told already."""
    return [
        Fault(name, f"is empty, and '{method.title}' needs it", f"type the {words}, such as {example}")
        for name, (words, example) in _ASKED.items()
        if name in method.asks and values[name] is None and name not in faulty
    ]


_ASKED = {
    "eye": ("eye's inside length", "150 mm or 6 in"),
    "finished": ("wanted finished length", "6 m or 20 ft"),
    "shortest": ("shortest setting, crown to crown", "2.5 m or 8 ft"),
    "longest": ("longest setting, crown to crown", "4 m or 13 ft"),
}


def _has_eye(method: Method) -> bool:
    return "eye" in method.asks


def _has_pulls(method: Method) -> bool:
    return bool(method.pulls)


def _carries(method: Method) -> bool:
    return method.carries


def _swells(method: Method) -> bool:
    return method.swelling is not None


def _in_its_sum(name: str) -> Callable[[Method], bool]:
    """Whether the method works its cut length out from ``name``, or asks for it."""
    return lambda method: (
        name in method.asks
        or (method.finished is not None and bool(method.finished.cut) and name in names_in(method.finished.cut))
    )


def _has_tapered_finish(method: Method) -> bool:
    """Whether it knows further, thinned tucks, or a step of its own for such a finish."""
    more = method.tucks is not None and method.tucks.tapered is not None
    return more or any("tapered" in step.when.styles for step in method.steps)


def _measured(name: str) -> Callable[[Method], bool]:
    """Whether the user's own measure replaces a formula of the method."""
    return lambda method: any(rule.measured == name for rule in method.lengths)


_RULES: dict[str, Callable[[Method], bool]] = {
    "lay": lambda method: HOLLOW in method.constructions and method.shape != "finish",
    "core_fibre": lambda method: any(construction(one).has_core for one in method.constructions),
    "eye": _has_eye,
    "eye_correction": _has_eye,
    "pin": _has_eye,
    "girth": _has_eye,
    "finished": _in_its_sum("finished"),
    "both_ends": lambda method: method.finished is not None and bool(method.finished.both_cut),
    "shortest": _in_its_sum("shortest"),
    "longest": _in_its_sum("longest"),
    "fid": _has_pulls,
    "fid_thickness": _has_pulls,
    "tool": _has_pulls,
    "design_factor": _carries,
    "knot": _carries,
    "hardware": _carries,
    "tapered": _has_tapered_finish,
    "lay_length": _measured("lay"),
    "pick_length": lambda method: method.taper is not None or _measured("pick")(method),
    "twine": _measured("twine"),
    "braid_angle": _swells,
    "swelling": _swells,
    "shortening_correction": _swells,
}
"""Field -> whether it matters; a field that is not here always does."""
