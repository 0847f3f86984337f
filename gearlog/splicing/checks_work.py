"""Checks of the work: rope enough, clear rope, tapers, fill, tools, turns."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.constructions import construction
from gearlog.domain.plan import Check
from gearlog.domain.plan_inputs import Tool
from gearlog.splicing.draft import FROM_THE_METHOD, ROUNDING, Draft, found
from gearlog.splicing.formula import evaluate
from gearlog.splicing.marks import reach_m, spans_of
from gearlog.splicing.method import COMMON_PRACTICE_LABEL
from gearlog.splicing.profile import largest_jump, least_inside
from gearlog.splicing.pulls import MOST_STAGES, legs_of, thickest_m
from gearlog.splicing.tapers import largest_step

TURNS_TO_UNLAY = (5, 10)  # NAVEDTRA 14251 ch. 4 (5) and NAVEDTRA 12018 ch. 7 (8 to 10)
TURNS_SOURCE = "NAVEDTRA 14251 ch. 4, NAVEDTRA 12018 ch. 7"


def rope_long_enough(draft: Draft) -> Iterator[Check]:
    """Whether the rope is long enough for the splice."""
    there, needed = draft.worked.inputs.rope.length_m, _needed_m(draft)
    if there is not None and needed > there * (1 + ROUNDING):
        show = draft.worked.show
        message = f"The splice takes {show(needed)} of rope, and only {show(there)} is there. Take a longer rope."
        yield found("stop", "rope-too-short", message, FROM_THE_METHOD)


def _needed_m(draft: Draft) -> float:
    """What this one rope must hold; the cut length of a join is that of both ropes together."""
    cut = draft.worked.names.get("cut") if draft.worked.method.shape != "join" else None
    return max(reach_m(draft.worked), float(cut.value) if cut else 0.0)


def clear_rope(draft: Draft) -> Iterator[Check]:
    """Clear rope between this splice and the next one."""
    clear, least = draft.worked.inputs.clear_rope_m, draft.worked.method.limits.clear_over_rope
    if clear is None or least is None:
        return
    wanted = least * draft.worked.inputs.rope.diameter_m
    if clear < wanted * (1 - ROUNDING):
        show = draft.worked.show
        message = f"Only {show(max(clear, 0.0))} of clear rope would lie between the splices; {show(wanted)} are asked."
        source = draft.worked.method.source_text(draft.worked.method.limits.clear_over_rope_source)
        yield found("stop" if clear <= 0 else "warn", "splices-too-close", message, source)


def taper_steps(draft: Draft) -> Iterator[Check]:
    """Whether the strands can leave in pairs, and how much leaves at once."""
    rule, strands = draft.worked.method.taper, draft.worked.strands
    if rule is None:
        return
    if not draft.taper:
        message = f"A braid of {strands} strands cannot be tapered in pairs; count the strands, an even number."
        yield found("warn", "taper-impossible", message, draft.worked.method.source_text(rule.source))
    elif (most := largest_step(draft.taper)) > rule.most_fraction * (1 + ROUNDING):
        message = f"A step of the taper takes out {most:.0%} of the rope at once; {rule.most_fraction:.0%} is the most."
        yield found("warn", "taper-step", message, draft.worked.method.source_text(rule.source))


def tools(draft: Draft) -> Iterator[Check]:
    """What the tools at hand can reach, and whether they go into the rope."""
    if not draft.worked.method.pulls:
        return
    if not draft.worked.inputs.tools:
        message = "No tool is named: each pull is shown whole. Name the fid at hand to have it split."
        yield found("note", "no-tool", message, FROM_THE_METHOD)
        return
    legs = legs_of(draft.worked)
    for tool in dict.fromkeys(leg.tool for leg in legs if leg.tool):
        stages = max(leg.stages for leg in legs if leg.tool == tool)
        if stages >= MOST_STAGES:
            yield found("stop", "tool-too-short", f"'{tool.name}' is too short for these pulls.", FROM_THE_METHOD)
        elif stages > 1:
            shown = draft.worked.show(tool.length_m)
            message = f"'{tool.name}' ({shown}) is shorter than the pull: {stages} stages."
            yield found("note", "tool-short", message, FROM_THE_METHOD)
        yield from _thickness(draft, tool)


def _thickness(draft: Draft, tool: Tool) -> Iterator[Check]:
    most, limits = thickest_m(draft.worked), draft.worked.method.limits
    if most is None or tool.thickness_m is None or tool.thickness_m <= most * (1 + ROUNDING):
        return
    message = f"'{tool.name}' is thicker than {limits.tool_over_rope:g} rope diameters ({draft.worked.show(most)})."
    yield found("warn", "tool-too-thick", message, draft.worked.method.source_text(limits.tool_over_rope_source))


def turns(draft: Draft) -> Iterator[Check]:
    """Turns to unlay for an eye against what handbooks name; of other splices their methods say it themselves."""
    names = draft.worked.names
    if draft.worked.method.shape != "eye" or not {"unlay", "lay"} <= names.keys():
        return
    turns = float(names["unlay"].value / names["lay"].value)
    least, most = TURNS_TO_UNLAY
    if not least * (1 - ROUNDING) <= turns <= most * (1 + ROUNDING):
        message = (
            f"{turns:.1f} turns of the lay are unlaid; for an eye the handbooks name {least} to {most}. "
            "Measure the lay length."
        )
        yield found("note", "turns", message, TURNS_SOURCE)


def assumed_strands(draft: Draft) -> Iterator[Check]:
    """A number of strands that nobody counted."""
    if draft.worked.strands_assumed and draft.worked.method.taper:
        message = f"The number of strands is not known: {draft.worked.strands} are taken. Count them before you taper."
        usual = construction(draft.worked.inputs.rope.construction).sources.get("strand_counts", COMMON_PRACTICE_LABEL)
        yield found("note", "strands-assumed", message, usual)


def bounds(draft: Draft) -> Iterator[Check]:
    """The method's own lengths that may not be less than nothing."""
    for bound in draft.worked.method.bounds:
        if evaluate(bound.least, draft.worked.names).value < 0:
            yield found(bound.level, bound.code, bound.message, draft.worked.method.source_text(bound.source))


def left_out(draft: Draft) -> Iterator[Check]:
    """A cut length whose sum knows nothing of something: cut after the first splice was measured."""
    rule, inputs = draft.worked.method.finished, draft.worked.inputs
    if rule is None or not rule.leaves_out or inputs.finished_m is None:
        return
    message = (
        f"The cut length leaves out {rule.leaves_out}. Leave the rope longer, make the first splice, measure what "
        "it took, and cut the other end by that."
    )
    yield found("warn", "sum-leaves-out", message, draft.worked.method.source_text(rule.source))


def both_ends(draft: Draft) -> Iterator[Check]:
    """Two equal splices on one piece: the clear rope that is left between them."""
    limits, names = draft.worked.method.limits, draft.worked.names
    rule = draft.worked.method.finished
    twice = draft.worked.inputs.both_ends and rule is not None and bool(rule.both_cut)
    if not twice or "cut" not in names or limits.clear_over_rope is None:
        return
    clear = float(names["cut"].value) - 2 * reach_m(draft.worked)
    wanted = limits.clear_over_rope * draft.worked.inputs.rope.diameter_m
    if clear < wanted * (1 - ROUNDING):
        show = draft.worked.show
        message = (
            f"Only {show(max(clear, 0.0))} of clear rope would lie between the two splices; {show(wanted)} are asked."
        )
        source = draft.worked.method.source_text(limits.clear_over_rope_source)
        yield found("stop", "splices-too-close", f"{message} Ask for a longer piece.", source)


def fill(draft: Draft) -> Iterator[Check]:
    """What lies inside along the bury: too much, or a step."""
    rule = draft.worked.method.fill
    if rule is None or not draft.fill:
        return
    most, jump = max(point.fraction for point in draft.fill), largest_jump(draft.fill)
    source = draft.worked.method.source_text(rule.source)
    if most > rule.most * (1 + ROUNDING):
        message = f"Up to {most:.0%} of what the braid holds would lie inside; {rule.most:.0%} is the most."
        yield found("warn", "too-full", f"{message} Leave fewer strands at the tail's end.", source)
    if jump > rule.most_step * (1 + ROUNDING):
        message = f"The filling jumps by {jump:.0%} at one place; {rule.most_step:.0%} is the most."
        yield found("warn", "fill-step", f"{message} Taper to fewer strands.", source)
    if any(span.kind == "core-taper" for span in draft.worked.method.spans):
        yield from _tapers_meet(draft)


def _tapers_meet(draft: Draft) -> Iterator[Check]:
    """Whether the core takes over before the tail has faded: nowhere may less than a whole one lie inside."""
    least = least_inside(draft.fill, spans_of(draft.worked))
    if least < 1 - ROUNDING:
        message = (
            f"The two tapers do not meet: only {least:.0%} of a whole core lies inside between them, and the cover is "
            "hollow there. Lay the core's taper over the tail's."
        )
        yield found("warn", "tapers-apart", message, FROM_THE_METHOD)


def jam(draft: Draft) -> Iterator[Check]:
    """A braid whose strands would lie across the rope before it has swollen that far."""
    over = draft.worked.shortening
    if over is not None and over.ratio <= 0:
        message = (
            f"A braid with its strands at {over.braid_angle_deg:g} deg jams before its diameter has grown "
            f"{over.swelling:g} times: that tail would not go in. Measure the braid angle and the swelling again."
        )
        yield found("stop", "braid-jams", message, over.source)
