"""What a rope adds to its card: the drawing along its length, its ends, its data, and the account of its length."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from textual.content import Content

from gearlog.domain.item import RopeFacts
from gearlog.domain.lifecycle import length_gap
from gearlog.domain.settings import Settings
from gearlog.domain.vocabulary import End, Unit, label
from gearlog.reports.along import Ends, Thing, rope_lines
from gearlog.services.gear_views import Along, RopeAlong
from gearlog.services.views import Card
from gearlog.tui.widgets.prose import facts, heading, prose, table
from gearlog.units.along import place, summand
from gearlog.units.showing import rope_length
from gearlog.upkeep.account import PIECE, Account, Part

SIGNS = {"stop": ("!", 4), "watch": ("?", 3), "note": (".", 2)}
"""Sign and weight of a finding by its severity."""
SPLICE, BURY = ("x", 1), ("=", 0)
LEGEND = (
    ("(", "( ) eye"), ("|", "| bare end"), ("#", "# whipped"), ("@", "@ knotted"), ("%", "% sewn"),
    ("x", "x splice"), ("=", "= bury"), ("!", "! stop"), ("?", "? to be watched"), (".", ". note"), ("~", "~/ cut off"),
)  # fmt: skip
"""What each sign means; only those that are drawn are told."""
UNKNOWN = "not known"
NUMBER = 2  # cells for a number of the drawing


def along_words(card: Card, along: RopeAlong | None, settings: Settings, width: int) -> list[Content]:
    """The rope along its length with what lies on it; without a known length only the list of it."""
    if along is None:
        return []
    imperial = settings.unit is Unit.IMPERIAL
    numbered = list(_numbered(along.marks))
    cut = frozenset(End(part.end) for part in card.account.parts if part.end in {"A", "B"}) if card.account else ()
    ends = Ends({end: view.state for end, view in card.ends.items()}, frozenset(cut))
    drawn = rope_lines(along.length_m, ends, [thing for thing, _ in numbered], width, imperial=imperial)
    listed = [(thing.number, _place(mark, imperial=imperial), mark.words) for thing, mark in numbered if thing.number]
    return [
        *heading("Along the rope, from end A"),
        *(Content(line) for line in drawn if line),
        *_list_of(listed, width),
        *prose(_legend(drawn), width, "$quiet"),
    ]


def _legend(drawn: tuple[str, ...]) -> str:
    rope = (drawn[1] if drawn else "").replace(")", "(")
    return ", ".join(words for sign, words in LEGEND if sign in rope)


def _numbered(marks: Iterable[Along]) -> Iterator[tuple[Thing, Along]]:
    """Each mark as it is drawn; findings are numbered, splices stand in the list of ends."""
    number = 0
    for mark in marks:
        sign, weight = SIGNS.get(mark.grave, BURY if mark.what == "bury" else SPLICE)
        number += bool(mark.grave)
        shown = str(number) if mark.grave else ""
        yield Thing(start=mark.from_m, stop=mark.to_m, sign=sign, weight=weight, number=shown), mark


def _place(mark: Along, *, imperial: bool) -> str:
    first = place(mark.from_m, imperial=imperial)
    return first if mark.to_m == mark.from_m else f"{first} to {place(mark.to_m, imperial=imperial)}"


def _list_of(rows: list[tuple[str, str, str]], width: int) -> list[Content]:
    room = max((len(row[1]) for row in rows), default=0)
    return table(rows, (NUMBER, room), width)


def ends_words(card: Card, width: int) -> list[Content]:
    """Both ends, and from what it follows."""
    if not card.ends:
        return []
    made = {row.splice.id: row for row in card.splices}
    rows = []
    for end, view in card.ends.items():
        row = made.get(view.splice.id) if view.splice else None
        why = f"{row.made_on}, {row.method_title}: {label(row.outcome)}" if row else view.why
        rows.append((end.value, label(view.state), why))
    return [*heading("Ends"), *table(rows, (1, 8), width)]


def rope_words(card: Card, rope: RopeFacts, settings: Settings, width: int) -> list[Content]:
    """The rope's data; an unknown length says why it is unknown."""
    made = card.construction
    elongation = f"{rope.elongation_percent:g} %" if rope.elongation_percent is not None else ""
    at = f" at {rope.elongation_at}" if elongation and rope.elongation_at else ""
    pairs = (
        ("construction", made.title if made else rope.construction),
        ("strands or carriers", str(rope.strands or "")),
        ("lay", label(rope.lay) if rope.lay else ""),
        ("fibre", " over ".join(filter(None, (rope.cover_fibre, rope.core_fibre)))),
        ("diameter", str(rope.diameter or "")),
        ("length now", _now(card, settings)),
        ("length as bought", str(rope.length_bought or "")),
        ("mass per length", str(rope.mass_per_length or "")),
        ("elongation", elongation + at),
        ("cut from", _origin(card, rope)),
        ("pieces cut from it", ", ".join(child.tag for child in card.children)),
    )
    return [*heading("Rope"), *facts(pairs, width)]


def _now(card: Card, settings: Settings) -> str:
    if card.length_now_m is not None:
        return rope_length(card.length_now_m, imperial=settings.unit is Unit.IMPERIAL)
    gap = length_gap(card.item, card.events, [row.splice for row in card.splices])
    return f"{UNKNOWN}: {gap}" if gap else UNKNOWN


def _origin(card: Card, rope: RopeFacts) -> str:
    if card.parent is None:
        return ""
    return f"{card.parent.tag}, end A at {rope.cut_from} of it" if rope.cut_from else card.parent.tag


def account_words(card: Card, settings: Settings, width: int) -> list[Content]:
    """Where the rope's length went, as a sum that can be checked; only for a rope of which something was cut."""
    account = card.account
    if account is None or not account.parts:
        return []
    imperial = settings.unit is Unit.IMPERIAL
    tags = {child.id: child.tag for child in card.children}
    rows = [(_metres(account.bought, imperial=imperial), "as bought")]
    rows += [(_metres(part.length, imperial=imperial, minus=True), _part_words(part, tags)) for part in account.parts]
    rows += [(_metres(account.now, imperial=imperial), "= what is there now"), *_splices(account, imperial=imperial)]
    room = max(len(row[0]) for row in rows)
    told = [(text.rjust(room), words) for text, words in rows]
    faults = "; ".join(account.faults) or "a part of it is unknown"
    verdict = "It adds up." if account.balances else f"It does not add up yet: {faults}."
    return [*heading("Account of its length"), *table(told, (room,), width),
            *prose(verdict, width, "$quiet" if account.balances else "$warn")]  # fmt: skip


def _splices(account: Account, *, imperial: bool) -> list[tuple[str, str]]:
    """What of it lies in splices, and what is free between them."""
    used = [(end, one) for end, one in account.in_splices.items() if one is None or one > 0]
    if not used:
        return []
    rows = [(_metres(one, imperial=imperial), f"of that in the splice at {end}") for end, one in used]
    return [*rows, (_metres(account.free, imperial=imperial), "of that free between the throats")]


def _part_words(part: Part, tags: dict[str, str]) -> str:
    what = {PIECE: "piece", "trim": "trim", "end": "end"}.get(part.what, "offcut")
    became = f" {tags[part.piece_id]}" if part.piece_id in tags else ""
    return f"{what}{became}, off end {part.end or '?'}, {part.on}"


def _metres(exact: Fraction | None, *, imperial: bool, minus: bool = False) -> str:
    if exact is None:
        return "unknown"
    return ("- " if minus else "") + summand(exact, imperial=imperial)
