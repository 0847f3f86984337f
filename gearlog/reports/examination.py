"""The report of one thorough examination on a sheet of paper, in HTML and as JSON."""

from __future__ import annotations

from gearlog.domain.examination_report import ExaminationReport
from gearlog.reports import pages_html as h
from gearlog.reports.audit_words import MISSING, digest_groups
from gearlog.reports.paper import faces
from gearlog.reports.paper.flow import TITLE as TITLE_SIZE
from gearlog.reports.paper.flow import Flow
from gearlog.reports.paper.furniture import foot_of, signatures
from gearlog.reports.paper.grid import Column, Grid, Part, bold, plain
from gearlog.reports.paper.leaf import PAPERS, printed

TITLE = "Report of thorough examination"
LAW = "Particulars as asked by the Lifting Operations and Lifting Equipment Regulations 1998, Schedule 1."
SIZE = 8.5  # points: a single sheet has room
SIGNED_BY = ("Examined by", "Authenticated by")


def written(report: ExaminationReport, kind: str, *, paper: str) -> bytes:
    """The report as ``pdf``, ``html`` or ``json``."""
    if kind == "pdf":
        return pdf_of(report, paper=paper)
    if kind == "html":
        return html_of(report, paper=paper)
    from gearlog.reports.jsons import to_json

    return (to_json(report) + "\n").encode()


def verdict(report: ExaminationReport) -> str:
    """The line that is read first."""
    safe = {True: "SAFE TO OPERATE", False: "NOT SAFE TO OPERATE", None: "whether it is safe to operate: " + MISSING}
    return f"{report.tag}, {report.name}: examined on {report.on}: {safe[report.safe]}"


def pdf_of(report: ExaminationReport, *, paper: str) -> bytes:
    """The report as a PDF; what is missing has room to be written in."""
    flow = Flow(PAPERS[paper])
    flow.text(TITLE, size=TITLE_SIZE, face=faces.BOLD)
    flow.gap()
    flow.text(verdict(report), size=SIZE + 1, face=faces.BOLD)
    flow.gap()
    flow.text(f"{LAW} {_missing(report)}", size=SIZE)
    flow.gap()
    columns = [Column("Par.", 1), Column("What is asked", 5), Column("What is told", 8)]
    Grid(flow, columns, size=SIZE).fill(
        [
            plain(one.paragraph),
            plain(one.asks),
            [Part(one.text)] if one.text else [bold(MISSING), Part(" ")],
        ]
        for one in report.told
    )
    signatures(flow, SIGNED_BY)
    about = f"{TITLE}, {report.tag}, {report.on}"
    return printed(flow.pages(), flow.size, title=about, foot=foot_of(flow, about, report.digest))


def html_of(report: ExaminationReport, *, paper: str) -> bytes:
    """The report as one HTML file."""
    rows = [
        (
            h.cell(h.words(one.paragraph)),
            h.cell(h.words(one.asks)),
            h.cell(h.words(one.text)) if one.text else h.cell(h.strong(MISSING), "&nbsp;"),  # room to write
        )
        for one in report.told
    ]
    foot = f"{report.tag}, {report.on} - content digest {digest_groups(report.digest)}"
    body = [
        h.heading(TITLE, 1),
        f"<p>{h.strong(verdict(report))}</p>",
        h.paragraph(f"{LAW} {_missing(report)}"),
        h.table(("Par.", "What is asked", "What is told"), rows, shares=(1, 5, 8), foot=foot),
        h.signatures(SIGNED_BY),
    ]
    about = f"{TITLE}: {report.tag}"
    return h.page(about, body, paper=paper, landscape=False, foot=foot)


def _missing(report: ExaminationReport) -> str:
    if not report.missing:
        return "Every particular is told."
    return f"Missing, to be written in by hand: {len(report.missing)} of {len(report.told)} particulars."
