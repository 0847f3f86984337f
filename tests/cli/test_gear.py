"""The verbs of gear: due and its calendar, an item's story, inspections, cuts, decisions, many at once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Call

ROPE = ("add", "--name", "Long line", "--category", "lifeline", "--tag", "line-1", "--construction", "cover-loaded",
        "--diameter", "12.7 mm", "--length-bought", "45 m", "--bought-on", "2026-09")  # fmt: skip
WHO = ("--inspector", "AB", "--competence", "course")


def passed(call: Call, tag: str, *more: str) -> int:
    """Inspect thoroughly as a person does: print the lines, look, let the rest pass."""
    code = call("inspect", tag, "--kind", "thorough").out.split()[-1]
    return call("inspect", tag, "--kind", "thorough", "--rest", "pass", "--seen", code, *WHO, *more).code


def test_due_lists_what_is_due_with_its_rule_and_ends_with_a_finding_when_overdue(call: Call) -> None:
    assert (call("due").code, call("due").out) == (0, "Nothing is due\n")
    call(*ROPE)
    ended = call("due", "--json")
    (row,) = json.loads(ended.out)
    assert ended.code == 1
    assert list(row) == ["tag", "due_on", "state", "rule", "reason"]
    assert (row["tag"], row["due_on"], row["state"]) == ("line-1", None, "never-examined")
    assert passed(call, "line-1") == 0
    assert call("due", "--json").out.strip() == "[]"
    ended = call("due", "--on", "2027-04-10", "--json")
    assert (ended.code, json.loads(ended.out)[0]["due_on"]) == (0, "2027-05-01")
    assert json.loads(call("due", "--within", "200", "--json").out)[0]["state"] == "in-date"
    assert call("due", "--on", "2027-05-02").code == 1


def test_a_past_day_says_what_of_it_is_of_today(call: Call) -> None:
    call(*ROPE)
    told = "the item's data and the rule sets are those of today"
    assert told in call("show", "line-1", "--on", "2026-10-01").out
    assert told not in call("show", "line-1").out


def test_the_account_of_a_length_is_told_so_that_it_can_be_added_up(call: Call) -> None:
    call(*ROPE)
    for end, length in (("A", "863.4 mm"), ("B", "12 ft"), ("A", "1/2 in")):
        call("cut", "line-1", "--as", "trim", "--end", end, "--length", length)
    lines = call("show", "line-1").out.splitlines()
    off = [line.split()[2:4] for line in lines if line.startswith("cut off: ")]
    assert [unit for _, unit in off] == ["m", "m", "m"]
    left = next(line.split()[2] for line in lines if line.startswith("length now: "))
    assert sum(float(number) for number, _ in off) + float(left) == pytest.approx(45, abs=0.002)
    assert next(line for line in lines if line.startswith("end A: ")) == "end A: bare, cut since it came"


@pytest.mark.parametrize("how", [("trim", "A", "500 mm"), ("piece", "A", "500 mm"), ("trim", "B", "44.5 m")])
def test_a_cut_through_a_splice_is_told_in_a_line_of_its_own(call: Call, how: tuple[str, str, str]) -> None:
    call(*ROPE, "--construction", "hollow-braid", "--strands", "12", "--lay", "loose", "--cover-fibre", "polyester")
    made = ("record", "--rope", "line-1", "--end", "A", "--method", "hollow-eye", "--eye", "150 mm", "--pin", "50 mm")
    assert call(*made, "--outcome", "good", "--condition", "new").code == 0
    what, end, length = how
    ended = call("cut", "line-1", "--as", what, "--end", end, "--length", length, "--name", "short")
    assert ended.code == 0
    assert [line for line in ended.out.splitlines() if line.startswith("THROUGH THE SPLICE at A of ")]
    shown = call("show", "line-1").out.splitlines()
    assert next(line for line in shown if line.startswith("end A: ")).startswith("end A: bare, cut through the splice")


def test_a_finding_stops_its_line_keeps_its_photo_and_is_told_once(call: Call, tmp_path: Path) -> None:
    call(*ROPE)
    photo = tmp_path / "cut.jpg"
    photo.write_bytes(b"a picture")
    finding = f"severity=stop; words=two cut strands; at=3 m; line=cover-cuts; photos={photo}"
    assert passed(call, "line-1", "--finding", finding) == 1
    shown = call("show", "line-1").out.splitlines()
    assert shown[1].startswith("quarantined (thorough inspection: out of service (two cut strands)")
    assert sum("OUT OF SERVICE until it is resolved" in line for line in shown) == 1
    lost = call("inspect", "line-1", "--finding", "words=x; photos=no-such.jpg", *WHO)
    assert (lost.code, "no-such.jpg" in lost.err) == (2, True)


def test_a_calendar_goes_into_a_file_or_to_standard_output(call: Call, tmp_path: Path) -> None:
    call(*ROPE)
    passed(call, "line-1")
    ended = call("due", "--ics", str(tmp_path / "due.ics"))
    assert (ended.code, "written to" in ended.out) == (0, True)
    data = (tmp_path / "due.ics").read_bytes()
    assert b"DTSTART;VALUE=DATE:20270501\r\n" in data
    assert call("due", "--ics", "-", "--within", "10").out.count("BEGIN:VEVENT") == 0


def test_the_rest_passes_only_with_the_code_of_the_lines_that_were_printed(call: Call) -> None:
    call(*ROPE)
    for more, told in ((("--rest", "pass"), "not looked at"), (("--rest", "pass", "--seen", "0"), "--seen"),
                       (("--rest", "fail"), "--rest"), (("--answer", "marking"), "--answer"),
                       (("--answer", "hat=pass"), "hat"), (("--answer", "marking=fine"), "marking=fine"),
                       (("--answer", "marking=pass"), "no answer"), (("--finding", "x=1"), "--finding"),
                       (("--finding", "words=x; severity=bad"), "--severity")):  # fmt: skip
        ended = call("inspect", "line-1", *WHO, *more)
        assert (ended.code, ended.out) == (2, "")
        assert told in ended.err
        assert ended.err.count("\n") == 1
    assert json.loads(call("show", "line-1", "--json").out)["story"] == []


def test_an_inspection_that_stops_is_a_finding_and_a_release_tells_how_it_was_resolved(call: Call) -> None:
    call(*ROPE)
    stop = ("--answer", "cover-cuts=fail:two strands", "--finding", "severity=stop; words=two cut strands; at=3.2 m")
    assert passed(call, "line-1", *stop) == 1
    shown = json.loads(call("show", "line-1", "--json").out)
    assert shown["status"] == "quarantined"
    assert [(one["from_m"], one["open"]) for one in shown["findings"]] == [(3.2, True)]
    assert call("plan", "cover-eye", "--rope", "line-1", "--eye", "100 mm").code == 1
    refused = call("release", "line-1", "--by", "AB")
    assert (refused.code, "--reason" in refused.err) == (2, True)
    call("cut", "line-1", "--as", "end", "--end", "A", "--length", "4 m")
    assert call("release", "line-1", "--by", "AB", "--reason", "end cut off, the rest is sound").code == 0
    plain = call("show", "line-1").out
    assert "went with a part that was cut off" in plain
    assert "the account adds up" in plain
    assert "\n2026-11-01 released: by AB, end cut off, the rest is sound\n" in plain


def test_a_past_day_is_shown_as_it_is_known_or_as_it_was_recorded(call: Call) -> None:
    call(*ROPE)
    call("quarantine", "line-1", "--by", "AB", "--reason", "wet", "--on", "2026-10-10")
    assert json.loads(call("show", "line-1", "--on", "2026-10-09", "--json").out)["status"] == "in-service"
    shown = call("show", "line-1", "--on", "2026-10-10")
    assert "as of 2026-10-10: quarantined" in shown.out
    assert "written down after 2026-10-10: 1" in shown.out
    assert "2026-11-01" in call("show", "line-1", "--on", "2026-10-10", "--as-recorded").err
    assert call("show", "line-1", "--as-recorded").code == 2


def test_a_piece_is_an_item_of_its_own(call: Call) -> None:
    call(*ROPE)
    cut = ("cut", "line-1", "--as", "piece", "--end", "B", "--length", "5 m")
    assert call(*cut, "--name", "lanyard", "--new-tag", "lan-1", "--category", "lanyard").code == 0
    rope, piece = (json.loads(call("show", tag, "--json").out) for tag in ("line-1", "lan-1"))
    assert (rope["length_now_m"], piece["length_now_m"]) == (40, 5)
    assert [entry["inherited"] for entry in piece["story"]] == [True]
    for change, option in (
        (("--length", "50 m"), "--length"),
        (("--length", "x"), "--length"),
        (("--on", "y"), "--on"),
    ):
        ended = call(*cut, "--name", "piece", *change)
        assert (ended.code, option in ended.err) == (2, True)


def test_many_equal_items_come_in_one_call(call: Call) -> None:
    add = ("add", "--name", "Screw connector", "--category", "connector", "--tag", "con-1", "--gate", "screw")
    assert call(*add, "--serials", "F101..F103", "--serials", "F200").out.splitlines() == [
        "added con-1", "added con-2", "added con-3", "added con-4",
    ]  # fmt: skip
    ended = call("add", "--name", "x", "--category", "hat", "--count", "2")
    assert (ended.code, "--category" in ended.err) == (2, True)


def test_rule_sets_are_listed_with_their_sources_and_chosen(call: Call, log: Path) -> None:
    assert "none is chosen" in call("rules").out
    assert call("rules", "--choose", "europe-fall-protection").code == 0
    chosen = [one["id"] for one in json.loads(call("rules", "--json").out) if one["chosen"]]
    assert chosen == ["europe-fall-protection"]
    assert call("rules", "--choose", "nowhere").code == 2
    call(*ROPE)
    passed(call, "line-1")
    assert json.loads(call("due", "--within", "400", "--json").out)[0]["due_on"] == "2027-11-01"
    (log / "rules").mkdir()
    (log / "rules" / "own.toml").write_text("id =\n")
    ended = call("rules")
    assert (ended.code, "own.toml" in ended.err) == (1, True)
    assert json.loads(call("due", "--within", "400", "--json").out)[0]["due_on"] == "2027-05-01"
    assert call("rules", "--none").code == 1


@pytest.mark.parametrize("verb", ["quarantine", "release", "retire", "destroy"])
def test_a_decision_without_a_reason_or_of_no_item_is_refused(call: Call, verb: str) -> None:
    call(*ROPE)
    for arguments, told in ((("line-1", "--by", "AB"), "--reason"), (("line-1", "--reason", "x"), "--by"),
                            (("nobody", "--reason", "x", "--by", "AB"), "nobody"),
                            (("line-1", "--reason", "x", "--by", "AB", "--on", "12 mm"), "--on")):  # fmt: skip
        ended = call(verb, *arguments)
        assert (ended.code, ended.out) == (2, "")
        assert told in ended.err
        assert ended.err.count("\n") == 1


def test_bad_text_in_an_option_is_refused_in_one_line(call: Call) -> None:
    call(*ROPE)
    bad = ("", "\x1b[31m", "9" * 5000, "\u202e5", "nan", "a\0b", "\udcff")
    for text in bad:
        for arguments in (
            ("due", f"--within={text}"), ("due", f"--on={text}"), ("show", "line-1", f"--on={text}"), ("show", text),
            ("cut", "line-1", "--as=trim", "--end=A", f"--length={text}"), ("rules", f"--choose={text}"),
            ("cut", "line-1", "--as=trim", f"--end={text}", "--length=1 m"),
            ("inspect", "line-1", f"--answer={text}"), ("add", "--name=x", "--category=other", f"--count={text}"),
        ):  # fmt: skip
            ended = call(*arguments)
            if text == "" and arguments[-1] in {"--count=", "--answer="}:
                continue
            assert (ended.code, ended.err.count("\n")) == (2, 1), (arguments, ended)
            assert "Traceback" not in ended.err
            assert ended.err[:-1].isprintable()
