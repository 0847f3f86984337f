from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from msgspec.structs import replace

from gearlog.domain.event import Event
from gearlog.domain.finishes import SECURING, SHAPE, WHIPPINGS
from gearlog.domain.item import Item
from gearlog.domain.lifecycle import end_states, length_gap, length_now, open_quarantines, status_of
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, EndState, Outcome, Status
from gearlog.splicing.method_file import load_builtin
from gearlog.units.measure import Length

MakeEvent = Callable[..., Event]
MakeSplice = Callable[..., Splice]
LATER = datetime(2024, 7, 1, tzinfo=UTC)

HISTORIES: list[tuple[str, list[tuple[str, str]], Status]] = [
    ("nothing happened", [], Status.IN_SERVICE),
    ("daily life", [("examined", "2024-05-01"), ("washed", "2024-05-02"), ("dropped", "2024-05-03"),
                    ("loaned", "2024-05-04"), ("returned", "2024-05-05")], Status.IN_SERVICE),
    ("a fall", [("fall-arrested", "2024-05-01")], Status.QUARANTINED),
    ("a shock load", [("shock-loaded", "2024-05-01")], Status.QUARANTINED),
    ("chemicals", [("chemical-contact", "2024-05-01")], Status.QUARANTINED),
    ("an examination alone does not free", [("fall-arrested", "2024-05-01"), ("examined", "2024-05-02")],
     Status.QUARANTINED),
    ("a release frees", [("fall-arrested", "2024-05-01"), ("released", "2024-05-02")], Status.IN_SERVICE),
    ("a release on the same day frees", [("quarantined", "2024-05-01"), ("released", "2024-05-01")],
     Status.IN_SERVICE),
    ("a fall after the release", [("quarantined", "2024-05-01"), ("released", "2024-05-02"),
                                  ("fall-arrested", "2024-05-03")], Status.QUARANTINED),
    ("a fall written down late", [("released", "2024-05-02"), ("fall-arrested", "2024-05-03")],
     Status.QUARANTINED),
    ("a fall before the release of which it did not know", [("released", "2024-05-20"),
                                                            ("fall-arrested", "2024-05-03")], Status.QUARANTINED),
    ("a fall written down late and released anew", [("released", "2024-05-20"), ("fall-arrested", "2024-05-03"),
                                                    ("released", "2024-05-21")], Status.IN_SERVICE),
    ("a fall in the month of the release, written down after it", [("released", "2024-05-20"),
                                                                   ("fall-arrested", "2024-05")],
     Status.QUARANTINED),
    ("a release in the month of the fall, written down after it", [("fall-arrested", "2024-05"),
                                                                   ("released", "2024-05-20")],
     Status.IN_SERVICE),
    ("one release frees of one fall, not of the next", [("fall-arrested", "2024-05-01"), ("released", "2024-05-02"),
                                                        ("shock-loaded", "2024-06-03")], Status.QUARANTINED),
    ("lost", [("lost", "2024-05-01")], Status.LOST),
    ("found again", [("lost", "2024-05-01"), ("found", "2024-05-09")], Status.QUARANTINED),
    ("found and released", [("lost", "2024-05-01"), ("found", "2024-05-09"), ("released", "2024-05-10")],
     Status.IN_SERVICE),
    ("lost for the second time", [("lost", "2024-05-01"), ("found", "2024-05-09"), ("lost", "2024-05-11")],
     Status.LOST),
    ("retired", [("retired", "2024-05-01")], Status.RETIRED),
    ("a release does not take back a retirement", [("retired", "2024-05-01"), ("released", "2024-05-02")],
     Status.RETIRED),
    ("retired, lost and found", [("retired", "2024-05-01"), ("lost", "2024-05-02"), ("found", "2024-05-03"),
                                 ("released", "2024-05-04")], Status.RETIRED),
    ("destroyed", [("retired", "2024-05-01"), ("destroyed", "2024-05-02"), ("released", "2024-05-03")],
     Status.DESTROYED),
]  # fmt: skip


@pytest.mark.parametrize(("name", "history", "status"), HISTORIES, ids=[row[0] for row in HISTORIES])
def test_status_follows_from_history_on_the_safe_side(
    name: str, history: list[tuple[str, str]], status: Status, event: MakeEvent
) -> None:
    del name
    assert status_of([event(kind, on) for kind, on in history]) is status


def test_struck_entries_count_for_nothing(event: MakeEvent) -> None:
    retired = event("retired", struck_because="wrong rope")
    fall = event("fall-arrested")
    release = event("released", struck_because="not examined")
    assert status_of([retired]) is Status.IN_SERVICE
    assert status_of([retired, fall, release]) is Status.QUARANTINED
    assert open_quarantines([retired, fall, release]) == (fall,)


def test_of_two_saved_in_the_same_second_the_later_record_came_later(event: MakeEvent) -> None:
    fall, release = event("fall-arrested", saved=LATER), event("released", saved=LATER)
    assert status_of([fall, release]) is Status.IN_SERVICE
    assert status_of([release, fall]) is Status.QUARANTINED


def test_length_now_is_what_was_bought_less_every_standing_cut_exactly(rope: Item, event: MakeEvent) -> None:
    cuts = [
        event("cut", length=Length.read("1.2 m"), cut_end="A"),
        event("cut", length=Length.read("5 ft"), cut_end="B"),
        event("cut", length=Length.read("9 m"), cut_end="B", struck_because="other rope"),
        event("washed"),
    ]
    assert length_now(rope, [], []) == 45
    assert length_now(rope, cuts, []) == pytest.approx(45 - 1.2 - 1.524, abs=1e-12)
    assert length_now(rope, [event("cut", length=Length.read("50 m"), cut_end="A")], []) == 0


def test_an_unknown_length_is_a_gap_with_its_reason(rope: Item, event: MakeEvent, splice: MakeSplice) -> None:
    assert rope.rope is not None
    unmeasured = replace(rope, rope=replace(rope.rope, length_bought=None))
    cut = event("cut", "2024-05-11", cut_end="A")
    lost = splice("2024-05-10", outcome=Outcome.CUT_OFF)
    for item, events, splices, why in (
        (unmeasured, [], [], "as bought is not on record"),
        (replace(rope, rope=None), [], [], "is no rope"),
        (rope, [cut], [], "cut of 2024-05-11 has no length"),
        (rope, [], [lost], "at A was cut off and no cut is on record"),
    ):
        assert length_now(item, events, splices) is None
        assert why in length_gap(item, events, splices)
    between = splice("2024-05-10", end=End.BETWEEN, position=Length.read("9 m"), outcome=Outcome.CUT_OFF)
    at_b = event("cut", "2024-05-10", length=Length.read("1 m"), cut_end="B")
    assert length_now(rope, [at_b], [lost]) is None
    assert length_now(rope, [at_b], [between]) == 44
    measured = event("cut", "2024-05-10", length=Length.read("1 m"), cut_end="A")
    assert length_now(rope, [measured], [lost]) == 44


def test_ends_are_as_they_came_until_something_happens(rope: Item, splice: MakeSplice) -> None:
    ends = end_states(rope, [splice(end=End.BETWEEN, position=Length.read("12 m"))], [])
    assert {end: view.state for end, view in ends.items()} == {End.A: EndState.BARE, End.B: EndState.SEWN}
    assert end_states(replace(rope, rope=None), [], []) == {}


def test_the_newest_splice_of_an_end_by_its_date_stands_there(rope: Item, splice: MakeSplice) -> None:
    newest, older, other = splice("2024-05-12"), splice("2024-05-10"), splice("2024-05-30", end=End.B)
    view = end_states(rope, [newest, older, other], [])[End.A]
    assert (view.state, view.splice) == (EndState.SPLICED, newest)


@pytest.mark.parametrize(("outcome", "why"), [(Outcome.CUT_OFF, "was cut off"), (Outcome.FAILED, "failed")])
def test_an_end_whose_last_splice_is_gone_or_failed_is_bare(
    rope: Item, splice: MakeSplice, outcome: Outcome, why: str
) -> None:
    view = end_states(rope, [splice("2024-05-01"), splice("2024-05-10", outcome=outcome)], [])[End.A]
    assert (view.state, view.splice) == (EndState.BARE, None)
    assert why in view.why


def test_a_cut_makes_its_own_end_bare_until_the_next_splice(rope: Item, splice: MakeSplice, event: MakeEvent) -> None:
    first, cut = splice("2024-05-10"), event("cut", "2024-05-12", cut_end="A")
    assert end_states(rope, [first], [cut])[End.A].state is EndState.BARE
    assert end_states(rope, [first], [cut])[End.B].state is EndState.SEWN
    assert end_states(rope, [], [event("cut", cut_end="B")])[End.B].state is EndState.BARE
    assert end_states(rope, [first, splice("2024-05-13")], [cut])[End.A].state is EndState.SPLICED
    before = event("cut", "2024-05-09", cut_end="A")
    struck = event("cut", "2024-05-12", cut_end="A", struck_because="end B")
    washed, unknown = event("washed", "2024-05-12"), event("cut", "2024-05-12")
    assert end_states(rope, [first], [before, struck, washed, unknown])[End.A].splice == first


def test_a_cut_of_the_same_day_counts_when_it_was_written_down_after_the_splice_or_with_it(
    rope: Item, splice: MakeSplice, event: MakeEvent
) -> None:
    made = splice("2024-05-10", saved=LATER)
    for minutes, state in ((-1, EndState.SPLICED), (0, EndState.BARE), (1, EndState.BARE)):
        cut = event("cut", "2024-05-10", cut_end="A", saved=LATER + timedelta(minutes=minutes))
        assert end_states(rope, [made], [cut])[End.A].state is state


def test_a_correction_replaces_its_splice_but_does_not_make_it_newer(
    rope: Item, splice: MakeSplice, event: MakeEvent
) -> None:
    wrong = splice("2024-05-10", minutes=40)
    cut = event("cut", "2024-05-10", cut_end="A", saved=LATER)
    right = splice("2024-05-10", minutes=45, corrects=wrong.id, correction_reason="clock", saved=LATER)
    again = splice("2024-05-10", minutes=46, corrects=right.id, correction_reason="clock", saved=LATER)
    assert end_states(rope, [wrong, right, again], [])[End.A].splice == again
    assert end_states(rope, [wrong, right, again], [cut])[End.A].state is EndState.BARE
    elsewhere = splice("2024-05-10", end=End.B, corrects=again.id, correction_reason="end B")
    ends = end_states(rope, [wrong, right, again, elsewhere], [])
    assert (ends[End.A].state, ends[End.B].splice) == (EndState.BARE, elsewhere)


def test_corrections_that_name_one_another_do_not_hang(rope: Item, splice: MakeSplice) -> None:
    one, two = splice(corrects="splice-2"), splice(corrects="splice-1")
    assert end_states(rope, [one, two], [])[End.A].state is EndState.BARE


FINISHED: list[tuple[str, str, End, EndState]] = [
    ("whip-common", "2024-05-11", End.A, EndState.SPLICED),  # put on the eye that is there
    ("lock-stitch", "2024-05-11", End.A, EndState.SPLICED),
    ("whip-common", "2024-05-11", End.B, EndState.SEWN),
    ("throat-seizing", "2024-05-11", End.B, EndState.SEWN),
]


@pytest.mark.parametrize(("method", "on", "end", "state"), FINISHED)
def test_a_finish_takes_nothing_from_the_end_that_it_secures(
    rope: Item, splice: MakeSplice, method: str, on: str, end: End, state: EndState
) -> None:
    eye = splice("2024-05-10", end=End.A)
    finish = replace(splice(on, end=end), method=method)
    views = end_states(rope, [eye, finish], [])
    assert views[end].state is state
    assert views[End.A].splice is eye


def test_a_whipping_keeps_a_bare_end_until_it_is_cut(rope: Item, splice: MakeSplice, event: MakeEvent) -> None:
    eye = splice("2024-05-10", end=End.A)
    cut = event("cut", "2024-05-12", cut_end="A", length=Length.read("1 m"))
    whipped = replace(splice("2024-05-13", end=End.A), method="whip-sailmaker")
    assert end_states(rope, [eye], [cut])[End.A].state is EndState.BARE
    view = end_states(rope, [eye, whipped], [cut])[End.A]
    assert (view.state, view.splice) == (EndState.WHIPPED, None)
    again = event("cut", "2024-05-14", cut_end="A", length=Length.read("1 m"))
    assert end_states(rope, [eye, whipped], [cut, again])[End.A].state is EndState.BARE
    stitched = replace(splice("2024-05-13", end=End.A), method="lock-stitch")
    assert end_states(rope, [eye, stitched], [cut])[End.A].state is EndState.BARE


def test_finishes_are_those_that_the_methods_say() -> None:
    built_in = {method.id for method in load_builtin() if method.shape == SHAPE}
    assert built_in == WHIPPINGS | SECURING
