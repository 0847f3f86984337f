"""Pages of HTML that stand in one file, print well in black and white, and never run what people typed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from gearlog.units.visible import visible

_PAGE_SIZES = {"a4": "A4", "letter": "letter"}
_STYLE = """
:root { color-scheme: light; }
body { font: 13px/1.35 'DejaVu Sans Condensed', 'Liberation Sans Narrow', 'Arial Narrow', Arial, Helvetica, sans-serif;
  color: #000; background: #fff; margin: 16px; }
h1 { font-size: 24px; margin: 0 0 6px; }
h2 { font-size: 17px; margin: 20px 0 6px; break-after: avoid; }
h3 { font-size: 14px; margin: 12px 0 4px; break-after: avoid; }
p { margin: 4px 0; max-width: 100ch; }
table { border-collapse: collapse; table-layout: fixed; width: 100%; margin: 4px 0 10px; }
th, td { text-align: left; vertical-align: top; padding: 3px 6px; border-bottom: 1px solid #000; }
td { overflow-wrap: anywhere; }
thead th { border-top: 1px solid #000; background: #e6e6e6; }
tr { break-inside: avoid; }
tfoot { display: none; }
tfoot td { border: 0; font-size: 10px; }
td div + div { margin-top: 1px; }
.sign td { border: 0; padding-top: 34px; }
.sign td span { display: block; border-top: 1px solid #000; font-size: 11px; }
.page { break-before: page; }
@media print {
  body { font-size: 8pt; margin: 0; }
  h1 { font-size: 16pt; } h2 { font-size: 11pt; } h3 { font-size: 9pt; }
  .page h2 { margin-top: 0; }
  tfoot { display: table-footer-group; }
  tfoot td { font-size: 6.5pt; }
}
"""


def page(title: str, body: Iterable[str], *, paper: str, landscape: bool, foot: str = "") -> bytes:
    """One whole file.

    ``foot``, by default the title, and the page's number stand at the foot of each printed page where the printing
    program can do that; the feet of tables are printed where it cannot, so both may be there.
    """
    across = " landscape" if landscape else ""
    printed = (
        f"@page {{ size: {_PAGE_SIZES[paper]}{across}; margin: 12mm 12mm 15mm;"
        f' @bottom-left {{ content: "{_in_css(foot or title)}"; font-size: 6.5pt; white-space: nowrap; }}'
        ' @bottom-right { content: "page " counter(page) " of " counter(pages); font-size: 6.5pt; } }'
    )
    lines = [
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{words(title)}</title>",
        f"<style>{_STYLE}{printed}</style>",
        "</head>",
        "<body>",
        *body,
        "</body>",
        "</html>",
    ]
    return ("\n".join(lines) + "\n").encode()


def words(text: str) -> str:
    """People's text as text."""
    return escape(visible(text))


def heading(text: str, level: int = 2) -> str:
    """A heading."""
    return f"<h{level}>{words(text)}</h{level}>"


def paragraph(text: str) -> str:
    """A paragraph."""
    return f"<p>{words(text)}</p>"


def strong(text: str) -> str:
    """Text that stands out."""
    return f"<strong>{words(text)}</strong>"


def cell(*parts: str) -> str:
    """A cell of parts that are HTML already, each on a line of its own."""
    told = [part for part in parts if part]
    inner = told[0] if len(told) == 1 else "".join(f"<div>{part}</div>" for part in told)
    return f'<td dir="auto">{inner}</td>'


def table(
    headings: Sequence[str], rows: Iterable[Sequence[str]], *, shares: Sequence[float] = (), foot: str = ""
) -> str:
    """A table of cells that are HTML already; headings and ``foot`` are repeated on each printed page.

    ``shares`` are those of the columns of the width; equal ones unless they are told.
    """
    head = "".join(f'<th scope="col">{words(one)}</th>' for one in headings)
    lines = ["<table>"]
    if shares:
        columns = (f'<col style="width: {100 * share / sum(shares):.1f}%">' for share in shares)
        lines.append(f"<colgroup>{''.join(columns)}</colgroup>")
    lines.append(f"<thead><tr>{head}</tr></thead>")
    if foot:
        lines.append(f'<tfoot><tr><td colspan="{len(headings)}">{words(foot)}</td></tr></tfoot>')
    lines.append("<tbody>")
    lines += [f"<tr>{''.join(row)}</tr>" for row in rows]
    return "\n".join([*lines, "</tbody>", "</table>"])


def signatures(who: Iterable[str]) -> str:
    """A line to sign on for each."""
    rows = "".join(
        f"<tr>{''.join(f'<td><span>{words(what)}</span></td>' for what in (f'{one}: name', 'signature', 'date'))}</tr>"
        for one in who
    )
    return f'<table class="sign"><tbody>{rows}</tbody></table>'


def _in_css(text: str) -> str:
    """Text between quotation marks of a style; signs that could end it are written as numbers."""
    return "".join(sign if sign.isalnum() or sign in " .,-:/" else f"\\{ord(sign):x} " for sign in visible(text))
