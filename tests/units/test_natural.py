from __future__ import annotations

from gearlog.units.natural import natural


def test_numbers_in_names_are_ordered_by_size_and_letters_in_any_case() -> None:
    names = ["connector-39", "Connector-4", "connector", "12-mm line", "3 ring", "connector-04", "helmet", ""]
    assert sorted(names, key=natural) == [
        "", "3 ring", "12-mm line", "connector", "Connector-4", "connector-04", "connector-39", "helmet",
    ]  # fmt: skip


def test_a_long_serial_is_no_fault() -> None:
    assert natural("9" * 5000) > natural("8" * 5000)
