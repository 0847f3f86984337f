"""Plain lines, one fact a line, for a script, a printer or a screen reader."""

from __future__ import annotations

from gearlog.reports.plain_lists import Listed, due_lines, item_lines
from gearlog.reports.plain_plan import plan_lines
from gearlog.reports.plain_recall import recall_lines

__all__ = ["Listed", "due_lines", "item_lines", "plan_lines", "recall_lines"]
