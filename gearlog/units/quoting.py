"""What people typed, quoted in a message: shortened, and safe to show."""

from __future__ import annotations

from gearlog.units.visible import visible

QUOTED_LENGTH = 40  # characters; enough to recognise one's own typing on half a line of 80 columns


def quoted(text: str, most: int = QUOTED_LENGTH) -> str:
    """``text`` made visible, between quotation marks; of a long one ``most`` characters and three dots."""
    shown = visible(text[:most])
    if len(text) > most or len(shown) > most:
        return f"'{shown[:most]}...'"
    return f"'{shown}'"
