"""What may be typed after the verbs of gear: when what is due, an item's story, and what happens to it."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from gearlog.cli import gear_acts, gear_verbs
from gearlog.cli.handover_parser import Verb
from gearlog.domain.inspection import InspectionKind
from gearlog.services.device_forms import WHOLE_FORM
from gearlog.services.inspection_forms import INSPECTION_FORM
from gearlog.upkeep.account import END, PIECE, TRIM

EXAMPLES = {
    "due": "gearlog due --within 60",
    "show": "gearlog show line-3 --on 2024-05-31",
    "rules": "gearlog rules --choose uk-lifting",
    "add": "gearlog add --name 'Screw connector' --category connector --tag con-1 --serials F101..F110",
    "inspect": "gearlog inspect line-3",
    "cut": "gearlog cut line-3 --as trim --end A --length '0.3 m'",
    "quarantine": "gearlog quarantine line-3 --reason 'glazed at 3 m' --by AB",
    "release": "gearlog release line-3 --reason 'examined, nothing found' --by AB",
    "retire": "gearlog retire line-3 --reason 'worn through' --by AB",
    "destroy": "gearlog destroy line-3 --reason 'cut into pieces' --by AB",
}
"""A call that works, by verb."""

AddField = Callable[..., None]
_ADDED_ONLY = frozenset({"parent", "parent_end", "cut_on", "cut_from"})
"""Fields of a piece; ``gearlog cut`` tells them."""


def add_verbs(adder: argparse._SubParsersAction, verb: Verb, add_field: AddField) -> None:  # type: ignore[type-arg]
    """Add the verbs to the command line."""
    _add_due(verb(adder, "due", gear_verbs.due, help="what is overdue, due soon or in quarantine; overdue ends with 1"))
    _add_show(verb(adder, "show", gear_verbs.show, help="the story of one item, now or as of a day"))
    _add_rules(verb(adder, "rules", gear_verbs.rules, help="the rule sets by which gear is due, and which hold"))
    _add_add(verb(adder, "add", gear_acts.add, help="add an item, or many equal ones in one go"), add_field)
    _add_inspect(
        verb(adder, "inspect", gear_acts.inspect, help="print what to look at on an item, or enter an inspection"),
        add_field,
    )
    _add_cut(verb(adder, "cut", gear_acts.cut, help="cut a piece, an end or a trim off a rope"))
    for name, run, about in (
        ("quarantine", gear_acts.quarantine, "take an item out of use until it is released"),
        ("release", gear_acts.release, "let an item be used again; the reason says how each finding was resolved"),
        ("retire", gear_acts.retire, "end an item's use for good"),
        ("destroy", gear_acts.destroy, "note that an item was made unusable"),
    ):
        _add_decision(verb(adder, name, run, help=about))


def _add_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON, numbers in SI and not rounded")


def _add_on(parser: argparse.ArgumentParser, about: str) -> None:
    parser.add_argument("--on", metavar="DATE", help=about)


def _add_tag(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tag", metavar="TAG", help="the item's tag, see: gearlog list")


def _add_due(parser: argparse.ArgumentParser) -> None:
    _add_on(parser, "as of this day; today, unless you say")
    parser.add_argument("--within", metavar="DAYS", help="also what is due within so many days; 30, unless you say")
    parser.add_argument("--ics", metavar="FILE", help="write a calendar file instead; - is standard output")
    _add_json(parser)


def _add_show(parser: argparse.ArgumentParser) -> None:
    _add_tag(parser)
    _add_on(parser, "as of this day, as it is known now")
    parser.add_argument("--as-recorded", action="store_true", help="as it was shown on that day")
    _add_json(parser)


def _add_rules(parser: argparse.ArgumentParser) -> None:
    one = parser.add_mutually_exclusive_group()
    one.add_argument("--choose", metavar="ID", action="append", help="let this set hold; may be given several times")
    one.add_argument("--none", action="store_true", help="let none hold but our default")
    _add_json(parser)


def _add_add(parser: argparse.ArgumentParser, add_field: AddField) -> None:
    for field in WHOLE_FORM:
        if field.name not in _ADDED_ONLY:
            add_field(parser, field)
    about = "serials of equal items: F101,F102 or F101..F110; may be given several times"
    parser.add_argument("--serials", metavar="TEXT", action="append", help=about)
    parser.add_argument("--count", metavar="NUMBER", help="how many equal items, when they have no serials")
    _add_json(parser)


def _add_inspect(parser: argparse.ArgumentParser, add_field: AddField) -> None:
    _add_tag(parser)
    kinds = tuple(kind.value for kind in InspectionKind)
    parser.add_argument("--kind", metavar="KIND", choices=kinds, default=kinds[0], help=" | ".join(kinds))
    about = "pass, watch, fail or not-applicable, with words after a colon; may be given several times"
    parser.add_argument("--answer", metavar="KEY=MARK", action="append", help=about)
    parser.add_argument("--rest", metavar="pass", help="all lines without an answer pass; each was looked at")
    parser.add_argument("--seen", metavar="CODE", help="the code printed under the lines, for --rest")
    about = (
        "severity=note|watch|stop; words=...; at=3.2 m; until=...; measured_from=end|throat; photos=...; line=KEY; "
        "may be given several times"
    )
    parser.add_argument("--finding", metavar="TEXT", action="append", help=about)
    for field in INSPECTION_FORM:
        add_field(parser, field)
    _add_json(parser)


def _add_cut(parser: argparse.ArgumentParser) -> None:
    _add_tag(parser)
    kinds = (PIECE, END, TRIM)
    about = "a piece that goes on as an item, an end with what is on it, or a trim"
    parser.add_argument("--as", dest="cut_as", metavar="WHAT", choices=kinds, required=True, help=about)
    for name, metavar, about in (
        ("end", "END", "A or B"),
        ("length", "TEXT", "all the rope that goes, rope in a splice too: 1.2 m"),
        ("from-throat", "TEXT", "instead: of a spliced end, how far behind its throat"),
        ("on", "DATE", "when; today, unless you say"),
        ("by", "TEXT", "who cut it"),
        ("notes", "TEXT", "notes"),
        ("name", "TEXT", "of a piece, what the crew calls it"),
        ("new-tag", "TEXT", "of a piece, its tag; made from the name, unless you say"),
        ("category", "TEXT", "of a piece; its rope's, unless you say"),
    ):
        parser.add_argument(f"--{name}", metavar=metavar, help=about)


def _add_decision(parser: argparse.ArgumentParser) -> None:
    _add_tag(parser)
    parser.add_argument("--reason", metavar="TEXT", help="why, in words")
    parser.add_argument("--by", metavar="TEXT", help="who decided; you, where the settings name you")
    _add_on(parser, "when; today, unless you say")
