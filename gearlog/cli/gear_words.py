"""The story of one item and the lines of an inspection in plain lines, one fact a line."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from gearlog.domain.vocabulary import End, label
from gearlog.units.along import place

if TYPE_CHECKING:
    from gearlog.services.gear_views import DueRow, Entry, FindingRow
    from gearlog.services.sheet import Sheet
    from gearlog.services.views import Card
    from gearlog.upkeep.account import Account


def card_lines(card: Card, *, imperial: bool) -> Iterator[str]:
    """All that is known of an item."""
    item = card.item
    as_of = f"as of {card.on}: " if card.on else ""
    yield f"{item.tag}: {item.name}, {label(item.category)}, for {label(item.used_for)}"
    status, reason = label(card.status), card.due.reason
    yield f"{as_of}{reason}" if reason.startswith(status) else f"{as_of}{status}, {reason}"
    if card.on:
        yield f"as of {card.on}: what happened by then; the item's data and the rule sets are those of today"
    yield f"due by: {card.due.rule}"
    yield from (
        f"also set: {dated.on or 'always'}, {dated.rule}" for dated in card.dates if dated.rule != card.due.rule
    )
    yield f"end of life: {card.life_end.on or 'unknown'}, {card.life_end.reason}"
    yield from _who(card)
    if card.parent is not None:
        yield f"cut from: {card.parent.tag}"
    yield from (f"end {end}: {view.words}" for end, view in card.ends.items())
    if card.account is not None:
        yield from _account(card.account, card, imperial=imperial)
    yield from (_finding(row, imperial=imperial) for row in card.findings)
    yield from (f"note: {note}" for note in card.notes)
    if card.gaps:
        yield f"not on record: {', '.join(card.gaps)}"
    yield from _story(card)


def _who(card: Card) -> Iterator[str]:
    if card.assigned_to:
        yield f"assigned to: {card.assigned_to}"
    if card.loan is not None:
        yield f"on loan to: {card.loan.to or 'somebody'}, since {card.loan.happened_on}"


def _account(account: Account, card: Card, *, imperial: bool) -> Iterator[str]:
    def length(metres: Fraction | None) -> str:
        return "unknown" if metres is None else place(metres, imperial=imperial)

    tags = {child.id: child.tag for child in card.children}
    yield f"length as bought: {length(account.bought)}"
    for part in account.parts:
        what = f"piece {tags.get(part.piece_id, 'not in the log')}" if part.piece_id else part.what
        yield f"cut off: {length(part.length)} from end {part.end or '?'} on {part.on}, {what}"
    yield f"length now: {length(account.now)}"
    yield from (f"of it in the splice at end {end}: {length(used)}" for end, used in account.in_splices.items() if used)
    if account.free is not None and any(account.in_splices.values()):
        yield f"of it between the splices: {length(account.free)}"
    parts = f"{length(account.pieces)} in pieces, {length(account.offcuts)} in offcuts, {length(account.now)} left"
    yield f"the account {'adds up' if account.balances else 'DOES NOT ADD UP'}: {parts}"
    yield from (f"account: {fault}" for fault in (*account.faults, *account.gaps))


def _finding(row: FindingRow, *, imperial: bool) -> str:
    found = row.finding
    where = ""
    if row.gone:
        where = ", went with a part that was cut off"
    elif row.from_m is not None and row.to_m is not None:
        where = f", at {place(row.from_m, imperial=imperial)} from end {End.A}"
        where += f" to {place(row.to_m, imperial=imperial)}" if row.to_m > row.from_m else ""
    stands = ", OUT OF SERVICE until it is resolved" if row.open else ""
    before = ", before it was cut from its parent" if row.inherited else ""
    return f"finding of {row.inspection.inspected_on}, {found.severity}: {found.words}{where}{before}{stands}"


def _story(card: Card) -> Iterator[str]:
    yield from (_entry(entry) for entry in card.story)
    if not card.story:
        yield "history: nothing yet"
    if card.written_later:
        yield f"written down after {card.on}: {card.written_later}, which that day did not show"


def _entry(entry: Entry) -> str:
    whose = " (before the cut)" if entry.inherited else ""
    struck = f"; STRUCK OUT: {entry.struck}" if entry.struck else ""
    words = f": {entry.words}" if entry.words else ""
    return f"{entry.on} {entry.what}{whose}{words}{struck}"


def due_rows(rows: Iterable[DueRow]) -> Iterator[str]:
    """What is due, a line each."""
    found = False
    for row in rows:
        found = True
        yield f"{row.tag}: {row.reason}"
    if not found:
        yield "Nothing is due"


def sheet_lines(sheet: Sheet, tag: str) -> Iterator[str]:
    """What to look at, a line each with how, and how to answer."""
    group = ""
    for line in sheet.lines:
        if line.group != group:
            group = line.group
            yield f"== {group}"
        yield f"{line.key}: {line.look}"
        yield f"  how: {line.how}"
        yield f"  watch: {line.watch}"
        yield f"  fail: {line.fail}"
        yield f"  source: {'; '.join(line.sources)}"
    yield f"{len(sheet.lines)} lines; answer with --answer KEY=pass|watch|fail|not-applicable[:words]"
    yield f"once you have looked at each of them: gearlog inspect {tag} ... --rest pass --seen {sheet.code}"
