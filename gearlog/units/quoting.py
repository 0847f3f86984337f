"""What people typed, quoted in a message: shortened, and with every unprintable sign made visible."""

from __future__ import annotations

import unicodedata

QUOTED_LENGTH = 40  # characters; enough to recognise one's own typing on half a line of 80 columns
_UNPRINTABLE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def visible(text: str) -> str:
    r"""``text`` with control, direction and other unprintable signs written as ``\x1b`` or ``\u202e``."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_escaped(sign) if is_unprintable(sign) else sign for sign in text)


def quoted(text: str, most: int = QUOTED_LENGTH) -> str:
    """``text`` between quotation marks, at most ``most`` characters of it and then three dots."""
    short = visible(text[:most])
    return f"'{short[:most]}...'" if len(text) > most or len(short) > most else f"'{short}'"


def is_unprintable(sign: str) -> bool:
    """Whether one character draws nothing of its own or commands the terminal; a plain space is printable."""
    return unicodedata.category(sign) in _UNPRINTABLE


def _escaped(sign: str) -> str:
    code = ord(sign)
    if code <= 0xFF:  # noqa: PLR2004 (the last code of two hexadecimal digits)
        return f"\\x{code:02x}"
    return f"\\u{code:04x}"
