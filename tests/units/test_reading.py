from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gearlog.errors import ReadingError
from gearlog.units.measure import Force, Length, LinearMass, Measure
from gearlog.units.reading import EXAMPLES, UNITS, read, read_number, read_whole
from gearlog.units.visible import visible

KINDS: dict[str, type[Measure]] = {"length": Length, "force": Force, "mass per length": LinearMass}


@pytest.mark.parametrize(
    ("typed", "amount", "unit"),
    [
        ("1/2 in", Fraction(1, 2), "in"),
        ('7/16"', Fraction(7, 16), "in"),
        ("1 1/2 in", Fraction(3, 2), "in"),
        ("1-1/2 in", Fraction(3, 2), "in"),
        ('1-1/2"', Fraction(3, 2), "in"),
        ("0 1/2 in", Fraction(1, 2), "in"),
        ("13mm", Fraction(13), "mm"),
        ("12.7 mm", Fraction(127, 10), "mm"),
        ("0.5  cm", Fraction(1, 2), "cm"),
        ("0.01 mm", Fraction(1, 100), "mm"),
        ("0.0001 m", Fraction(1, 10_000), "m"),
        ("0.00015 m", Fraction(3, 20_000), "m"),
        ("0.1000000000000000000000000000000000 mm", Fraction(1, 10), "mm"),
        ("  45 m ", Fraction(45), "m"),
        ("150 ft", Fraction(150), "ft"),
        ("3 yd", Fraction(3), "yd"),
        ("5'", Fraction(5), "ft"),
        ("5 ft 6 in", Fraction(66), "in"),
        ("5ft6in", Fraction(66), "in"),
        ("5' 6\"", Fraction(66), "in"),
        ("5'6\"", Fraction(66), "in"),
        ("5' 6-1/2\"", Fraction(133, 2), "in"),
        ("5 ft 6 1/2 in", Fraction(133, 2), "in"),
        ("5 ft 0.25 in", Fraction(241, 4), "in"),
    ],
)
def test_a_length_is_read_exactly_in_the_one_way_it_can_mean(typed: str, amount: Fraction, unit: str) -> None:
    assert read(typed, "length") == (amount, unit)
    assert Length.read(typed).text == typed.strip()


@pytest.mark.parametrize(
    ("typed", "kind", "amount", "unit"),
    [
        ("24 kN", "force", Fraction(24), "kN"),
        ("22.5kN", "force", Fraction(45, 2), "kN"),
        ("180 N", "force", Fraction(180), "N"),
        ("18 daN", "force", Fraction(18), "daN"),
        ("5400 lbf", "force", Fraction(5400), "lbf"),
        ("2400 kgf", "force", Fraction(2400), "kgf"),
        ("68 g/m", "mass per length", Fraction(68), "g/m"),
        ("0.068 kg/m", "mass per length", Fraction(68, 1000), "kg/m"),
        ("0.075 lb/ft", "mass per length", Fraction(75, 1000), "lb/ft"),
        ("7.5 lb/100ft", "mass per length", Fraction(15, 2), "lb/100ft"),
        ("7.5 lb/100 ft", "mass per length", Fraction(15, 2), "lb/100ft"),
    ],
)
def test_forces_and_masses_are_read_exactly(typed: str, kind: str, amount: Fraction, unit: str) -> None:
    assert read(typed, kind) == (amount, unit)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("12", "has no unit"),
        ("1/2", "has no unit"),
        ("0", "has no unit"),
        ("12 bananas", "'bananas'"),
        ("-5 m", "is negative"),
        ("0 m", "is zero"),
        ("0 ft 0 in", "is zero"),
        ("0/4 in", "is zero"),
        ("1/0 in", "divides by zero"),
        ("1 1/0 in", "divides by zero"),
        ("1 3/2 in", "not below one"),
        ("11/2 in", "not below one"),
        ("2/2 in", "not below one"),
        ("5 ft 13 in", "12 inches or more"),
        ("5.5 ft 6 in", "unit"),
        ("5' 6", "unit"),
        ("5 m 20 cm", "unit"),
        ("1,5 m", "comma"),
        ("1.234,5 m", "comma"),
        (".5 in", "write 0.5"),
        ("5. m", "unit"),
        ("1.5/2 in", "unit"),
        ("1 - 1/2 in", "unit"),
        ("60 M", "write m"),
        ("10.5 MM", "write mm"),
        ("6 inches", "unit"),
        ("22 kn", "unit"),
        ("24 kN", "is a force, not a length"),
        ("68 g/m", "is a mass per length, not a length"),
        ("nan m", "not a number"),
        ("inf m", "not a number"),
        ("1e3 m", "unit"),
        ("0x10 m", "unit"),
        ("1_000 m", "unit"),
        ("+5 m", "not a number"),
        ("5 m +", "unit"),
        ("5 m; 3", "unit"),
        ("10**10**10", "unit"),
        ("__import__('os')", "not a number"),
        ("100001 m", "far too much"),
        ("1000000000000000000000000000 mm", "far too much"),
        ("0.00001 mm", "far too little"),
        ("\u00bd in", "plain keyboard"),
        ("\u0663 mm", "plain keyboard"),
        ("\uff15 m", "plain keyboard"),
        ("5\u00a0m", "plain keyboard"),
        ("\u22125 m", "plain keyboard"),
        ("5 m\n", "plain keyboard"),
        ("5\tm", "plain keyboard"),
        ("5 m\x1b[31m", r"\x1b[31m"),
        ("5 m\u202e", r"\u202e"),
        ("\x00", r"\x00"),
        ("[/] [red]", "not a number"),
        ("9" * 10_000, "too long"),
        ("9" * 10_000 + " m", "too long"),
        ("\x1b" * 10_000, "too long"),
    ],
)
def test_all_else_is_refused_in_one_short_visible_line_with_an_example(typed: str, why: str) -> None:
    with pytest.raises(ReadingError) as refusal:
        Length.read(typed)
    message = refusal.value.message
    assert why in message
    assert EXAMPLES["length"] in message
    assert visible(message) == message
    assert len(message) < 200


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("22 kn", "write kN"),
        ("22 KN", "write kN"),
        ("22 LBF", "write lbf"),
        ("500 lb", "write lbf or lb/100ft"),
        ("5 m", "is a length, not a force"),
        ("10001 kN", "far too much"),
        ("0 kN", "is zero"),
    ],
)
def test_a_force_in_the_wrong_letters_is_refused_and_not_guessed(typed: str, why: str) -> None:
    with pytest.raises(ReadingError, match=why) as refusal:
        Force.read(typed)
    assert "24 kN" in refusal.value.message


def test_zero_is_a_place_on_a_rope_only_where_the_caller_allows_it() -> None:
    assert Length.read("0 m", zero=True).exact == 0
    with pytest.raises(ReadingError, match="is zero"):
        Length.read("0 m")


@pytest.mark.parametrize("unit", sorted(UNITS))
def test_the_most_that_is_read_is_about_the_same_in_every_unit(unit: str) -> None:
    kind, most = UNITS[unit]
    si = {"length": 100_000, "force": 10_000_000, "mass per length": 100}[kind]  # 100 km, 10 MN, 100 kg/m
    assert si <= KINDS[kind].read(f"{most} {unit}").exact <= si * 1.09
    with pytest.raises(ReadingError, match="far too much"):
        KINDS[kind].read(f"{most}.1 {unit}")


numbers = st.one_of(
    st.integers(1, 6999).map(str),
    st.decimals("0.01", "69.99", places=2).map(lambda number: f"{number:f}"),
    st.tuples(st.integers(0, 60), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data()).map(
        lambda parts: f"{parts[0]}-{parts[2].draw(st.integers(1, parts[1] - 1))}/{parts[1]}"
    ),
)


@given(numbers, st.sampled_from(sorted(UNITS)), st.sampled_from(["", " ", "  "]))
def test_what_was_typed_is_kept_and_read_again_to_the_same_value(number: str, unit: str, gap: str) -> None:
    kind, most = UNITS[unit]
    whole, _, fraction = number.rpartition("-")
    expected = Fraction(whole or 0) + Fraction(fraction)
    if expected > most:
        return
    measure = KINDS[kind].read(f"{number}{gap}{unit}")
    assert (measure.amount, measure.unit) == (expected, unit)
    assert KINDS[kind].read(measure.text) == measure
    assert measure.exact > 0


@given(st.text(max_size=60), st.sampled_from(sorted(KINDS)))
def test_any_text_is_either_a_quantity_or_one_printable_line(text: str, kind: str) -> None:
    try:
        measure = KINDS[kind].read(text, zero=True)
        line = measure.text
        assert measure.exact >= 0
    except ReadingError as refusal:
        line = refusal.message
    assert visible(line) == line


@pytest.mark.parametrize("typed", ["", "-1", "1.0", "1e2", "0", "41", "1 000", "9" * 5000, "\u0663", "x\x1b"])
def test_a_whole_number_out_of_its_range_or_shape_is_refused_with_the_range(typed: str) -> None:
    with pytest.raises(ReadingError, match="from 1 to 40") as refusal:
        read_whole(typed, least=1, most=40, what="the strands")
    assert refusal.value.message.isprintable()


def test_whole_and_decimal_numbers_are_read_exactly() -> None:
    assert read_whole(" 12 ", least=1, most=40, what="the strands") == 12
    assert [read_whole(typed, least=1, most=40, what="the strands") for typed in ("1", "40")] == [1, 40]
    assert read_number("1.50", least=0, most=100, what="the elongation") == Decimal("1.5")
    assert [read_number(typed, least=0, most=100, what="the elongation") for typed in ("0", "100.0")] == [0, 100]


@pytest.mark.parametrize("typed", ["", "1,5", "-1", "100.01", "nan", "1e1", ".5", "1.", "9" * 5000])
def test_a_number_out_of_its_range_or_shape_is_refused_with_the_range(typed: str) -> None:
    with pytest.raises(ReadingError, match="from 0 to 100"):
        read_number(typed, least=0, most=100, what="the elongation")
