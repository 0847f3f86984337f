"""Upkeep against the documents that ask for it."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category, EventKind, Use
from gearlog.services.audit import HEADINGS
from gearlog.upkeep.due import due_of
from gearlog.upkeep.rule_files import builtin_sets
from gearlog.upkeep.schedule import RuleBook

SAVED = datetime(2025, 1, 1, tzinfo=UTC)
LOOK = date(2024, 11, 1)


def item(category: Category) -> Item:
    return Item(id="a", created_at=SAVED, changed_at=SAVED, tag="a", category=category, name="a")


def event(kind: EventKind, on: str) -> Event:
    return Event(
        id=f"{kind} {on}",
        created_at=SAVED,
        changed_at=SAVED,
        item_id="a",
        kind=kind,
        happened_on=PartialDate.read(on),
    )


@pytest.mark.parametrize("category", list(Category))
def test_six_months_for_equipment_lifting_persons_and_for_lifting_accessories(category: Category) -> None:
    """LOLER 1998, regulation 9(3)(a)(i): at least every six months; taken for all kit."""
    due = due_of(item(category), [event(EventKind.EXAMINED, "2024-10-15")], date(2025, 4, 15))
    assert (due.due_on, due.state) == (date(2025, 4, 15), "due-soon")
    assert due_of(item(category), [event(EventKind.EXAMINED, "2024-10-15")], date(2025, 4, 16)).state == "overdue"


INTERVALS = [
    ("uk-lifting", "people", Category.HARNESS, "2025-04-15"),  # LOLER 1998 reg. 9(3)(a)(i): 6 months
    ("uk-lifting", "accessory", Category.CONNECTOR, "2025-04-15"),  # the same, accessories for lifting
    ("uk-lifting", "rigging", Category.RIGGING_LINE, "2025-10-15"),  # reg. 9(3)(a)(ii): 12 months
    ("europe-fall-protection", "people", Category.HARNESS, "2025-10-15"),  # EN 365; DGUV Regel 112-198 10.3.2
    ("uk-webbing-lanyards", "people", Category.LANYARD, "2025-04-15"),  # INDG367: 6 months
    ("uk-webbing-arduous", "people", Category.LANYARD, "2025-01-15"),  # INDG367: 3 months in arduous use
    ("california-construction", "people", Category.HARNESS, "2025-04-15"),  # title 8, 1670(b)(19): twice a year
]


@pytest.mark.parametrize(("chosen", "use", "category", "due_on"), INTERVALS)
def test_intervals_that_documents_ask_for(chosen: str, use: str, category: Category, due_on: str) -> None:
    book = RuleBook(tuple(one for one in builtin_sets() if one.id == chosen))
    due = due_of(replace(item(category), used_for=Use(use)), [event(EventKind.EXAMINED, "2024-10-15")], LOOK, book)
    assert due.due_on == date.fromisoformat(due_on)


@pytest.mark.parametrize(("chosen", "source"), [("us-tree-care", "ANSI Z133 8.1.3"),
                                                ("us-general-industry", "29 CFR 1910.140(c)(18)")])  # fmt: skip
def test_a_look_before_use_is_asked_and_no_interval_is_made_up(chosen: str, source: str) -> None:
    (one,) = (one for one in builtin_sets() if one.id == chosen)
    assert [(rule.before_use, rule.every_months, rule.source) for rule in one.rules] == [(True, None, source)]


def test_examined_at_once_after_exceptional_circumstances() -> None:
    """LOLER 1998, regulation 9(3)(a)(iv)."""
    history = [event(EventKind.EXAMINED, "2025-03-01"), event(EventKind.DROPPED, "2025-03-02")]
    assert due_of(item(Category.CONNECTOR), history, date(2025, 3, 3)).state == "overdue"


def test_out_of_use_after_arresting_a_fall_until_a_competent_person_clears_it() -> None:
    """EN 365:2004, 4.2.1 m; 29 CFR 1910.140(c)(18)."""
    fall = [event(EventKind.EXAMINED, "2025-02-01"), event(EventKind.FALL_ARRESTED, "2025-03-02")]
    assert due_of(item(Category.LANYARD), fall, date(2025, 3, 3)).state == "out-of-service"
    cleared = [*fall, event(EventKind.RELEASED, "2025-03-05")]
    assert due_of(item(Category.LANYARD), cleared, date(2025, 3, 6)).due_on == date(2025, 8, 1)


@pytest.mark.parametrize(
    "particular",
    [
        "tag", "category", "name", "maker", "model", "serial or batch", "made on", "end of life on", "bought on",
        "first used on", "last examined on", "examined by", "next due on", "notes",
    ],
)  # fmt: skip
def test_the_list_to_hand_over_has_a_place_for_what_a_record_must_hold(particular: str) -> None:
    """EN 365:2004, 4.6: the fields of a record."""
    assert particular in HEADINGS


def test_breaking_strength_and_safe_working_load_are_two_fields() -> None:
    """LOLER 1998, Schedule 1, asks for the safe working load; what is printed is a breaking value."""
    assert {"breaking strength as printed", "safe working load as stated"} <= set(HEADINGS)
