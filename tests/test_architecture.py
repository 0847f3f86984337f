"""What the import contracts cannot see: sizes, docstrings, and what a plain verb loads."""

from __future__ import annotations

import ast
import statistics
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted((ROOT / "gearlog").rglob("*.py"))
MODULE_LINES, CLASS_LINES, FUNCTION_LINES = 300, 200, 50
MEDIAN_LINES, NINE_IN_TEN_LINES = 9, 25

Function = ast.FunctionDef | ast.AsyncFunctionDef


def nodes(kind: type[ast.AST] | tuple[type[ast.AST], ...]) -> Iterator[tuple[str, ast.AST]]:
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, kind):
                yield f"{path.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}", node


def size(node: ast.AST) -> int:
    assert isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
    return (node.end_lineno or node.lineno) - node.lineno + 1


def test_no_module_is_longer_than_a_reader_can_hold() -> None:
    long = {str(path.relative_to(ROOT)): len(path.read_text(encoding="utf-8").splitlines()) for path in SOURCES}
    assert {name: lines for name, lines in long.items() if lines > MODULE_LINES} == {}


def test_no_class_grows_into_a_house_of_its_own() -> None:
    assert [(where, size(node)) for where, node in nodes(ast.ClassDef) if size(node) > CLASS_LINES] == []


def test_functions_are_short() -> None:
    sizes = {where: size(node) for where, node in nodes((ast.FunctionDef, ast.AsyncFunctionDef))}
    ordered = sorted(sizes.values())
    assert {where: lines for where, lines in sizes.items() if lines > FUNCTION_LINES} == {}
    assert statistics.median(ordered) <= MEDIAN_LINES
    assert ordered[int(len(ordered) * 0.9)] < NINE_IN_TEN_LINES


def test_every_module_says_what_it_is_for() -> None:
    bare = [
        str(path.relative_to(ROOT)) for path in SOURCES if not ast.get_docstring(ast.parse(path.read_text("utf-8")))
    ]
    assert bare == []


def test_every_function_says_what_it_returns() -> None:
    silent = [
        where
        for where, node in nodes((ast.FunctionDef, ast.AsyncFunctionDef))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.returns is None
    ]
    assert silent == []


PLAN = [
    *("plan", "hollow-eye", "--construction", "hollow-braid", "--fibre", "polyester"),
    *("--diameter", "12 mm", "--eye", "150 mm"),
]


@pytest.mark.parametrize(
    ("call", "unwanted"),
    [
        (["list"], {"textual", "rich", "pint", "reportlab", "xlsxwriter", "openpyxl", "segno", "csv", "zipfile"}),
        (["methods"], {"textual", "rich", "pint"}),
        (PLAN, {"textual", "rich"}),
    ],
    ids=["list", "methods", "plan"],
)
def test_a_plain_verb_loads_no_screens(call: list[str], unwanted: set[str], tmp_path: Path) -> None:
    script = (
        "import sys\n"
        "from gearlog.cli.main import main\n"
        f"main(['--log', {str(tmp_path / 'log')!r}, *{call!r}])\n"
        f"sys.stderr.write(','.join(sorted({unwanted!r} & set(sys.modules))))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60)
    assert done.stderr.splitlines()[-1:] in ([], [""]), done.stderr
