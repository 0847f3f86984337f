"""What was typed and can neither be saved nor kept with the log, put into a plain file elsewhere: nothing is lost."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from gearlog.errors import NotFoundError
from gearlog.services.book import Book
from gearlog.services.clock import utc_now
from gearlog.services.handing_out import put_whole

INDENT = "    "  # before the further lines of a text of several
Forms = Mapping[str, Mapping[str, str]]


def usual_places() -> tuple[Path, ...]:
    """Where it goes: the user's own folder, else that for passing files."""
    passing = Path(tempfile.gettempdir())
    try:
        return (Path.home(), passing)
    except RuntimeError:  # a user without a folder
        return (passing,)


def put_unsaved(book: Book, forms: Forms, places: Sequence[Path] | None = None) -> Path | None:
    """Write the forms, field by field, where that can be done; the new file, or None where it cannot be anywhere."""
    now = utc_now().astimezone()
    text = "\n".join(_lines(book, forms, f"{now:%Y-%m-%d %H:%M}")) + "\n"
    for place in usual_places() if places is None else places:
        path = place / f"gearlog-not-saved-{now:%Y-%m-%d-%H%M%S}.txt"
        try:
            put_whole(path, text.encode("utf-8", "surrogatepass"))
        except OSError:
            continue
        return path
    return None


def _lines(book: Book, forms: Forms, when: str) -> Iterator[str]:
    yield f"gearlog, {when}: typed and not saved, for the log in {book.folder}"
    for name, form in forms.items():
        yield ""
        yield f"[{_named(book, name)}]"
        for field, text in form.items():
            if text.strip():
                yield f"{field}: " + f"\n{INDENT}".join(text.splitlines())


def _named(book: Book, draft: str) -> str:
    """The form's name, with the tag of an item in the place of its id."""
    return ":".join(_tag_of(book, part) for part in draft.split(":"))


def _tag_of(book: Book, part: str) -> str:
    try:
        return book.gear.item(part).tag
    except NotFoundError:
        return part
