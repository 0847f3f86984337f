"""A change of the log that still stands, as it is told to the user."""

from __future__ import annotations

import msgspec


class Done(msgspec.Struct, frozen=True):
    """One change.

    Attributes:
        at: when it was saved (UTC, ISO 8601).
        what: what was done, in the user's words.
    """

    at: str
    what: str
