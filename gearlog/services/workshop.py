"""The methods at hand: those that come with the program and the user's own, read when they are first asked for."""

from __future__ import annotations

from pathlib import Path

from gearlog.domain.splice import Splice
from gearlog.errors import MethodError, NotFoundError
from gearlog.services.splice_forms import OTHER_METHOD
from gearlog.splicing.method import Method
from gearlog.units.quoting import quoted
from gearlog.units.visible import visible


class Workshop:
    """The methods of one log; a faulty file of the user's own is told and does not hide the others.

    Attributes:
        own_folder: where the user's own methods are looked for, or None.
    """

    def __init__(self, own_folder: Path | None) -> None:
        self.own_folder = own_folder
        self._methods: tuple[Method, ...] | None = None
        self._faults: tuple[str, ...] = ()

    def methods(self) -> tuple[Method, ...]:
        """Every method that reads; the built-in ones first."""
        if self._methods is None:
            self._methods = self._read()
        return self._methods

    def read_again(self) -> None:
        """Forget the methods, so that the user's own are read from their folder when they are next asked for."""
        self._methods = None

    def faults(self) -> tuple[str, ...]:
        """What is wrong with the user's own files, a line each."""
        self.methods()
        return self._faults

    def method(self, method_id: str) -> Method:
        """The method with this id; raises NotFoundError."""
        for method in self.methods():
            if method.id == method_id:
                return method
        raise NotFoundError(f"no method {quoted(method_id)}; see the methods with: gearlog methods")

    def title(self, splice: Splice) -> str:
        """The title of the method a splice was made by, from its plan where it has one."""
        if splice.plan is not None:
            return splice.plan.method_title
        if splice.method == OTHER_METHOD[0]:
            return OTHER_METHOD[1]
        titles = {method.id: method.title for method in self.methods()}
        return titles.get(splice.method, splice.method)

    def _read(self) -> tuple[Method, ...]:
        from gearlog.splicing.method_file import load_builtin

        found = {method.id: method for method in load_builtin()}
        faults: list[str] = []
        for path in self._own_files():
            try:
                method = read_file(path)
            except MethodError as error:
                faults += error.faults
            else:
                faults += _taken(found, method, path.name)
                found.setdefault(method.id, method)
        self._faults = tuple(faults)
        return tuple(found.values())

    def _own_files(self) -> list[Path]:
        folder = self.own_folder
        return sorted(folder.glob("*.toml")) if folder is not None and folder.is_dir() else []


def _taken(found: dict[str, Method], method: Method, file_name: str) -> list[str]:
    if method.id not in found:
        return []
    return [f"{file_name}: the id {quoted(method.id)} belongs to another method; give this one its own id"]


def read_file(path: Path) -> Method:
    """The user's own method in a file; raises MethodError that names file, line and reason of every fault."""
    from gearlog.splicing.method_file import LARGEST, read_bytes

    try:
        if path.exists() and not path.is_file():  # a folder, or a pipe that nobody may ever write to
            raise MethodError(f"{visible(path.name)}: is no plain file; save the method as one")
        with path.open("rb") as file:
            data = file.read(LARGEST * 4 + 1)  # four bytes at most for a character, so that an endless file ends
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such name can be"
        raise MethodError(f"{visible(path.name)}: cannot be read: {reason}; name a file that is there") from error
    return read_bytes(data, path.name, own=True)
