from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from msgspec.structs import replace

from gearlog.domain.item import Item
from gearlog.domain.plan import Plan
from gearlog.domain.plan_inputs import Hardware, Tool
from gearlog.domain.vocabulary import Unit, Use
from gearlog.errors import InvalidRecordError
from gearlog.services.book import Book, open_book
from gearlog.services.forms import KNOTS
from gearlog.splicing.knots import all_knots
from gearlog.splicing.method import Method
from gearlog.splicing.method_file import load_builtin
from gearlog.splicing.plan import make_plan
from tests.making import made_form

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


def test_tools_and_hardware_are_typed_with_colons(book: Book) -> None:
    typed = TYPED | {"fid": "260 mm", "tool": "wire fid: 2 ft :3 mm, short fid:8 in"}
    assert book.planner.inputs(typed).tools == (
        Tool(name="fid", length_m=0.26),
        Tool(name="wire fid", length_m=0.6096, thickness_m=0.003),
        Tool(name="short fid", length_m=0.2032),
    )
    hung = book.planner.inputs(TYPED | {"hardware": "connector:23 kN, old ring:unknown", "knot": "Bowline, any-knot"})
    assert hung.hardware == (Hardware(name="connector", strength_n=23000.0), Hardware(name="old ring"))
    assert hung.knots == ("bowline", "any-knot")


def test_the_knots_to_choose_from_are_those_with_a_published_figure() -> None:
    assert {value for value, _ in KNOTS} == {one.id for one in all_knots()}


def test_every_input_of_the_planner_is_taken_from_its_field(book: Book) -> None:
    sling = {"method": "hollow-sling", "shortest": "2.5 m", "longest": "4 m", "braid_angle": "22.5", "swelling": "1.3"}
    made = book.planner.inputs(TYPED | sling)
    assert (made.shortest_m, made.longest_m, made.braid_angle_deg, made.swelling) == (2.5, 4.0, 22.5, 1.3)
    cover = book.planner.inputs(TYPED | sling | {"method": "cover-eye", "construction": "cover-loaded"})
    assert (cover.shortest_m, cover.longest_m, cover.braid_angle_deg, cover.swelling) == (None, None, None, None)
    eye = book.planner.inputs(TYPED | sling | {"method": "hollow-eye", "finished": "6 m", "both_ends": "yes"})
    assert (eye.finished_m, eye.both_ends, eye.braid_angle_deg, eye.swelling) == (6.0, True, 22.5, 1.3)
    laid = {"method": "laid-eye", "construction": "three-strand", "tapered": "yes", "measured_diameter": "13 mm"}
    tucked = book.planner.inputs(TYPED | laid)
    assert (tucked.tapered, tucked.measured_diameter_m) == (True, 0.013)
    assert book.planner.inputs(TYPED | {"method": "whip-common", "twine": "1 mm"}).twine_m == 0.001


ASKED = [(method.id, name) for method in load_builtin() for name in method.asks]


@pytest.mark.parametrize(("method", "name"), ASKED)
def test_what_a_method_asks_for_is_required_by_it_alone(book: Book, faults: Faults, method: str, name: str) -> None:
    typed = {"eye": "150 mm", "finished": "6 m", "shortest": "2.5 m", "longest": "4 m", "diameter": "12 mm"}
    form = typed | {"method": method, "construction": book.planner.method(method).constructions[0]}
    told = faults(lambda: book.planner.plan(form | {name: ""}))
    assert set(told) == {name}
    assert "such as" in told[name]
    required = {field.name for field in book.planner.fields_for(method) if field.required}
    assert required == {"method", "construction", "diameter", *book.planner.method(method).asks}
    assert not book.planner.plan(form).stopped


def test_a_screen_is_given_only_the_fields_that_change_something(book: Book) -> None:
    def shown(method: str) -> set[str]:
        return {field.name for field in book.planner.fields_for(method)}

    everything = {field.name for field in book.planner.fields()}
    assert shown("") == shown("magic") == everything
    laid, hollow, whipping = shown("laid-eye"), shown("hollow-eye"), shown("whip-common")
    assert everything - laid == {"lay", "core_fibre", "shortest", "longest", "fid", "fid_thickness", "tool",
                                 "pick_length", "twine", "braid_angle", "swelling",
                                 "shortening_correction"}  # fmt: skip
    assert everything - hollow == {"core_fibre", "shortest", "longest", "tapered", "lay_length", "twine"}
    assert {"eye", "pin", "knot", "finished", "fid"}.isdisjoint(whipping)
    assert "twine" in whipping
    assert {"shortest", "longest"} <= shown("hollow-sling")


def test_what_a_method_cannot_use_is_left_out_also_where_it_does_not_read(book: Book) -> None:
    form = TYPED | {"method": "whip-common", "finished": "6 m", "mbs": "24 kN"}
    assert book.planner.unused(form) == ("eye", "pin", "finished")
    with pytest.raises(InvalidRecordError):
        book.planner.unused(form | {"eye": "12 bananas"})
    made = book.planner.inputs(form | {"eye": "12 bananas"})
    assert (made.eye_m, made.finished_m, made.pin_m) == (None, None, None)


OF_ROPE = {"lay_length": ("lay_length_m", 0.04), "pick_length": ("pick_length_m", 0.005)}
OF_WORK = {
    "pin": ("pin_m", 0.03),
    "fid": ("tools", (Tool(name="fid", length_m=0.1, thickness_m=0.02),)),
    "tapered": ("tapered", True),
    "twine": ("twine_m", 0.002),
    "knot": ("knots", ("bowline",)),
    "hardware": ("hardware", (Hardware(name="ring", strength_n=5000.0),)),
    "design_factor": ("design_factor", 7.0),
    "braid_angle": ("braid_angle_deg", 30.0),
    "swelling": ("swelling", 1.2),
    "both_ends": ("both_ends", True),
    "finished": ("finished_m", 8.0),
    "shortest": ("shortest_m", 2.6),
    "longest": ("longest_m", 4.1),
    "eye": ("eye_m", 0.2),
}
"""Field of the form -> what it changes in the inputs of a plan."""


@pytest.mark.parametrize("method", load_builtin(), ids=lambda method: method.id)
def test_a_field_that_a_method_hides_would_change_nothing_in_its_plan(book: Book, method: Method) -> None:
    needed = {"eye": "150 mm", "finished": "9 m", "shortest": "2.5 m", "longest": "4 m", "diameter": "12 mm"}
    given = needed | {"method": method.id, "construction": method.constructions[0], "mbs": "24 kN", "length": "20 m"}
    inputs = book.planner.inputs(given)
    plain = make_plan(method, inputs)
    shown = {field.name for field in book.planner.fields_for(method.id)}
    changed = {name: replace(inputs, rope=replace(inputs.rope, **{key: to})) for name, (key, to) in OF_ROPE.items()}
    changed |= {name: replace(inputs, **{key: to}) for name, (key, to) in OF_WORK.items()}
    for name in changed.keys() - shown:
        if name not in {"design_factor", "knot", "hardware"}:  # what carries nothing has a chain of its rope alone
            assert replace(make_plan(method, changed[name]), inputs=inputs) == plain, name


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
    book.diary.record(made_form(book, plan), plan)
    assert codes(book.planner.plan(EYE | {"rope": rope.tag, "end": "A"}))["end-in-use"] == "warn"
    assert "end-in-use" not in codes(book.planner.plan(EYE | {"rope": rope.tag, "end": "B"}))


def test_what_is_made_at_the_other_end_is_named_because_it_carries_the_same_load(
    book: Book, rope: Item, plan: Plan
) -> None:
    at_b = EYE | {"rope": rope.tag, "end": "B"}
    assert "other-end" not in codes(book.planner.plan(at_b))
    book.diary.record(made_form(book, plan), plan)
    (told,) = [check for check in book.planner.plan(at_b).checks if check.code == "other-end"]
    assert (told.level, "end A is spliced" in told.message, "knot" in told.message) == ("note", True, False)
    assert "other-end" not in codes(book.planner.plan(EYE | {"rope": rope.tag, "end": "A"}))


def test_clear_rope_is_what_two_splices_leave_between_them(book: Book, rope: Item, plan: Plan) -> None:
    """Both reach 2 B + C = 2 x 0.504 + 0.300 = 1.308 m from their ends."""
    assert plan.inputs.clear_rope_m is None
    book.diary.record(made_form(book, plan), plan)
    other = book.planner.plan(EYE | {"rope": rope.tag, "end": "B"})
    assert other.inputs.clear_rope_m == pytest.approx(45 - 2 * 1.308, abs=1e-9)
    short = book.planner.plan(EYE | {"rope": rope.tag, "end": "B", "length": "2.7 m"})
    assert short.inputs.clear_rope_m == pytest.approx(0.084, abs=1e-9)
    assert set(codes(short)) - set(codes(other))


def test_advice_needs_only_the_construction(book: Book, rope: Item) -> None:
    assert book.planner.advice({"diameter": "x"}) == ()
    fits = {one.method_id for one in book.planner.advice({"rope": rope.tag}) if one.fits}
    assert {"hollow-eye", "hollow-loop", "whip-common"} <= fits
    assert not any(one.startswith(("laid", "cover", "double")) for one in fits)
    for_kernmantle = {one.method_id for one in book.planner.advice({"construction": "kernmantle"}) if one.fits}
    assert for_kernmantle == {"", "whip-common", "whip-stitched"}


def test_recall_answers_a_plan_and_a_form_that_is_half_filled(book: Book, rope: Item, plan: Plan) -> None:
    splice = book.diary.record(made_form(book, plan) | {"minutes": "48"}, plan)
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


def test_a_stem_of_a_girth_is_a_pin_of_its_diameter(book: Book) -> None:
    form = {"method": "hollow-eye", "construction": "hollow-braid", "diameter": "12 mm", "eye": "150 mm"}
    assert book.planner.inputs({**form, "girth": "157.0796 mm"}).pin_m == pytest.approx(0.050, rel=1e-6)
    with pytest.raises(InvalidRecordError, match="girth"):
        book.planner.inputs({**form, "girth": "157 mm", "pin": "50 mm"})
