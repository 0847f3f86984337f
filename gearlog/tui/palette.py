"""The command palette: every key of the present screen, by its words."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial

from textual.command import DiscoveryHit, Hit, Hits, Provider

from gearlog.tui.keys import EVERYWHERE, Key, keys_of


class KeyProvider(Provider):
    """Offers what the keys do; what needs no key is offered by none."""

    def _rows(self) -> tuple[Key, ...]:
        from gearlog.tui.screens.base import GearlogScreen

        where = self.screen.keys_place if isinstance(self.screen, GearlogScreen) else ""
        rows = keys_of(where, EVERYWHERE, *(("form",) if where == "form-screen" else ()))
        return tuple({(row.action or row.id): row for row in reversed(rows)}.values())[::-1]

    def _run(self, row: Key) -> Callable[[], Awaitable[bool]]:
        namespace = self.app if EVERYWHERE in row.where else self.screen
        return partial(self.app.run_action, row.action or row.id.replace("-", "_"), namespace)

    async def discover(self) -> Hits:
        """Everything, before a letter is typed."""
        for row in self._rows():
            yield DiscoveryHit(_title(row), self._run(row), help=row.tip)

    async def search(self, query: str) -> Hits:
        """What fits the letters typed."""
        matcher = self.matcher(query)
        for row in self._rows():
            score = matcher.match(_title(row))
            if score > 0:
                yield Hit(score, matcher.highlight(_title(row)), self._run(row), help=row.tip)


def _title(row: Key) -> str:
    return f"{row.words} ({row.shown})"
