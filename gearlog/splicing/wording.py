"""Words of a method with names in curly brackets, and how they are filled."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

_PLACEHOLDER = re.compile(r"\{([a-z0-9_]*)\}")


@lru_cache(maxsize=1024)
def placeholders(text: str) -> tuple[str, ...]:
    """The names in curly brackets."""
    return tuple(_PLACEHOLDER.findall(text))


def filled(text: str, words: Mapping[str, str]) -> str:
    """The text with each known name replaced."""
    return _PLACEHOLDER.sub(lambda match: words.get(match[1], match[0]), text)
