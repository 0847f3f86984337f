"""Taking back from the command line: one step a call, over any number of sessions, each step named."""

from __future__ import annotations

import json
from pathlib import Path

from gearlog.services.book import open_book
from tests.cli.conftest import TODAY, Call


def filled(log: Path) -> None:
    """Three changes in three sessions."""
    for name in ("first line", "second [/] line", "third line"):
        with open_book(log, today=lambda: TODAY) as book:
            book.gear.add({"name": name, "category": "connector"})


def test_each_call_takes_one_step_back_over_restarts_and_names_it(call: Call, log: Path) -> None:
    filled(log)
    listed = call("undo", "--list").out.splitlines()
    assert [line.split("UTC  ")[1] for line in listed] == ["add third-line", "add second-line", "add first-line"]

    for tag in ("third-line", "second-line", "first-line"):
        ended = call("undo")
        assert (ended.code, ended.out, ended.err) == (0, f"taken back: add {tag}\n", "")
        assert tag not in call("list").out

    assert call("undo").out == "there is nothing to take back\n"
    assert call("undo", "--list").out == "there is nothing to take back\n"


def test_telling_the_last_changes_takes_nothing_back(call: Call, log: Path) -> None:
    filled(log)
    assert json.loads(call("undo", "--list", "--json").out)[0]["what"] == "add third-line"
    assert json.loads(call("list", "--json").out)[-1]["tag"] == "third-line"
    assert json.loads(call("undo", "--json").out) == {"undone": "add third-line"}


def test_a_log_that_cannot_be_written_refuses_in_one_line(call: Call, log: Path) -> None:
    filled(log)
    with open_book(log, today=lambda: TODAY):
        ended = call("undo")
    assert ended.code != 0
    assert ended.out == ""
    assert "another program" in ended.err
