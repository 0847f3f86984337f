"""The card of one item in words: where it stands and why, its data, ends, history and splices."""

from __future__ import annotations

from textual.content import Content

from gearlog.domain.event import Event
from gearlog.domain.item import Item, RopeFacts
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import EventKind, Status, Unit, label
from gearlog.services.views import Card, SpliceRow
from gearlog.tui.widgets.prose import facts, heading, joined, prose, table
from gearlog.units.showing import rope_length

DATE, BETWEEN = 10, 12  # cells: an ISO date; where along a rope a splice lies


def card_words(card: Card, settings: Settings, width: int) -> Content:
    """The whole card, set for ``width`` cells."""
    return joined(
        [
            *_top(card, width),
            *_ends(card, width),
            *(_rope(card, card.item.rope, settings, width) if card.item.rope else ()),
            *_splices(card.splices, width),
            *_history(card.events, width),
            *_data(card.item, width),
            *_missing(card.gaps, width),
            *_making(card, width),
        ]
    )


def _top(card: Card, width: int) -> list[Content]:
    item = card.item
    standing = label(card.status).upper() if card.status is not Status.IN_SERVICE else label(card.status)
    return [
        *prose(item.name, width, "bold"),
        *prose(f"{item.tag}, {label(item.category)}, for {label(item.used_for)}", width, "$quiet"),
        Content(""),
        *prose(standing, width, "bold" if card.status is Status.IN_SERVICE else "$bad bold"),
        *prose(card.due.reason, width, _due_style(card.due.state)),
        *_life(card, width),
    ]


def _life(card: Card, width: int) -> list[Content]:
    end = card.life_end
    words = f"{end.on}, {end.reason}" if end.on else end.reason
    return prose(f"end of life: {words}", width, "$bad" if end.state == "ended" else "$quiet")


def _due_style(state: str) -> str:
    return {"overdue": "$bad bold", "never-examined": "$bad bold", "due-soon": "$warn"}.get(state, "")


def _ends(card: Card, width: int) -> list[Content]:
    if not card.ends:
        return []
    made = {row.splice.id: row for row in card.splices}
    rows = []
    for end, view in card.ends.items():
        row = made.get(view.splice.id) if view.splice else None
        why = f"{row.made_on}, {row.method_title}: {label(row.outcome)}" if row else view.why
        rows.append((end.value, label(view.state), why))
    return [*heading("Ends"), *table(rows, (1, 8), width)]


def _data(item: Item, width: int) -> list[Content]:
    pairs = (
        ("maker", item.maker),
        ("model", item.model),
        ("serial or batch", item.serial),
        ("standards claimed", item.standards),
        ("breaking strength", item.breaking_strength.text if item.breaking_strength else ""),
        ("safe working load", item.safe_working_load.text if item.safe_working_load else ""),
        ("made on", str(item.made_on or "")),
        ("bought on", str(item.bought_on or "")),
        ("first used on", str(item.first_used_on or "")),
        ("life limit", _limit(item)),
        ("assigned to", item.assigned_to),
        ("kept at", item.kept_at),
        ("documents", ", ".join(item.documents)),
        ("notes", item.notes),
    )
    lines = facts(pairs, width)
    return [*heading("Data"), *lines] if lines else []


def _limit(item: Item) -> str:
    limit = item.life_limit
    if limit is None:
        return ""
    made = f"{limit.years_from_made} years from made" if limit.years_from_made else ""
    used = f"{limit.years_from_first_use} years from first use" if limit.years_from_first_use else ""
    read = f"read in {limit.read_at}" if limit.read_at else ""
    return ", ".join(filter(None, (made, used, read)))


def _rope(card: Card, rope: RopeFacts, settings: Settings, width: int) -> list[Content]:
    made = card.construction
    now = card.length_now_m
    elongation = f"{rope.elongation_percent:g} %" if rope.elongation_percent is not None else ""
    at = f" at {rope.elongation_at}" if elongation and rope.elongation_at else ""
    pairs = (
        ("construction", made.title if made else rope.construction),
        ("strands or carriers", str(rope.strands or "")),
        ("lay", label(rope.lay) if rope.lay else ""),
        ("fibre", " over ".join(filter(None, (rope.cover_fibre, rope.core_fibre)))),
        ("diameter", str(rope.diameter or "")),
        ("length now", _length(now, settings) if now is not None else "not known"),
        ("length as bought", str(rope.length_bought or "")),
        ("mass per length", str(rope.mass_per_length or "")),
        ("elongation", elongation + at),
        ("cut from", _origin(card, rope)),
        ("pieces cut from it", ", ".join(child.tag for child in card.children)),
    )
    return [*heading("Rope"), *facts(pairs, width)]


def _making(card: Card, width: int) -> list[Content]:
    made = card.construction
    if made is None:
        return []
    pairs = (("load", made.load_words), ("splicing", made.splicing_words), ("cover damage", made.damage_words))
    return [*heading(f"About a {made.title}"), *facts(pairs, width)]


def _length(metres: float, settings: Settings) -> str:
    return rope_length(metres, imperial=settings.unit is Unit.IMPERIAL)


def _origin(card: Card, rope: RopeFacts) -> str:
    if card.parent is None:
        return ""
    return f"{card.parent.tag}, end A at {rope.cut_from} of it" if rope.cut_from else card.parent.tag


def _history(events: tuple[Event, ...], width: int) -> list[Content]:
    lines: list[Content] = []
    longest = max((len(label(event.kind)) for event in events), default=0)
    for event in events:
        row = (str(event.happened_on), label(event.kind), event_words(event))
        lines += [line.stylize("$quiet") if event.struck_because else line
                  for line in table([row], (DATE, longest), width)]  # fmt: skip
    return [*heading("History"), *(lines or prose("Nothing yet. r records what happened.", width, "$quiet"))]


def event_words(event: Event) -> str:
    """What an entry of the history says beside its date and kind, on one line."""
    struck = f"STRUCK OUT: {event.struck_because}" if event.struck_because else ""
    by = f"by {event.by}" if event.by else ""
    due = f"next due {event.next_due_on}" if event.next_due_on else ""
    cut = f"{event.length or 'unknown length'} off end {event.cut_end or '?'}" if event.kind is EventKind.CUT else ""
    return ", ".join(filter(None, (struck, cut, by, due, " ".join(event.notes.split()))))


def _splices(rows: tuple[SpliceRow, ...], width: int) -> list[Content]:
    if not rows:
        return []
    lines = [(str(row.made_on), row.end[:BETWEEN], f"{row.method_title}: {label(row.outcome)}") for row in rows]
    return [*heading("Splices"), *table(lines, (DATE, 1 if all(len(row[1]) == 1 for row in lines) else BETWEEN), width)]


def _missing(gaps: tuple[str, ...], width: int) -> list[Content]:
    return [*heading("Not on record"), *prose(", ".join(gaps), width)] if gaps else []
