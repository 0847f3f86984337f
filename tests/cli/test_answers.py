"""What recall and list answer on the demo log, in words and as JSON."""

from __future__ import annotations

import json

from tests.cli.conftest import Call


def test_recall_ranks_this_rope_first_and_says_why(call: Call) -> None:
    found = json.loads(call("recall", "--rope", "line-2", "--method", "cover-eye", "--json", "--sample").out)
    tags = [match["rope"] for match in found["matches"]]
    assert tags[:2] == ["line-2", "line-2"]
    assert all(match["why"] for match in found["matches"])
    assert found["summary"]["made"] >= found["summary"]["good"] > 0
    assert "In this rope: 2 made" in call("--sample", "recall", "--rope", "line-2", "--method", "cover-eye").out


def test_recall_asks_for_a_rope_that_is_only_described(call: Call) -> None:
    ended = call(
        "--sample", "recall", "--construction", "hollow-braid", "--method", "hollow-eye", "--diameter", "12 mm"
    )
    assert ended.code == 0
    assert "strop-1" in ended.out
    assert "line-2" not in ended.out


def test_nothing_alike_is_an_answer_too(call: Call) -> None:
    ended = call("recall", "--construction", "hollow-braid")
    assert (ended.code, ended.err) == (0, "")
    assert ended.out.count("\n") == 1


def test_the_list_tells_each_item_in_one_line_and_the_same_as_json(call: Call) -> None:
    lines = call("--sample", "list").out.splitlines()
    rows = json.loads(call("--sample", "list", "--json").out)
    assert len(lines) == len(rows) == 60
    assert [line.split(":")[0] for line in lines] == [row["tag"] for row in rows]
    overdue = {row["tag"] for row in rows if row["due"].startswith("OVERDUE")}
    assert overdue == {line.split(":")[0] for line in lines if "OVERDUE" in line}
    assert "helmet-3" in overdue


def test_an_empty_log_is_listed_without_complaint(call: Call) -> None:
    assert call("list").code == 0
    assert json.loads(call("list", "--json").out) == []
