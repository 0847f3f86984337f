"""The bench card: one page of a plan to work from, as HTML, PDF or SVG, in black on white."""

from gearlog.reports.card.content.card import Signed
from gearlog.reports.card.making import Paper, card_html, card_pdf, card_svg, svg_drawing

__all__ = ["Paper", "Signed", "card_html", "card_pdf", "card_svg", "svg_drawing"]
