"""Waiting until all keys that were pressed have done what they do, however loaded the machine is."""

from __future__ import annotations

import asyncio
import time

from textual.app import App
from textual.pilot import Pilot

from gearlog.tui.app import GearlogApp

PATIENCE_S = 20.0


async def settled(app: App[None]) -> None:
    """Until no key is under way, or the app was left; fails when neither comes."""
    assert isinstance(app, GearlogApp)
    ended = time.monotonic() + PATIENCE_S
    while not app._exit and (app.keys_under_way or app._message_queue.qsize()):
        assert time.monotonic() < ended, "the keys came to no end"
        await asyncio.sleep(0.002)


async def all_done(pilot: Pilot[None]) -> None:
    """Until no key is under way, and what they did is painted."""
    await settled(pilot.app)
    await pilot.pause()
