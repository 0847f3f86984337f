"""The card of one item in words: where it stands and why, its rope, findings, splices, its life, its data."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from textual.content import Content

from gearlog.domain.inspection import Severity
from gearlog.domain.item import DeviceFacts, Item
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import End, Status, Unit, label
from gearlog.reports.words import plural
from gearlog.services.gear_views import FindingRow, RopeAlong
from gearlog.services.views import Card, SpliceRow
from gearlog.tui.screens.card_rope import account_words, along_words, ends_words, rope_words
from gearlog.tui.screens.card_story import story_words
from gearlog.tui.widgets.asked import SEVERITIES
from gearlog.tui.widgets.prose import facts, heading, joined, prose, table
from gearlog.units.along import place
from gearlog.upkeep.schedule import Dated

DATE, BETWEEN, SEVERITY = 10, 14, 5  # cells: an ISO date; where along a rope a splice lies; how grave a finding is


def card_words(card: Card, along: RopeAlong | None, settings: Settings, today: date, width: int) -> Content:
    """The whole card, set for ``width`` cells, as of the card's day or today."""
    rope = card.item.rope
    return joined(
        [
            *_top(card, settings, width),
            *along_words(card, along, settings, width),
            *ends_words(card, width),
            *_findings(card, settings, width),
            *(rope_words(card, rope, settings, width) if rope else ()),
            *account_words(card, settings, width),
            *_splices(card, settings, width),
            *story_words(card, card.on or today, width),
            *_data(card, width),
            *_dates(card.dates, width),
            *_missing(card.gaps, width),
            *_making(card, width),
        ]
    )


def _top(card: Card, settings: Settings, width: int) -> list[Content]:
    item = card.item
    serving = card.status is Status.IN_SERVICE
    standing = label(card.status) if serving else label(card.status).upper()
    return [
        *prose(item.name, width, "bold"),
        *prose(f"{item.tag}, {label(item.category)}, for {label(item.used_for)}", width, "$quiet"),
        *(prose(_later_words(card), width, "$warn") if card.written_later else ()),
        Content(""),
        *prose(standing, width, "bold" if serving else "$bad bold"),
        *prose(_due(card), width, _due_style(card.due.state)),
        *_open_stops(card, width, imperial=settings.unit is Unit.IMPERIAL),
        *_life(card, width),
        *_has(card, width),
        *(line for note in card.notes for line in prose(f"! {note}", width, "$warn")),
    ]


def _open_stops(card: Card, width: int, *, imperial: bool) -> list[Content]:
    """What was found that keeps it out of service."""
    words = (", ".join(filter(None, (row.finding.words, _where(row, imperial=imperial))))
             for row in card.findings if row.open)  # fmt: skip
    return [line for one in words for line in prose(f"STOP: {one}", width, "$bad")]


def _later_words(card: Card) -> str:
    count = card.written_later
    return f"{count} {'entry' if count == 1 else 'entries'} of that time came into the log after that day."


def _due(card: Card) -> str:
    """The reason, and the rule where the reason does not name it."""
    due = card.due
    named = due.rule in due.reason or due.rule.startswith("out of service")
    return due.reason if named else f"{due.reason} (rule: {due.rule})"


def _life(card: Card, width: int) -> list[Content]:
    end = card.life_end
    words = f"{end.on}, {end.reason}" if end.on else end.reason
    return prose(f"end of life: {words}", width, "$bad" if end.state == "ended" else "$quiet")


def _has(card: Card, width: int) -> list[Content]:
    loan = card.loan
    words = f"on loan to {loan.to or 'somebody'} since {loan.happened_on}" if loan else ""
    return prose(words, width, "$warn") if words else []


def _due_style(state: str) -> str:
    return {"overdue": "$bad bold", "never-examined": "$bad bold", "due-soon": "$warn"}.get(state, "")


def _findings(card: Card, settings: Settings, width: int) -> list[Content]:
    """What was found, the open ones first; of a rope where it lies now."""
    rows = sorted(card.findings, key=lambda row: not row.open)
    imperial = settings.unit is Unit.IMPERIAL
    lines = [line for row in rows for line in _finding(row, width, imperial=imperial)]
    return [*heading("Findings"), *lines] if lines else []


def _finding(row: FindingRow, width: int, *, imperial: bool) -> list[Content]:
    found, when = row.finding, row.inspection.inspected_on
    parts = (
        "OPEN" if row.open else "",
        found.words,
        _where(row, imperial=imperial),
        "found before it was cut from its parent" if row.inherited else "",
        f"{plural(len(found.photos), 'photo')}; V shows them" if found.photos else "",
    )
    lines = table([(SEVERITIES[found.severity], str(when), ", ".join(filter(None, parts)))], (SEVERITY, DATE), width)
    style = "$bad" if row.open else "$warn" if found.severity is Severity.WATCH and not row.gone else ""
    return [line.stylize(style) for line in lines] if style else lines


def _where(row: FindingRow, *, imperial: bool) -> str:
    if row.gone:
        return "went with a part that was cut off"
    if row.finding.at is None:
        return ""
    if row.from_m is None or row.to_m is None:
        return f"at {row.finding.at} from A as it was then; where that is now is not known"
    first = place(row.from_m, imperial=imperial)
    return f"at {first} from A" if row.to_m == row.from_m else f"{first} to {place(row.to_m, imperial=imperial)} from A"


def _splices(card: Card, settings: Settings, width: int) -> list[Content]:
    """The splices that were made in it, those between the ends where they lie now."""
    if not card.splices:
        return []
    imperial = settings.unit is Unit.IMPERIAL
    lines = [(str(row.made_on), _end(row, card, imperial=imperial), f"{row.method_title}: {label(row.outcome)}")
             for row in card.splices]  # fmt: skip
    end = 1 if all(len(row[1]) == 1 for row in lines) else BETWEEN
    return [*heading("Splices"), *table(lines, (DATE, end), width)]


def _end(row: SpliceRow, card: Card, *, imperial: bool) -> str:
    """The end; between the ends where it lies now, or where it was when it was made."""
    if row.splice.end is not End.BETWEEN:
        return row.end
    now = card.places.get(row.splice.id)
    return f"at {place(now, imperial=imperial)}" if now is not None else f"was {row.end}"


def _data(card: Card, width: int) -> list[Content]:
    item = card.item
    pairs = (
        ("maker", item.maker),
        ("model", item.model),
        ("supplier's contact", item.contact),
        ("serial or batch", item.serial),
        ("standards claimed", item.standards),
        ("breaking strength", item.breaking_strength.text if item.breaking_strength else ""),
        ("safe working load", item.safe_working_load.text if item.safe_working_load else ""),
        *(_device(item.device) if item.device else ()),
        ("bought", label(item.came) if item.came else ""),
        ("life limit", _limit(item)),
        ("assigned to", card.assigned_to),
        ("kept at", item.kept_at),
        ("colour mark", item.colour_mark),
        ("former tags", ", ".join(item.former_tags)),
        ("documents", ", ".join(item.documents)),
        ("notes", item.notes),
    )
    lines = facts(pairs, width)
    return [*heading("Data"), *lines] if lines else []


def _device(device: DeviceFacts) -> Iterator[tuple[str, str]]:
    yield "size", device.size
    yield "gate", label(device.gate) if device.gate else ""
    measures = (
        ("strength, gate open", device.gate_open_strength),
        ("strength across", device.minor_axis_strength),
        ("thinnest rope", device.rope_least),
        ("thickest rope", device.rope_most),
        ("sheave's diameter", device.sheave),
    )
    yield from ((name, measure.text if measure is not None else "") for name, measure in measures)


def _limit(item: Item) -> str:
    limit = item.life_limit
    if limit is None:
        return ""
    made = f"{limit.years_from_made} years from made" if limit.years_from_made else ""
    used = f"{limit.years_from_first_use} years from first use" if limit.years_from_first_use else ""
    read = f"read in {limit.read_at}" if limit.read_at else ""
    return ", ".join(filter(None, (made, used, read)))


def _dates(dates: tuple[Dated, ...], width: int) -> list[Content]:
    """Every rule that applies and the day that it sets: the earliest counts."""
    rows = [(dated.on.isoformat() if dated.on else "", f"{dated.what}: {dated.rule}") for dated in dates]
    return [*heading("Rules that apply"), *table(rows, (DATE,), width)] if rows else []


def _making(card: Card, width: int) -> list[Content]:
    made = card.construction
    if made is None:
        return []
    pairs = (("load", made.load_words), ("splicing", made.splicing_words), ("cover damage", made.damage_words))
    return [*heading(f"About a {made.title}"), *facts(pairs, width)]


def _missing(gaps: tuple[str, ...], width: int) -> list[Content]:
    return [*heading("Not on record"), *prose(", ".join(gaps), width)] if gaps else []
