from __future__ import annotations

import re
from html.parser import HTMLParser

import html5lib
import pytest

from gearlog.domain.plan import RopeSpec
from gearlog.reports.card import Signed, card_html
from gearlog.reports.card.style import STYLE
from gearlog.reports.words import Tape
from tests.reports.card.plans import NAMES, plan_of


class Reader(HTMLParser):
    """Gathers the text, table cell by table cell, and every attribute."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text: list[str] = []
        self.cells: list[str] = []
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs
        if tag == "td":
            self.cells.append("")

    def handle_data(self, data: str) -> None:
        self.text.append(data)
        if self.cells and self.tags[-1] in {"td", "bdi", "span"}:
            self.cells[-1] += data


def read(page: bytes) -> Reader:
    reader = Reader()
    reader.feed(page.decode("utf-8"))
    reader.close()
    return reader


@pytest.mark.parametrize("name", NAMES)
def test_the_page_is_valid_and_tells_marks_checks_steps_and_cautions(name: str) -> None:
    plan = plan_of(name)
    page = card_html(plan)
    html5lib.HTMLParser(strict=True).parse(page.decode("utf-8"))
    reader, tape = read(page), Tape.of(plan.inputs)
    text = " ".join(reader.text)
    for wanted in (*(check.message for check in plan.checks), *plan.steps, *plan.cautions, plan.method_title):
        assert wanted in text
    cells = "|".join(cell.strip() for cell in reader.cells)
    for mark in plan.marks:
        assert f"|{mark.letter}|{mark.part}|{tape.length(mark.shown_m)}||{mark.name}" in f"|{cells}"


@pytest.mark.parametrize("name", NAMES)
def test_the_page_needs_nothing_from_outside_and_has_room_to_write(name: str) -> None:
    plan = plan_of(name)
    page = card_html(plan).decode("utf-8")
    reader = read(page.encode())
    assert not {"script", "link", "img", "iframe", "object"} & set(reader.tags)
    assert not {"src", "href", "action"} & {key for key, _ in reader.attributes}
    assert not re.search(r"url\(|@import|https?://(?!www\.w3\.org/2000/svg)", page)
    assert page.count('class="box"') == len(plan.marks) + len(plan.steps) + len(plan.taper) + len(plan.pulls)
    assert page.count('<td class="blank">') == len(plan.marks)
    assert "@page" in page


def test_what_is_known_of_the_making_is_filled_in() -> None:
    page = read(card_html(plan_of("laid-eye"), Signed(made_on="2026-03-01", made_by="<b>", checked_by="C & D")))
    assert {"2026-03-01", "<b>", "C & D"} <= set(page.text)
    assert "b" not in page.tags


def test_what_warns_stands_before_the_work_and_what_is_noted_after_it() -> None:
    plan = plan_of("cover-eye")
    text = " ".join(read(card_html(plan)).text)
    levels = {check.level for check in plan.checks}
    assert levels == {"warn", "note"}
    for check in plan.checks:
        assert (text.index(check.message) < text.index("Marks, from")) == (check.level == "warn")
    calm = " ".join(read(card_html(plan_of("whip-common"))).text)
    assert "Nothing stops or warns; 2 notes before the cautions." in calm


def test_the_rules_for_paper_come_after_those_for_the_screen() -> None:
    """Of two rules of the same weight the later one wins."""
    assert STYLE.rindex("@media print") > max(
        STYLE.rindex(f"\n{rule} {{") for rule in ("svg", "h2", "td.blank", "section")
    )


def test_picks_are_counted_where_their_length_is_known() -> None:
    """12 strands, 2 left: cuts at 42 i mm of 252 mm, on picks of 10 mm at 4, 8, 13, 17 and 21."""
    rope = RopeSpec(construction="hollow-braid", diameter_m=0.012, strands=12, fibre="polyester", pick_length_m=0.01)
    cells = [cell.strip() for cell in read(card_html(plan_of("hollow-eye", rope=rope))).cells]
    joined = "|".join(cells)
    for picks, left in ((4, 10), (8, 8), (13, 6), (17, 4), (21, 2)):
        assert f"mm|{picks}|{left}|" in joined
    assert (
        "picks" not in " ".join(read(card_html(plan_of("hollow-eye"))).text).split("Pulls")[0].split("Taper, from")[1]
    )
