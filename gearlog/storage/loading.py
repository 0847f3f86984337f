"""Making many objects at once without the garbage collector looking through them again and again."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

MANY_OBJECTS = 20_000
"""More than this many new objects are set apart from later collections; a few thousand records make them."""


@contextmanager
def quiet() -> Iterator[None]:
    """Hold the collector still inside the block; what was loaded stays out of its later rounds."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        if gc.get_count()[0] > MANY_OBJECTS:
            gc.freeze()
        gc.enable()
