"""Pictures in characters: to scale, within 80 columns, plain ASCII, with the words beside them."""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import count

import pytest
from msgspec.structs import replace

from gearlog.domain.dates import PartialDate
from gearlog.domain.plan import Plan, PlanInputs, RopeSpec, Strength
from gearlog.domain.splice import Splice
from gearlog.domain.strength_test import FailedAt, LoadKind, StrengthTest
from gearlog.domain.vocabulary import End
from gearlog.reports.pictures import Loaded, Picture, eye_picture, minutes_picture, strength_picture
from gearlog.reports.words import Tape
from gearlog.units.measure import Force, Length

NOW = datetime(2024, 5, 31, tzinfo=UTC)
NUMBERS = count()
MM = Tape()
INPUTS = PlanInputs(method="m", rope=RopeSpec(construction="hollow-braid", diameter_m=0.012), eye_m=0.15)
PLAN = Plan(method="m", method_title="", method_version=1, own=False, rope_used_m=None, inputs=INPUTS,
            strength=Strength(mbs_n=None, retained_fraction=None, retained_source=None, design_factor=10,
                              design_factor_source="", wll_n=None))  # fmt: skip


def a_splice(day: str, eye_mm: int | None = None, minutes: int | None = None, plan: Plan | None = PLAN) -> Splice:
    eye = None if eye_mm is None else Length.read(f"{eye_mm} mm")
    return Splice(id=f"s{next(NUMBERS)}", created_at=NOW, changed_at=NOW, rope_id="r", end=End.A, method="m",
                  made_on=PartialDate(day), plan=plan, finished_eye=eye, minutes=minutes)  # fmt: skip


def a_test(day: str, force: str, failed_at: FailedAt, mbs_n: float | None) -> Loaded:
    kind = LoadKind.PROOF if failed_at is FailedAt.NOWHERE else LoadKind.BREAK
    return Loaded(StrengthTest(id=f"t{next(NUMBERS)}", created_at=NOW, changed_at=NOW, splice_id="s", kind=kind,
                               force=Force.read(force), failed_at=failed_at, tested_on=PartialDate(day)),
                  mbs_n)  # fmt: skip


def place(line: str, sign: str) -> int:
    return line.rindex(sign)


def test_an_eye_lies_as_far_from_the_line_as_it_was_off_oldest_first() -> None:
    made = [a_splice("2024-05", 154), a_splice("2024-03-01", 142), a_splice("2024-04-01", 150), a_splice("2024-02-01")]
    picture = eye_picture(made, MM)
    assert [line[:12].strip() for line in picture.lines] == ["2024-03-01", "2024-04-01", "2024-05"]
    short, exact, long = picture.lines
    zero = place(short, "|")
    assert (place(long, "|"), place(exact, "*")) == (zero, zero)
    assert zero - place(short, "*") == pytest.approx(2 * (place(long, "*") - zero), abs=1)
    assert "8 mm shorter" in short
    assert "4 mm longer" in long
    assert picture.words == "3 eyes measured, from 8 mm shorter to 4 mm longer."


def test_no_mean_is_told_over_several_methods() -> None:
    other = replace(PLAN, inputs=replace(INPUTS, rope=RopeSpec(construction="three-strand", diameter_m=0.012)))
    assert (
        "of several methods or constructions"
        in eye_picture([a_splice("2024", 154), a_splice("2024", 150, plan=other)], MM).words
    )


def test_a_bar_is_as_long_as_the_time_it_stands_for() -> None:
    lines = minutes_picture([a_splice("2024-01-01", minutes=90), a_splice("2024-02-01", minutes=30)]).lines
    assert lines[0].count("#") == pytest.approx(3 * lines[1].count("#"), abs=2)
    assert len(lines[0]) == 80


def test_a_test_is_drawn_against_the_stated_strength() -> None:
    picture = strength_picture(
        [a_test("2024-01-01", "12 kN", FailedAt.THROAT, 24_000), a_test("2024-02-01", "6 kN", FailedAt.NOWHERE, 24_000),
         a_test("2024-03-01", "25 kN", FailedAt.CLEAR_ROPE, None)], MM
    )  # fmt: skip
    broke, held, unknown = picture.lines
    assert "12.0 kN, 50 % of MBS, throat" in broke
    assert "6.0 kN, 25 % of MBS, held" in held
    assert (broke.count("|"), held.count("|"), unknown.count("|")) == (1, 1, 0)
    start = max(len(line.split("  #")[0]) for line in (broke,)) + 2
    assert place(broke, "X") - start == pytest.approx((place(broke, "|") - start) / 2, abs=2)
    assert place(held, ">") < place(broke, "X") < place(broke, "|")
    assert picture.words == (
        "2 broken, at 12.0 kN to 25.0 kN; 1 held a proof load; of 1 the rope's stated strength is not known."
    )


def test_of_many_the_newest_are_drawn_and_it_is_said() -> None:
    picture = minutes_picture([a_splice(f"2024-01-{day:02d}", minutes=day) for day in range(1, 31)])
    assert picture.lines[0] == "not drawn: 14 earlier"
    assert picture.lines[-1].startswith("2024-01-30")
    assert picture.words.startswith("30 splices timed, median 15.5 minutes, 1 to 30")


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("tape", [MM, Tape(imperial=True, parts=32)])
def test_every_row_keeps_to_its_width_in_plain_characters(width: int, tape: Tape) -> None:
    made = [a_splice(f"2024-01-{day:02d}", 150 + (-1) ** day * day * day, minutes=day * 1000) for day in range(1, 10)]
    tests = [a_test("2024-01-01", f"{force} kN", FailedAt.CROWN, 24_000) for force in (1, 24, 240)]
    for picture in (eye_picture(made, tape, width), minutes_picture(made, width), strength_picture(tests, tape, width)):
        assert picture.lines
        for line in (*picture.lines, picture.title, picture.words):
            assert line.isascii()
        assert max(map(len, picture.lines)) <= width


def test_one_case_no_case_and_equal_cases_are_drawn_too() -> None:
    empty: list[Picture] = [eye_picture([], MM), minutes_picture([a_splice("2024")]), strength_picture([], MM)]
    assert [(picture.lines, bool(picture.words)) for picture in empty] == [((), True)] * 3
    assert len(eye_picture([a_splice("2024", 150)], MM).lines) == 1
    assert len({line[12:] for line in minutes_picture([a_splice("2024", minutes=5)] * 3).lines}) == 1
