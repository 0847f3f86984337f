"""The planner: from a form, with the log behind it, to a plan, its drawing, and what worked last time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.lifecycle import end_states, length_now
from gearlog.domain.plan import Plan, PlanInputs
from gearlog.domain.vocabulary import Unit
from gearlog.errors import NotFoundError
from gearlog.services import rope_checks
from gearlog.services.filling_forms import blank
from gearlog.services.forms import PLAN_FORM, Field
from gearlog.services.method_fields import fields_for
from gearlog.services.own_methods import OwnMethods
from gearlog.services.plan_forms import plan_fields, read_inputs, read_rope, rope_form, unused_fields, with_rope
from gearlog.services.reading_forms import Form
from gearlog.services.shelf import Shelf
from gearlog.services.workshop import Workshop
from gearlog.splicing.method import Method
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.domain.explained import Explained
    from gearlog.domain.ropes_compared import RopesCompared
    from gearlog.recall import Demand, Recall
    from gearlog.splicing.guidance import Advice


class Planner:
    """Plans splices on ropes of the log, or on ropes that are only typed.

    Attributes:
        own: the user's own methods: copied from a built-in one, checked.
    """

    def __init__(self, shelf: Shelf, workshop: Workshop) -> None:
        self._shelf = shelf
        self._workshop = workshop
        self.own = OwnMethods(workshop)

    def methods(self) -> tuple[Method, ...]:
        """Every method that reads."""
        return self._workshop.methods()

    def method(self, method_id: str) -> Method:
        """The method with this id; raises NotFoundError."""
        return self._workshop.method(method_id)

    def read_methods_again(self) -> None:
        """Read the user's own methods from their folder again when they are next asked for."""
        self._workshop.read_again()

    def method_faults(self) -> tuple[str, ...]:
        """What is wrong with the user's own method files, a line each."""
        return self._workshop.faults()

    def fields(self) -> tuple[Field, ...]:
        """The form's fields with the methods to choose from."""
        return plan_fields(self.methods())

    def fields_for(self, method_id: str) -> tuple[Field, ...]:
        """The fields that change something in a plan of this method, those it asks for required.

        Every field while the method is not known.
        """
        method = next((method for method in self.methods() if method.id == method_id), None)
        return fields_for(method, self.fields()) if method is not None else self.fields()

    def unused(self, form: Form) -> tuple[str, ...]:
        """Names of the fields that are filled though the form's method cannot use them.

        Raises InvalidRecordError where one of them does not read.
        """
        return unused_fields(form, self.methods())

    def blank_form(self) -> dict[str, str]:
        """A new form."""
        return blank(PLAN_FORM)

    def form_for(self, item_id: str, end: str = "") -> dict[str, str]:
        """A new form with all that the log knows of a rope; raises NotFoundError."""
        known = self._known(self._shelf.item(item_id))
        return self.blank_form() | {name: text for name, text in known.items() if text} | {"end": end}

    def inputs(self, form: Form) -> PlanInputs:
        """What the plan is worked out from: as typed, and from the rope's record where nothing was typed.

        Raises InvalidRecordError with every fault.
        """
        return read_inputs(self._whole(form), self.methods(), self._shelf.store.settings, self._rope(form))

    def plan(self, form: Form) -> Plan:
        """The plan for a form; raises InvalidRecordError with every fault."""
        return self.plan_for(self.inputs(form))

    def plan_for(self, inputs: PlanInputs) -> Plan:
        """The plan for inputs, with the checks that only the log can make; raises NotFoundError."""
        from gearlog.splicing.plan import make_plan

        method = self._workshop.method(inputs.method)
        plan = make_plan(method, inputs)
        rope = self._shelf.find(inputs.rope_id)
        if rope is None:
            return plan
        clear = self._clear_rope(rope, plan)
        if clear is not None:
            plan = make_plan(method, replace(inputs, clear_rope_m=clear))
        return rope_checks.with_checks(plan, rope_checks.found(rope, inputs.end, self._shelf))

    def draw(self, plan: Plan, width: int) -> tuple[str, ...]:
        """The plan's picture, ``width`` columns wide (60 at least)."""
        from gearlog.splicing.drawing import draw

        return draw(plan, width)

    def advice(self, form: Form) -> tuple[Advice, ...]:
        """Which methods suit the form's rope; none while its construction is not known."""
        from gearlog.splicing.guidance import which_methods

        spec = read_rope(self._whole(form), self._rope(form))
        return which_methods(self.methods(), spec) if spec is not None else ()

    def recall(self, inputs: PlanInputs) -> Recall:
        """What was made before on this rope or on one like it."""
        from gearlog.services.recalling import recalled

        return recalled(inputs, self._shelf)

    def recall_for(self, form: Form, demand: Demand | None = None) -> Recall:
        """The same for a form that is only partly filled; raises InvalidRecordError with every fault.

        ``demand`` is what the lower bound of strength is to hold.
        """
        from gearlog.services.recalling import answered, query_of

        return answered(query_of(self._whole(form), self.methods(), self._rope(form)), self._shelf, demand)

    def explain(self, plan: Plan) -> tuple[Explained, ...]:
        """Every number of a plan with its formula, inputs and source.

        Raises NotFoundError when the method is not there any more as it was when the plan was made.
        """
        from gearlog.splicing.explain import explain

        method = self._workshop.method(plan.method)
        if method.version != plan.method_version:
            raise NotFoundError(
                f"the plan was made by version {plan.method_version} of {quoted(plan.method)}, and version "
                f"{method.version} is here; plan it anew to have its numbers explained"
            )
        return explain(plan, method)

    def card(self, plan: Plan, kind: str, *, paper: str | None = None) -> bytes:
        """One page for the bench as ``pdf``, ``html`` or ``svg``; on A4, or on Letter for an inch tape, unless said."""
        from gearlog.reports.card.making import card_html, card_pdf, card_svg

        if kind == "pdf":
            usual = "letter" if plan.inputs.unit is Unit.IMPERIAL else "a4"
            return card_pdf(plan, "letter" if (paper or usual) == "letter" else "a4")
        return card_html(plan) if kind == "html" else card_svg(plan)

    def compare(self, first: str, second: str) -> RopesCompared:
        """Two ropes side by side, each by its tag or in words; raises NotFoundError or ReadingError."""
        from gearlog.services.comparing_ropes import RopeComparing

        return RopeComparing(self._shelf, self._workshop).compare(first, second)

    def plain(self, plan: Plan) -> tuple[str, ...]:
        """The plan as plain lines."""
        from gearlog.reports.plain import plan_lines

        return tuple(plan_lines(plan))

    def _rope(self, form: Form) -> Item | None:
        return self._shelf.find_tag(form.get("rope", ""))

    def _whole(self, form: Form) -> Form:
        rope = self._rope(form)
        return with_rope(form, self._known(rope)) if rope is not None else form

    def _known(self, rope: Item) -> dict[str, str]:
        now = length_now(rope, self._shelf.events_of(rope.id), self._shelf.versions_of(rope.id))
        return rope_form(rope, now, self._shelf.store.settings.unit)

    def _clear_rope(self, rope: Item, plan: Plan) -> float | None:
        """Rope left between this splice and the one at the other end (m); None when it cannot be told."""
        events, splices = self._shelf.events_of(rope.id), self._shelf.versions_of(rope.id)
        length = plan.inputs.rope.length_m
        here = rope_checks.extent(plan)
        there = rope_checks.other_extent(end_states(rope, splices, events), plan.inputs.end)
        if length is None or here is None or there is None:
            return None
        return length - here - there
