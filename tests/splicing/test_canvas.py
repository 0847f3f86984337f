from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from gearlog.splicing.pictures.canvas import Stretch, stretch_rows


def test_stretches_that_overlap_or_are_too_narrow_for_their_names_do_not_run_together() -> None:
    """Drawn by hand, bars on 0, 20, 28 and on 0, 3, 36, 39; a name that does not fit between stands beside."""
    stretches = [
        Stretch(0, 20, "tail 504 mm", "tail"),
        Stretch(20, 28, "loop 300 mm", "loop"),
        Stretch(0, 3, "taper 10 mm", "taper"),
        Stretch(36, 39, "core taper 9 mm", "core taper"),
    ]
    assert stretch_rows(stretches, 40) == [
        "|--- tail 504 mm ---| loop -|",
        "|--| taper               core taper |--|",
    ]


spots = st.tuples(st.integers(0, 59), st.integers(0, 59)).map(sorted)


@given(st.lists(spots, min_size=1, max_size=6))
def test_every_stretch_keeps_its_bars_and_its_name(ends: list[list[int]]) -> None:
    stretches = [Stretch(start, stop, f"{number}abc", str(number)) for number, (start, stop) in enumerate(ends)]
    rows = stretch_rows(stretches, 60)
    assert all(len(row) <= 60 for row in rows)
    for stretch in stretches:
        row = next(row for row in rows if stretch.short in row)
        assert (row[stretch.start], row[stretch.stop]) == ("|", "|")
