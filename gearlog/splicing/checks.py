"""Checks of a plan: stop, warn, note, each with a reason and a source. A check is a function; the list is the rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from gearlog.domain.plan import Check, EyeGeometry, Level, Pull, TaperStep
from gearlog.splicing.marks import reach_m
from gearlog.splicing.method import COMMON_PRACTICE, COMMON_PRACTICE_LABEL
from gearlog.splicing.pulls import MOST_STAGES, longest_tool
from gearlog.splicing.tapers import largest_step
from gearlog.splicing.worked import Worked, applies

TURNS_TO_UNLAY = (5, 10)  # NAVEDTRA 14251 ch. 4 (5) and NAVEDTRA 12018 ch. 7 (8 to 10)
TURNS_SOURCE = "NAVEDTRA 14251 ch. 4, NAVEDTRA 12018 ch. 7"
FROM_THE_METHOD = "worked out from the method's marks"
GEOMETRY = "plane geometry of the loop on the pin"
ROUNDING = 1e-9  # relative; a limit that is met exactly is met


@dataclass(frozen=True, slots=True)
class Draft:
    """What the checks look at."""

    worked: Worked
    eye: EyeGeometry
    taper: tuple[TaperStep, ...]
    pulls: tuple[Pull, ...]


def checks_of(draft: Draft) -> tuple[Check, ...]:
    """All findings, stops first, then warnings, then notes."""
    found = [check for rule in CHECKS for check in rule(draft)]
    return tuple(sorted(found, key=lambda check: ("stop", "warn", "note").index(check.level)))


def _check(level: Level, code: str, message: str, source: str) -> Check:
    return Check(level=level, code=code, message=message, source=source)


def _rope_long_enough(draft: Draft) -> Iterator[Check]:
    there, needed = draft.worked.inputs.rope.length_m, reach_m(draft.worked)
    if there is not None and needed > there * (1 + ROUNDING):
        show = draft.worked.show
        message = f"The splice takes {show(needed)} of rope, and only {show(there)} is there. Take a longer rope."
        yield _check("stop", "rope-too-short", message, FROM_THE_METHOD)


def _clear_rope(draft: Draft) -> Iterator[Check]:
    clear, least = draft.worked.inputs.clear_rope_m, draft.worked.method.limits.clear_over_rope
    if clear is None or least is None:
        return
    wanted = least * draft.worked.inputs.rope.diameter_m
    if clear < wanted * (1 - ROUNDING):
        show = draft.worked.show
        message = f"Only {show(max(clear, 0.0))} of clear rope would lie between the splices; {show(wanted)} are asked."
        source = draft.worked.method.source_text(draft.worked.method.limits.clear_over_rope_source)
        yield _check("stop" if clear <= 0 else "warn", "splices-too-close", message, source)


def _pin_fits(draft: Draft) -> Iterator[Check]:
    if draft.eye.pin_m is not None and draft.eye.half_angle_deg is None:
        show = draft.worked.show
        message = f"A pin of {show(draft.eye.pin_m)} does not fit into a loop of {show(draft.eye.circumference_m)}."
        yield _check("stop", "pin-too-large", message + " Plan a larger eye.", GEOMETRY)


def _eye_over_pin(draft: Draft) -> Iterator[Check]:
    limits, pin = draft.worked.method.limits, draft.eye.pin_m
    if pin is None or limits.eye_over_pin is None or draft.eye.half_angle_deg is None:
        return
    least = limits.eye_over_pin * pin
    if draft.eye.inside_length_m < least * (1 - ROUNDING):
        message = f"The eye is shorter than {limits.eye_over_pin:g} pin diameters ({draft.worked.show(least)})."
        source = draft.worked.method.source_text(limits.eye_over_pin_source)
        yield _check("warn", "eye-small-for-pin", message, source)


def _throat_angle(draft: Draft) -> Iterator[Check]:
    limits, half = draft.worked.method.limits, draft.eye.half_angle_deg
    if half is not None and limits.throat_angle_deg is not None and 2 * half > limits.throat_angle_deg * (1 + ROUNDING):
        message = f"The legs meet at {2 * half:.1f} deg on this pin; {limits.throat_angle_deg:g} deg is the most."
        source = draft.worked.method.source_text(limits.throat_angle_deg_source)
        yield _check("warn", "throat-angle", message + " Plan a larger eye.", source)


def _curvature(draft: Draft) -> Iterator[Check]:
    limits, ratio = draft.worked.method.limits, draft.eye.d_over_d
    if ratio is not None and limits.pin_over_rope is not None and ratio < limits.pin_over_rope * (1 - ROUNDING):
        message = f"The pin is {ratio:.2f} rope diameters thick; at least {limits.pin_over_rope:g} are asked (D/d)."
        source = draft.worked.method.source_text(limits.pin_over_rope_source)
        yield _check("warn", "curvature", message + " Take a thicker pin or a thimble.", source)


def _eye_over_rope(draft: Draft) -> Iterator[Check]:
    limits = draft.worked.method.limits
    if limits.eye_over_rope is None:
        return
    least = limits.eye_over_rope * draft.worked.inputs.rope.diameter_m
    if draft.eye.inside_length_m < least * (1 - ROUNDING):
        message = f"The eye is shorter than {limits.eye_over_rope:g} rope diameters ({draft.worked.show(least)})."
        source = draft.worked.method.source_text(limits.eye_over_rope_source)
        yield _check("warn", "eye-small", message + " A small eye spreads the throat.", source)


def _taper_steps(draft: Draft) -> Iterator[Check]:
    rule, strands = draft.worked.method.taper, draft.worked.strands
    if rule is None:
        return
    if not draft.taper:
        message = f"A braid of {strands} strands cannot be tapered in pairs; count the strands, an even number."
        yield _check("warn", "taper-impossible", message, draft.worked.method.source_text(rule.source))
    elif (most := largest_step(draft.taper)) > rule.most_fraction * (1 + ROUNDING):
        message = f"A step of the taper takes out {most:.0%} of the rope at once; {rule.most_fraction:.0%} is the most."
        yield _check("warn", "taper-step", message, draft.worked.method.source_text(rule.source))


def _tools(draft: Draft) -> Iterator[Check]:
    tool = longest_tool(draft.worked.inputs.tools)
    if not draft.worked.method.pulls:
        return
    if tool is None:
        message = "No tool is named: each pull is shown whole. Name the fid at hand to have it split."
        yield _check("note", "no-tool", message, FROM_THE_METHOD)
        return
    unsplit = 1 + sum(1 for rule in draft.worked.method.pulls if rule.crossover)
    if len(draft.pulls) >= MOST_STAGES:
        yield _check("stop", "tool-too-short", f"'{tool.name}' is too short for these pulls.", FROM_THE_METHOD)
    elif len(draft.pulls) > unsplit:
        message = (
            f"'{tool.name}' ({draft.worked.show(tool.length_m)}) is shorter than the pull: {len(draft.pulls)} stages."
        )
        yield _check("note", "tool-short", message, FROM_THE_METHOD)
    yield from _tool_thickness(draft)


def _tool_thickness(draft: Draft) -> Iterator[Check]:
    tool, limits = longest_tool(draft.worked.inputs.tools), draft.worked.method.limits
    if tool is None or tool.thickness_m is None or limits.tool_over_rope is None:
        return
    most = limits.tool_over_rope * draft.worked.inputs.rope.diameter_m
    if tool.thickness_m > most * (1 + ROUNDING):
        message = f"'{tool.name}' is thicker than {limits.tool_over_rope:g} rope diameters ({draft.worked.show(most)})."
        yield _check("warn", "tool-too-thick", message, draft.worked.method.source_text(limits.tool_over_rope_source))


def _turns(draft: Draft) -> Iterator[Check]:
    names = draft.worked.names
    if not {"unlay", "lay"} <= names.keys():
        return
    turns = float(names["unlay"].value / names["lay"].value)
    least, most = TURNS_TO_UNLAY
    if not least * (1 - ROUNDING) <= turns <= most * (1 + ROUNDING):
        message = (
            f"{turns:.1f} turns of the lay are unlaid; the handbooks name {least} to {most}. Measure the lay length."
        )
        yield _check("note", "turns", message, TURNS_SOURCE)


def _assumed_strands(draft: Draft) -> Iterator[Check]:
    if draft.worked.strands_assumed and draft.worked.method.taper:
        message = f"The number of strands is not known: {draft.worked.strands} are taken. Count them before you taper."
        yield _check("note", "strands-assumed", message, COMMON_PRACTICE_LABEL)


def _remarks(draft: Draft) -> Iterator[Check]:
    for remark in draft.worked.method.remarks:
        if applies(remark.when, draft.worked.inputs):
            source = draft.worked.method.source_text(remark.source)
            yield _check(remark.level, remark.code, remark.message, source)


def _strength_known(draft: Draft) -> Iterator[Check]:
    method = draft.worked.method
    if draft.worked.inputs.rope.mbs_n is None:
        message = "The rope's breaking strength is not known, so no working load is shown."
        yield _check("note", "mbs-unknown", message, "nothing was typed")
    if method.strength.fraction is None:
        message = f"The strength that this splice keeps is not known: {method.strength.why}."
        yield _check("note", "retained-unknown", message, "no citable source")


def _own_method(draft: Draft) -> Iterator[Check]:
    if draft.worked.method.own:
        message = "This method is the user's own: an experiment until break tests or a maker's sheet confirm it."
        yield _check("warn", "own-method", message, "the user's own")


def _common_practice(draft: Draft) -> Iterator[Check]:
    titles = [length.title for length in draft.worked.lengths if length.common_practice]
    if COMMON_PRACTICE in (draft.worked.method.taper.source if draft.worked.method.taper else ""):
        titles.append("strands left in the taper")
    if COMMON_PRACTICE in draft.worked.method.fits.source or titles:
        listed = ", ".join(dict.fromkeys([*titles, "the order of the marks"]))
        message = f"Common practice, unconfirmed: {listed}. Compare with the rope maker's sheet before cutting."
        yield _check("note", "common-practice", message, COMMON_PRACTICE_LABEL)


CHECKS: tuple[Callable[[Draft], Iterator[Check]], ...] = (
    _rope_long_enough,
    _clear_rope,
    _pin_fits,
    _eye_over_pin,
    _throat_angle,
    _curvature,
    _eye_over_rope,
    _taper_steps,
    _tools,
    _turns,
    _assumed_strands,
    _remarks,
    _strength_known,
    _own_method,
    _common_practice,
)
