"""What was found when a backup was read."""

from __future__ import annotations

import msgspec


class Verified(msgspec.Struct, frozen=True, kw_only=True):
    """What was found in a backup.

    Attributes:
        made_at: when it was made (UTC, ISO 8601).
        files: how many files it holds; ``bytes`` how many bytes they have.
        records: how many records of each kind read, by the name of their table.
        findings: what is wrong, a line each; empty is sound.
    """

    made_at: str = ""
    files: int = 0
    bytes: int = 0
    records: dict[str, int] = {}
    findings: tuple[str, ...] = ()
