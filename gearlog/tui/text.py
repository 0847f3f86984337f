"""The only door for people's text: shown as typed, never read as markup, control signs visible and not obeyed."""

from __future__ import annotations

from functools import lru_cache

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from gearlog.units.visible import folded, visible

ELLIPSIS = "…"
_PICTURES = 0x2400  # the block of control pictures: U+2400 + n shows the control sign n
_DELETE, _DELETE_PICTURE = 0x7F, "\u2421"
_OTHER = "\u25a1"  # a white square, one cell wide


def one_for_one(text: str) -> str:
    """``text`` with each control sign as one visible sign, so that cursor positions in it stay true."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(map(_one, text))


@lru_cache(4096)
def _one(sign: str) -> str:
    code = ord(sign)
    if code < ord(" "):
        return chr(_PICTURES + code)
    if code == _DELETE:
        return _DELETE_PICTURE
    return sign if visible(sign) == sign else _OTHER


def content(text: str, style: str = "") -> Content:
    """People's text for a widget, in a style such as ``$quiet`` or ``bold``; lines are kept."""
    lines = "\n".join(visible(line) for line in text.split("\n"))
    return Content.styled(lines, style) if style else Content(lines)


@lru_cache(16384)
def cell(text: str, width: int, *, right: bool = False) -> str:
    """``text`` in exactly ``width`` cells, cut with an ellipsis, padded on the right or the left."""
    if width <= 0:
        return ""
    shown = visible(text)
    length = cell_len(shown)
    if length > width:
        return set_cell_size(shown, width - 1) + ELLIPSIS
    padding = " " * (width - length)
    return padding + shown if right else shown + padding


def wrapped(text: str, width: int) -> tuple[str, ...]:
    """``text`` written out and broken at spaces into lines of at most ``width`` cells."""
    return folded(text, max(width, 1))
