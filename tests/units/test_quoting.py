from __future__ import annotations

import pytest

from gearlog.units.quoting import quoted


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("", "''"),
        ("22 kn", "'22 kn'"),
        ("x" * 40, f"'{'x' * 40}'"),
        ("x" * 41, f"'{'x' * 40}...'"),
        ("\x1b" * 10, "'" + "\\x1b" * 10 + "'"),
        ("\x1b" * 11, "'" + "\\x1b" * 10 + "...'"),
    ],
)
def test_a_quotation_is_visible_and_at_most_forty_signs(typed: str, shown: str) -> None:
    assert quoted(typed) == shown
