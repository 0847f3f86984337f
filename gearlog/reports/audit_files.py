"""An audit as the bytes of a file, in the format that was asked for."""

from __future__ import annotations

from gearlog.domain.audited import Audit
from gearlog.reports.audit_words import TITLE, digest_groups


def written(audit: Audit, kind: str, *, paper: str = "a4", pages: bool = False) -> bytes:
    """The audit as ``csv``, ``xlsx``, ``html``, ``pdf`` or ``json``."""
    if kind == "csv":
        return csv_of(audit)
    if kind == "xlsx":
        return xlsx_of(audit, paper=paper)
    if kind == "html":
        from gearlog.reports.audit_html import html_of

        return html_of(audit, paper=paper, pages=pages)
    if kind == "pdf":
        from gearlog.reports.audit_pdf import pdf_of

        return pdf_of(audit, paper=paper, pages=pages)
    return json_of(audit)


def csv_of(audit: Audit, table: str = "register", *, bom: bool = False) -> bytes:
    """One of the audit's tables as CSV."""
    from gearlog.reports.audit_tables import table_of
    from gearlog.reports.csvs import to_csv

    found = table_of(audit, table)
    return to_csv(found.headings, found.rows, bom=bom)


def xlsx_of(audit: Audit, *, paper: str) -> bytes:
    """All of the audit's tables as a workbook."""
    from gearlog.reports.audit_tables import tables_of
    from gearlog.reports.xlsx import to_xlsx

    foot = f"{TITLE} as of {audit.on}, {len(audit.items)} items, digest {digest_groups(audit.digest)}"
    return to_xlsx(tables_of(audit), title=f"{TITLE} as of {audit.on}", foot=foot, paper=paper)


def json_of(audit: Audit) -> bytes:
    """All that the audit tells, and the records from which the digest is made."""
    from gearlog.reports.audit_words import CANONICAL
    from gearlog.reports.jsons import to_json

    told = {name: getattr(audit, name) for name in audit.__struct_fields__ if name not in {"headings", "retired"}}
    told["retired"] = [item.tag for item in audit.retired]
    told["overdue"] = [item.tag for item in audit.overdue]
    told["quarantined"] = [item.tag for item in audit.quarantined]
    told["headings"] = audit.headings
    told["how_the_digest_is_made"] = CANONICAL
    return (to_json(told) + "\n").encode()
