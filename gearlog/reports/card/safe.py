"""People's text made safe for markup: nothing in it is obeyed, and signs that XML forbids are written out."""

from __future__ import annotations

import html
import re

from gearlog.units.visible import visible

FORBIDDEN = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\x7f-\x9f\ufdd0-\ufdef]")
"""What XML 1.0 and HTML do not allow or advise against."""


def markup(text: str) -> str:
    """``text`` for the content of an element or a quoted attribute."""
    return html.escape(FORBIDDEN.sub(_written, visible(text)))


def _written(match: re.Match[str]) -> str:
    return match[0].encode("unicode_escape", "surrogatepass").decode("ascii")
