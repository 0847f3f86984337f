"""What tests say of a splice that they record: the form leaves its outcome open, so each must choose one."""

from __future__ import annotations

from gearlog.domain.plan import Plan
from gearlog.services.book import Book

GOOD = {"outcome": "good"}
NEW_ROPE = {"condition": "new"}
"""What the form of a splice without a plan leaves open beside its outcome."""


def made_form(book: Book, plan: Plan) -> dict[str, str]:
    """The form of a splice made by this plan (at end A where it names none) that came out good."""
    return book.diary.form_from_plan(plan) | {"end": plan.inputs.end or "A"} | GOOD
