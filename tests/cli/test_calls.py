"""How calls are read: where options may stand, what a wrong call is told, how calls end."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from gearlog import __version__
from gearlog.storage.migrations import FORMAT
from tests.cli.conftest import Call


@pytest.mark.parametrize(
    "arguments", [("--log", "DIR", "list"), ("list", "--log", "DIR"), ("--log", "other", "list", "--log", "DIR")]
)
def test_the_log_is_named_before_or_after_the_verb(call: Call, tmp_path: Path, arguments: tuple[str, ...]) -> None:
    folder = tmp_path / "named"
    ended = call(*(str(folder) if part == "DIR" else part for part in arguments))
    assert ended.code == 0
    assert (folder / "log.json").exists()


def test_the_sample_is_named_before_or_after_the_verb(call: Call, log: Path) -> None:
    assert call("--sample", "list").out == call("list", "--sample").out != ""
    assert not log.exists()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("plam",), "plam"),
        (("plan",), "METHOD"),
        (("plan", "hollow-eye", "--eye"), "--eye"),
        (("plan", "hollow-eye", "--dia", "12 mm"), "--dia"),
        (("plan", "no-such-eye", "--construction", "hollow-braid", "--diameter", "9 mm", "--eye", "9 cm"), "METHOD"),
        (("plan", "hollow-eye", "--construction", "hollow-braid", "--eye", "9 cm"), "--diameter"),
        (("audit",), "--out"),
        (("audit", "--format", "xls", "--out", "x"), "--format"),
        (("list", "--loud"), "--loud"),
        (("recall",), "--rope"),
        (("recall", "--rope", "no-such-tag"), "no-such-tag"),
        (("--log", "a", "--sample", "list"), "--sample"),
    ],
)
def test_a_wrong_call_is_told_what_is_wrong_with_a_way_out(call: Call, arguments: tuple[str, ...], told: str) -> None:
    ended = call(*arguments)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err.count("\n") == 1
    assert told in ended.err
    assert any(word in ended.err for word in ("for example: gearlog", "type ", "choose one of", "gearlog list", "say "))


def test_help_and_version_are_answers(call: Call) -> None:
    assert call("--version").out == f"gearlog {__version__}\n"
    for arguments in (["--help"], ["plan", "--help"], ["recall", "-h"]):
        ended = call(*arguments)
        assert (ended.code, ended.err) == (0, "")
        assert "--log DIR" in ended.out


def test_methods_name_what_they_fit_and_their_sources(call: Call) -> None:
    found = {method["id"]: method for method in json.loads(call("methods", "--json").out)}
    assert {"laid-eye", "hollow-eye", "cover-eye"} <= set(found)
    assert found["laid-eye"]["fits"] == ["three-strand"]
    assert all(method["sources"] and method["own"] is False for method in found.values())
    plain = call("methods").out
    assert all(name in plain for name in found)


def test_a_method_file_of_ones_own_that_does_not_read_is_told_and_makes_a_finding(call: Call, log: Path) -> None:
    call("list")
    (log / "methods").mkdir()
    (log / "methods" / "mine.toml").write_text('id = "mine"\ntitle = [\n', encoding="utf-8")
    ended = call("methods")
    assert ended.code == 1
    assert "mine.toml" in ended.err
    assert "hollow-eye" in ended.out


def test_a_damaged_log_is_told_and_its_good_part_is_shown(call: Call, log: Path) -> None:
    call("list")
    (log / "log.journal").write_bytes(b"00000000 {nonsense}\n")
    ended = call("list")
    assert "damaged" in ended.err
    assert "Traceback" not in ended.err


def test_a_log_of_a_newer_program_is_a_finding_and_stays_as_it_is(call: Call, log: Path) -> None:
    call("list")
    newer = (log / "log.json").read_text().replace(f'"format":{FORMAT}', '"format":99')
    assert '"format":99' in newer
    (log / "log.json").write_text(newer)
    (log / "log.journal").unlink()
    ended = call("list")
    assert ended.code == 1
    assert "newer" in ended.err
    assert (log / "log.json").read_text() == newer
