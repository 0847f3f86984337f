"""``gearlog methods``: what can be planned, and the user's own method files: checked, copied from a built-in one."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from gearlog.cli import output
from gearlog.cli.diagnostics import Exit, WrongCallError, tell
from gearlog.errors import MethodError
from gearlog.units.quoting import quoted

if TYPE_CHECKING:
    from gearlog.services.book import Book
    from gearlog.splicing.method import Method


def methods(book: Book, options: Namespace) -> Exit:
    """Print the methods; a file of the user's own that does not read is told and makes a finding."""
    found = [_described(method) for method in book.planner.methods()]
    if options.json:
        output.json(found)
    else:
        for described in found:
            output.lines(_method_lines(described))
    for fault in book.planner.method_faults():
        tell(fault)
    return Exit.FINDING if book.planner.method_faults() else Exit.FINE


def check(book: Book, options: Namespace) -> Exit:
    """Tell each fault of a method file, or that it can be used."""
    own, path = book.planner.own, _path(options.file)
    try:
        method = own.check(path)
    except MethodError as error:
        for fault in error.faults:
            tell(fault)
        return Exit.FINDING
    output.lines([f"{path}: sound; {method.id}: {method.title}; break-test samples before it carries life"])
    if method.carries and method.strength.fraction is None:
        output.lines([f"Note: what it keeps of the rope's strength counts as unknown: {method.strength.why}"])
    if not own.used_from(path) and own.folder is not None:
        output.lines([f"To use it, put the file into {own.folder}"])
    return Exit.FINE


def copy(book: Book, options: Namespace) -> Exit:
    """Write a copy of a built-in method, to be changed by the user; a file that is there stays."""
    own = book.planner.own
    path, text = own.copy(options.method, options.new_id, _path(options.file) if options.file else None)
    if options.file is None:
        path.parent.mkdir(parents=True, exist_ok=True)
    done = output.save(str(path), text.encode(), example="my-eye.toml", instead="name another file")
    output.lines(
        [f"{options.new_id}, a copy of {options.method}, {done}", f"Change it, then: gearlog methods check {path}"]
    )
    return Exit.FINE


def _path(typed: str) -> Path:
    if not typed.strip() or "\0" in typed:
        raise WrongCallError(f"{quoted(typed)} is no name of a file, for example: gearlog methods check my-eye.toml")
    return Path(typed).expanduser()


def _described(method: Method) -> dict[str, Any]:
    named = [rule.source for rule in method.lengths] + [rule.source for rule in method.marks]
    return {
        "id": method.id,
        "title": method.title,
        "fits": method.constructions,
        "lays": method.fits.lays,
        "strands": method.fits.strands,
        "own": method.own,
        "version": method.version,
        "shape": method.shape,
        "asks": method.asks,
        "summary": method.summary,
        "sources": tuple(dict.fromkeys((*map(method.source_text, named), *method.sources.values()))),
    }


def _method_lines(described: dict[str, Any]) -> list[str]:
    whose = "own, experimental" if described["own"] else "built in"
    return [
        f"{described['id']}: {described['title']}, {whose}",
        f"  {described['summary']}",
        f"  fits: {', '.join((*described['fits'], *described['lays']))}",
        *([f"  asks for: {', '.join(described['asks'])}"] if described["asks"] else []),
        *(f"  source: {source}" for source in described["sources"]),
    ]
