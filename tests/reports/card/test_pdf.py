"""The PDF is read back by another library: what was planned stands on the paper, on either paper, whole."""

from __future__ import annotations

import io
from itertools import cycle

import msgspec
import pypdf
import pytest

from gearlog.domain.plan import Plan
from gearlog.domain.vocabulary import Unit
from gearlog.reports.card import Paper, Signed, card_pdf
from gearlog.reports.words import Tape
from tests.reports.card.plans import NAMES, plan_of

PAPERS: tuple[Paper, ...] = ("a4", "letter")
POINTS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}  # ISO 216: 210 x 297 mm; 8.5 x 11 in; 72 points an inch


def pages_of(made: bytes) -> list[str]:
    """Each page's text without any white, because lines break where they must."""
    return ["".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(made)).pages]


def told(made: bytes, *texts: str) -> None:
    """Check that every text stands on the paper; a page's foot may stand between its parts."""
    whole = "".join(pages_of(made))
    missing = [text for text in texts if "".join(text.split()) not in whole]
    assert missing == []


@pytest.mark.parametrize(("name", "paper"), list(zip(NAMES, cycle(PAPERS), strict=False)))
def test_marks_checks_steps_and_cautions_of_every_method_stand_on_the_paper(name: str, paper: Paper) -> None:
    plan = plan_of(name)
    made = card_pdf(plan, paper)
    tape = Tape.of(plan.inputs)
    told(
        made,
        plan.method_title,
        *(check.message for check in plan.checks),
        *(f"{mark.letter}{mark.part}{tape.length(mark.shown_m)}" for mark in plan.marks),
        *(f"{mark.name}: {mark.do}" for mark in plan.marks),
        *plan.steps,
        *plan.cautions,
        *(f"{tape.length(step.shown_m)}{step.strands_left}" for step in plan.taper),
        *(
            f"{tape.length(pull.shown_from_m)}{tape.length(pull.shown_to_m)}{tape.length(pull.shown_length_m)}"
            for pull in plan.pulls
        ),
        *(f"mark {mark.letter} {tape.exact(mark.at_m, mark.shown_m)} = {mark.formula}" for mark in plan.marks),
    )
    if plan.finished is not None and plan.finished.wanted:
        told(made, f"length to cut:{tape.length(plan.finished.shown_cut_m)}")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_card_is_two_pages_at_most_and_a_finish_is_one(paper: Paper) -> None:
    for name in NAMES:
        plan = plan_of(name)
        pages = pypdf.PdfReader(io.BytesIO(card_pdf(plan, paper))).pages
        assert len(pages) <= (1 if plan.shape in {"finish", "end"} else 2)
        for page in pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(POINTS[paper], abs=0.01)


def test_each_page_says_which_it_is_and_what_comes_first() -> None:
    pages = pages_of(card_pdf(plan_of("cover-eye")))
    for number, page in enumerate(pages, 1):
        assert f"page{number}of{len(pages)}" in page
        assert "theropemaker'sinstructionscomefirst" in page


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert card_pdf(plan_of("laid-eye")) == card_pdf(plan_of("laid-eye"))


def test_lengths_stand_in_the_unit_of_the_plan() -> None:
    """Bury 2 x 21 x 12 mm = 504 mm = 19.843 in: rounded up to the tape 19 7/8 in."""
    made = card_pdf(plan_of("hollow-eye", unit=Unit.IMPERIAL), "letter")
    told(made, "brope19 7/8 in", "15/32 in")


def test_strength_stands_with_its_factor_and_source_or_is_unknown() -> None:
    """24 kN x 0.90 / 10 = 2.16 kN, shown rounded down as 2.1 kN."""
    told(card_pdf(plan_of("laid-eye")), "2.1 kN, the weakest part's strength", "90 %; COMDTINST", "10; common practice")
    told(card_pdf(plan_of("hollow-eye")), "working load limit: unknown, because", "kept by the splice: unknown")


def test_what_is_known_of_the_making_stands_on_its_line() -> None:
    signed = Signed(made_on="2026-03-01", made_by="A. B.", checked_by="C. D.")
    told(card_pdf(plan_of("hollow-eye"), "a4", signed), "made by:", "2026-03-01", "A. B.", "C. D.", "checked by:")


def long_plan(words: int) -> Plan:
    plan = plan_of("hollow-eye")
    text = " ".join(f"w{number}" for number in range(words))
    check = msgspec.structs.replace(plan.checks[0], message=f"check {text}")
    mark = msgspec.structs.replace(plan.marks[0], do=f"mark {text}")
    return msgspec.structs.replace(plan, steps=(f"step {text}", *plan.steps), checks=(check,), marks=(mark,))


@pytest.mark.parametrize("words", [500, 3000])
def test_text_of_any_length_runs_on_over_pages_and_none_is_lost(words: int) -> None:
    """Each word of a step, a check and a mark once in order, however many pages it takes."""
    plan = long_plan(words)
    text = "".join(card_words(card_pdf(plan)))
    for number in range(words):
        assert text.count(f" w{number} ") >= 3


def card_words(made: bytes) -> list[str]:
    return [" " + "  ".join(page.extract_text().split()) + " " for page in pypdf.PdfReader(io.BytesIO(made)).pages]


def test_an_own_method_asks_for_break_tests() -> None:
    told(
        card_pdf(msgspec.structs.replace(plan_of("hollow-eye"), own=True)),
        "break tests before life support",
        "the user's own",
    )
