"""A fault of the program itself in the screens is told in one line; what was typed before it is there again."""

from __future__ import annotations

from pathlib import Path

import pytest

from gearlog.errors import TRACE
from gearlog.services.book import open_book
from gearlog.tui.app import GearlogApp
from gearlog.tui.widgets.form import FormView
from tests.tui.conftest import TODAY


async def go_wrong(app: GearlogApp) -> None:
    """Type into a form and meet a planted fault, as at a terminal, where nobody catches it."""

    def fault(app: GearlogApp) -> None:
        raise ZeroDivisionError("planted\x1b[31m")

    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("2", "a", *"pulley")
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(GearlogApp, "is_headless", False)
            patch.setattr(GearlogApp, "action_theme", fault)
            await pilot.press("f8")


@pytest.mark.parametrize("trace", [False, True])
async def test_it_is_one_line_unless_the_trace_is_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *, trace: bool
) -> None:
    monkeypatch.delenv(TRACE, raising=False)
    if trace:
        monkeypatch.setenv(TRACE, "1")

    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        app = GearlogApp(book)
        with pytest.raises(ZeroDivisionError):
            await go_wrong(app)
    told = "".join(capsys.readouterr())
    assert ("Traceback" in told) == trace
    assert ("a fault of the program itself, ZeroDivisionError: planted" in " ".join(told.split())) != trace
    assert trace or "\x1b[31m" not in told
    assert app.return_code == (1 if trace else 3)
    with open_book(tmp_path / "log", today=lambda: TODAY) as book:
        app = GearlogApp(book)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            assert app.screen.query_one(FormView).values()["name"] == "pulley"
