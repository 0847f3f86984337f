"""Earlier versions of a splice's record: when and why each was replaced, and all that it said otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from gearlog.domain.splice import Splice
from gearlog.tui.widgets.lines import Line, Tone, heading, paragraph

INSET = 2  # cells before the name of a fact
Facts = Sequence[tuple[str, str]]
"""What a version says, name by name; empty words where nothing was noted."""


def corrected_words(versions: Sequence[Splice]) -> str:
    """That a record was corrected, when and why; ``versions`` newest first, the one in force among them."""
    newest = versions[0]
    when = newest.created_at.date().isoformat()
    return f"{when}: {newest.correction_reason}; v shows what it said before"


def version_lines(versions: Sequence[Splice], told: Mapping[str, Facts], width: int, name: int) -> Iterator[Line]:
    """The versions before the newest; ``told`` holds what each says by its id, ``name`` the cells for a name."""
    yield from heading("Earlier versions, kept as they were")
    for later, earlier in pairwise(versions):
        when = later.created_at.date().isoformat()
        yield from paragraph(f"replaced on {when}: {later.correction_reason}", width, tone=Tone.STRONG)
        for fact, words, now in _unlike(told[earlier.id], told[later.id]):
            said = f"{words or 'nothing noted'}; corrected to {now or 'nothing'}"
            yield from paragraph(said, width, first=" " * INSET + fact.ljust(name))


def _unlike(before: Facts, after: Facts) -> Iterator[tuple[str, str, str]]:
    """Each fact that the two tell otherwise: its name, what was said, what is said now."""
    then, now = dict(before), dict(after)
    for fact in dict.fromkeys([*then, *now]):
        if then.get(fact, "") != now.get(fact, ""):
            yield fact, then.get(fact, ""), now.get(fact, "")
