"""What can be wrong in a method beyond its shape: words, sources, formulas with their units, ranges, steps."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches

from gearlog.domain.constructions import all_constructions
from gearlog.domain.fibres import all_fibres
from gearlog.domain.plan_inputs import PlanInputs, RopeSpec
from gearlog.domain.vocabulary import Condition, Lay
from gearlog.errors import GearlogError
from gearlog.splicing.formula import Quantity, evaluate, metres
from gearlog.splicing.method import COMMON_PRACTICE, OWN, Method
from gearlog.splicing.method_ranges import range_faults
from gearlog.splicing.names import Names, asked_names, rope_names
from gearlog.splicing.rules import When
from gearlog.splicing.steps import STEP_WORDS
from gearlog.splicing.wording import placeholders
from gearlog.units.measure import Length
from gearlog.units.quoting import quoted

PROBE_DIAMETER_M = 0.010  # any rope will do to try out a formula
PROBE_EYE_M = 0.150
PROBE_STRANDS = 12
PROBE_TUCKS = 4
PROBE_CUT_M = 1000.0  # long enough for any sum
MOST_VALUE = 10_000  # m, or times; a hundred times what is cut from one rope
STYLES = {"plain", "tapered"}
PROBE_FACTORS = {"eye": 1, "finished": 1000, "shortest": 100, "longest": 200}

Path = tuple[str | int, ...]
Fault = tuple[Path, str]


def faults_of(method: Method) -> Iterator[Fault]:
    """Every fault with the path of its entry in the file."""
    yield from _word_faults(method)
    yield from _source_faults(method)
    names = _probe(method)
    yield from _length_faults(method, names)
    yield from _formula_faults(method, names)
    yield from _sum_faults(method, names)
    yield from range_faults(method)
    yield from _step_faults(method)


def _word_faults(method: Method) -> Iterator[Fault]:
    if not re.fullmatch(r"[a-z][a-z0-9-]{1,39}", method.id):
        yield ("id",), "an id has 2 to 40 small letters, digits and hyphens, such as my-eye"
    known = {one.id for one in all_constructions()}
    if not method.fits.constructions:
        yield ("fits", "constructions"), f"is empty; name at least one of {', '.join(sorted(known))}"
    yield from _unknown(("fits", "constructions"), method.fits.constructions, known)
    yield from _unknown(("fits", "lays"), method.fits.lays, {lay.value for lay in Lay})
    fibres = {one.id for one in all_fibres()} | {""}
    conditions = {one.value for one in Condition}
    for path, when in _whens(method):
        yield from _unknown((*path, "when", "fibres"), when.fibres, fibres)
        yield from _unknown((*path, "when", "core_fibres"), when.core_fibres, fibres)
        yield from _unknown((*path, "when", "conditions"), when.conditions, conditions)
        yield from _unknown((*path, "when", "styles"), when.styles, STYLES)
        yield from _diameter_faults(path, when)
    yield from _entry_faults(method)


def _entry_faults(method: Method) -> Iterator[Fault]:
    """Entries that are missing, and marks that cannot be told apart."""
    for name in ("marks", "spans", "steps"):
        if not getattr(method, name):
            yield (name,), f"there is no [[{name}]]; a method has one at least, see a built-in one"
    ids = [mark.id for mark in method.marks]
    for index, one in enumerate(ids):
        if one in ids[:index]:
            yield ("marks", index, "id"), f"the mark '{one}' is there twice; give each its own id"
        if not re.fullmatch(r"[a-z0-9_]{1,20}", one):
            yield ("marks", index, "id"), "a mark's id has 1 to 20 small letters, digits and _ , such as throat"


def _unknown(path: Path, words: tuple[str, ...], known: set[str]) -> Iterator[Fault]:
    for word in words:
        if word not in known:
            listed = ", ".join(sorted(filter(None, known))) or "none here"
            yield path, f"{quoted(word)} is not known; known: {listed}"


def _whens(method: Method) -> Iterator[tuple[Path, When]]:
    for name in ("lengths", "remarks", "steps"):
        for index, entry in enumerate(getattr(method, name)):
            yield (name, index), entry.when
    for index, count in enumerate(method.tucks.counts if method.tucks else ()):
        yield ("tucks", "counts", index), count.when


def _diameter_faults(path: Path, when: When) -> Iterator[Fault]:
    for name in ("least_diameter", "below_diameter"):
        text = getattr(when, name)
        try:
            Length.read(text) if text else None
        except GearlogError as error:
            yield (*path, "when", name), error.message


def _source_faults(method: Method) -> Iterator[Fault]:
    for path, text in _sources(method):
        if not text:
            yield path, 'a number without a source; write source = "own", "common-practice" or a key of [sources]'
        for part in text.split("+") if text else ():
            key = part.strip().partition(" ")[0]
            if key not in {*method.sources, COMMON_PRACTICE, OWN}:
                yield path, f'the source {quoted(key)} is not in [sources]; add it there, or write "own"'


def _sources(method: Method) -> Iterator[tuple[Path, str]]:
    yield ("fits", "source"), method.fits.source
    for name in ("lengths", "marks", "pulls", "remarks", "counts", "bounds"):
        for index, entry in enumerate(getattr(method, name)):
            yield (name, index, "source"), entry.source
    for name in ("taper", "swelling", "finished", "fill", "mark_tolerance", "eye_tolerance"):
        if entry := getattr(method, name):
            yield (name, "source"), entry.source
    yield from _tuck_sources(method)
    for name in method.limits.__struct_fields__:
        if not name.endswith("_source") and getattr(method.limits, name) is not None:
            yield ("limits", name), getattr(method.limits, f"{name}_source")
    if method.strength.fraction is not None:
        yield ("strength", "fraction"), method.strength.source


def _tuck_sources(method: Method) -> Iterator[tuple[Path, str]]:
    for index, count in enumerate(method.tucks.counts if method.tucks else ()):
        yield ("tucks", "counts", index, "source"), count.source
    if method.tucks and method.tucks.tapered:
        yield ("tucks", "tapered", "source"), method.tucks.tapered.source


def _probe_names(method: Method) -> Names:
    """Names before any length is known: those of every method, and what this one asks for."""
    rope = RopeSpec(construction="hollow-braid", diameter_m=PROBE_DIAMETER_M)
    asked = {name: PROBE_EYE_M * PROBE_FACTORS[name] if name in method.asks else None for name in PROBE_FACTORS}
    inputs = PlanInputs(
        method="",
        rope=rope,
        eye_m=asked["eye"],
        finished_m=asked["finished"],
        shortest_m=asked["shortest"],
        longest_m=asked["longest"],
    )
    return rope_names(inputs, PROBE_STRANDS, PROBE_TUCKS, 0) | asked_names(inputs)


def _probe(method: Method) -> Names:
    names = _probe_names(method)
    for rule in method.lengths:
        names[rule.name] = _probed(rule.formula, names) or names.get(rule.name, metres(PROBE_DIAMETER_M))
    names |= {"shortening": metres(0.0)}
    if method.finished:
        names |= {"cut": metres(PROBE_CUT_M)}
        names.setdefault("finished", metres(PROBE_CUT_M))
    return names


def _probed(formula: str, names: Names) -> Quantity | None:
    """A length that can be right, or None: one wrong formula is told once, not again in all that stands on it."""
    try:
        value = evaluate(formula, names)
    except GearlogError:
        return None
    return value if value.dimension == 1 and abs(value.value) <= MOST_VALUE else None


def _length_faults(method: Method, names: Names) -> Iterator[Fault]:
    seen = _probe_names(method).keys()
    known: Names = {name: names[name] for name in seen}
    for index, rule in enumerate(method.lengths):
        if rule.name in seen:
            yield ("lengths", index, "name"), f"'{rule.name}' is a name of the program; choose another"
        elif not re.fullmatch(r"[a-z][a-z0-9_]*", rule.name):
            yield ("lengths", index, "name"), "a name has small letters, digits and _ , such as bury_2"
        yield from _one_formula(("lengths", index, "formula"), rule.formula, known, 1)
        known[rule.name] = names[rule.name]


def _formula_faults(method: Method, names: Names) -> Iterator[Fault]:
    for index, mark in enumerate(method.marks):
        yield from _one_formula(("marks", index, "at"), mark.at, names, 1)
    for index, span in enumerate(method.spans):
        yield from _one_formula(("spans", index, "start"), span.start, names, 1)
        yield from _one_formula(("spans", index, "end"), span.end, names, 1)
    for index, pull in enumerate(method.pulls):
        for key in ("start", "end", "crossover"):
            if text := getattr(pull, key):
                yield from _one_formula(("pulls", index, key), text, names, 1)
    yield from _one_formula(("rope_used",), method.rope_used, names, 1)
    yield from _taper_and_tuck_faults(method, names)


def _taper_and_tuck_faults(method: Method, names: Names) -> Iterator[Fault]:
    for key, dimension in (("begins", 1), ("ends", 1), ("strands_left", 0)) if method.taper else ():
        yield from _one_formula(("taper", key), getattr(method.taper, key), names, dimension)
    for key in ("unlay", "tail", "tuck") if method.tucks else ():
        if not _is_length(method, getattr(method.tucks, key)):
            yield ("tucks", key), _no_length(method, getattr(method.tucks, key))


def _one_formula(path: Path, text: str, names: Names, dimension: int, *, signed: bool = False) -> Iterator[Fault]:
    try:
        value = evaluate(text, names)
    except GearlogError as error:
        yield path, error.message
        return
    if value.dimension != dimension:
        yield path, _wrong_dimension(text, dimension)
    elif value.value < 0 and not signed:
        yield path, f"'{text}' is less than nothing; turn its signs round"
    elif abs(value.value) > MOST_VALUE:
        yield path, f"'{text}' is far too much to be right; is a unit missing, as in 6 * mm?"


def _wrong_dimension(text: str, dimension: int) -> str:
    if dimension:
        return f"'{text}' must be a length; multiply it by one, as in 6 * d or 150 * mm"
    return f"'{text}' must be a plain number; divide it by a length, as in bury / d"


def _sum_faults(method: Method, names: Names) -> Iterator[Fault]:
    for index, bound in enumerate(method.bounds):
        yield from _one_formula(("bounds", index, "least"), bound.least, names, 1, signed=True)
    for index, count in enumerate(method.counts):
        yield from _one_formula(("counts", index, "formula"), count.formula, names, 0)
    for key in ("cut", "finished", "both_cut", "both_finished") if method.finished else ():
        if text := getattr(method.finished, key):
            yield from _one_formula(("finished", key), text, names, 1, signed=True)
    for name in ("mark_tolerance", "eye_tolerance"):
        yield from _one_formula((name, "within"), getattr(method, name).within, names, 1)
    for key in ("bury", "taper") if method.swelling else ():
        if not _is_length(method, getattr(method.swelling, key)):
            yield ("swelling", key), _no_length(method, getattr(method.swelling, key))


def _is_length(method: Method, name: str) -> bool:
    """Whether the method itself names this length."""
    return name in {rule.name for rule in method.lengths}


def _no_length(method: Method, name: str) -> str:
    listed = ", ".join(dict.fromkeys(rule.name for rule in method.lengths))
    return f"no length is named {quoted(name)}; there are: {listed or 'none'}"


def _step_faults(method: Method) -> Iterator[Fault]:
    marks = {f"mark_{mark.id}" for mark in method.marks}
    for index, mark in enumerate(method.marks):
        yield from _unknown(("marks", index, "do"), placeholders(mark.do), marks)
    named = {rule.name for rule in method.lengths} | {rule.name for rule in method.counts} | {*_probe_names(method)}
    known = named | marks | STEP_WORDS
    for index, step in enumerate(method.steps):
        for name in placeholders(step.text):
            if name not in known:
                yield ("steps", index, "text"), _no_word(name, known)


def _no_word(name: str, known: set[str]) -> str:
    near = get_close_matches(name, known, n=1)
    way_out = f"did you mean {{{near[0]}}}?" if near else f"known: {', '.join(sorted(known))}"
    return f"{{{name}}} is not known; {way_out}"
