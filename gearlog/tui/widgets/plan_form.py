"""The planner's form: the work at the top, then rope, load and fine points; only what the method can use."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from msgspec.structs import replace
from textual.binding import BindingType

from gearlog.services.forms import Field
from gearlog.tui.keys import bindings
from gearlog.tui.widgets.controls import LineControl, hint_of
from gearlog.tui.widgets.form import Check
from gearlog.tui.widgets.form_beside import FormBeside
from gearlog.tui.widgets.picking import PickOne
from gearlog.tui.widgets.planning import MethodList, methods_to_choose

if TYPE_CHECKING:
    from gearlog.services.planner import Planner

GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("", ("rope", "end", "method", "eye", "pin", "girth", "finished", "both_ends", "shortest", "longest", "fid",
          "fid_thickness", "tool", "tapered", "twine")),
    ("The rope", ("construction", "strands", "lay", "fibre", "core_fibre", "diameter", "mbs", "condition", "length")),
    ("The load", ("use", "design_factor", "knot", "hardware")),
    ("Measured or learned", ("measured_diameter", "lay_length", "pick_length", "braid_angle", "swelling",
                             "shortening_correction", "eye_correction")),
)  # fmt: skip
"""Headings and their fields, in the order in which they are asked."""
BEFORE_A_METHOD = frozenset(
    {"rope", "end", "method", "eye", "pin", "fid", "construction", "strands", "lay", "fibre", "core_fibre",
     "diameter", "mbs", "condition", "length", "use"}
)  # fmt: skip
"""What is asked while no method is chosen: what nearly every one can use."""
ONLY_FOR: dict[str, frozenset[str]] = {
    "lay": frozenset({"hollow-braid"}),
    "core_fibre": frozenset({"cover-loaded", "double-braid", "core-loaded", "kernmantle"}),
}
"""Facts of a rope that only some constructions have; what was typed there is never hidden."""


def arranged(fields: Sequence[Field]) -> tuple[Field, ...]:
    """The fields in the order of ``GROUPS``; one that stands in no group comes last."""
    by_name = {field.name: field for field in fields}
    placed = [replace(by_name.pop(name), group=group) for group, names in GROUPS for name in names if name in by_name]
    return (*placed, *by_name.values())


class PlanForm(FormBeside):
    """The form; ``choose_among`` brings the method's list up to date with the rope."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("plan-form")

    def __init__(self, planner: Planner, start: Mapping[str, str], check: Check) -> None:
        super().__init__(arranged(planner.fields()), start, check=check, relevant=self._matters)
        self._planner = planner
        self._asked: dict[str, dict[str, Field]] = {}

    def choose_among(self, form: Mapping[str, str]) -> None:
        """Offer the methods for the form's rope: what fits first, finishes after what carries."""
        self.take_list("method", methods_to_choose(form, self._planner))

    def take_list(self, name: str, among: MethodList) -> None:
        """Give a choice its words, and what is told of each below the list."""
        control = self._rows[name].control
        if isinstance(control, PickOne):
            control.offer(among.choices, among.about)
            control.letters_open = True

    def read_methods_anew(self) -> None:
        """Forget what the methods asked for: their files were read again."""
        self._asked.clear()
        self._show_relevant()

    def _fields_of(self, method_id: str) -> dict[str, Field]:
        if method_id not in self._asked:
            fields = {field.name: field for field in self._planner.fields_for(method_id)}
            known = any(method.id == method_id for method in self._planner.methods())
            self._asked[method_id] = (
                fields if known else {name: field for name, field in fields.items() if name in BEFORE_A_METHOD}
            )
        return self._asked[method_id]

    def _matters(self, name: str, form: Mapping[str, str]) -> bool:
        kind = form.get("construction", "")
        fits = name not in ONLY_FOR or not kind or kind in ONLY_FOR[name] or bool(form.get(name))
        return fits and name in self._fields_of(form.get("method", ""))

    def _show_relevant(self) -> None:
        super()._show_relevant()
        for name, field in self._fields_of(self.values().get("method", "")).items():
            control = self._rows[name].control
            if isinstance(control, LineControl):
                control.show_hint(hint_of(field))
