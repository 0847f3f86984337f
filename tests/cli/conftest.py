"""The command line called in this process, with a log of its own and both streams apart."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from gearlog.cli.main import main

TODAY = date(2026, 11, 1)


@dataclass(frozen=True)
class Ended:
    code: int
    out: str
    err: str


Call = Callable[..., Ended]


@pytest.fixture(autouse=True)
def log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """No test touches the log of whoever runs it."""
    folder = tmp_path / "log"
    monkeypatch.setenv("GEARLOG_DIR", str(folder))
    return folder


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Call:
    def called(*arguments: str) -> Ended:
        code = main(arguments, today=lambda: TODAY)
        out, err = capsys.readouterr()
        return Ended(code, out, err)

    return called
