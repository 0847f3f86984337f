"""Method files: the built-in ones read, and every fault is told with its line and reason."""

from __future__ import annotations

from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.errors import MethodError
from gearlog.splicing.method_file import load_builtin, read_method

FOLDER = resources.files("gearlog.splicing") / "methods"
HOLLOW = (FOLDER / "hollow-eye.toml").read_text(encoding="utf-8")
LAID = (FOLDER / "laid-eye.toml").read_text(encoding="utf-8")


BUILT_IN = {
    *("laid-eye", "laid-back", "laid-short", "laid-long"),
    *("hollow-eye", "hollow-locked-eye", "hollow-end-to-end", "hollow-loop", "hollow-sling", "hollow-endless-sling"),
    *("cover-eye", "double-eye", "double-end-to-end", "double-cord", "core-eye"),
    *("whip-common", "whip-sailmaker", "whip-stitched", "lock-stitch", "throat-seizing"),
}


def test_the_built_in_methods_are_there() -> None:
    assert {method.id for method in load_builtin()} == BUILT_IN


def line_with(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


# what is changed in the file, where the fault must be told, what the reason must say
FAULTS = [
    (HOLLOW, 'formula = "2 * fid"', 'formula = "2 * fidd"', "fidd"),
    (HOLLOW, 'at = "bury + loop"', 'at = "bury + 2"', "cannot be added"),
    (HOLLOW, 'at = "2 * bury + loop"', 'at = "bury / d"', "must be a length"),
    (HOLLOW, 'strands_left = "n / 6"', 'strands_left = "d"', "plain number"),
    (HOLLOW, 'formula = "72 * d"', 'formula = "72 ** d"', "powers"),
    (HOLLOW, 'lays = ["loose"]', 'lays = ["soft"]', "loose"),
    (HOLLOW, "most_fraction = 0.25", "most_fraction = 3", "up to 1"),
    (HOLLOW, 'source = "cfr-1910-184 Fig. N-184-4"', 'source = "cfr-9"', "not in [sources]"),
    (HOLLOW, 'constructions = ["hollow-braid"]', 'constructions = ["holow-braid"]', "hollow-braid"),
    (HOLLOW, 'version = 1', 'version = "one"', "whole number"),
    (HOLLOW, 'version = 1', "version == 1", "TOML"),
    (HOLLOW, 'what_for = "for the lock stitch"', 'whatfor = "for the lock stitch"', "whatfor"),
    (HOLLOW, 'text = "Lock stitch through both parts below', 'text = "{lock} through both parts below', "lock"),
    (LAID, 'below_diameter = "1 in"', 'below_diameter = "1 inches"', "1 inches"),
    (LAID, 'tail = "tail"', 'tail = "tale"', "tale"),
    (LAID, "count = 3", "count = 0", "between 1 and 20"),
    (LAID, "fraction = 0.90", "fraction = 1.90", "up to 1"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "old", "new", "reason"), FAULTS)
def test_a_fault_is_told_with_its_line(text: str, old: str, new: str, reason: str) -> None:
    assert old in text
    broken = text.replace(old, new, 1)
    with pytest.raises(MethodError) as caught:
        read_method(broken, "mine.toml", own=True)
    message = caught.value.message
    assert "mine.toml" in message
    assert reason in message
    line = line_with(broken, new.splitlines()[0])
    near = {line, line - 1, line - 2, line - 3}  # the entry, or the head of its table
    assert any(f"line {one}" in message for one in near), message


def test_a_number_without_a_source_is_refused() -> None:
    broken = HOLLOW.replace('formula = "bury / 2"\nsource = "common-practice"', 'formula = "bury / 2"\nsource = ""')
    with pytest.raises(MethodError, match="without a source"):
        read_method(broken, "mine.toml", own=True)


def test_every_fault_is_told_not_only_the_first() -> None:
    broken = HOLLOW.replace("72 * d", "72 * e").replace("bury / 2", "bury / 0")
    with pytest.raises(MethodError) as caught:
        read_method(broken, "mine.toml", own=True)
    assert caught.value.message.count("line ") >= 2


def test_a_file_cannot_call_itself_built_in() -> None:
    assert read_method(HOLLOW, "mine.toml", own=True).own
    with pytest.raises(MethodError, match="own"):
        read_method("own = true\n" + HOLLOW, "mine.toml", own=False)


@given(st.integers(0, len(HOLLOW) - 1), st.integers(1, 400))
def test_a_damaged_file_reads_or_is_refused(start: int, length: int) -> None:
    try:
        read_method(HOLLOW[:start] + HOLLOW[start + length :], "mine.toml", own=True)
    except MethodError as error:
        assert "mine.toml" in error.message
