"""Audit, report and labels as a user calls them: what is written, what is told, what is refused."""

from __future__ import annotations

import csv
import io
import json
import os
import zipfile
from pathlib import Path

import html5lib
import pypdf
import pytest

from tests.cli.conftest import Call


@pytest.mark.parametrize(
    ("name", "begins"),
    [("a.pdf", b"%PDF-"), ("a.html", b"<!DOCTYPE"), ("a.xlsx", b"PK"), ("a.json", b"{"), ("a", b"tag,")],
)
def test_the_format_is_that_of_the_files_ending(call: Call, tmp_path: Path, name: str, begins: bytes) -> None:
    ended = call("--sample", "audit", "--out", str(tmp_path / name))
    assert (ended.code, ended.err) == (0, "")
    assert "60 items written" in ended.out
    assert "content digest" in ended.out
    assert (tmp_path / name).read_bytes().startswith(begins)


def test_a_format_that_is_named_counts_more_than_the_ending(call: Call, tmp_path: Path) -> None:
    call("--sample", "audit", "--format", "xlsx", "--out", str(tmp_path / "a.pdf"))
    assert zipfile.is_zipfile(tmp_path / "a.pdf")


def test_a_set_a_day_and_a_table_are_chosen(call: Call) -> None:
    def rows(*more: str) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO(call("--sample", "audit", "--out", "-", *more).out)))

    assert {row["category"] for row in rows("--only", "category=helmet", "--only", "category=harness")} == {
        "helmet",
        "harness",
    }
    assert {row["kept at"] for row in rows("--only", "place=van 2")} == {"van 2"}
    assert [row["tag"] for row in rows("--only", "tag=line-1")] == ["line-1"]
    assert len(rows("--on", "2025-01-01")) < len(rows())
    both = rows("--only", "crew=climber 1", "--only", "crew=climber 2")
    assert both == rows("--only", "climber=climber 1, climber 2")
    assert rows("--only", "crew=climber 1")
    gone = [row["tag"] for row in rows("--table", "attention") if row["what"].startswith("Left use")]
    assert gone
    assert not [row for row in rows("--table", "attention", "--since", "2026-11-01") if row["tag"] in gone]


def test_a_report_tells_what_is_told_and_lists_what_is_missing(call: Call, tmp_path: Path) -> None:
    out = tmp_path / "r.pdf"
    bare = call("--sample", "report", "line-1", "--out", str(out))
    assert bare.code == 0
    assert "missing: 1 " in bare.out
    told = call(
        *("--sample", "report", "line-1", "--out", str(out), "--employer", "Tree crew, Yard 1", "--premises", "Yard 1"),
        *("--basis", "6-months", "--first", "no", "--tests", "none", "--paper", "letter"),
    )
    assert len(told.out.splitlines()) == len(bare.out.splitlines()) - 5
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(out).pages)
    assert "Tree crew, Yard 1" in text
    assert "within an interval of 6 months" in text
    assert "Made within 6 or 12 months" in text.replace("\n", " ")
    assert text.count("MISSING") >= len(told.out.splitlines()) - 1


def test_a_report_says_that_what_was_stopped_is_not_safe(call: Call) -> None:
    told = json.loads(call("--sample", "report", "sling-2", "--format", "json", "--out", "-").out)
    assert told["safe"] is False
    by_paragraph = {one["paragraph"]: one["text"] for one in told["told"]}
    assert "three strands cut" in by_paragraph["8(a)"]
    assert by_paragraph["8(f)"] == told["on"]
    examined = json.loads(call("--sample", "audit", "--out", "-", "--format", "json", "--only", "tag=sling-2").out)
    newest = examined["items"][0]["examinations"][0]
    assert (newest["on"], newest["reason"], newest["result"]) == (told["on"], "after event", "out of service")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("audit", "--out", "x", "--only", "place"), "KIND=NAME"),
        (("audit", "--out", "x", "--only", "colour=red"), "KIND=NAME"),
        (("audit", "--out", "x", "--only", "place=the moon"), "van 1"),
        (("audit", "--out", "x", "--on", "03/04/2024"), "--on"),
        (("audit", "--out", "x.csv", "--pages"), "--pages"),
        (("audit", "--out", "x.pdf", "--table", "gaps"), "--table"),
        (("audit", "--out", "x.pdf", "--bom"), "--bom"),
        (("audit", "--out", "x.json", "--paper", "a4"), "--paper"),
        (("audit", "--out", "x", "--table", "all"), "--table"),
        (("report", "no-such", "--out", "x"), "no-such"),
        (("report", "helmet-3", "--out", "x"), "record its examination first"),
        (("report", "line-1", "--examined-on", "1999", "--out", "x"), "examined on:"),
        (("report", "line-1", "--repair-by", "2027", "--out", "x"), "--repair"),
        (("labels", "--out", "x", "--only", "tag=hitch-3"), "nothing to label"),
        (("labels",), "--out"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], told: str
) -> None:
    monkeypatch.chdir(tmp_path)
    ended = call("--sample", *arguments)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err.count("\n") == 1
    assert told in ended.err
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(os.name != "posix", reason="rights of files are those of POSIX")
@pytest.mark.parametrize("arguments", [
    ("audit", "--out", "x.pdf"), ("labels", "--out", "x.pdf"), ("report", "line-1", "--out", "x.pdf"),
])  # fmt: skip
def test_a_new_file_that_is_handed_out_is_readable_by_its_owner_alone(
    call: Call, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    """It tells what the log tells; one that is there keeps the rights that its owner gave it."""
    monkeypatch.chdir(tmp_path)
    assert call("--sample", *arguments).code == 0
    out = tmp_path / "x.pdf"
    assert out.stat().st_mode & 0o777 == 0o600
    out.chmod(0o640)
    assert call("--sample", *arguments).code == 0
    assert out.stat().st_mode & 0o777 == 0o640


def test_a_report_in_html_is_valid_leaves_room_to_write_and_bears_its_digest(call: Call) -> None:
    told = json.loads(call("--sample", "report", "sling-2", "--format", "json", "--out", "-").out)
    page = call("--sample", "report", "sling-2", "--format", "html", "--out", "-").out
    html5lib.HTMLParser(strict=True).parse(page)
    missing = sum(not one["text"] for one in told["told"])
    assert missing
    assert page.count("<strong>MISSING</strong></div><div>&nbsp;") == missing
    digest = " ".join(told["digest"][place : place + 8] for place in range(0, 64, 8))
    assert f'@bottom-left {{ content: "sling-2, {told["on"]} - content digest {digest}"' in page
