"""What stands on paper beside its text: the line at the foot of each page, and the places for signatures."""

from __future__ import annotations

from collections.abc import Sequence

from gearlog.reports.paper import faces
from gearlog.reports.paper.flow import TEXT, Flow
from gearlog.reports.paper.leaf import Foot, Leaf, Rule, Words

SMALL = 6.5  # points of the foot
GROUP = 8  # digits of a digest between two spaces
SIGNING = 26.0  # points above a line to sign on: room for a pen
_SHARES = ((0.0, 0.38, "name"), (0.41, 0.78, "signature"), (0.81, 1.0, "date"))
"""Beginning and end of each line to write on, as shares of the width."""


def foot_of(flow: Flow, about: str, digest: str) -> Foot:
    """What each page of ``flow`` bears at its foot: what it belongs to, the content digest, its number."""
    y = flow.bottom + 12
    groups = " ".join(digest[at : at + GROUP] for at in range(0, len(digest), GROUP))
    right = flow.left + flow.room

    def foot(number: int, count: int) -> Leaf:
        page = f"page {number} of {count}"
        room = flow.room - faces.width(page, SMALL) - SMALL
        left = faces.broken(f"{about} - content digest {groups}", room, SMALL)
        return (
            Rule(flow.left, y - 8, right, y - 8),
            Words(flow.left, y, left, SMALL, step=SMALL * 1.15),
            Words(right - faces.width(page, SMALL), y, (page,), SMALL),
        )

    return foot


def signatures(flow: Flow, who: Sequence[str]) -> None:
    """A line to sign on for each of ``who``, kept together."""
    flow.need((SIGNING + 12) * len(who))
    for words in who:
        flow.gap(SIGNING)
        for start, stop, what in _SHARES:
            begin = flow.left + start * flow.room
            flow.put(Rule(begin, flow.y, flow.left + stop * flow.room, flow.y, 0.6))
            told = f"{words}: {what}" if what == "name" else what
            flow.put(Words(begin, flow.y + SMALL + 2, (told,), SMALL))
        flow.gap(SMALL + 5)
    flow.gap(TEXT)
