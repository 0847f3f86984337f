"""Methods of the user's own: a built-in one copied to be changed, and a file checked before it is used."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from gearlog.errors import GearlogError, MethodError, NotFoundError
from gearlog.services.workshop import Workshop, read_file
from gearlog.splicing.method import Method
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible

ID = re.compile(r"[a-z][a-z0-9-]{1,39}")
EXPERIMENT = "own, experimental: break-test samples before it carries life"
SUFFIX = ".toml"
STRENGTH = "[strength]"
TITLE = 'title = "'
"""Begins the line with the method's title; lengths and counts have theirs further down."""


class OwnMethods:
    """The door for methods that the user writes."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop

    @property
    def folder(self) -> Path | None:
        """Where the log looks for them; None for a log that leaves nothing on the disk."""
        return self._workshop.own_folder

    def check(self, path: Path) -> Method:
        """The method in a file, if it can be used; raises MethodError with every fault, its line and way out."""
        method = read_file(path)
        if method.id in self._built_in():
            told = (
                f"{visible(path.name)}, line {_id_line(path)}: the id {quoted(method.id)} belongs to a built-in method"
            )
            told += "; give yours its own, such as my-eye"
            raise MethodError(told, faults=(told,))
        return method

    def copy(self, method_id: str, new_id: str, path: Path | None = None) -> tuple[Path, str]:
        """The file that a copy of a built-in method goes to, and its text; nothing is written here.

        Raises NotFoundError for a method that is not built in, MethodError for an id that cannot be.
        """
        if not ID.fullmatch(new_id):
            raise MethodError(f"{quoted(new_id)} is no id: it has 2 to 40 small letters, digits and -, such as my-eye")
        if new_id in {method.id for method in self._workshop.methods()}:
            raise MethodError(f"the id {quoted(new_id)} is taken; choose another, such as {new_id[:36]}-2")
        if method_id not in self._built_in():
            raise NotFoundError(f"no built-in method {quoted(method_id)}; see them with: gearlog methods")
        return self._place(new_id, path), _copied(method_id, new_id)

    def _place(self, new_id: str, path: Path | None) -> Path:
        if path is not None:
            return path.expanduser()
        if self.folder is None:
            raise GearlogError("this log leaves nothing on the disk; name the file to write, such as my-eye.toml")
        return self.folder / f"{new_id}{SUFFIX}"

    def _built_in(self) -> frozenset[str]:
        from gearlog.splicing.method_file import load_builtin

        return frozenset(method.id for method in load_builtin())

    def used_from(self, path: Path) -> bool:
        """Whether a file lies where this log looks for methods."""
        return self.folder is not None and path.resolve().parent == self.folder.resolve() and path.suffix == SUFFIX


def _copied(method_id: str, new_id: str) -> str:
    """The built-in file with its new id, also in its title, and, at its head, what there is to do."""
    from gearlog.splicing.method_file import builtin_text, load_builtin

    lines = builtin_text(method_id).splitlines()
    head = next(index for index, line in enumerate(lines) if line.startswith("id = "))
    lines[head] = f'id = "{new_id}"'
    title = next(index for index, line in enumerate(lines) if line.startswith(TITLE))
    lines[title] = lines[title].replace(TITLE, f"{TITLE}{new_id}: ", 1)
    if STRENGTH in lines and next(method for method in load_builtin() if method.id == method_id).carries:
        below = lines.index(STRENGTH) + 1
        lines[below:below] = _of_strength(published=lines[below].startswith("fraction"))
    return "\n".join([*_notice(method_id), *lines, ""])


def _of_strength(*, published: bool) -> Iterator[str]:
    if published:
        yield "# The figure below is of the published method, not of yours: with its present source it does not count,"
        yield "# and your plans show no working load. Put in its place what break tests or the maker's figure tell:"
    else:
        yield "# When your break tests, or the maker's figure for this method, tell what it keeps, put it here instead:"
    yield "#   fraction = (the lowest, between 0 and 1)"
    yield '#   source = "own"'


def _notice(method_id: str) -> Iterator[str]:
    yield f"# Copied from the built-in method '{method_id}' to be changed: {EXPERIMENT}."
    yield '# Where you change a number, change its source too: "own" for what you measured, or a key of [sources].'
    yield "# Check the file with: gearlog methods check FILE"


def _id_line(path: Path) -> int:
    from gearlog.splicing.toml_lines import line_of

    return line_of(path.read_text(encoding="utf-8-sig"), ("id",))
