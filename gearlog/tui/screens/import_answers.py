"""What one answers while an old list is looked at: a question for all lines, one line, one cell, a column, the file."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace
from textual import on

from gearlog.services.importing_answers import Pairs, asked, fields, of_line, read_as, typed_anew
from gearlog.services.importing_choices import Choices
from gearlog.services.importing_table import ImportRefusedError
from gearlog.services.importing_views import Cell, LineFate, Question, Trial
from gearlog.tui.dialogs.choose import ChooseDialog
from gearlog.tui.dialogs.reason import ReasonDialog
from gearlog.tui.screens.base import GearlogScreen
from gearlog.tui.widgets.import_rows import CELL, COLUMN, EACH, LINE, NOTE, QUESTION, REFUSED, Row, waiting
from gearlog.tui.widgets.record_list import RecordList

ONE_LINE = "Enter on a line further down answers for that line alone"
CELL_HINT = "2024-05-31, 11 mm, the word you mean; empty: nothing there"


class ImportAnswers(GearlogScreen[None]):
    """Answers go into ``choices``, and the list is tried again with them."""

    def __init__(self, choices: Choices) -> None:
        super().__init__()
        self.choices = choices
        self.trial: Trial | None = None
        self.refused: ImportRefusedError | None = None
        self.answered: dict[str, tuple[Question, str]] = {}

    @property
    def rows(self) -> RecordList[Row]:
        """The rows."""
        return self.query_one(RecordList)

    def try_again(self) -> None:
        """Try the list by what was said so far."""
        raise NotImplementedError

    @on(RecordList.Opened)
    def _opened(self) -> None:
        row = self.rows.chosen_row
        if row is None:
            return
        if row.kind == REFUSED and self.refused is not None:
            self._settle_file(self.refused)
        elif self.trial is not None and row.kind != NOTE:
            {QUESTION: self._ask, COLUMN: self._read_column, CELL: self._type_again, EACH: self._say_again,
             LINE: self._mend}[row.kind](row.key, self.trial)  # fmt: skip

    def _settle_file(self, refused: ImportRefusedError) -> None:
        name = refused.settles
        self._choose(f"Which {name}?", refused.answers, "", lambda value: replace(self.choices, **{name: value}))

    def _ask(self, name: str, trial: Trial) -> None:
        known = {question.id: question for question in trial.questions}
        question = known[name] if name in known else self.answered[name][0]
        found = asked(question, trial)
        if not found.answers:
            self.gearlog.tell(f"{question.asks} {ONE_LINE}.")
            return

        def settle(value: str) -> Choices:
            self.answered[name] = (question, dict(found.answers)[value])
            return found.settle(self.choices, value)

        more = f" {ONE_LINE}." if question.lines > 1 and _is_of_lines(name, trial) else ""
        self._choose(f"{question.asks} ({waiting(question)} for one answer){more}", found.answers, "", settle)

    def _read_column(self, heading: str, trial: Trial) -> None:
        start = next((one.field for one in trial.columns if one.heading == heading), "") or fields()[0][0]
        title = f"What does the column {heading} hold?"
        self._choose(title, fields(), start, lambda field: read_as(self.choices, heading, field))

    # One line, one cell

    def _mend(self, key: str, trial: Trial) -> None:
        """What can be answered of one line; where there are several things, which."""
        fate = next(one for one in trial.fates if str(one.line) == key)
        acts: dict[str, tuple[str, Callable[[], None]]] = {}
        for place, cell in enumerate(fate.cells):
            acts[f"cell {place}"] = (f"{cell.heading}: {cell.text}", lambda cell=cell: self._type(cell))  # type: ignore[misc]
        for name in fate.asked:
            if of_line(name, fate) is not None:
                acts[name] = (f"its {name}", lambda name=name: self._say(name, fate))  # type: ignore[misc]
        if not acts:
            self.gearlog.tell("Nothing of this line can be answered here; what does not read is mended in the list.")
        elif len(acts) == 1:
            next(iter(acts.values()))[1]()
        else:
            choices = tuple((name, words) for name, (words, _) in acts.items())
            dialog = ChooseDialog(f"What of line {fate.line}?", choices, choices[0][0])
            self.app.push_screen(dialog, lambda name: acts[name][1]() if name else None)

    def _type(self, cell: Cell) -> None:
        said = self.choices.cells.get(cell.heading, {}).get(cell.text, cell.text)
        words = (
            f"{cell.why}\n\nType what it is. Every line that has the same text in this column is read so; the list "
            "itself is not changed."
        )

        def typed(text: str | None) -> None:
            if text is not None and text != said:
                self._said(typed_anew(self.choices, cell, text))

        dialog = ReasonDialog(f"{cell.heading}: {cell.text}", words, hint=CELL_HINT, start=said, empty=True)
        self.app.push_screen(dialog, typed)

    def _say(self, name: str, fate: LineFate) -> None:
        found = of_line(name, fate)
        if found is not None:
            title = f"{fate.tag or fate.name}, line {fate.line}: which {name}?"
            start = self.choices.each.get(name, {}).get(fate.tag or fate.name, "")
            self._choose(title, found.answers, start, lambda value: found.settle(self.choices, value))

    def _type_again(self, key: str, trial: Trial) -> None:
        """A cell that was typed anew, once more."""
        del trial
        heading, _, text = key.partition("\x1f")
        self._type(Cell(heading, text, "It was typed anew."))

    def _say_again(self, key: str, trial: Trial) -> None:
        """What was said of one line, once more."""
        field, _, line = key.partition("\x1f")
        for fate in trial.fates:
            if line in {fate.tag, fate.name}:
                self._say(field, fate)
                return

    def _choose(self, title: str, choices: Pairs, start: str, settle: Callable[[str], Choices]) -> None:
        def chosen(value: str | None) -> None:
            if value:
                self._said(settle(value))

        self.app.push_screen(ChooseDialog(title, choices, start or choices[0][0]), chosen)

    def _said(self, choices: Choices) -> None:
        self.choices = choices
        self.try_again()


def _is_of_lines(name: str, trial: Trial) -> bool:
    """Whether a question can be answered line by line."""
    return any(name in one.asked and (one.cells or of_line(name, one)) for one in trial.fates)
