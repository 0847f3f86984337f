"""gearlog methods: what can be planned, and own files copied, checked and used. gearlog compare: two ropes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Call

ROPE = ("--construction", "hollow-braid", "--diameter", "12 mm", "--eye", "150 mm")


def test_an_own_method_goes_from_copy_to_plan(call: Call, log: Path) -> None:
    made = call("methods", "copy", "hollow-eye", "--as", "my-eye")
    file = log / "methods" / "my-eye.toml"
    assert (made.code, made.err) == (0, "")
    assert str(file) in made.out
    assert "methods check" in made.out
    checked = call("methods", "check", str(file))
    assert checked.code == 0
    assert "own, experimental" in checked.out
    assert "break-test samples before it carries life" in checked.out
    found = {one["id"]: one for one in json.loads(call("methods", "--json").out)}
    assert (found["my-eye"]["own"], found["hollow-eye"]["own"]) == (True, False)
    assert {"id", "title", "fits", "own", "sources"} <= set(found["my-eye"])
    planned = call("plan", "my-eye", *ROPE)
    assert planned.code == 0
    assert "own, experimental" in planned.out.splitlines()[0]
    assert "before it carries life" in planned.out


def test_a_copy_elsewhere_tells_where_it_would_be_used_and_overwrites_nothing(
    call: Call, tmp_path: Path, log: Path
) -> None:
    file = tmp_path / "eye.toml"
    assert call("methods", "copy", "laid-eye", str(file), "--as", "my-laid").code == 0
    before = file.read_bytes()
    again = call("methods", "copy", "hollow-eye", str(file), "--as", "other-eye")
    assert again.code == 2
    assert "is there already; name another file" in again.err
    assert file.read_bytes() == before
    assert f"put the file into {log / 'methods'}" in call("methods", "check", str(file)).out


def test_each_fault_of_a_file_is_told_on_a_line_of_its_own(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "eye.toml"
    call("methods", "copy", "hollow-eye", str(file), "--as", "my-eye")
    text = file.read_text(encoding="utf-8").replace("72 * d", "72 * x").replace('at = "taper"', 'at = "tapir"')
    file.write_text(text, encoding="utf-8")
    ended = call("methods", "check", str(file))
    assert (ended.code, ended.out) == (1, "")
    lines = ended.err.splitlines()
    assert len(lines) == 2
    assert all(line.startswith("gearlog: eye.toml, line ") for line in lines)
    assert "'x' is not known" in lines[0]


def test_a_plan_by_a_file_with_a_fault_tells_the_fault(call: Call, log: Path) -> None:
    call("methods", "copy", "hollow-eye", "--as", "my-eye")
    file = log / "methods" / "my-eye.toml"
    file.write_text(file.read_text(encoding="utf-8").replace("72 * d", "72 * x"), encoding="utf-8")
    ended = call("plan", "my-eye", *ROPE)
    assert (ended.code, ended.out) == (2, "")
    assert ended.err.count("\n") == 1
    assert "'my-eye' cannot be planned: my-eye.toml, line " in ended.err
    assert "'x' is not known" in ended.err
    assert call("plan", "hollow-eye", *ROPE).code == 0


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("methods", "check"), "FILE"),
        (("methods", "check", "no-such.toml"), "no-such.toml"),
        (("methods", "copy", "hollow-eye"), "--as"),
        (("methods", "copy", "hollow-eye", "--as", "Bad Id"), "such as my-eye"),
        (("methods", "copy", "hollow-eye", "--as", "laid-eye"), "is taken"),
        (("methods", "copy", "no-such", "--as", "my-eye"), "gearlog methods"),
        (("methods", "mend", "x"), "check"),
        (("compare", "three-strand"), "ROPE"),
        (("compare", "nobody", "three-strand"), "gearlog list"),
    ],
)
def test_a_wrong_call_is_told_with_a_way_out(call: Call, arguments: tuple[str, ...], told: str) -> None:
    ended = call(*arguments)
    assert ended.code in (1, 2)
    assert ended.out == ""
    assert ended.err.count("\n") == 1
    assert told in ended.err


def test_two_ropes_side_by_side_in_words_and_in_json(call: Call) -> None:
    said = "double-braid, 1/2 in, polyester, core polyester, 5400 lbf"
    both = json.loads(call("--sample", "compare", "line-1", said, "--json").out)
    assert both["first"]["tag"] == "line-1"
    assert both["second"]["mass"]["estimated"] is True
    assert [one["length_m"] for one in both["first"]["carried"]] == [60, 90]
    assert both["second"]["mbs_n"] == pytest.approx(5400 * 4.4482216152605)
    assert {"load_bearing", "splices", "instead", "elongation_percent", "last"} <= set(both["first"])
    plain = call("--sample", "compare", "line-1", said)
    assert plain.code == 0
    assert "Difference, what carries the load: in the first cover, in the second cover and core together" in plain.out
    assert " lb at " in call("--sample", "compare", "line-1", said, "--imperial").out


def test_a_check_notes_that_a_published_figure_does_not_count_in_an_own_method(call: Call, tmp_path: Path) -> None:
    file = tmp_path / "eye.toml"
    call("methods", "copy", "laid-eye", str(file), "--as", "my-laid")
    checked = call("methods", "check", str(file))
    assert (checked.code, checked.err) == (0, "")
    (note,) = [line for line in checked.out.splitlines() if line.startswith("Note: ")]
    assert "counts as unknown: the figure in its file is of the published method" in note
    text = file.read_text(encoding="utf-8")
    at = text.index("source = ", text.index("fraction = 0.90"))
    file.write_text(f'{text[:at]}source = "own"{text[text.index(chr(10), at) :]}', encoding="utf-8")
    assert "Note: " not in call("methods", "check", str(file)).out
