"""What must hold whatever happens to gear, in whatever order: tried on random lives."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any

from hypothesis import given, settings

from gearlog.domain.vocabulary import EventKind, Status
from gearlog.services.views import Card
from tests.services.lives import ACTS, Act, Life, acts

quick = settings(max_examples=40, deadline=None)
TODAY_ONLY = tuple(act for act in ACTS if not act.startswith(("strike", "undo")))


def shown(card: Card) -> Mapping[str, Any]:
    """What a card shows of where an item stands; a splice's own outcome may be corrected later."""
    return {
        "status": card.status,
        "due": card.due,
        "life": card.life_end,
        "length": card.length_now_m,
        "ends": {end: (view.state, view.splice.id if view.splice else "") for end, view in card.ends.items()},
        "findings": [(row.finding.id, row.from_m, row.to_m, row.gone, row.open) for row in card.findings],
        "dates": card.dates,
        "account": card.account,
        "children": [child.id for child in card.children],
        "loan": card.loan.id if card.loan else "",
        "story": [(entry.id, entry.struck) for entry in card.story],
    }


def lived(life: Life, history: list[Act]) -> dict[date, dict[str, Mapping[str, Any]]]:
    """What was shown of every item at the end of each day."""
    days: dict[date, dict[str, Mapping[str, Any]]] = {}
    for act in history:
        life.do(act)
        days[life.day] = {item.id: shown(life.book.gear.card(item.id)) for item in life.items}
    return days


def without_tardy_undo(history: list[Act]) -> list[Act]:
    """What is taken back was shown on its day all the same: undo only what was done on the same day."""
    return [act if act[0] != "undo" else (*act[:4], 0) for act in history]


@quick
@given(acts(*(act for act in ACTS if act != "undo")))
def test_a_past_day_as_recorded_equals_what_was_shown_on_it(history: list[Act]) -> None:
    life = Life(backdated=True)
    for day, items in lived(life, history).items():
        for item_id, then in items.items():
            assert shown(life.book.gear.card(item_id, day, recorded=True)) == then, (day, item_id)
        rows = {row.item.id: row for row in life.book.gear.rows(day, recorded=True)}
        assert set(rows) == set(items)
        assert all(rows[item_id].due == then["due"] for item_id, then in items.items())


@quick
@given(acts(*TODAY_ONLY))
def test_a_past_day_of_a_log_kept_day_by_day_equals_what_was_shown_on_it(history: list[Act]) -> None:
    life = Life()
    for day, items in lived(life, history).items():
        for item_id, then in items.items():
            card = life.book.gear.card(item_id, day)
            assert shown(card) == then, (day, item_id)
            assert card.written_later == 0


@quick
@given(acts("piece", "piece", "end", "end", "splice", "undo", "inspect", "strike"))
def test_the_length_account_balances_after_any_cuts_splices_trims_and_undos(history: list[Act]) -> None:
    life = Life(backdated=True)
    for act in history:
        life.do(act)
    for item in life.items:
        account = life.book.gear.card(item.id).account
        assert (account is None) == (item.rope is None)
        if account is None or item.rope is None or item.rope.length_bought is None:
            continue
        left = sum((cut_m(event) for event in life.book.gear.card(item.id).events), Fraction(0))
        assert account.bought == item.rope.length_bought.exact
        assert account.now == account.bought - left
        assert account.balances or account.now < 0, account.faults
        pieces = [child.rope.length_bought.exact for child in life.book.gear.card(item.id).children
                  if child.rope and child.rope.length_bought]  # fmt: skip
        struck = [e for e in life.book.gear.card(item.id).events if e.piece_id and e.struck_because]
        assert struck or account.pieces == sum(pieces, Fraction(0))


def cut_m(event: Any) -> Fraction:
    return event.length.exact if event.kind is EventKind.CUT and not event.struck_because else Fraction(0)


@quick
@given(acts(*ACTS))
def test_nothing_makes_an_item_serve_while_a_finding_that_stops_it_is_unresolved(history: list[Act]) -> None:
    life = Life(backdated=True)
    for act in history:
        life.do(act)
        for item in life.items:
            card = life.book.gear.card(item.id)
            stops = {f.id for one in card.inspections if not one.struck_because for f in one.stops}
            inherited = (row for row in card.findings if row.inherited and not row.gone)
            stops |= {row.finding.id for row in inherited if row.finding.severity == "stop"} - named(life, item.id)
            releases = (e for e in card.events if e.kind is EventKind.RELEASED and not e.struck_because)
            resolved = {one for event in releases for one in event.findings}
            if stops - resolved:
                assert card.status is not Status.IN_SERVICE
                assert all(
                    row.item.id != item.id or row.status is not Status.IN_SERVICE for row in life.book.gear.rows()
                )
                assert life.book.standing.refusal(item.id)


def named(life: Life, item_id: str) -> set[str]:
    """Findings that releases of what a piece was cut from have resolved before or after the cut."""
    parent = life.book.gear.card(item_id).parent
    if parent is None:
        return set()
    events = life.book.gear.card(parent.id).events
    here = {one for e in events if e.kind is EventKind.RELEASED and not e.struck_because for one in e.findings}
    return here | named(life, parent.id)
