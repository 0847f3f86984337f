"""The names that formulas start from, for one rope: exact, and again on the user's tape."""

from __future__ import annotations

from gearlog.domain.plan_inputs import PlanInputs
from gearlog.splicing.formula import Quantity, metres, number
from gearlog.splicing.tape import INCH_M, MILLIMETRE_M, division_m, nearest

FID_DIAMETERS = 21  # fid length over rope diameter; common practice, no source
Names = dict[str, Quantity]


def rope_names(inputs: PlanInputs, strands: int, tucks: int, tapered_tucks: int) -> Names:
    """``d fid n tucks tapered_tucks mm inch``: there for every method."""
    d = metres(inputs.rope.diameter_m)
    return {
        "d": d,
        "fid": Quantity(FID_DIAMETERS * d.value, 1),
        "n": number(strands),
        "tucks": number(tucks),
        "tapered_tucks": number(tapered_tucks),
        "mm": Quantity(MILLIMETRE_M, 1),
        "inch": Quantity(INCH_M, 1),
    }


def asked_names(inputs: PlanInputs) -> Names:
    """``eye loop shortest longest finished``, as far as they were given; the loop with the learned correction."""
    names = {name: metres(value) for name, value in _asked(inputs).items() if value is not None}
    if "eye" in names:
        names["loop"] = Quantity(2 * (names["eye"].value + metres(inputs.eye_correction_m).value), 1)
    return names


def asked_on_tape(inputs: PlanInputs) -> Names:
    """The same to the nearest mark of the tape; the loop is twice the length that is marked for the eye."""
    division = division_m(inputs)
    exact = asked_names(inputs)
    names = {name: Quantity(nearest(one.value, division), 1) for name, one in exact.items()}
    if "loop" in names:
        names["loop"] = Quantity(2 * nearest(exact["loop"].value / 2, division), 1)
    return names


def missing(asks: tuple[str, ...], inputs: PlanInputs) -> tuple[str, ...]:
    """What a method asks for and was not given."""
    given = _asked(inputs)
    return tuple(name for name in asks if given[name] is None)


def _asked(inputs: PlanInputs) -> dict[str, float | None]:
    return {
        "eye": inputs.eye_m,
        "shortest": inputs.shortest_m,
        "longest": inputs.longest_m,
        "finished": inputs.finished_m,
    }
