"""What the documents say is what the program does, and the reverse."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from gearlog.cli.parser import EXAMPLES, VERBS
from gearlog.tui.keys import KEYS, MOVES, Key

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
COMMANDS = [line for line in README.splitlines() if line.startswith("python3 -m venv")]


def test_the_readme_opens_the_demo_and_runs_the_tests_in_one_line_each() -> None:
    assert [line.rsplit("&& ", 1)[1] for line in COMMANDS] == [
        ".venv/bin/gearlog --sample",
        ".venv/bin/pytest -n auto",
    ]


def test_the_checks_run_the_readmes_test_command_word_for_word() -> None:
    assert COMMANDS[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_the_readme_tells_every_verb_and_no_other() -> None:
    told = re.findall(r"^\| `gearlog (\w+)", README, re.MULTILINE)
    assert sorted(told) == sorted(VERBS)
    assert set(EXAMPLES) == {"gearlog", *VERBS}


def shown(key: Key) -> bool:
    return not set(key.keys.split(",")) <= MOVES


def test_the_readme_tells_every_key_with_its_meaning() -> None:
    table = re.findall(r"^\| `(.+?)` \| (.+?) \|$", README, re.MULTILINE)
    assert [row for row in table if not row[0].startswith("gearlog")] == [
        (key.shown, key.tip) for key in KEYS if shown(key)
    ]


def links(text: str) -> list[str]:
    return [link for link in re.findall(r"\]\(([^)]+)\)", text) if "://" not in link]


@pytest.mark.parametrize("link", links(README) + links(DEVELOPERS))
def test_what_a_document_links_to_is_there(link: str) -> None:
    assert (ROOT / link).exists()


def test_the_house_in_the_contributors_guide_is_the_house_that_stands() -> None:
    drawn = set(re.findall(r"^  (\w+)(?:/|\.py) ", DEVELOPERS, re.MULTILINE))
    stands = {path.stem for path in (ROOT / "gearlog").iterdir() if path.suffix == ".py" or path.is_dir()}
    assert drawn == {name for name in stands if not name.startswith("_")} | {"__main__"}


def test_files_that_the_contributors_guide_names_are_there() -> None:
    for name in re.findall(r"`((?:tui|cli|services|splicing|storage|domain|units|reports)/[\w./]+\.\w+)`", DEVELOPERS):
        assert (ROOT / "gearlog" / name).exists(), name
