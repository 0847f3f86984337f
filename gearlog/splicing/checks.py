"""Checks of a plan: stop, warn, note, each with a reason and a source. A check is a function; the list is the rule."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from gearlog.domain.plan import Check
from gearlog.splicing import checks_eye, checks_line, checks_practice, checks_rope, checks_words, checks_work
from gearlog.splicing.draft import Draft

CHECKS: tuple[Callable[[Draft], Iterator[Check]], ...] = (
    checks_work.rope_long_enough,
    checks_work.clear_rope,
    checks_work.both_ends,
    checks_work.left_out,
    checks_work.bounds,
    checks_eye.pin_fits,
    checks_eye.eye_over_pin,
    checks_eye.throat_angle,
    checks_eye.curvature,
    checks_eye.eye_over_rope,
    checks_work.taper_steps,
    checks_work.fill,
    checks_work.jam,
    checks_work.tools,
    checks_work.turns,
    checks_work.assumed_strands,
    checks_words.measured_diameter,
    checks_words.remarks,
    checks_words.correction,
    checks_rope.likely_strength,
    checks_rope.overloaded,
    checks_line.climbing_line,
    checks_words.strength_known,
    checks_rope.break_test,
    checks_rope.hitches,
    checks_rope.nylon_stretch,
    checks_words.knots,
    checks_words.own_method,
    checks_practice.common_practice,
)


def checks_of(draft: Draft) -> tuple[Check, ...]:
    """All findings of all checks."""
    return tuple(check for rule in CHECKS for check in rule(draft))


def ordered(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Stops first, then warnings, then notes."""
    return tuple(sorted(checks, key=lambda check: ("stop", "warn", "note").index(check.level)))
