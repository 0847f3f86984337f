"""Which rules an item stands under, and the days that each of them sets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

import msgspec

from gearlog.domain.event import Event
from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Came, EventKind
from gearlog.upkeep.examinations import last_check, last_examination
from gearlog.upkeep.months import add_months
from gearlog.upkeep.rule_files import Rule, RuleSet, base_set


class Dated(msgspec.Struct, frozen=True):
    """A day that a rule sets.

    Attributes:
        on: the last day on which it may be done; None for what has no date, as a look before each use.
        rule: the rule in words, with its source.
        what: ``examination`` or ``check``.
    """

    on: date | None
    rule: str
    what: str = "examination"


class RuleBook(msgspec.Struct, frozen=True):
    """The rule sets that hold in one log.

    Attributes:
        sets: those chosen and the user's own, without the one that holds always.
        cautious: whether the default holds beside them all, because a file of the user's own does not read.
    """

    sets: tuple[RuleSet, ...] = ()
    cautious: bool = False

    def rules(self, item: Item) -> tuple[Rule, ...]:
        """Every rule that speaks of ``item``; the default only where no other gives an interval."""
        chosen = [rule for one in self.sets for rule in one.rules if rule.applies(item)]
        bound = any(_interval(rule) and not rule.interim for rule in chosen)
        base = [rule for rule in base_set().rules if not rule.default or self.cautious or not bound]
        return (*chosen, *base)


DEFAULT_BOOK = RuleBook()
"""No set was chosen: before use always, and six months."""


def set_dates(item: Item, events: Sequence[Event], today: date, book: RuleBook) -> tuple[Dated, ...]:
    """Every day that is set for an item that was examined, the earliest first; empty when it never was.

    Partial dates are read as their first day, and an inspector's own date never puts off what a rule asks.
    """
    last = last_examination(counting_from(item, events), today)
    if last is None:
        return ()
    rules = [rule for rule in book.rules(item) if _interval(rule)]
    check = (last_check(events, today) if any(rule.interim for rule in rules) else None) or last
    found = [*_by_inspector(last), *(_by_rule(rule, last, check) for rule in rules)]
    return tuple(sorted(found, key=lambda dated: dated.on or date.max))


def all_dates(item: Item, events: Sequence[Event], today: date, book: RuleBook) -> tuple[Dated, ...]:
    """Every day that is set, and what is asked before each use, which has no day."""
    asked = (Dated(None, rule.words, "look") for rule in book.rules(item) if rule.before_use)
    return (*set_dates(item, events, today, book), *asked)


def dates_after(item: Item, on: date, book: RuleBook) -> tuple[Dated, ...]:
    """The days that the rules set for an item that is examined on ``on``, the earliest first; checks left out."""
    rules = (rule for rule in book.rules(item) if _interval(rule) and not rule.interim)
    return tuple(
        sorted((Dated(_later(on, rule), rule.words) for rule in rules), key=lambda dated: dated.on or date.max)
    )


def counting_from(item: Item, events: Sequence[Event]) -> Sequence[Event]:
    """The entries that count for the schedule: what was bought used is examined anew by those who bought it.

    Examinations count from the day of purchase, read as late as it can mean, or from the item's entry into the log.
    """
    if item.came is not Came.USED:
        return events
    entered = item.created_at.date()
    start = entered if item.bought_on is None else min(entered, item.bought_on.latest())
    return [event for event in events if event.kind is not EventKind.EXAMINED or event.happened_on.earliest() >= start]


def _interval(rule: Rule) -> bool:
    return rule.every_months is not None or rule.every_days is not None


def _by_inspector(last: Event) -> Iterator[Dated]:
    if last.next_due_on is not None:
        yield Dated(last.next_due_on.earliest(), f"set at the examination of {last.happened_on}")


def _by_rule(rule: Rule, last: Event, check: Event) -> Dated:
    if not rule.interim:
        return Dated(_later(last.happened_on.earliest(), rule), rule.words)
    since = max(last.happened_on.earliest(), check.happened_on.earliest())
    return Dated(_later(since, rule), rule.words, "check")


def _later(day: date, rule: Rule) -> date:
    if rule.every_days is not None:
        return day + timedelta(days=rule.every_days)
    return add_months(day, rule.every_months or 0)
