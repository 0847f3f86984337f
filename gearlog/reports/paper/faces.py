"""The faces that paper is printed with: how wide a text is, where it breaks, and which font draws which sign.

The package brings one narrow sans serif with Latin, Greek, Cyrillic, Hebrew, Arabic and most symbols, so that a page
looks the same on every machine. East Asian signs are left to the fonts of whoever opens the page, as readers of PDF
bring them. What no font draws is written as its number, never as an empty box.
"""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path
from typing import Any

from gearlog.reports.paper.reading_order import as_seen
from gearlog.units.visible import visible

PLAIN = "gearlog-plain"
BOLD = "gearlog-bold"
_FILES = {PLAIN: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
_FOLDER = Path(__file__).parent / "fonts"
JAPANESE, CHINESE, KOREAN = "HeiseiKakuGo-W5", "STSong-Light", "HYGothic-Medium"
"""Names under which readers of PDF know East Asian fonts; these are not put into the file."""
EM = 1000  # parts of the font's size in which a sign's width is told
REMEMBERED = 65_536  # broken texts; a long list repeats most of them
_JAPANESE_SIGNS, _KOREAN_SIGNS, _CHINESE_SIGNS = "shift_jisx0213", "euc_kr", "gb2312"
"""Character sets that tell which of the three draws a sign."""


@cache
def font(face: str) -> Any:
    """The loaded font of a face, made known to the printer on first use."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.cidfonts import UnicodeCIDFont
    from reportlab.pdfbase.ttfonts import TTFont

    made = TTFont(face, str(_FOLDER / _FILES[face]), asciiReadable=1) if face in _FILES else UnicodeCIDFont(face)
    pdfmetrics.registerFont(made)
    return made


@cache
def _widths(face: str) -> dict[str, float]:
    """Sign -> its width in parts of the font's size, of the signs that the face draws itself."""
    widths = font(face).face.charWidths
    return {chr(code): width for code, width in widths.items()}


def drawable(text: str, face: str = PLAIN) -> str:
    """``text`` on one line, with every sign that cannot be drawn written as its number."""
    shown = visible(text)
    if shown.isascii():
        return shown
    return "".join(sign if _drawn_by(sign, face) else _number(sign) for sign in shown)


def width(text: str, size: float, face: str = PLAIN) -> float:
    """How wide a drawable text is (points)."""
    own = _widths(face)
    return sum([own.get(sign, EM) for sign in text]) * size / EM


def pieces(text: str, face: str) -> tuple[tuple[str, str], ...]:
    """A drawable text in the order in which it is seen, cut where another font must draw: (font, piece)."""
    if text.isascii():
        return ((face, text),)
    parts = groupby(as_seen(text), key=lambda sign: _drawn_by(sign, face))
    return tuple((name or face, "".join(signs)) for name, signs in parts)


@lru_cache(REMEMBERED)
def broken(text: str, room: float, size: float, face: str = PLAIN) -> tuple[str, ...]:
    """``text`` made drawable and broken at spaces to lines that fit into ``room`` points; a longer word is cut."""
    shown = drawable(text, face)
    if width(shown, size, face) <= room:
        return (shown,)
    lines: list[str] = []
    line = ""
    for word in shown.split(" "):
        joined = f"{line} {word}" if line else word
        if width(joined, size, face) <= room:
            line = joined
            continue
        if line:
            lines.append(line)
        *full, line = _cut(word, room, size, face)
        lines += full
    return (*lines, line)


def _cut(word: str, room: float, size: float, face: str) -> list[str]:
    """A word in parts that fit; behind hyphens and slashes where that does."""
    parts = [""]
    for sign in word:
        if parts[-1] and width(parts[-1] + sign, size, face) > room:
            kept = max(parts[-1].rfind("-"), parts[-1].rfind("/"), parts[-1].rfind(",")) + 1
            rest = parts[-1][kept:] if kept > 1 else ""
            parts[-1] = parts[-1][:kept] if kept > 1 else parts[-1]
            parts.append(rest)
        parts[-1] += sign
    return parts


@lru_cache(REMEMBERED)
def _drawn_by(sign: str, face: str) -> str:
    """The font that draws a sign; empty where none does."""
    if sign in _widths(face):
        return face
    if "\uac00" <= sign <= "\ud7a3":
        return KOREAN
    for name, signs in ((JAPANESE, _JAPANESE_SIGNS), (CHINESE, _CHINESE_SIGNS), (KOREAN, _KOREAN_SIGNS)):
        if _holds(signs, sign):
            return name
    return ""


def _holds(signs: str, sign: str) -> bool:
    try:
        sign.encode(signs)
    except UnicodeEncodeError:
        return False
    return True


def _number(sign: str) -> str:
    return sign.encode("unicode_escape").decode("ascii")
