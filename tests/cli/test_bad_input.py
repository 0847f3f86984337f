"""Whatever is typed into an option: one clear line, never a traceback, shown as typed."""

from __future__ import annotations

import pytest

from gearlog.cli.diagnostics import MOST
from gearlog.services.forms import PLAN_FORM, YES, FieldKind
from tests.cli.conftest import Call

GOOD = {"construction": "hollow-braid", "diameter": "12 mm", "eye": "150 mm"}
BAD = {
    "nothing": "",
    "zero": "0",
    "negative": "-5 mm",
    "no unit there is": "12 bananas",
    "bare": "12",
    "over zero": "1/0 in",
    "endless": "9" * 10_000,
    "tower": "10**10**10",
    "comma": "1,5 m",
    "knots": "22 kn",
    "not a number": "nan",
    "control": "\x1b[31m12 mm\x07",
    "markup": "[/] and [red]",
    "right to left": "\u202eחבל 5",
    "wide": "１２ mm 釣り",  # noqa: RUF001 (wide digits are what is tried)
    "half a pair": "\udcff",
    "NUL": "a\0b",
}
NO_WORDS = ["three-strand", "three-strand, , "]
OPTIONS = [field for field in PLAN_FORM if field.name != "method" and field.choices != YES]
NUMBERS = {FieldKind.WHOLE, FieldKind.NUMBER}


@pytest.mark.parametrize("field", OPTIONS, ids=lambda field: field.name)
def test_bad_text_in_an_option_is_refused_in_one_line(call: Call, field) -> None:  # type: ignore[no-untyped-def]
    for name, text in BAD.items():
        option = "--" + field.name.replace("_", "-")
        others = [part for key, good in GOOD.items() if key != field.name for part in ("--" + key, good)]
        ended = call("plan", "hollow-eye", f"{option}={text}", *others)
        if text == "" and field.name not in GOOD:
            assert (ended.code, ended.err) == (0, ""), name  # an empty field is 'not known'
            continue
        if name == "bare" and field.kind in NUMBERS and field.most >= 12:
            assert ended.code in (0, 1), name
            continue
        assert ended.code == 2, (name, ended)
        assert ended.out == ""
        refused_in_one_line(ended.err)
        assert option in ended.err, name


@pytest.mark.parametrize("option", ["--both-ends", "--tapered", "--force", "--explain"])
def test_an_option_that_only_says_yes_takes_no_text(call: Call, option: str) -> None:
    for text in BAD.values():
        ended = call("plan", "laid-eye", "--construction", "three-strand", "--diameter", "12 mm", f"{option}={text}")
        assert (ended.code, ended.out) == (2, "")
        refused_in_one_line(ended.err)
        assert option in ended.err


def refused_in_one_line(err: str) -> None:
    assert err.startswith("gearlog: ")
    assert err.count("\n") == 1
    assert err.endswith("\n")
    assert len(err) <= MOST + 30
    assert err[:-1].isprintable()
    assert "Traceback" not in err


@pytest.mark.parametrize("text", BAD.values(), ids=BAD.keys())
@pytest.mark.parametrize(
    "call_with",
    [
        lambda text: ["plan", text, "--construction", "hollow-braid", "--diameter", "12 mm", "--eye", "9 cm"],
        lambda text: ["recall", f"--rope={text}"],
        lambda text: ["recall", f"--diameter={text}"],
        lambda text: ["audit", f"--format={text}", "--out", "x"],
        lambda text: ["audit", f"--out={text}/there/is/no/such/folder"],
        lambda text: ["plan", "hollow-eye", f"--card={text}"],
        lambda text: ["methods", text],
        lambda text: ["methods", "copy", text, "x.toml", "--as", "my-eye"],
        lambda text: ["methods", "copy", "hollow-eye", "x.toml", f"--as={text}!"],
        lambda text: ["methods", "copy", "hollow-eye", f"{text}/no/such/folder", "--as", "my-eye"],
        lambda text: ["compare", text, "three-strand"],
        lambda text: ["compare", "three-strand", f"three-strand, {text}, {text}"],
        lambda text: [text],
        lambda text: ["list", f"--{text}"],
        lambda text: ["list", text],
    ],
    ids=[
        "method",
        "rope",
        "recall",
        "format",
        "out",
        "card",
        "methods",
        "copied",
        "as",
        "file",
        "tag",
        "words",
        "verb",
        "option",
        "stray",
    ],
)
def test_bad_text_anywhere_else_is_refused_in_one_line(call: Call, call_with, text: str) -> None:  # type: ignore[no-untyped-def]
    arguments = call_with(text)
    if arguments in (["list", "--"], ["recall", "--diameter="], ["recall", "--rope="], ["compare", *NO_WORDS]):
        return
    ended = call(*arguments)
    assert ended.code == 2, ended
    assert ended.out == ""
    refused_in_one_line(ended.err)


@pytest.mark.parametrize("text", ["", "  ", "a\0b", "x" * 10_000, "\udcff/\0"])
def test_a_folder_that_cannot_be_is_refused_in_one_line(call: Call, text: str) -> None:
    ended = call("list", f"--log={text}")
    assert ended.code in (1, 2)
    refused_in_one_line(ended.err)
