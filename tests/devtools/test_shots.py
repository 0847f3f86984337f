"""The README's pictures can be taken, show what they are named after, and load nothing from elsewhere."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest

from gearlog.devtools import shots
from gearlog.services.book import open_sample

ROOT = Path(__file__).resolve().parents[2]
SHOWN = {"today": "helmet-3", "gear": "line-1", "planner": "cover", "splices": "whipping", "bench": "step 4 of 10"}
"""Picture -> a word that must stand in it."""


async def test_every_picture_can_be_taken_and_shows_its_screen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    with open_sample(today=lambda: shots.DAY) as book:
        pictures = await shots.take(book)
    assert set(pictures) == set(SHOWN)
    for name, picture in pictures.items():
        assert SHOWN[name] in words(picture), name


@pytest.mark.parametrize("name", SHOWN)
def test_the_readmes_pictures_stand_alone(name: str) -> None:
    picture = (ROOT / "sample_data" / "screens" / f"{name}.svg").read_text(encoding="utf-8")
    assert SHOWN[name] in words(picture)
    assert "url(http" not in picture
    assert "href" not in picture


def words(picture: str) -> str:
    return " ".join(ElementTree.fromstring(picture).itertext()).replace("\xa0", " ")  # noqa: S314 (our own file)
