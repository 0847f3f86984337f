"""Due dates of random items against a second reckoning, written from the documents and not from the program.

Intervals: LOLER 1998 reg. 9(3)(a), 6 and 12 months (which kit for rigging counts as an accessory is our reading);
EN 365 and DGUV Regel 112-198 10.3.2, 12; title 8, 1670(b)(19), 6; INDG367, 6 and in arduous use 3; else our 6 months.
"""

from __future__ import annotations

import calendar
from datetime import date, timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.vocabulary import ROPE_CATEGORIES, Came, Category, Use
from gearlog.upkeep.due import due_of
from gearlog.upkeep.rule_files import builtin_sets
from gearlog.upkeep.schedule import RuleBook
from tests.upkeep.conftest import SAVED, History, MakeItem

SETS = tuple(one for one in builtin_sets() if one.id != "base")
ACCESSORIES = {"sling", "connector", "ring-or-swivel", "pulley", "hitch-cord", "lanyard", "other"}
SOON, NEAR, WEEK = timedelta(days=30), timedelta(days=90), timedelta(days=7)
Past = list[tuple[str, str, str]]
"""What happened, when, and the inspector's next date or nothing."""


def months_on(day: date, months: int) -> date:
    """Counted month by month on the calendar; a day that a month has not is its last."""
    year, month = day.year, day.month
    for _ in range(months):
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def first(text: str) -> date:
    return date(*[*map(int, text.split("-")), 1, 1][:3])


def last(text: str) -> date:
    return {10: first(text), 7: months_on(first(text), 1) - timedelta(1), 4: date(int(text[:4]), 12, 31)}[len(text)]


def intervals(item: Item, chosen: list[str]) -> list[int]:
    people, webbing = item.used_for == "people", item.category in {"lanyard", "sling"} and item.rope is None
    accessory = people or item.used_for == "accessory" or item.category in ACCESSORIES
    asked = {
        "uk-lifting": 6 if accessory else 12,
        "europe-fall-protection": 12 if people else 0,
        "california-construction": 6 if people else 0,
        "uk-webbing-lanyards": 6 if webbing else 0,
        "uk-webbing-arduous": 3 if webbing else 0,
    }
    return [asked[one] for one in chosen if asked.get(one)] or [6]


def by_hand(item: Item, past: Past, chosen: list[str], today: date) -> tuple[str, date | None]:
    """State and day."""
    due = examination(item, past, chosen, today)
    ends = list(life(item, today))
    if ends and min(ends) <= today:
        return "overdue", min(ends)
    if due is None or dropped(past) is not None:
        return ("overdue" if due else "never-examined"), due
    on = min([due, *ends])
    return ("overdue" if on < today else "due-soon" if on - today <= SOON else "in-date"), on


def dropped(past: Past) -> str | None:
    """The first drop after which nobody examined it; where the dates overlap what was written down later is later."""
    for place, (kind, on, _) in enumerate(past):
        later = (first(at) > last(on) or (last(at) >= first(on) and other > place)
                 for other, (what, at, _) in enumerate(past) if what == "examined")  # fmt: skip
        if kind == "dropped" and not any(later):
            return on
    return None


def examination(item: Item, past: Past, chosen: list[str], today: date) -> date | None:
    drop = dropped(past)
    if drop is not None:
        return first(drop)
    since = date.min
    if item.came is Came.USED:
        since = min(SAVED.date(), last(item.bought_on.text)) if item.bought_on else SAVED.date()
    made = [(first(on), place, later) for place, (kind, on, later) in enumerate(past)
            if kind == "examined" and since <= first(on) <= today]  # fmt: skip
    if not made:
        return None
    on, _, later = max(made)
    days = [months_on(on, count) for count in intervals(item, chosen)] + ([first(later)] if later else [])
    if "weekly-check" in chosen:
        looks = [first(at) for kind, at, _ in past if kind == "checked" and first(at) <= today]
        days.append(max([on, *looks]) + WEEK)
    return min(days)


def life(item: Item, today: date) -> list[date]:
    limit = item.life_limit
    known = [day.earliest() for day in (item.made_on, item.bought_on, item.first_used_on) if day]
    ends = []
    for start, years in ((item.made_on, limit and limit.years_from_made),
                         (item.first_used_on, limit and limit.years_from_first_use)):  # fmt: skip
        if years:
            sure = bool(start or (known and (item.came is not Came.USED or item.made_on)))
            since = start.earliest() if start else min(known) if known else SAVED.date()
            end = months_on(since, 12 * years)
            ends += [end] if sure or end - today <= NEAR else []
    return ends


def days(least: date, most: date) -> st.SearchStrategy[str]:
    """Dates to the day, month or year, many of them the last of a month or a leap day."""
    any_day = st.dates(least, most)
    ends = any_day.map(lambda day: months_on(day.replace(day=1), 1) - timedelta(1)).filter(lambda day: day <= most)
    leap = st.sampled_from([day for year in (2012, 2016, 2020, 2024) if least <= (day := date(year, 2, 29)) <= most] or
                           [least])  # fmt: skip
    whole = st.one_of(any_day, ends, leap).map(date.isoformat)
    return st.one_of(whole, whole, whole.map(lambda text: text[:7]), whole.map(lambda text: text[:4]))


MAYBE = st.none()
WEBBING = [Category.LANYARD, Category.SLING] * 4  # oftener than the rest: three of the sets speak of them alone
KIT = st.fixed_dictionaries({
    "category": st.sampled_from([*Category, *WEBBING]), "used_for": st.sampled_from(Use), "rope": st.booleans(),
    "came": st.sampled_from([None, Came.NEW, Came.USED]),
    "made": MAYBE | days(date(2012, 1, 1), date(2020, 12, 31)), "bought": MAYBE | days(date(2021, 1, 1), SAVED.date()),
    "used": MAYBE | days(date(2021, 1, 1), SAVED.date()),
    "limit": MAYBE | st.tuples(MAYBE | st.sampled_from([3, 5, 10]), MAYBE | st.sampled_from([1, 2, 3])),
})  # fmt: skip
PAST = st.lists(
    st.tuples(
        st.sampled_from(["examined", "examined", "checked", "dropped"]),
        days(date(2022, 6, 1), date(2025, 6, 1)),
        st.just("") | days(date(2025, 7, 1), date(2025, 12, 31)),
    ).map(lambda entry: entry if entry[0] == "examined" else (*entry[:2], "")),
    max_size=5,
)


@settings(max_examples=600, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(KIT, PAST, st.just([]) | st.lists(st.sampled_from([one.id for one in SETS]), unique=True, min_size=1), st.dates(
    date(2025, 6, 1), date(2026, 6, 1)))  # fmt: skip
def test_the_day_is_the_one_that_is_reckoned_by_hand(
    item: MakeItem, history: History, kit: dict[str, object], past: Past, chosen: list[str], today: date
) -> None:
    made: Item = item(kit["made"], kit["bought"], kit["used"], kit["limit"])
    rope = RopeFacts(construction="three-strand") if kit["rope"] and kit["category"] in ROPE_CATEGORIES else None
    made = replace(made, category=kit["category"], used_for=kit["used_for"], came=kit["came"], rope=rope)
    events = history(*((kind, on, later) if later else (kind, on) for kind, on, later in past))
    book = RuleBook(tuple(one for one in SETS if one.id in chosen))
    due = due_of(made, events, today, book)
    assert (due.state, due.due_on) == by_hand(made, past, chosen, today), due.reason
