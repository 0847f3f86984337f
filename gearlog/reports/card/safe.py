"""People's text made safe for markup: nothing in it is obeyed, and signs that XML forbids are written out."""

from __future__ import annotations

import html
import re

from gearlog.units.visible import visible

NO_SIGNS = "".join(chr(plane * 0x10000 + last) for plane in range(1, 17) for last in (0xFFFE, 0xFFFF))
FORBIDDEN = re.compile(f"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\x7f-\x9f\ufdd0-\ufdef{NO_SIGNS}]")
"""What XML 1.0 and HTML do not allow or advise against: control signs, halves of pairs, places without a sign."""


def markup(text: str) -> str:
    """``text`` for the content of an element or a quoted attribute."""
    return html.escape(FORBIDDEN.sub(_written, visible(text)))


def _written(match: re.Match[str]) -> str:
    return match[0].encode("unicode_escape", "surrogatepass").decode("ascii")
