"""The list to hand over: every item with the particulars that EN 365 asks of a record; gaps are told, not hidden."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import msgspec

from gearlog.domain.audited import Examined
from gearlog.domain.event import Event
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.lifecycle import EndView
from gearlog.domain.vocabulary import End, label
from gearlog.services.views import GearRow
from gearlog.units.measure import Measure
from gearlog.units.showing import rounded
from gearlog.upkeep.due import DueState

DUE_WORDS: dict[DueState, str] = {
    "overdue": "OVERDUE",
    "never-examined": "OVERDUE, never examined",
    "due-soon": "due soon",
    "in-date": "in date",
    "out-of-service": "out of service",
}
"""The state in words, for readers without colours."""
PLACES = 2  # decimals of kN, mm and m: finer than any label or tape
IN_KILO = 0.001
IN_MILLI = 1000.0


class Audited(msgspec.Struct, frozen=True):
    """One item with all that its line of the list tells.

    Attributes:
        examined: the last examination, or None.
        length_now_m: of a rope whose length is known (m).
        ends: of a rope, the state of its ends.
        end_titles: titles of the methods of the splices at its ends.
        parent_tag: tag of what it was cut from, or empty.
        examinations: every examination, the newest first.
    """

    row: GearRow
    examined: Event | None
    length_now_m: float | None
    ends: Mapping[End, EndView]
    end_titles: Mapping[End, str]
    parent_tag: str
    examinations: tuple[Examined, ...] = ()

    @property
    def item(self) -> Item:
        """The item itself."""
        return self.row.item

    @property
    def rope(self) -> RopeFacts:
        """What it adds as a rope; all unknown for what is none."""
        return self.item.rope or _NO_ROPE


_NO_ROPE = RopeFacts(construction="")


def _number(measure: Measure | None, factor: float = 1.0) -> str:
    return "" if measure is None else f"{rounded(measure.si * factor, PLACES):f}"


def _from_first_use(item: Item) -> int | None:
    return item.life_limit.years_from_first_use if item.life_limit else None


def _of_device(audited: Audited, name: str) -> str:
    return _number(getattr(audited.item.device, name), IN_KILO) if audited.item.device else ""


def _text(value: object) -> str:
    return "" if value is None else str(value)


def end_words(audited: Audited, end: End) -> str:
    """How an end of a rope is now; empty for what is no rope."""
    view = audited.ends.get(end)
    if view is None:
        return ""
    if view.splice is None:
        return label(view.state)
    return f"{label(view.state)} {view.splice.made_on}: {audited.end_titles.get(end, view.splice.method)}"


def _next_due(audited: Audited) -> str:
    if audited.row.due.state == "never-examined":
        return "before use"
    return _text(audited.row.due.due_on)


def construction_words(audited: Audited) -> str:
    """Construction, strands and lay; empty for what is no rope."""
    rope = audited.rope
    lay = f", {label(rope.lay)}" if rope.lay else ""
    strands = f", {rope.strands} strands" if rope.strands else ""
    return rope.construction + strands + lay


def examined_words(one: Examined) -> str:
    """One examination in a line: date, reason, result, findings, who, next due."""
    parts = [
        f"{one.on}: {one.reason or 'reason MISSING'}",
        one.result or "result MISSING",
        *(one.findings if one.told or one.findings or one.remarks else ("findings MISSING",)),
        f"by {one.by}" if one.by else "by MISSING",
        f"next due {one.next_due}" if one.next_due else "",
        one.remarks,
    ]
    return ", ".join(part for part in parts if part)


COLUMNS: tuple[tuple[str, Callable[[Audited], str]], ...] = (
    ("tag", lambda a: a.item.tag),
    ("category", lambda a: label(a.item.category)),
    ("name", lambda a: a.item.name),
    ("maker", lambda a: a.item.maker),
    ("model", lambda a: a.item.model),
    ("serial or batch", lambda a: a.item.serial),
    ("standards claimed", lambda a: a.item.standards),
    ("breaking strength as printed", lambda a: _text(a.item.breaking_strength)),
    ("breaking strength (kN)", lambda a: _number(a.item.breaking_strength, IN_KILO)),
    ("safe working load as stated", lambda a: _text(a.item.safe_working_load)),
    ("safe working load (kN)", lambda a: _number(a.item.safe_working_load, IN_KILO)),
    ("used for", lambda a: label(a.item.used_for)),
    ("made on", lambda a: _text(a.item.made_on)),
    ("bought on", lambda a: _text(a.item.bought_on)),
    ("first used on", lambda a: _text(a.item.first_used_on)),
    ("status", lambda a: label(a.row.status)),
    ("last examined on", lambda a: a.examined.happened_on.text if a.examined else ""),
    ("examined by", lambda a: a.examined.by if a.examined else ""),
    ("next due on", _next_due),
    ("due", lambda a: DUE_WORDS[a.row.due.state]),
    ("due because", lambda a: a.row.due.reason),
    ("end of life on", lambda a: _text(a.row.life_end.on)),
    ("end of life because", lambda a: a.row.life_end.reason),
    ("construction", construction_words),
    ("fibre of strands or cover", lambda a: a.rope.cover_fibre),
    ("fibre of core", lambda a: a.rope.core_fibre),
    ("diameter (mm)", lambda a: _number(a.rope.diameter, IN_MILLI)),
    ("length bought (m)", lambda a: _number(a.rope.length_bought)),
    ("length now (m)", lambda a: "" if a.length_now_m is None else f"{rounded(a.length_now_m, PLACES):f}"),
    ("end A", lambda a: end_words(a, End.A)),
    ("end B", lambda a: end_words(a, End.B)),
    ("cut from", lambda a: a.parent_tag),
    ("assigned to", lambda a: a.item.assigned_to),
    ("kept at", lambda a: a.item.kept_at),
    ("documents", lambda a: "; ".join(a.item.documents)),
    ("notes", lambda a: a.item.notes),
    ("gaps", lambda a: "; ".join(a.row.gaps)),
    ("life years from made", lambda a: _text(a.item.life_limit.years_from_made if a.item.life_limit else None)),
    ("life years from first use", lambda a: _text(_from_first_use(a.item))),
    ("life limit read in", lambda a: a.item.life_limit.read_at if a.item.life_limit else ""),
    ("bought new or used", lambda a: label(a.item.came) if a.item.came else ""),
    ("colour mark", lambda a: a.item.colour_mark),
    ("size", lambda a: a.item.device.size if a.item.device else ""),
    ("gate", lambda a: label(a.item.device.gate) if a.item.device and a.item.device.gate else ""),
    ("strength with gate open (kN)", lambda a: _of_device(a, "gate_open_strength")),
    ("strength across (kN)", lambda a: _of_device(a, "minor_axis_strength")),
    ("contact of maker or supplier", lambda a: a.item.contact),
    ("examinations", lambda a: " | ".join(map(examined_words, a.examinations))),
)
"""Heading and text of each column; unknown is empty, and the column of gaps names what is missing."""

HEADINGS = tuple(heading for heading, _ in COLUMNS)
"""The headings in order."""


def line_of(audited: Audited) -> tuple[str, ...]:
    """One item's line: dates ISO 8601, numbers plain with their unit in the heading."""
    return tuple(text(audited) for _, text in COLUMNS)
