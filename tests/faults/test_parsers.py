"""Whatever is handed to a reader, it reads or it refuses in words, soon, and nothing else ever happens."""

from __future__ import annotations

import io
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from gearlog.cli import parser
from gearlog.cli.main import main
from gearlog.domain.dates import PartialDate
from gearlog.domain.identity import tag_fault
from gearlog.errors import GearlogError
from gearlog.services.book import memory_book
from gearlog.services.importing_choices import read_choices
from gearlog.splicing.method_file import builtin_text, read_bytes
from gearlog.storage import open_store
from gearlog.units.measure import Force, Length, LinearMass
from gearlog.upkeep.rule_files import read_rules

SOON_S = 2.0  # a reader that needs longer hangs, on any machine
LIST = (
    "Tag;Bezeichnung;Kategorie;Durchmesser;gekauft\nr1;long line;lifeline;12,7 mm;03.04.2024\nr2;x;sling;1/2 in;2024\n"
)
MAPPING = 'dates = "dmy"\n[columns]\n"Bezeichnung" = "name"\n[units]\ndiameter = "mm"\n'
RULES = (resources.files("gearlog.upkeep") / "rules" / "uk-lifting.toml").read_text("utf-8").replace("uk-", "our-")
METHOD = builtin_text("hollow-eye")


@contextmanager
def refused_in_words() -> Iterator[None]:
    """A refusal says what is wrong; anything else that is raised fails the test."""
    begun = time.monotonic()
    try:
        yield
    except GearlogError as error:
        assert error.message
        assert "Traceback" not in error.message
    assert time.monotonic() - begun < SOON_S


def spoiled(whole: bytes) -> st.SearchStrategy[bytes]:
    """The whole with a part replaced by anything, or anything at all."""
    spots = st.integers(0, len(whole))
    changed = st.tuples(spots, st.integers(0, 40), st.binary(max_size=20)).map(
        lambda cut: whole[: cut[0]] + cut[2] + whole[cut[0] + cut[1] :]
    )
    return changed | st.binary(max_size=200)


def workbook() -> bytes:
    book = Workbook()
    for row in LIST.splitlines():
        book.active.append(row.split(";"))  # type: ignore[union-attr]
    held = io.BytesIO()
    book.save(held)
    return held.getvalue()


TYPED: dict[str, Callable[[str], object]] = {
    "length": Length.read,
    "force": Force.read,
    "mass of a length": LinearMass.read,
    "date": PartialDate.read,
    "tag": lambda text: tag_fault(text, ("line-3",)),
}
PLAUSIBLE = st.text(st.sampled_from("0123456789 .,/'\"-+eE½¼mkNcftinlbg²°\u00a0\u2009٣"), max_size=24)


@pytest.mark.parametrize("name", TYPED)
@settings(max_examples=150)
@given(text=PLAUSIBLE | st.text(max_size=80))
def test_typed_text_is_read_or_refused(name: str, text: str) -> None:
    with refused_in_words():
        TYPED[name](text)


@pytest.mark.parametrize("text", ["9" * 100_000, "1/" * 50_000, " " * 100_000, "1 " * 50_000, "'" * 100_000, "٣" * 9])
@pytest.mark.parametrize("name", TYPED)
def test_endless_text_takes_no_time(name: str, text: str) -> None:
    with refused_in_words():
        TYPED[name](text)


def take_in(name: str) -> Callable[[bytes], object]:
    return lambda data: memory_book().importing.trial(data, name)


FILES: dict[str, tuple[bytes, Callable[[bytes], object]]] = {
    "method": (METHOD.encode(), lambda data: read_bytes(data, "mine.toml", own=True)),
    "rules": (RULES.encode(), lambda data: read_rules(data.decode("utf-8", "replace"), "mine.toml", own=True)),
    "mapping": (MAPPING.encode(), lambda data: read_choices(data.decode("utf-8", "replace"), "map.toml")),
    "csv": (LIST.encode(), take_in("list.csv")),
    "csv in an old code page": (LIST.encode("utf-16"), take_in("list.csv")),
    "xlsx": (workbook(), take_in("list.xlsx")),
}


@pytest.mark.parametrize("name", FILES)
def test_the_whole_file_reads(name: str) -> None:
    whole, read = FILES[name]
    read(whole)


@pytest.mark.parametrize("name", FILES)
@settings(max_examples=60)
@given(data=st.data())
def test_a_spoiled_file_is_read_or_refused(name: str, data: st.DataObject) -> None:
    whole, read = FILES[name]
    with refused_in_words():
        read(data.draw(spoiled(whole)))


def test_a_workbook_with_any_byte_changed_is_read_or_refused() -> None:
    whole, read = FILES["xlsx"]
    for place in range(0, len(whole), 31):
        with refused_in_words():
            read(whole[:place] + bytes([whole[place] ^ 0x55]) + whole[place + 1 :])


@settings(max_examples=60)
@given(data=st.data())
def test_a_spoiled_log_opens_or_is_refused(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    folder = tmp_path_factory.mktemp("log")
    kept = Path(__file__).parents[1] / "data" / "format-1"
    for name in ("log.json", "log.journal"):
        whole = (kept / name).read_bytes()
        (folder / name).write_bytes(data.draw(spoiled(whole)))
    (folder / "settings.json").write_bytes(data.draw(spoiled(b'{"unit":"metric","theme":"day"}')))
    with refused_in_words(), open_store(folder, read_only=True) as store:
        assert isinstance(store.notices, tuple)


WORDS = st.sampled_from(
    [
        *parser.VERBS,
        "--log",
        "--sample",
        "--json",
        "--out",
        "-",
        "--on",
        "--rope",
        "--eye",
        "--list",
        "--",
        "-x",
        "--dry-run",
    ]
)


@settings(max_examples=80)
@given(words=st.lists(WORDS | st.text(max_size=12), max_size=5))
def test_any_call_ends_with_a_code_and_no_trace(tmp_path_factory: pytest.TempPathFactory, words: list[str]) -> None:
    place = tmp_path_factory.mktemp("call")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(place)
        patch.setenv("GEARLOG_DIR", str(place / "log"))
        patch.setenv("HOME", str(place))
        patch.setenv("GEARLOG_TRACE", "1")  # a fault of the program itself is raised and fails the test
        begun = time.monotonic()
        code = main(words, today=lambda: date(2026, 11, 1))
    assert isinstance(code, int)
    assert time.monotonic() - begun < 5 * SOON_S
