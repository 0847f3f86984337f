"""What may be typed after ``gearlog``: verbs and options, one small function a verb."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import NoReturn

from gearlog.cli import compare_verb, diary_verbs, gear_parser, handover_parser, method_verbs, plan_verb, verbs
from gearlog.cli.diagnostics import WrongCallError
from gearlog.services.forms import PLAN_FORM, SPLICE_FORM, STRENGTH_FORM, YES, Field, FieldKind

PURPOSE = "A gear log and splice planner for a working tree climber. Without a verb it opens the screens."
EXAMPLES = {
    "gearlog": "gearlog list",
    "plan": "gearlog plan hollow-eye --construction hollow-braid --diameter '12 mm' --eye '150 mm'",
    "recall": "gearlog recall --rope line-3 --method hollow-eye",
    "list": "gearlog list --json",
    "audit": handover_parser.EXAMPLES["audit"],
    "methods": "gearlog methods",
    "compare": "gearlog compare line-1 line-2",
    "record": "gearlog record --rope line-3 --end A --method hollow-eye --outcome good --condition used",
    "strength": "gearlog strength ID --kind break --force '21.4 kN' --failed-at throat",
    **gear_parser.EXAMPLES,
    **handover_parser.EXAMPLES,
}
"""A call that works, by verb; every refusal ends with one."""

EXAMPLES_WITHIN = {
    "methods check": "gearlog methods check my-eye.toml",
    "methods copy": "gearlog methods copy hollow-eye my-eye.toml --as my-eye",
}
"""The same for what a verb can do beside its main job."""

VERBS = tuple(name for name in EXAMPLES if name != "gearlog")
"""Every verb, in the order of the main job."""

RECALL_FIELDS = frozenset(
    {"rope", "end", "construction", "strands", "lay", "fibre", "core_fibre", "diameter", "eye", "condition"}
)
"""Fields of the planner that say which earlier splices are alike."""


PAPERS = ("a4", "letter")
"""Papers that a bench card is laid out for."""


class Parser(argparse.ArgumentParser):
    """A parser that refuses with one line and an example, and never guesses an option from its beginning."""

    def error(self, message: str) -> NoReturn:
        """Raise what is wrong with the call as an error for the user."""
        verb = self.prog.removeprefix("gearlog ")
        reason = message.removeprefix("argument ")
        raise WrongCallError(f"{reason}; for example: {(EXAMPLES | EXAMPLES_WITHIN)[verb]}")


def build() -> Parser:
    """The whole command line."""
    parser = Parser(prog="gearlog", description=PURPOSE, allow_abbrev=False)
    parser.add_argument("--version", action="store_true", help="print the version")
    parser.set_defaults(run=None, opens=True, log=None, sample=False)
    _add_log(parser)
    adder = parser.add_subparsers(dest="verb", metavar="VERB", title="verbs")
    for add in (_add_plan, _add_recall, _add_list, _add_methods, _add_compare, _add_record, _add_strength):
        add(adder)
    gear_parser.add_verbs(adder, _verb, _add_field)
    handover_parser.add_verbs(adder, _verb, _add_field)
    return parser


_Adder = argparse._SubParsersAction  # argparse gives its type no public name


def _verb(adder: _Adder[Parser], name: str, run: Callable[..., int], *, help: str) -> Parser:  # noqa: A002 (argparse's word)
    example = (EXAMPLES | EXAMPLES_WITHIN)[name]
    parser = adder.add_parser(
        name.rsplit(maxsplit=1)[-1], help=help, description=help, epilog=f"example: {example}", allow_abbrev=False
    )
    parser.prog = f"gearlog {name}"
    parser.set_defaults(run=run)
    _add_log(parser)
    return parser


def _add_log(parser: Parser) -> None:
    """``--log`` and ``--sample`` stand before the verb or after it; the later one holds."""
    hidden = argparse.SUPPRESS
    parser.add_argument("--log", metavar="DIR", default=hidden, help="folder of the log; else GEARLOG_DIR, else yours")
    parser.add_argument("--sample", action="store_true", default=hidden, help="a throw-away copy of the demo log")


def _add_json(parser: Parser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON, numbers in SI and not rounded")


def _add_field(parser: Parser, field: Field) -> None:
    """A field as an option: a list may be given in parts, and what is only yes or nothing takes no text."""
    values = " | ".join(value for value, _ in field.choices)
    about = "; ".join(part for part in (field.label, values, field.hint) if part).replace("%", "%%")
    option = "--" + field.name.replace("_", "-")
    if field.choices == YES:
        parser.add_argument(option, dest=field.name, action="store_const", const=YES[0][0], help=about)
    elif field.kind in (FieldKind.LIST, FieldKind.CHOICES):
        about = f"{about}; may be given several times"
        parser.add_argument(option, dest=field.name, metavar="TEXT", action="append", help=about)
    else:
        parser.add_argument(option, dest=field.name, metavar="TEXT", help=about)


def _add_plan(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "plan", plan_verb.plan, help="work out a splice: marks, cuts, pulls, strength, steps")
    parser.add_argument("method", metavar="METHOD", help="id of a method, see: gearlog methods")
    for field in PLAN_FORM:
        if field.name != "method":
            _add_field(parser, field)
    parser.add_argument("--explain", action="store_true", help="each number with its formula, inputs and source")
    parser.add_argument("--card", metavar="FILE", help="write the bench card too: FILE.pdf, FILE.html or FILE.svg")
    parser.add_argument("--paper", metavar="PAPER", choices=PAPERS, help="paper of the card: a4 or letter")
    parser.add_argument("--force", action="store_true", help="write the card over a file that is there")
    _add_imperial(parser)
    _add_json(parser)


def _add_imperial(parser: Parser) -> None:
    parser.add_argument("--imperial", action="store_true", help="feet, inches and tape fractions in the words")


def _add_recall(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "recall", verbs.recall, help="what worked last time on this rope or one like it")
    parser.add_argument("--method", metavar="METHOD", help="id of a method, see: gearlog methods")
    for field in PLAN_FORM:
        if field.name in RECALL_FIELDS:
            _add_field(parser, field)
    for share, meaning in (("coverage", "share of all such splices above the bound"), ("confidence", "in the bound")):
        parser.add_argument(
            f"--{share}", metavar="NUMBER", help=f"lower bound of strength: {meaning}; 0.95 unless said"
        )
    _add_imperial(parser)
    _add_json(parser)


def _add_list(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "list", verbs.gear, help="every item, its state and when it is due, one a line")
    _add_json(parser)


def _add_methods(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "methods", method_verbs.methods, help="the splices that can be planned, with their sources")
    _add_json(parser)
    within = parser.add_subparsers(metavar="check | copy", title="methods of your own", prog="gearlog methods")
    check = _verb(within, "methods check", method_verbs.check, help="tell each fault of a method file, with its line")
    check.add_argument("file", metavar="FILE", help="the file to check")
    copy = _verb(within, "methods copy", method_verbs.copy, help="copy a method into a file of your own, to change it")
    copy.add_argument("method", metavar="METHOD", help="id of the method to start from")
    copy.add_argument("file", metavar="FILE", nargs="?", help="file to write; else in the log's folder of own methods")
    copy.add_argument("--as", dest="new_id", metavar="ID", required=True, help="the new method's own id")


def _add_compare(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "compare", compare_verb.compare, help="two ropes side by side: which one for this job")
    for name in ("first", "second"):
        about = (
            "tag of a rope in the log, or a rope in words: 'cover-loaded, 12.7 mm, polyester, core polyester, 24 kN'"
        )
        parser.add_argument(name, metavar="ROPE", help=about)
    _add_imperial(parser)
    _add_json(parser)


def _add_record(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "record", diary_verbs.record, help="enter a splice that was made")
    parser.add_argument("--like", metavar="ID", help="as this splice was made; last: as the last in --rope, --method")
    for field in (*SPLICE_FORM, *(field for field in PLAN_FORM if field.name in diary_verbs.PLANNED)):
        _add_field(parser, field)
    about = "what the tape said at a mark of the plan; may be given several times"
    parser.add_argument("--measured", metavar="MARK=LENGTH", action="append", help=about)
    _add_json(parser)


def _add_strength(adder: _Adder[Parser]) -> None:
    parser = _verb(adder, "strength", diary_verbs.strength, help="enter a break or proof test of a splice")
    parser.add_argument("splice", metavar="ID", help="id of the splice, see: gearlog recall")
    for field in STRENGTH_FORM:
        _add_field(parser, field)
    _add_json(parser)
