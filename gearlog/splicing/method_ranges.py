"""Plain numbers of a method file that are out of all reason, and rules that would leave a rope without a length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from gearlog.splicing.method import Method
from gearlog.splicing.rules import When

Path = tuple[str | int, ...]
Fault = tuple[Path, str]
Range = tuple[Path, float | None, float, float]
"""Where a number stands, the number, the least and the most that makes sense."""

MOST_LIMIT = 1000  # times a diameter, or degrees; beyond it a digit slipped
MOST_TUCKS = 20  # full tucks of a strand; no rope has use for more
MOST_BURIES = 10  # of one splice
MOST_SWELLING = 4.0  # times the mean diameter, as in the planner's form
MOST_ANGLE = 80.0  # degrees of a strand to the axis
MOST_STRANDS = 128
NEVER_FULL = 10.0  # times what a braid holds


def range_faults(method: Method) -> Iterator[Fault]:
    """Every number that lies outside of what makes sense, and every rule that is missing for some rope."""
    for path, value, least, most in _ranges(method):
        if value is not None and not least <= value <= most:
            yield path, f"{value:g} is out of range: it lies between {least:g} and {most:g}"
    yield from _shares(method)
    yield from _unknown_strength(method)
    yield from _unruled(method)


def _ranges(method: Method) -> Iterator[Range]:
    yield ("version",), method.version, 1, 1_000_000
    for count in method.fits.strands:
        yield ("fits", "strands"), count, 2, MOST_STRANDS
    yield from _limits(method)
    yield from _tucks(method)
    if method.swelling:
        yield ("swelling", "buries"), method.swelling.buries, 1, MOST_BURIES
        yield ("swelling", "braid_angle_deg"), method.swelling.braid_angle_deg, 1, MOST_ANGLE
        yield ("swelling", "full"), method.swelling.full, 1, MOST_SWELLING
    if method.fill:
        yield ("fill", "most"), method.fill.most, 0, NEVER_FULL
        yield ("fill", "most_step"), method.fill.most_step, 0, NEVER_FULL


def _limits(method: Method) -> Iterator[Range]:
    for name in method.limits.__struct_fields__:
        value = getattr(method.limits, name)
        if isinstance(value, float | int):
            yield ("limits", name), value, 0.001, MOST_LIMIT


def _tucks(method: Method) -> Iterator[Range]:
    rule = method.tucks
    if rule is None:
        return
    for index, count in enumerate(rule.counts):
        yield ("tucks", "counts", index, "count"), count.count, 1, MOST_TUCKS
    yield ("tucks", "sides"), rule.sides, 1, 2
    if rule.tapered:
        yield ("tucks", "tapered", "extra"), rule.tapered.extra, 0, MOST_TUCKS


def _shares(method: Method) -> Iterator[Fault]:
    """Parts of a whole: above 0 and up to 1."""
    shares: list[tuple[Path, float | None]] = [(("strength", "fraction"), method.strength.fraction)]
    if method.taper:
        shares.append((("taper", "most_fraction"), method.taper.most_fraction))
    if method.tucks and method.tucks.tapered:
        shares += [(("tucks", "tapered", "fractions"), part) for part in method.tucks.tapered.fractions]
    for path, share in shares:
        if share is not None and not 0 < share <= 1:
            yield path, f"{share:g} is no part of a whole: it lies above 0 and up to 1, such as 0.5"


def _unknown_strength(method: Method) -> Iterator[Fault]:
    if method.strength.fraction is None and not method.strength.why and method.carries:
        yield ("strength",), "a strength that is not known needs 'why', such as why = \"no break tests yet\""


def _unruled(method: Method) -> Iterator[Fault]:
    """Lengths and tucks that no rule gives where none of the conditions holds."""
    lengths: dict[str, list[When]] = {}
    places: dict[str, int] = {}
    for index, rule in enumerate(method.lengths):
        lengths.setdefault(rule.name, []).append(rule.when)
        places[rule.name] = index
    for name, whens in lengths.items():
        if not _covered(whens):
            way_out = f"add a last [[lengths]] named '{name}' without 'when'"
            yield ("lengths", places[name]), f"some ropes would get no '{name}'; {way_out}"
    if method.tucks and not _covered([count.when for count in method.tucks.counts]):
        way_out = "add a last [[tucks.counts]] without 'when'"
        yield ("tucks",), f"some ropes would get no number of tucks; {way_out}"


def _covered(whens: Sequence[When]) -> bool:
    """Whether one of the rules holds for every rope."""
    return any(when == When() for when in whens)
