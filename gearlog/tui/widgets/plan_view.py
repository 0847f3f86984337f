"""A plan as lines for the screen: drawing, marks, pulls, taper, tucks, eye, strength, checks and steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gearlog.domain.plan import Check, Plan
from gearlog.tui.widgets.lines import BLANK, Column, Line, Tone, heading, keyed, paragraph, table
from gearlog.tui.widgets.plan_extra import answer, counts, lengths, shortening, tools
from gearlog.tui.widgets.plan_figures import Figures
from gearlog.tui.widgets.plan_strength import CARRIES_NOTHING, strength

LEVEL_WORDS = {"stop": "STOP", "warn": "WARNING", "note": "NOTE"}
LEVEL_TONES = {"stop": Tone.STOP, "warn": Tone.WARN, "note": Tone.PLAIN}


def summary(plan: Plan) -> str:
    """The plan in one line: warnings, notes, what was asked for, rope used, working load limit, method."""
    figures = Figures(plan)
    said = ", ".join(filter(None, (_count(plan, "warn", "warning"), _count(plan, "note", "note"))))
    length = _asked_length(plan, figures)
    rope = f"rope used {figures.place(plan.shown_used_m)}" if plan.shown_used_m and not length else ""
    limit = "" if plan.shape in CARRIES_NOTHING else f"WLL {figures.force(plan.strength.wll_n)}"
    turns = ", ".join(f"{count.count} {count.title}" for count in plan.counts)
    own = "OWN, EXPERIMENTAL" if plan.own else ""
    return "; ".join(filter(None, (own, length, said, rope, turns, limit, plan.method_title)))


def _asked_length(plan: Plan, figures: Figures) -> str:
    made = plan.finished
    if made is None:
        return ""
    return f"cut {figures.length(made.shown_cut_m)}" if made.wanted else f"finished {figures.length(made.finished_m)}"


def _count(plan: Plan, level: str, word: str) -> str:
    number = sum(check.level == level for check in plan.checks)
    return f"{number} {word}{'' if number == 1 else 's'}" if number else ""


def stops(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every stop in full, before anything else."""
    lines = [line for check in plan.checks if check.level == "stop" for line in check_lines(check, width)]
    return (*lines, BLANK) if lines else ()


def check_lines(check: Check, width: int) -> tuple[Line, ...]:
    """STOP, WARNING or NOTE, the reason, and where the rule is from."""
    words = f"{check.message} ({check.source})" if check.source else check.message
    return paragraph(words, width, first=f"{LEVEL_WORDS[check.level]}  ", tone=LEVEL_TONES[check.level])


@dataclass(frozen=True)
class Pictures:
    """What is drawn of a plan: the rope as it lies and finished, and how full the standing part is."""

    rope: Sequence[str] = ()
    fill: Sequence[str] = ()


def plan_page(plan: Plan, pictures: Pictures, width: int) -> tuple[Line, ...]:
    """The whole plan but its steps; a line that has a key names the numbers in it, as ``explain`` does."""
    return (
        *stops(plan, width),
        *answer(plan, width),
        *(Line(row) for row in pictures.rope),
        *marks(plan, width),
        *(tools(plan, width) if plan.marks else ()),
        *counts(plan, width),
        *lengths(plan, width),
        *pulls(plan, width),
        *taper(plan, width),
        *tucks(plan, width),
        *eye(plan, width),
        *fill(pictures),
        *shortening(plan, width),
        *strength(plan, width),
        *checks(plan, width),
        *cautions(plan, width),
    )


def fill(pictures: Pictures) -> tuple[Line, ...]:
    """How full the standing part is along the bury."""
    if not pictures.fill:
        return ()
    return (*heading("Inside the standing part"), *(Line(row) for row in pictures.fill if row.strip()))


def marks(plan: Plan, width: int) -> tuple[Line, ...]:
    """The table of marks and, numbered below it, where each number is from."""
    if not plan.marks:
        return ()
    figures = Figures(plan)
    sources = tuple(dict.fromkeys(source_words(mark.source, common=mark.common_practice) for mark in plan.marks))
    columns = (Column("mark"), Column("at", right=True), Column("part"), Column("source"), Column("what"))
    rows = [
        (
            mark.letter,
            figures.length(mark.shown_m),
            mark.part,
            str(sources.index(source_words(mark.source, common=mark.common_practice)) + 1),
            f"{mark.name}: {mark.do}" if mark.do else mark.name,
        )
        for mark in plan.marks
    ]
    legend = (
        line
        for number, source in enumerate(sources, 1)
        for line in paragraph(source, width, first=f"source {number}  ", tone=Tone.MUTED)
    )
    return (
        *heading(f"Marks, from the {plan.origin}"),
        *table(columns, rows, width, keys=numbered("marks", plan.marks)),
        *legend,
    )


def numbered(name: str, things: Sequence[object]) -> tuple[str, ...]:
    """The keys of the things of one kind, as ``explain`` names them."""
    return tuple(f"{name}[{number}]" for number in range(len(things)))


def source_words(source: str, *, common: bool) -> str:
    """A source, with the label that common practice always carries."""
    words = "common practice, unconfirmed"
    if not common or words in source:
        return source
    return f"{source}; {words}" if source else words


def pulls(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every pull: entry, exit, length and tool."""
    if not plan.pulls:
        return ()
    figures = Figures(plan)
    columns = (Column("pull"), Column("in at", right=True), Column("out at", right=True),
               Column("length", right=True), Column("with"))  # fmt: skip
    rows = [
        (
            f"{number}  {pull.part}",
            figures.place(pull.shown_from_m),
            figures.place(pull.shown_to_m),
            figures.length(pull.shown_length_m),
            pull.tool or "no tool named",
        )
        for number, pull in enumerate(plan.pulls, 1)
    ]
    return (*heading("Pulls"), *table(columns, rows, width, keys=numbered("pulls", rows)))


def taper(plan: Plan, width: int) -> tuple[Line, ...]:
    """Where strands leave and what is left after each pair."""
    if not plan.taper:
        return ()
    figures = Figures(plan)
    columns = (Column("taper"), Column("from end", right=True), Column("strands left", right=True),
               Column("section left"))  # fmt: skip
    rows = [
        (
            f"{number}  {step.part}",
            figures.length(step.shown_m),
            str(step.strands_left),
            f"{step.fraction_left:.0%}",
        )
        for number, step in enumerate(plan.taper, 1)
    ]
    return (*heading("Taper: one strand of each lay leaves at"),
            *table(columns, rows, width, keys=numbered("taper", rows)))  # fmt: skip


def tucks(plan: Plan, width: int) -> tuple[Line, ...]:
    """Tucks of a laid rope, each number with its source."""
    if plan.tucks is None:
        return ()
    figures, made = Figures(plan), plan.tucks
    each = f", {made.count // made.sides} on each side" if made.sides > 1 else ""
    rows = [
        ("tucks.count", f"full tucks{each}", str(made.count), made.source),
        ("tucks.unlay_m", "unlay", figures.length(made.unlay_m), made.unlay_source),
        ("tucks.tail_m", "tail left", figures.length(made.tail_m), made.tail_source),
        ("tucks.tuck_m", "one tuck", figures.length(made.tuck_m), "along the rope"),
    ]
    if made.tapered:
        rows.insert(1, ("tucks.tapered", "then thinned tucks", str(made.tapered), made.tapered_source))
    columns = (Column(""), Column("", right=True), Column("source"))
    return (*heading("Tucks"), *table(columns, [row[1:] for row in rows], width, keys=[row[0] for row in rows]))


def eye(plan: Plan, width: int) -> tuple[Line, ...]:
    """The eye and how it sits on its pin."""
    if plan.eye is None:
        return ()
    figures, made = Figures(plan), plan.eye
    size = f"inside {figures.length(made.inside_length_m)}, round {figures.length(made.circumference_m)}"
    return (*heading("Eye"), *keyed(paragraph(size, width), "eye.circumference_m"),
            *keyed(paragraph(_pin_words(plan, figures), width), "eye"))  # fmt: skip


def _pin_words(plan: Plan, figures: Figures) -> str:
    made = plan.eye
    if made is None or made.pin_m is None:
        return "no pin named: how it sits on a pin is unknown"
    pin = f"on a pin of {figures.length(made.pin_m)}"
    if made.half_angle_deg is None or made.leg_tension_ratio is None:
        return f"{pin}: does not go over it"
    ratio = "" if made.d_over_d is None else f", pin over rope diameter {made.d_over_d:.1f}"
    return (
        f"{pin}: half angle at the throat {made.half_angle_deg:.1f} deg, "
        f"each leg bears {made.leg_tension_ratio:.3f} of the load{ratio}"
    )


def checks(plan: Plan, width: int) -> tuple[Line, ...]:
    """Every warning and note; the stops stand at the top of the page."""
    others = [check for check in plan.checks if check.level != "stop"]
    ranked = sorted(others, key=lambda check: list(LEVEL_WORDS).index(check.level))
    body = [line for check in ranked for line in check_lines(check, width)]
    return (*heading("Checks"), *(body or paragraph("nothing else was found", width)))


def cautions(plan: Plan, width: int) -> tuple[Line, ...]:
    """The cautions that stand with every plan."""
    body = [line for words in plan.cautions for line in paragraph(words, width, first="- ")]
    return (*heading("Before you cut"), *body) if body else ()


def steps_page(plan: Plan, width: int) -> tuple[Line, ...]:
    """The numbered steps with this rope's numbers, what forbids them first, the cautions last."""
    inset = len(str(len(plan.steps))) + 2
    steps = [
        line
        for number, words in enumerate(plan.steps, 1)
        for line in paragraph(words, width, first=f"{number}.".ljust(inset))
    ]
    none = paragraph("No steps: this plan stops before any work. The checks say why.", width)
    finish = (*heading("Finish"), *paragraph(plan.finish, width)) if plan.finish else ()
    head = replace(heading("Steps")[1], text=f"Steps: {plan.method_title}")
    return (*stops(plan, width), head, *(steps or none), *finish, *cautions(plan, width))
