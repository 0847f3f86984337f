"""Rule sets as data: what applies to which item, and that the earliest of all wins."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest
from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.vocabulary import Came, Category, Use
from gearlog.upkeep.due import due_of
from gearlog.upkeep.rule_files import BASE, RulesError, RuleSet, builtin_sets, read_rules
from gearlog.upkeep.schedule import RuleBook, all_dates, dates_after

TODAY = date(2025, 6, 1)
MakeItem = Callable[..., Item]
History = Callable[..., tuple[Event, ...]]
SETS = {one.id: one for one in builtin_sets()}
OWN = """
id = "crew"
title = "Our own"
region = "here"
summary = "Ours."
[[rule]]
id = "all"
title = "each quarter"
every_months = 3
source = "our own rule"
"""


def book(*ids: str, own: str = "") -> RuleBook:
    more: tuple[RuleSet, ...] = (read_rules(own, "own.toml", own=True),) if own else ()
    return RuleBook((*(SETS[one] for one in ids), *more))


def kit(make: MakeItem, category: str, use: str = "people", *, rope: bool = False) -> Item:
    facts = RopeFacts(construction="kernmantle") if rope else None
    return replace(make(), category=Category(category), used_for=Use(use), rope=facts)


@pytest.mark.parametrize(
    ("sets", "category", "use", "due_on"),
    [
        # examined on 31 August 2024
        ([], "harness", "people", "2025-02-28"),  # our default
        (["uk-lifting"], "harness", "people", "2025-02-28"),
        (["uk-lifting"], "sling", "rigging", "2025-02-28"),
        (["uk-lifting"], "other", "rigging", "2025-02-28"),  # of no kind of its own: on the safe side
        (["uk-lifting"], "rigging-line", "rigging", "2025-08-31"),
        (["europe-fall-protection"], "harness", "people", "2025-08-31"),
        (["europe-fall-protection"], "rigging-line", "rigging", "2025-02-28"),  # says nothing of it: our default
        (["europe-fall-protection", "uk-lifting"], "harness", "people", "2025-02-28"),  # the earliest
        (["us-tree-care"], "harness", "people", "2025-02-28"),  # states no interval: our default
        (["europe-fall-protection", "uk-webbing-lanyards"], "lanyard", "people", "2025-02-28"),
        (["europe-fall-protection", "uk-webbing-arduous"], "sling", "people", "2024-11-30"),
        (["europe-fall-protection", "weekly-check"], "harness", "people", "2024-09-07"),
        (["california-construction"], "harness", "people", "2025-02-28"),
    ],
)
def test_the_earliest_rule_that_applies_sets_the_date(
    item: MakeItem, history: History, sets: list[str], category: str, use: str, due_on: str
) -> None:
    due = due_of(kit(item, category, use), history(("examined", "2024-08-31")), TODAY, book(*sets))
    assert due.due_on == date.fromisoformat(due_on)
    assert due.rule in due.reason


def test_webbing_rules_do_not_speak_of_rope(item: MakeItem) -> None:
    (first, *_) = dates_after(
        kit(item, "lanyard", rope=True), TODAY, book("europe-fall-protection", "uk-webbing-arduous")
    )
    assert first.on == date(2026, 6, 1)


def test_a_changed_rule_set_holds_at_once_for_what_was_examined_before(item: MakeItem, history: History) -> None:
    events = history(("examined", "2024-09-30", "2025-09-30"))
    one = kit(item, "harness")
    assert due_of(one, events, TODAY, book("europe-fall-protection")).due_on == date(2025, 9, 30)
    due = due_of(one, events, TODAY, book("uk-lifting"))
    assert (due.due_on, due.state) == (date(2025, 3, 30), "overdue")


def test_a_check_by_the_user_puts_off_the_next_check_and_no_examination(item: MakeItem, history: History) -> None:
    events = history(("examined", "2025-01-10"), ("checked", "2025-05-30"))
    due = due_of(kit(item, "harness"), events, TODAY, book("weekly-check"))
    assert (due.due_on, due.reason[:18]) == (date(2025, 6, 6), "due soon: check du")
    late = due_of(kit(item, "harness"), events, date(2025, 7, 10), book("weekly-check"))
    assert late.due_on == date(2025, 6, 6)
    assert due_of(kit(item, "harness"), history(("checked", "2025-05-30")), TODAY).state == "never-examined"


@pytest.mark.parametrize(
    ("bought", "examined", "due_on"),
    [
        ("2023-11-10", "2023-12-01", "2024-06-01"),
        ("2023-11-10", "2023-11-10", "2024-05-10"),
        ("2023-11-10", "2023-11-09", None),  # by whoever had it before
        ("2023-11", "2023-11-15", None),  # maybe before the purchase
        (None, "2023-12-31", None),  # not known when bought: only since it came into the log, on 1 January 2024
        (None, "2024-01-01", "2024-07-01"),
    ],
)
def test_what_was_bought_used_is_examined_anew(
    item: MakeItem, history: History, bought: str | None, examined: str, due_on: str | None
) -> None:
    due = due_of(replace(item(bought=bought), came=Came.USED), history(("examined", examined)), date(2024, 3, 1))
    assert due.due_on == (date.fromisoformat(due_on) if due_on else None)
    assert due_on or "since it was bought used" in due.reason


def test_a_look_before_each_use_is_always_asked_with_its_source(item: MakeItem, history: History) -> None:
    for chosen in ((), ("uk-lifting",), ("us-tree-care",)):
        dates = all_dates(kit(item, "harness"), history(("examined", "2025-05-01")), TODAY, book(*chosen))
        looks = [dated for dated in dates if dated.what == "look"]
        assert looks
        assert all("before" in dated.rule and "(" in dated.rule for dated in looks)


def test_a_rule_of_ones_own_holds_beside_and_can_only_make_it_earlier(item: MakeItem, history: History) -> None:
    events = history(("examined", "2025-05-01"))
    assert due_of(kit(item, "harness"), events, TODAY, book("uk-lifting", own=OWN)).due_on == date(2025, 8, 1)
    longer = OWN.replace("every_months = 3", "every_months = 24")
    assert due_of(kit(item, "harness"), events, TODAY, book("uk-lifting", own=longer)).due_on == date(2025, 11, 1)
    assert due_of(kit(item, "harness"), events, TODAY, book(own=longer)).due_on == date(2027, 5, 1)
    cautious = RuleBook(book(own=longer).sets, cautious=True)
    assert due_of(kit(item, "harness"), events, TODAY, cautious).due_on == date(2025, 11, 1)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("every_months = 3", ""), "say one of"),
        (("every_months = 3", "every_months = 3\nbefore_use = true"), "say one of"),
        (("every_months = 3", "every_months = 0"), "1 to 60"),
        (("every_months = 3", "every_days = 400"), "1 to 366"),
        (("every_months = 3", 'every_months = "3"'), "rule[0].every_months"),
        (("every_months = 3", "every_month = 3"), "every_month"),
        (("every_months = 3", 'every_months = 3\ncategories = ["hat"]'), "hat"),
        (("every_months = 3", "every_months = 3\ndefault = true"), "default"),
        (('source = "our own rule"', 'source = " "'), "source"),
        (('id = "crew"', 'id = "uk-lifting"'), "belongs to a built-in set"),
        (('id = "crew"', "id = crew"), "not TOML"),
        (("[[rule]]", "[[rules]]"), "rules"),
    ],
)
def test_a_faulty_rule_file_is_told_with_its_name_and_place(change: tuple[str, str], told: str) -> None:
    with pytest.raises(RulesError) as refused:
        read_rules(OWN.replace(*change), "own.toml", own=True)
    assert refused.value.message.startswith("own.toml")
    assert told in refused.value.message


def test_every_built_in_rule_names_its_source_and_the_base_holds_always() -> None:
    assert builtin_sets()[0].id == BASE
    assert all(rule.source for one in builtin_sets() for rule in one.rules)
    assert [one.id for one in builtin_sets() for rule in one.rules if rule.default] == [BASE]
