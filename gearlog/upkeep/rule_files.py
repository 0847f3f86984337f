"""Rule sets as data: how often what must be examined, by whom it is asked, and where that stands."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import cache
from importlib import resources

import msgspec
from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.vocabulary import Category, EventKind, Use
from gearlog.errors import GearlogError

MOST_MONTHS = 60  # months; no rule found asks for more than a year, beyond five a digit slipped
MOST_DAYS = 366  # days; what is rarer is stated in months
LARGEST = 100_000  # characters of a file; the longest built-in one has 2,000
BASE = "base"
"""The set that holds always."""


class RulesError(GearlogError):
    """A rule file is wrong; the message names file, place and reason."""

    title = "Rule file"


class Rule(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One rule of a set; an empty filter lets every item pass.

    Attributes:
        id: unlike the others of its set.
        title: what it asks, in words.
        source: where that stands.
        every_months: months from one examination to the next.
        every_days: the same in days.
        before_use: it asks for a look before use, not for a date.
        interim: a check by the user is enough; an examination counts as one.
        default: it holds only where no other set gives an item an interval.
        used_for: of items.
        categories: of items.
        rope: only of what is made of rope, or only of what is not; None is both.
    """

    id: str
    title: str
    source: str
    every_months: int | None = None
    every_days: int | None = None
    before_use: bool = False
    interim: bool = False
    default: bool = False
    used_for: tuple[Use, ...] = ()
    categories: tuple[Category, ...] = ()
    rope: bool | None = None

    def applies(self, item: Item) -> bool:
        """Whether it speaks of ``item``."""
        return (
            (not self.used_for or item.used_for in self.used_for)
            and (not self.categories or item.category in self.categories)
            and (self.rope is None or self.rope is (item.rope is not None))
        )

    @property
    def words(self) -> str:
        """The rule with its source, in one line."""
        return self.title if self.default else f"{self.title} ({self.source})"


class After(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What follows from an event.

    Attributes:
        events: the kinds of events.
        says: what follows, in words.
        source: where that stands.
    """

    events: tuple[EventKind, ...]
    says: str
    source: str


class RuleSet(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The rules of one region, guide or employer.

    Attributes:
        id: as chosen in the settings.
        title: as people say it.
        region: where it holds.
        summary: what it asks, in a sentence.
        rules: in the order of the file.
        after: what follows from events.
        own: whether it is a file of the user's own.
    """

    id: str
    title: str
    region: str
    summary: str
    rules: tuple[Rule, ...] = msgspec.field(name="rule")
    after: tuple[After, ...] = ()
    own: bool = False


@cache
def builtin_sets() -> tuple[RuleSet, ...]:
    """The sets that come with the program, the one that holds always first, the others by title."""
    folder = resources.files("gearlog.upkeep") / "rules"
    files = [file for file in folder.iterdir() if file.name.endswith(".toml")]
    sets = [read_rules(file.read_text(encoding="utf-8"), file.name, own=False) for file in files]
    return tuple(sorted(sets, key=lambda one: (one.id != BASE, one.title)))


@cache
def base_set() -> RuleSet:
    """The set that holds always; the other files are not read for it."""
    file = resources.files("gearlog.upkeep") / "rules" / f"{BASE}.toml"
    return read_rules(file.read_text(encoding="utf-8"), file.name, own=False)


def read_rules(text: str, file_name: str, *, own: bool) -> RuleSet:
    """The rule set in ``text``; raises RulesError that names file, place and reason of every fault."""
    if len(text) > LARGEST:
        raise RulesError(f"{file_name}: has {len(text):,} characters; at most {LARGEST:,} are read")
    try:
        found = msgspec.convert(tomllib.loads(text), RuleSet)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise RulesError(f"{file_name}: not TOML: {error}") from error
    except msgspec.ValidationError as error:
        reason, _, where = str(error).partition(" - at `$")
        raise RulesError(f"{file_name}{_place(where)}: {reason}") from error
    faults = list(_faults(found, own=own))
    if faults:
        raise RulesError("; ".join(f"{file_name}, {fault}" for fault in faults))
    return replace(found, own=own)


def _place(where: str) -> str:
    return f", {where.strip('.`')}" if where.strip(".`") else ""


def _faults(found: RuleSet, *, own: bool) -> Iterator[str]:
    if not found.rules:
        yield "rule: none is there; write at least one [[rule]]"
    if own and found.id in {one.id for one in builtin_sets()}:
        yield f"id: '{found.id}' belongs to a built-in set; give it an id of its own"
    ids = [rule.id for rule in found.rules]
    for rule in found.rules:
        yield from (f"rule '{rule.id}': {fault}" for fault in _rule_faults(rule))
        if ids.count(rule.id) > 1:
            yield f"rule '{rule.id}': stands there twice; give each rule its own id"
        if own and rule.default:
            yield f"rule '{rule.id}': only the built-in default may say default"


def _rule_faults(rule: Rule) -> Iterator[str]:
    intervals = [rule.every_months is not None, rule.every_days is not None, rule.before_use]
    if sum(intervals) != 1:
        yield "say one of every_months, every_days and before_use"
    if rule.every_months is not None and not 1 <= rule.every_months <= MOST_MONTHS:
        yield f"every_months is 1 to {MOST_MONTHS}"
    if rule.every_days is not None and not 1 <= rule.every_days <= MOST_DAYS:
        yield f"every_days is 1 to {MOST_DAYS}"
    if not rule.title.strip() or not rule.source.strip():
        yield "title and source must say something; a rule without a source says: our own rule"
