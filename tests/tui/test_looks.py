from __future__ import annotations

import itertools

import pytest
from rich.segment import Segment
from textual.color import Color

from gearlog.services.book import Book
from gearlog.tui.look import GROUNDS, INKS, LOOKS
from tests.tui.conftest import Start, text

FLOOR = 4.5  # WCAG 2.1, 1.4.3, contrast of text
RULES = set("│┃▁▂▃▄▅▆▇█▌▐▎┊ \n")  # lines and scroll bars carry no words


def luminance(color: Color) -> float:
    """Relative luminance, WCAG 2.1."""
    parts = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in color.normalized]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one: Color, other: Color) -> float:
    """Contrast ratio, WCAG 2.1."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


@pytest.mark.parametrize("look", LOOKS)
def test_every_ink_stands_out_from_every_ground(look: str) -> None:
    for ink, ground in itertools.product(INKS, GROUNDS):
        ratio = contrast(Color.parse(LOOKS[look][ink]), Color.parse(LOOKS[look][ground]))
        assert ratio >= FLOOR, f"{look}: {ink} on {ground} is {ratio:.2f}"


def faint(segments: list[Segment]) -> list[str]:
    """Words that are printed with too little contrast."""
    found = []
    for segment in segments:
        style = segment.style
        if style is None or set(segment.text) <= RULES or style.color is None or style.bgcolor is None:
            continue
        ink, ground = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
        if contrast(ink, ground) < FLOOR:
            found.append(f"{segment.text.strip()!r} {ink.hex} on {ground.hex}")
    return found


@pytest.mark.parametrize("look", LOOKS)
async def test_every_word_on_the_screens_is_legible(full: Book, start: Start, look: str) -> None:
    full.keep(theme=look)
    async with start(full, (120, 40)) as pilot:
        for keys in ((), ("2",), ("slash", "h"), ("escape", "a"), ("ctrl+s",), ("escape", "u"), ("escape", "k")):
            await pilot.press(*keys)
            await pilot.pause()
            strips = pilot.app.screen._compositor.render_strips(pilot.app.size)
            assert faint([segment for strip in strips for segment in strip]) == [], keys


async def test_without_colour_nothing_is_coloured_and_the_chosen_row_is_still_marked(
    full: Book, start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with start(full) as pilot:
        await pilot.press("2")
        strips = pilot.app.screen._compositor.render_strips(pilot.app.size)
        filters = [one for one in pilot.app._filters if one.enabled]
        segments = [segment for strip in strips for segment in strip.apply_filter(filters[-1], Color(0, 0, 0))]
        colours = {
            str(color.name) for segment in segments if segment.style for color in
            (segment.style.color, segment.style.bgcolor) if color is not None
        }  # fmt: skip
        assert colours == {"default"}
        assert "> helmet" in text(pilot)
        assert "[2 Gear]" in text(pilot)


async def test_an_empty_no_color_means_colour(full: Book, start: Start, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "")
    async with start(full) as pilot:
        assert not pilot.app.no_color
