"""The places: each screen is imported when it is first entered, so that the start stays quick."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

from textual.screen import Screen


def _today() -> Screen[Any]:
    from gearlog.tui.screens.today import TodayScreen

    return TodayScreen()


def _gear() -> Screen[Any]:
    from gearlog.tui.screens.gear import GearScreen

    return GearScreen()


def _splices() -> Screen[Any]:
    from gearlog.tui.screens.splices import SplicesScreen

    return SplicesScreen()


def _planner() -> Screen[Any]:
    from gearlog.tui.screens.planner import PlannerScreen

    return PlannerScreen()


def _bench() -> Screen[Any]:
    from gearlog.tui.screens.bench import BenchScreen

    return BenchScreen()


def _audit() -> Screen[Any]:
    from gearlog.tui.screens.audit import AuditScreen

    return AuditScreen()


MODES: dict[str, Callable[[], Screen[Any]]] = {
    "today": _today,
    "gear": _gear,
    "splices": _splices,
    "planner": _planner,
    "bench": _bench,
    "audit": _audit,
}
"""Name of the place and what makes its screen."""


def load(place: str) -> None:
    """Import a place's screen before it is entered, and the services that it asks."""
    import_module(f"gearlog.tui.screens.{place}")
    import_module("gearlog.services.book")
