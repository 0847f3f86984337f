"""The doors: a plan in, a card out, in each of its forms."""

from __future__ import annotations

from typing import Literal

from gearlog.domain.plan import Plan
from gearlog.reports.card.content.card import Signed, card_of
from gearlog.reports.card.html import to_html
from gearlog.reports.card.sheet import sheet_of
from gearlog.reports.card.svg import to_svg
from gearlog.reports.card.vector.drawing import figure_of

Paper = Literal["a4", "letter"]
DRAWING_MM = 186.0  # as wide as A4 paper between our margins; letter has more room
NOBODY = Signed()


def svg_drawing(plan: Plan) -> str:
    """The drawing alone as an ``svg`` element to put into a page; of a plan that stops the reasons instead."""
    figure = figure_of(plan, DRAWING_MM)
    return to_svg(figure or sheet_of(card_of(plan, DRAWING_MM, NOBODY)), plan.method_title)


def card_svg(plan: Plan) -> bytes:
    """The whole card as one SVG file, as wide as A4 and as long as it takes."""
    card = card_of(plan, DRAWING_MM, NOBODY)
    return to_svg(sheet_of(card), f"{card.head}: {card.title}", alone=True).encode()


def card_html(plan: Plan, signed: Signed = NOBODY) -> bytes:
    """The whole card as one HTML file that needs nothing else, to print on A4 or letter."""
    return to_html(card_of(plan, DRAWING_MM, signed)).encode()


def card_pdf(plan: Plan, paper: Paper = "a4", signed: Signed = NOBODY) -> bytes:
    """The whole card as a PDF on ``a4`` or ``letter``; the same plan gives the same bytes."""
    from gearlog.reports.card.pdf import to_pdf

    return to_pdf(card_of(plan, DRAWING_MM, signed), paper)
