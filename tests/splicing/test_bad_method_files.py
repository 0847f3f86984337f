"""The user's door for own methods: files as people really save them; each fault with file, line, reason and way out."""

from __future__ import annotations

import random
import re
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.domain.plan import Plan
from gearlog.errors import GearlogError, MethodError
from gearlog.splicing.method import OWN_MARK, Method
from gearlog.splicing.method_file import MOST_FAULTS, load_builtin, read_bytes
from gearlog.splicing.plan import make_plan
from tests.splicing.test_explain import inputs_of

TEXT = (resources.files("gearlog.splicing") / "methods" / "hollow-eye.toml").read_text(encoding="utf-8")
FOLDER = resources.files("gearlog.splicing") / "methods"
TEXTS = tuple((FOLDER / f"{one.id}.toml").read_text(encoding="utf-8") for one in load_builtin())
WHEN = 'when = { fibres = ["polyester", "polyamide"] }'


def faults_of(data: bytes) -> tuple[str, ...]:
    with pytest.raises(MethodError) as refused:
        read_bytes(data, "mine.toml", own=True)
    return refused.value.faults


def line_of(part: str, text: str = TEXT) -> int:
    return text[: text.index(part)].count("\n") + 1


@pytest.mark.parametrize(
    "data",
    [
        b"\xef\xbb\xbf" + TEXT.encode(),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace("\n", "\r").encode(),
        TEXT.replace('formula = "2 * fid"', '\tformula\t=\t"2\t*\tfid"').encode(),
        TEXT.replace(WHEN, 'when.fibres = ["polyester", "polyamide"]').encode(),
        TEXT.replace("[[lengths]]", '[["lengths"]]  # as "[[marks]]"').encode(),
        TEXT.replace('summary = "', 'summary = """\n[[marks]]\nat = 3\n""" # "').encode(),
    ],
    ids=["BOM", "Windows", "old line ends", "tabs", "dotted", "quoted head", "long text"],
)
def test_a_sound_file_reads_however_it_was_saved(data: bytes) -> None:
    method = read_bytes(data, "mine.toml", own=True)
    assert method.own
    assert method.title == f"buried eye in hollow braid ({OWN_MARK})"


@pytest.mark.parametrize(
    ("data", "line", "told"),
    [
        (b"", 1, "is empty; copy a built-in method"),
        (b" \n\t\n", 1, "is empty"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", 1, "is not text; save it as plain UTF-8 text"),
        (TEXT.encode("utf-16"), 1, "UTF-16"),
        (TEXT.replace("the lock stitch", "löck", 1).encode("latin-1"), line_of("the lock stitch"), "UTF-8"),
        (b"<html></html>", 1, "a heading in brackets"),
        (b"a = " + b"[" * 100_000, 1, "too deep"),
        (b"version = " + b"9" * 5000, 1, "too long"),
        (b"#" * 900_000, 1, "characters"),
    ],
    ids=["empty", "blank", "picture", "UTF-16", "Latin-1", "web page", "deep", "digits", "huge"],
)  # fmt: skip
def test_what_is_no_method_file_is_told_in_one_line(data: bytes, line: int, told: str) -> None:
    (fault,) = faults_of(data)
    assert fault.startswith(f"mine.toml, line {line}: ")
    assert told in fault


# what stands in the file, what is written instead, what is told
SLIPS = [
    ('what_for = "for the lock stitch"', 'whatfor = "x"', "did you mean 'what_for'?"),
    ("version = 1", "versoin = 1", "did you mean 'version'?"),
    ("version = 1", 'version = "1"', "'version' must be a whole number"),
    ("version = 1", "version = true", "'version' must be a whole number"),
    ("[fits]", "[[fits]]", "one pair of brackets: [fits]"),
    ('title = "bury"', "title = bury", "between quotation marks"),
    ('title = "bury"', 'title = "bury', "quotation mark"),
    ('title = "bury"', 'title "bury"', "equals sign"),
    ('title = "bury"', 'title = "bury"\ntitle = "x"', "stands once"),
    ('title = "bury"', 'title = "bu\x07ry"', "\\x07"),
    ('shape = "eye"', 'shape = "eyes"', "use one of: eye, cord, join"),
    ('asks = ["eye"]', 'asks = ["eye", "ring"]', "use one of: eye, finished, shortest, longest"),
    ('asks = ["eye"]', 'asks = "eye"', "a list in square brackets"),
    (WHEN, 'when = { fibre = ["polyester"] }', "did you mean 'fibres'?"),
    (WHEN, 'when = { fibres = "polyester" }', "a list in square brackets"),
    (WHEN, 'when = { fibres = ["polyster"] }', "known: aramid, cotton"),
    (WHEN, 'when = { styles = ["fancy"] }', "known: plain, tapered"),
    (WHEN, 'when = { fibres = ["polyester" }', "square bracket"),
    ("most_fraction = 0.25", 'most_fraction = "0.25"', "must be a number"),
    ("most_fraction = 0.25", "most_fraction = nan", "such as 0.5"),
    ("braid_angle_deg = 20", "braid_angle_deg = 90", "between 1 and 80"),
    ("full = 1.4142135623730951", "full = inf", "between 1 and 4"),
    ("buries = 1", "buries = -1", "between 1 and 10"),
    ("tool_over_rope = 0.5", "tool_over_rope = 0", "between 0.001 and 1000"),
    ("strands = [8, 12, 16, 24]", "strands = [8, 1000000]", "between 2 and 128"),
    ('formula = "72 * d"', 'formula = "1e308 * 1e308 * d"', "far too much"),
    ('formula = "72 * d"', 'formula = "72"', "multiply it by one, as in 6 * d"),
    ('strands_left = "n / 6"', 'strands_left = "d"', "divide it by a length"),
    ('source = "common-practice"', 'source = "memory"', 'or write "own"'),
    ('id = "3"', 'id = "1"', "is there twice"),
    ('id = "hollow-eye"', 'id = "My Eye"', "such as my-eye"),
    ("{reach} of rope", "{raech} of rope", "did you mean {reach}?"),
    ("version = 1", "version = 1\nown = true", "remove the line"),
    ("[swelling]\nbury", "[swelling]\nburry", "did you mean 'bury'?"),
]


@pytest.mark.parametrize(("there", "slip", "told"), SLIPS)
def test_a_slip_is_told_with_its_line_and_the_way_out(there: str, slip: str, told: str) -> None:
    assert there in TEXT
    text = TEXT.replace(there, slip, 1)
    matching = [fault for fault in faults_of(text.encode()) if told in fault]
    assert matching, faults_of(text.encode())
    found = re.match(r"mine\.toml, line (\d+): ", matching[0])
    assert found
    changed = line_of(there)
    assert changed - 4 <= int(found[1]) <= changed + slip.count("\n") + 1  # its line, or the head of its table


def test_a_missing_table_is_named_and_every_one_of_them() -> None:
    told = " ".join(faults_of(TEXT.split("[fits]")[0].encode()))
    assert all(
        f"{name} is missing" in told for name in ("[fits]", "[[lengths]]", "[[marks]]", "[[spans]]", "[[steps]]")
    )


def test_a_length_that_some_ropes_would_not_get_is_refused() -> None:
    text = TEXT.replace('formula = "72 * d"', 'formula = "72 * d"\nwhen = { fibres = ["hmpe"] }')
    (fault,) = faults_of(text.encode())
    assert "some ropes would get no 'bury'" in fault


def test_one_wrong_formula_is_told_once_and_many_faults_are_cut_short() -> None:
    assert len(faults_of(TEXT.replace('"72 * d"', '"72"').encode())) == 1
    many = faults_of(TEXT.replace("version = 1", "\n".join(f"x{number} = 1" for number in range(99))).encode())
    assert len(many) == MOST_FAULTS + 1
    assert "more faults" in many[-1]


WORDS = ("0", "-1", "1e9", "d", "n", "eye", "loop", "bury", "nan", "inf", '""', "true", "[]", "{}", "cut", "2 * d - d")


@given(st.sampled_from(TEXTS), st.integers(0, 10_000), st.integers(1, 3))
def test_a_file_with_any_value_changed_is_refused_or_plans_without_a_fault_of_the_program(
    text: str, seed: int, changes: int
) -> None:
    """What reads is planned: at worst the plan is refused with a reason, as for a formula that divides by nothing."""
    chance = random.Random(seed)  # noqa: S311 (a test's dice)
    lines = text.splitlines()
    keyed = [number for number, line in enumerate(lines) if " = " in line]
    for number in chance.sample(keyed, changes):
        name, _, value = lines[number].partition(" = ")
        word = chance.choice(WORDS)
        lines[number] = f'{name} = "{word}"' if value.startswith('"') else f"{name} = {word}"
    try:
        method = read_bytes("\n".join(lines).encode(), "mine.toml", own=True)
    except MethodError as error:
        assert all(fault.startswith("mine.toml, line ") for fault in error.faults)
        return
    assert_plans(method)


def assert_plans(method: Method) -> None:
    for diameter, eye in ((0.012, 0.15), (0.004, 0.02), (0.05, 2.0)):
        try:
            made: Plan = make_plan(method, inputs_of(method, diameter_m=diameter, eye_m=eye))
        except GearlogError as error:
            assert error.message
            continue
        assert made.own
