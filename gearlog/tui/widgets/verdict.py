"""The verdict in words: what the rules say so far and why, and how much is still to be looked at."""

from __future__ import annotations

from textual.content import Content

from gearlog.domain.inspection import InspectionKind, Mark, Severity, Verdict
from gearlog.domain.vocabulary import label
from gearlog.services.sheet import Sheet
from gearlog.tui.text import cell, content
from gearlog.units.quoting import quoted

TITLES = {
    InspectionKind.BEFORE_USE: "Look before use",
    InspectionKind.INTERIM: "Interim inspection",
    InspectionKind.THOROUGH: "Thorough examination",
    InspectionKind.AFTER_EVENT: "Examination after an event",
}
"""What each kind is called in a title."""
VERDICTS = {
    Verdict.FIT: "FIT",
    Verdict.WATCH: "FIT, TO BE WATCHED",
    Verdict.OUT_OF_SERVICE: "OUT OF SERVICE",
    Verdict.RETIRE: "RETIRE",
}
"""Each verdict, loud without colour."""
_STYLES = {Verdict.FIT: "bold", Verdict.WATCH: "$warn bold"}
_BY_MARK = ((Mark.FAIL, "that fails"), (Mark.WATCH, "to be watched"))


def sum_words(sheet: Sheet, width: int) -> Content:
    """Two lines: how much is left to do, and the verdict that the rules give so far with its reason."""
    lead = "by the rules: " if not sheet.unanswered else "so far by the rules: "
    verdict, why = VERDICTS[sheet.ruled], because(sheet)
    room = width - len(lead) - len(verdict)
    return Content.assemble(
        content(left_words(sheet), "$quiet"),
        "\n",
        Content.styled(lead, "$quiet"),
        Content.styled(verdict, _STYLES.get(sheet.ruled, "$bad bold")),
        cell(f": {why}", room).rstrip() if why else "",
    )


def left_words(sheet: Sheet) -> str:
    """How many lines are answered, and how many were not even looked at."""
    answered = len(sheet.lines) - len(sheet.unanswered)
    told = f"{answered} of {len(sheet.lines)} answered"
    if not sheet.unanswered:
        return f"{told}: ctrl+s goes to the verdict"
    rest = f"{len(sheet.unseen)} not looked at yet" if sheet.unseen else "all were looked at: P lets the rest pass"
    return f"{told}, {rest}"


def because(sheet: Sheet) -> str:
    """The first thing from which the rules' verdict follows, or empty for what is fit."""
    grave = {Verdict.OUT_OF_SERVICE: Severity.STOP, Verdict.WATCH: Severity.WATCH}.get(sheet.ruled)
    for finding in sheet.findings:
        if finding.severity is grave:
            return f"finding {quoted(finding.words)}"
    for mark, words in _BY_MARK:
        for number, line in enumerate(sheet.lines, 1):
            given = sheet.answers.get(line.key)
            if given is not None and given.mark is mark:
                return f"line {number} {words}, {line.look}"
    return ""


def ruled_words(sheet: Sheet) -> str:
    """The rules' verdict and its reason in one sentence."""
    why = because(sheet)
    reason = f"because of {why}" if why else "every line passes or does not apply"
    return f"By the rules: {label(sheet.ruled)}, {reason}."
