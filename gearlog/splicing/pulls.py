"""Pulls: how the tail is drawn through, in stages that the tools at hand can reach.

A pull is done in legs: to the crossover where the method has one, then on. Each leg is done by the tool that needs the
fewest stages, of several the shortest; a tool that is too thick for the rope only where there is no other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from gearlog.domain.plan import Pull, Tool
from gearlog.splicing.formula import evaluate
from gearlog.splicing.rules import PullRule
from gearlog.splicing.tape import division_m, nearest
from gearlog.splicing.worked import Worked

SLACK = 1e-9  # m; a pull as long as the tool is one stage, whatever the last bit says
MOST_STAGES = 200  # a tool that needs more is no tool; the plan's check says so


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight part of a pull: its formulas and places (m), the tool for it, and its equal stages."""

    rule: PullRule
    start: str
    end: str
    start_m: float
    end_m: float
    tool: Tool | None
    stages: int

    def stop_m(self, index: int) -> float:
        """Where stage ``index`` ends; 0 is the leg's beginning."""
        if index == self.stages:
            return self.end_m
        return self.start_m + (self.end_m - self.start_m) * index / self.stages


def legs_of(worked: Worked) -> tuple[Leg, ...]:
    """All legs of all pulls, in order; a leg without length is left out."""
    legs: list[Leg] = []
    for rule in worked.method.pulls:
        for start, end in pairwise(_turning_points(worked, rule)):
            from_m, to_m = worked.length_m(start), worked.length_m(end)
            length = abs(to_m - from_m)
            if length > SLACK:
                tool = best_tool(length, worked.inputs.tools, thickest_m(worked))
                legs.append(Leg(rule, start, end, from_m, to_m, tool, stages_for(length, tool)))
    return tuple(legs)


def pulls_of(worked: Worked) -> tuple[Pull, ...]:
    """All pulls in order; a stage never passes the crossover, nor is it longer than its tool."""
    pulls: list[Pull] = []
    for leg in legs_of(worked):
        stops = [(leg.stop_m(index), _on_tape(worked, leg, index)) for index in range(leg.stages + 1)]
        for (start, tape_start), (end, tape_end) in pairwise(stops):
            pulls.append(
                Pull(
                    part=leg.rule.part,
                    from_m=start,
                    to_m=end,
                    length_m=abs(end - start),
                    tool=leg.tool.name if leg.tool else "",
                    stage=len(pulls) + 1,
                    tape_from_m=tape_start,
                    tape_to_m=tape_end,
                )
            )
    return tuple(pulls)


def _on_tape(worked: Worked, leg: Leg, index: int) -> float:
    """Where stage ``index`` ends on the user's tape, between the tape's places of the leg's ends."""
    start, end = (evaluate(formula, worked.tape_names).value for formula in (leg.start, leg.end))
    return float(nearest(start + (end - start) * index / leg.stages, division_m(worked.inputs)))


def thickest_m(worked: Worked) -> float | None:
    """How thick a tool may be in this rope (m), or None where the method does not say."""
    most = worked.method.limits.tool_over_rope
    return None if most is None else most * worked.inputs.rope.diameter_m


def best_tool(length_m: float, tools: Sequence[Tool], most_m: float | None) -> Tool | None:
    """The tool for a leg of ``length_m``: fewest stages, then shortest; thin enough where any is. None without one."""
    thin = [tool for tool in tools if most_m is None or tool.thickness_m is None or tool.thickness_m <= most_m + SLACK]
    return min(thin or tools, key=lambda tool: (_asked_stages(length_m, tool), tool.length_m), default=None)


def stages_for(length_m: float, tool: Tool | None) -> int:
    """How many equal stages a leg takes."""
    if tool is None:
        return 1
    return min(_asked_stages(length_m, tool), MOST_STAGES)


def _asked_stages(length_m: float, tool: Tool) -> int:
    return max(1, math.ceil((length_m - SLACK) / tool.length_m))


def _turning_points(worked: Worked, rule: PullRule) -> tuple[str, ...]:
    """Formulas of where a pull begins, where it stops at the crossover on its way, and where it ends."""
    start, end = worked.length_m(rule.start), worked.length_m(rule.end)
    if rule.crossover and start < worked.length_m(rule.crossover) < end:
        return rule.start, rule.crossover, rule.end
    return rule.start, rule.end
