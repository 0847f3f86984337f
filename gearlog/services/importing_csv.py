"""CSV as people have it: the encoding and the delimiter are found out, and said."""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections import Counter
from collections.abc import Iterator

from msgspec.structs import replace

from gearlog.services.importing_headings import score
from gearlog.services.importing_table import LONGEST_CELL, MOST_COLUMNS, MOST_LINES, ImportRefusedError, Line, Table
from gearlog.units.quoting import quoted

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
WINDOWS = "cp1252"
"""What programs of Western Europe and the Americas wrote before UTF-8."""
ENCODINGS = (
    ("cp1252", "Western Europe, Windows (cp1252)"), ("cp1250", "Central Europe, Windows (cp1250)"),
    ("cp1251", "Cyrillic, Windows (cp1251)"), ("cp850", "Western Europe, DOS (cp850)"),
    ("mac_roman", "Western Europe, older Macintosh (mac_roman)"), ("utf-16-le", "UTF-16 without its mark (utf-16-le)"),
)  # fmt: skip
"""What a list that is not in UTF-8 is usually in, and in words."""
LOOKED_AT = 60  # lines by which the delimiter is found
_SEPARATOR_LINE = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
_REPLACED = "\ufffd"
_BOMS = {b"\xef\xbb\xbf": "utf-8-sig", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}
_RE_SAVE = "save the list as CSV in UTF-8, or name its encoding, for example: --encoding cp850"
_TWICE = re.compile("[\u00c2-\u00f4][\u0080-\u00bf\u0152-\u2122]")
"""Two signs that a letter in UTF-8 becomes when it is read as Windows-1252."""


def read_csv(data: bytes, name: str, *, encoding: str = "") -> Table:
    """The lines of a CSV file; raises ImportRefusedError."""
    text, how, notes = _decoded(data, name, encoding)
    marked = _SEPARATOR_LINE.match(text)
    start = marked.end() if marked else 0
    delimiter = marked[1] if marked else _delimiter(text)
    lines = tuple(_lines(text[start:], delimiter, name, skipped=1 if marked else 0))
    if lines and not text.endswith(("\n", "\r")):
        lines = (*lines[:-1], replace(lines[-1], may_be_cut=True))
    if not lines:
        raise ImportRefusedError(f"{name} holds no text; export the list again")
    return Table("csv", f"{how}, {DELIMITERS.get(delimiter, quoted(delimiter))}-separated", lines, notes)


def _decoded(data: bytes, name: str, encoding: str) -> tuple[str, str, tuple[str, ...]]:
    """The text, its encoding in words, and what to look at."""
    if encoding:
        return _as_named(data, name, encoding), encoding, ()
    for mark, found in _BOMS.items():
        if data.startswith(mark):
            return _as_named(data, name, found), found.removesuffix("-sig"), ()
    wide = _wide(data)
    if wide:
        return _as_named(data, name, wide), wide, ()
    if b"\0" in data:
        raise ImportRefusedError(f"{name} holds bytes that no list of text has; {_RE_SAVE}")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return _as_windows(data, name)
    _check(text, name)
    return text, "utf-8", ()


def _wide(data: bytes) -> str:
    """UTF-16 without its mark: signs of our own tongue have a zero in every second byte and in no other."""
    for encoding, zeros, signs in (("utf-16-le", data[1::2], data[::2]), ("utf-16-be", data[::2], data[1::2])):
        if len(data) % 2 == 0 and b"\0" not in signs and zeros.count(0) > len(zeros) / 2:
            return encoding
    return ""


def _which_encoding(message: str) -> ImportRefusedError:
    return ImportRefusedError(message, settles="encoding", answers=ENCODINGS)


def _as_named(data: bytes, name: str, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except LookupError as error:
        raise _which_encoding(f"{quoted(encoding)} is no encoding; for example: --encoding cp1252") from error
    except (UnicodeDecodeError, UnicodeError) as error:
        raise _which_encoding(f"{name} does not read as {encoding}; {_RE_SAVE}") from error
    _check(text, name)
    return text


def _as_windows(data: bytes, name: str) -> tuple[str, str, tuple[str, ...]]:
    """Not UTF-8: taken for Windows-1252 where every sign makes sense in it, and shown for a look."""
    try:
        text = data.decode(WINDOWS)
    except UnicodeDecodeError as error:
        raise _which_encoding(f"{name} is in an encoding that is not recognised; {_RE_SAVE}") from error
    _check(text, name)
    odd = sorted({sign for sign in text if not sign.isascii()})
    if not all(unicodedata.category(sign)[0] in "LPS" or sign in "\u00a0\u00b2\u00b3" for sign in odd):
        raise _which_encoding(f"{name} is in an encoding that is not recognised; {_RE_SAVE}")
    note = f"read as Windows-1252, look at these signs: {' '.join(odd[:20])}; if they are wrong, {_RE_SAVE}"
    return text, WINDOWS, (note,)


def _check(text: str, name: str) -> None:
    if _REPLACED in text:
        raise ImportRefusedError(f"{name} lost letters when it was written (it holds {_REPLACED}); export it again")
    if _TWICE.search(text):
        raise ImportRefusedError(f"{name} was read in a wrong encoding once before ({_twice(text)}); export it again")
    controls = Counter(sign for sign in text if unicodedata.category(sign) == "Cc" and sign not in "\r\n\t")
    if controls:
        raise ImportRefusedError(f"{name} holds control signs that no list of text has; {_RE_SAVE}")


def _twice(text: str) -> str:
    found = _TWICE.search(text)
    return quoted(text[max(found.start() - 8, 0) : found.end() + 4] if found else "")


def _delimiter(text: str) -> str:
    """The delimiter by which most headings are known, else by which most lines have as many cells."""
    head = "\n".join(text.splitlines()[:LOOKED_AT])
    return max(DELIMITERS, key=lambda delimiter: _fitness(head, delimiter))


def _fitness(head: str, delimiter: str) -> tuple[int, int]:
    rows = []
    try:
        rows = [row for row in csv.reader(io.StringIO(head), delimiter=delimiter) if any(row)]
    except csv.Error:
        return 0, 0
    known = max((score(row) for row in rows), default=0)
    widths = Counter(len(row) for row in rows if len(row) > 1)
    return known, max(widths.values(), default=0)


def _lines(text: str, delimiter: str, name: str, *, skipped: int) -> Iterator[Line]:
    """Each record with the number of the line on which it begins; the last one must be whole."""
    csv.field_size_limit(LONGEST_CELL + 1)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    begins, width = skipped + 1, 0
    try:
        for row in reader:
            cells = tuple(cell.strip() for cell in row)
            if any(cells):
                width = width or len(cells)
                yield Line(begins, cells, _fault(cells))
            begins = skipped + reader.line_num + 1
            if begins > MOST_LINES:
                raise ImportRefusedError(f"{name} has more than {MOST_LINES:,} lines; split it")
    except csv.Error as error:
        raise ImportRefusedError(f"{name}, line {begins}: {_csv_words(str(error))}") from error


def _csv_words(reason: str) -> str:
    if "unexpected end" in reason:
        return "a quotation mark is opened and never closed: the file ends in the middle of a line; export it again"
    if "field larger" in reason:
        return f"a cell has more than {LONGEST_CELL:,} characters, or a quotation mark is not closed; mend it"
    return f"the quotation marks do not fit ({reason}); mend the line or export the list again"


def _fault(cells: tuple[str, ...]) -> str:
    return f"has {len(cells)} cells; mend the line" if len(cells) > MOST_COLUMNS else ""
