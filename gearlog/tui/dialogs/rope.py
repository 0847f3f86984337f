"""A rope of the log, by some letters or by its tag, typed or scanned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from gearlog.tui.dialogs.choose import Choice, ChooseDialog


class RopeDialog(ChooseDialog):
    """Answers the id of the rope; a text that is a tag takes just that rope, whatever else it is found in.

    Args:
        choices: ids and words of the ropes.
        tags: ids by tag in small letters.
        start_on: the id to start on.
    """

    def __init__(self, choices: Sequence[Choice], tags: Mapping[str, str], start_on: str = "") -> None:
        super().__init__("Which rope?", choices, start_on)
        self.tags = tags

    def exact(self, text: str) -> str | None:
        """The rope with this tag."""
        return self.tags.get(text)
