"""The rule sets that hold in a log: those that the user's region asks for, and files of the user's own."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec.structs import replace

from gearlog.errors import NotFoundError
from gearlog.storage import Store
from gearlog.units.quoting import quoted
from gearlog.upkeep.rule_files import BASE, RulesError, RuleSet, builtin_sets, read_rules
from gearlog.upkeep.schedule import DEFAULT_BOOK, RuleBook


class Schedule:
    """Which rule sets there are and which of them hold; the user's own hold as soon as their file is there."""

    def __init__(self, store: Store, own_folder: Path | None) -> None:
        self._store = store
        self._own_folder = own_folder
        self._own: tuple[RuleSet, ...] | None = None
        self._faults: tuple[str, ...] = ()
        self._book: tuple[tuple[str, ...], RuleBook] | None = None

    def sets(self) -> tuple[RuleSet, ...]:
        """Every set that can be chosen, and the user's own."""
        return (*(one for one in builtin_sets() if one.id != BASE), *self._own_sets())

    def chosen(self) -> tuple[str, ...]:
        """Ids of the sets that hold; none is our default, six months on the safe side."""
        return (*self._store.settings.rule_sets, *(one.id for one in self._own_sets()))

    def choose(self, ids: Sequence[str]) -> None:
        """Let these built-in sets hold from now on; raises NotFoundError, StorageError."""
        known = {one.id for one in builtin_sets()} - {BASE}
        for wanted in ids:
            if wanted not in known:
                raise NotFoundError(f"no rule set {quoted(wanted)}; choose of: {', '.join(sorted(known))}")
        self._store.save_settings(replace(self._store.settings, rule_sets=tuple(dict.fromkeys(ids))))

    def faults(self) -> tuple[str, ...]:
        """What is wrong with the user's own files, a line each; while there is a fault, six months hold too."""
        self._own_sets()
        return self._faults

    def book(self) -> RuleBook:
        """The rules that hold now."""
        ids = self._store.settings.rule_sets
        if self._book is None or self._book[0] != ids:
            self._book = (ids, self._made(ids))
        return self._book[1]

    def _made(self, ids: tuple[str, ...]) -> RuleBook:
        own = self._own_sets()
        if not ids and not own and not self._faults:
            return DEFAULT_BOOK
        built_in = {one.id: one for one in builtin_sets()}
        lost = [wanted for wanted in ids if wanted not in built_in]
        chosen = tuple(built_in[wanted] for wanted in ids if wanted in built_in)
        return RuleBook((*chosen, *own), cautious=bool(self._faults or lost))

    def _own_sets(self) -> tuple[RuleSet, ...]:
        if self._own is None:
            self._own = self._read()
        return self._own

    def _read(self) -> tuple[RuleSet, ...]:
        found: dict[str, RuleSet] = {}
        faults: list[str] = []
        for path in self._files():
            try:
                one = read_rules(path.read_text(encoding="utf-8"), path.name, own=True)
            except RulesError as error:
                faults.append(error.message)
            except (OSError, UnicodeDecodeError):
                faults.append(f"{path.name}: cannot be read; save it as plain UTF-8 text")
            else:
                if one.id in found:
                    faults.append(f"{path.name}: the id {quoted(one.id)} is that of another file; give it its own")
                found.setdefault(one.id, one)
        self._faults = tuple(faults)
        return tuple(found.values())

    def _files(self) -> list[Path]:
        folder = self._own_folder
        return sorted(folder.glob("*.toml")) if folder is not None and folder.is_dir() else []
