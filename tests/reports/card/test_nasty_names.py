"""What people type is shown as typed in every format: never obeyed, never the end of the page."""

from __future__ import annotations

import io
from xml.etree import ElementTree as ET

import html5lib
import msgspec
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gearlog.domain.plan import Plan, Tool
from gearlog.reports.card import Signed, card_html, card_pdf, card_svg, svg_drawing
from gearlog.units.visible import visible
from tests.reports.card.plans import plan_of
from tests.reports.card.test_html import read

NASTY = [
    "</title><script>alert(1)</script>",
    "]]> <!-- <![CDATA[ &amp; &#0; \"'",
    "a\x00b\x1b[2Jc\x7fd",
    "\u202eright to left\u2066",
    "\ud800 half a pair",
    "\ufffe\uffff\ufdd0 \U0001ffff no signs",
    "שלום עולם 12 مرحبا",
    "縄の端 한국어 中文",
    "🧵🪢 \u0301\u0301\u0301",
    "w" * 400,
]


def named(name: str) -> Plan:
    """A plan with the name wherever people's words can stand."""
    plan = plan_of("hollow-eye", rope_name=name, tools=(Tool(name=name, length_m=0.3),))
    mark = msgspec.structs.replace(plan.marks[0], name=name, do=name)
    check = msgspec.structs.replace(plan.checks[0], message=name, source=name)
    return msgspec.structs.replace(
        plan, method_title=name, marks=(mark, *plan.marks[1:]), checks=(check,), steps=(name,), tools=(name,)
    )


def every_format(name: str) -> tuple[bytes, bytes]:
    """All formats made and read by the standard library and others; the HTML and the PDF."""
    plan, signed = named(name), Signed(made_by=name)
    page, pdf = card_html(plan, signed), card_pdf(plan, "letter", signed)
    html5lib.HTMLParser(strict=True).parse(page.decode("utf-8"))
    for drawing in (card_svg(plan), svg_drawing(plan)):
        ET.fromstring(drawing)  # noqa: S314 (our own output)
    assert len(pypdf.PdfReader(io.BytesIO(pdf)).pages) >= 1
    return page, pdf


@pytest.mark.parametrize("name", NASTY)
def test_a_nasty_name_is_shown_and_makes_no_element(name: str) -> None:
    page, _ = every_format(name)
    reader = read(page)
    assert "script" not in reader.tags
    shown = visible(name) if "\ufffe" not in name else "no signs"
    assert any(shown.strip() in text for text in reader.text)


@pytest.mark.parametrize("name", [name for name in NASTY if name.isascii() or "\ufffe" in name or "\ud800" in name])
def test_on_paper_what_cannot_be_drawn_stands_as_its_number(name: str) -> None:
    _, pdf = every_format(name)
    text = "".join("".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    for sign in name:
        written = sign if sign.isascii() and sign.isprintable() else sign.encode("unicode_escape").decode("ascii")
        assert "".join(written.split()) in text


@settings(max_examples=20)
@given(name=st.text(st.characters(), min_size=1, max_size=60))
def test_any_name_at_all_can_be_printed(name: str) -> None:
    every_format(name)
