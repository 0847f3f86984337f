from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan, Tool
from gearlog.domain.vocabulary import Unit, Use
from gearlog.errors import InvalidRecordError
from gearlog.services.book import Book, open_book

Faults = Callable[[Callable[[], object]], Mapping[str, str]]
EYE = {"method": "hollow-eye", "eye": "150 mm", "pin": "50 mm"}
TYPED = EYE | {"construction": "hollow-braid", "diameter": "12 mm", "fibre": "polyester"}


def codes(plan: Plan) -> dict[str, str]:
    return {check.code: check.level for check in plan.checks}


def test_the_plan_of_the_agreed_example(book: Book) -> None:
    plan = book.planner.plan(TYPED)
    at = {mark.id: mark.at_m for mark in plan.marks}
    assert [at["1"], at["2"]] == pytest.approx([0.504, 0.804], abs=1e-12)
    assert plan.eye is not None
    assert plan.eye.half_angle_deg == pytest.approx(13.407, abs=5e-4)
    assert plan.eye.leg_tension_ratio == pytest.approx(0.51401, abs=5e-6)


def test_empty_fields_are_taken_from_the_ropes_record_and_typed_ones_win(book: Book, rope: Item) -> None:
    known = book.planner.inputs(EYE | {"rope": rope.tag, "construction": "", "diameter": " "})
    assert (known.rope.construction, known.rope.diameter_m, known.rope.strands) == ("hollow-braid", 0.012, 12)
    assert (known.rope.mbs_n, known.rope.length_m, known.rope.fibre) == (24000.0, 45.0, "polyester")
    assert (known.rope_id, known.rope.name, known.use) == (rope.id, rope.name, Use.PEOPLE)
    typed = book.planner.inputs(EYE | {"rope": rope.tag.upper(), "diameter": "1/2 in", "strands": "16"})
    assert (typed.rope.diameter_m, typed.rope.strands) == (0.0127, 16)


def test_another_construction_than_the_ropes_takes_neither_its_strands_nor_its_lay(book: Book, rope: Item) -> None:
    inputs = book.planner.inputs(EYE | {"rope": rope.tag, "construction": "three-strand"})
    assert (inputs.rope.strands, inputs.rope.lay, inputs.rope.diameter_m) == (None, None, 0.012)


def test_the_form_for_a_rope_shows_what_the_log_knows(book: Book, rope: Item) -> None:
    form = book.planner.form_for(rope.id, "B")
    shown = {"rope": rope.tag, "end": "B", "construction": "hollow-braid", "strands": "12", "lay": "loose",
             "fibre": "polyester", "diameter": "12 mm", "mbs": "24 kN", "length": "45 m", "condition": "new",
             "use": "people"}  # fmt: skip
    assert {name: text for name, text in form.items() if text} == shown
    assert set(form) == {field.name for field in book.planner.fields()}


@pytest.mark.parametrize(("unit", "length"), [(Unit.METRIC, "43.476 m"), (Unit.IMPERIAL, "142.637 ft")])
def test_the_length_now_is_filled_in_the_users_unit(book: Book, rope: Item, unit: Unit, length: str) -> None:
    book.keep(unit=unit)
    cut = {"kind": "cut", "happened_on": "2025-05-20", "cut_end": "A", "length": "5 ft"}
    book.gear.record_event(rope.id, cut)
    assert book.planner.form_for(rope.id, "A")["length"] == length
    assert book.planner.inputs(EYE | {"rope": rope.tag}).rope.length_m == pytest.approx(43.476, abs=1e-3)


def test_the_fid_is_one_tool_with_its_thickness_where_known(book: Book) -> None:
    assert book.planner.inputs(TYPED).tools == ()
    assert book.planner.inputs(TYPED | {"fid": "260 mm", "fid_thickness": "5 mm"}).tools == (
        Tool(name="fid", length_m=0.26, thickness_m=0.005),
    )


def test_nylon_is_understood(book: Book) -> None:
    assert book.planner.inputs(TYPED | {"fibre": "Nylon"}).rope.fibre == "polyamide"


@pytest.mark.parametrize(
    ("change", "fields"),
    [
        ({"method": "magic"}, {"method"}),
        ({"diameter": "12", "eye": "0 mm", "pin": "1/0 in"}, {"diameter", "eye", "pin"}),
        ({"construction": "", "diameter": "", "eye": ""}, {"construction", "diameter", "eye"}),
        ({"rope": "nobody"}, {"rope"}),
        ({"rope": "helmet"}, {"rope"}),
        ({"fid_thickness": "5 mm"}, {"fid"}),
        ({"design_factor": "0.5"}, {"design_factor"}),
        ({"mbs": "22 kn"}, {"mbs"}),
        ({"strength": "22 kN"}, {"strength"}),
    ],
)
def test_what_cannot_be_planned_is_told_by_field(
    book: Book, faults: Faults, change: dict[str, str], fields: set[str]
) -> None:
    book.gear.add({"name": "helmet", "category": "helmet"})
    assert set(faults(lambda: book.planner.plan(TYPED | change))) == fields


@pytest.mark.parametrize("kind", ["quarantined", "retired", "destroyed", "lost"])
def test_a_rope_out_of_service_is_planned_but_stopped(book: Book, rope: Item, kind: str) -> None:
    book.gear.record_event(rope.id, {"kind": kind, "happened_on": "2025-05-20"})
    plan = book.planner.plan(EYE | {"rope": rope.tag, "end": "A"})
    (check,) = [check for check in plan.checks if check.code == "rope-out-of-service"]
    assert (check.level, kind in check.message, rope.tag in check.message) == ("stop", True, True)
    assert plan.stopped
    assert plan.marks


def test_an_end_that_bears_a_splice_already_is_warned_of(book: Book, rope: Item, plan: Plan) -> None:
    assert "end-in-use" not in codes(plan)
    book.diary.record(book.diary.form_from_plan(plan), plan)
    assert codes(book.planner.plan(EYE | {"rope": rope.tag, "end": "A"}))["end-in-use"] == "warn"
    assert "end-in-use" not in codes(book.planner.plan(EYE | {"rope": rope.tag, "end": "B"}))


def test_clear_rope_is_what_two_splices_leave_between_them(book: Book, rope: Item, plan: Plan) -> None:
    """Both reach 2 B + C = 2 x 0.504 + 0.300 = 1.308 m from their ends."""
    assert plan.inputs.clear_rope_m is None
    book.diary.record(book.diary.form_from_plan(plan), plan)
    other = book.planner.plan(EYE | {"rope": rope.tag, "end": "B"})
    assert other.inputs.clear_rope_m == pytest.approx(45 - 2 * 1.308, abs=1e-9)
    short = book.planner.plan(EYE | {"rope": rope.tag, "end": "B", "length": "2.7 m"})
    assert short.inputs.clear_rope_m == pytest.approx(0.084, abs=1e-9)
    assert set(codes(short)) - set(codes(other))


def test_advice_needs_only_the_construction(book: Book, rope: Item) -> None:
    assert book.planner.advice({"diameter": "x"}) == ()
    fits = {one.method_id for one in book.planner.advice({"rope": rope.tag}) if one.fits}
    assert fits == {"hollow-eye"}
    assert [one.method_id for one in book.planner.advice({"construction": "kernmantle"}) if one.fits] == [""]


def test_recall_answers_a_plan_and_a_form_that_is_half_filled(book: Book, rope: Item, plan: Plan) -> None:
    splice = book.diary.record(book.diary.form_from_plan(plan) | {"minutes": "48"}, plan)
    for found in (book.planner.recall(plan.inputs), book.planner.recall_for({"rope": rope.tag})):
        assert [match.splice for match in found.matches] == [splice]
    book.diary.correct(splice.id, book.diary.form_of(splice.id) | {"minutes": "50"}, "misread")
    assert [match.splice.minutes for match in book.planner.recall(plan.inputs).matches] == [50]
    for nothing in ({}, {"rope": "nobody"}, {"diameter": "12"}):
        with pytest.raises(InvalidRecordError):
            book.planner.recall_for(nothing)


def test_the_users_own_methods_are_read_and_a_faulty_file_hides_no_other(tmp_path: Path) -> None:
    from importlib import resources

    own = tmp_path / "methods"
    own.mkdir()
    text = (resources.files("gearlog.splicing") / "methods" / "hollow-eye.toml").read_text(encoding="utf-8")
    (own / "mine.toml").write_text(text.replace('"hollow-eye"', '"mine"', 1), encoding="utf-8")
    (own / "same.toml").write_text(text, encoding="utf-8")
    (own / "torn.toml").write_text("id = ", encoding="utf-8")
    (own / "bytes.toml").write_bytes(b"\xff\xfe")
    with open_book(tmp_path) as book:
        methods = {method.id: method.own for method in book.planner.methods()}
        assert methods["mine"] is True
        assert methods["hollow-eye"] is False
        told = "\n".join(book.planner.method_faults())
        assert all(name in told for name in ("same.toml", "torn.toml", "bytes.toml"))
        assert book.planner.plan(TYPED | {"method": "mine"}).own


def test_a_plan_is_drawn_and_told_in_plain_lines(book: Book, plan: Plan) -> None:
    assert max(map(len, book.planner.draw(plan, 60))) <= 60
    assert any("504 mm" in line for line in book.planner.plain(plan))
