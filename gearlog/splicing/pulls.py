"""Pulls: how the tail is drawn through, split into stages that the longest tool at hand can reach."""

from __future__ import annotations

import math
from itertools import pairwise

from gearlog.domain.plan import Pull, Tool
from gearlog.splicing.rules import PullRule
from gearlog.splicing.worked import Worked

SLACK = 1e-9  # m; a pull as long as the tool is one stage, whatever the last bit says
MOST_STAGES = 200  # a tool that needs more is no tool; the plan's check says so


def longest_tool(tools: tuple[Tool, ...]) -> Tool | None:
    """The tool that reaches farthest, or None when none is named."""
    return max(tools, key=lambda tool: tool.length_m, default=None)


def pulls_of(worked: Worked) -> tuple[Pull, ...]:
    """All pulls in order; a stage never passes the crossover, nor is it longer than the tool."""
    tool = longest_tool(worked.inputs.tools)
    pulls: list[Pull] = []
    for rule in worked.method.pulls:
        for start, end in pairwise(_stops(worked, rule, tool)):
            pulls.append(
                Pull(
                    part=rule.part,
                    from_m=start,
                    to_m=end,
                    length_m=abs(end - start),
                    tool=tool.name if tool else "",
                    stage=len(pulls) + 1,
                )
            )
    return tuple(pulls)


def _stops(worked: Worked, rule: PullRule, tool: Tool | None) -> list[float]:
    start, end = worked.length_m(rule.start), worked.length_m(rule.end)
    crossover = worked.length_m(rule.crossover) if rule.crossover else None
    legs = [start, end]
    if crossover is not None and start < crossover < end:
        legs.insert(1, crossover)
    stops = [start]
    for before, after in pairwise(legs):
        stops += _split(before, after, tool)
    return stops


def _split(start: float, end: float, tool: Tool | None) -> list[float]:
    """Ends of equal stages from ``start`` to ``end``, either way, each within the tool's reach."""
    length = abs(end - start)
    if length <= SLACK:
        return []
    reach = tool.length_m if tool else length
    stages = min(max(1, math.ceil((length - SLACK) / reach)), MOST_STAGES)
    return [start + (end - start) * index / stages for index in range(1, stages)] + [end]
