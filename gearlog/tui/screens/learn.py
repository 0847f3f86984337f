"""What it teaches: splices like one, summed up, with what may be taken from them into the plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from gearlog.domain.recalled import Recall
from gearlog.domain.splice import Splice
from gearlog.domain.vocabulary import End, Unit
from gearlog.errors import NotFoundError
from gearlog.reports.pictures import WIDTH, Picture
from gearlog.reports.words import Tape
from gearlog.services.forms import CONSTRUCTIONS
from gearlog.tui.keys import bindings
from gearlog.tui.screens.page_over import PageOver
from gearlog.tui.widgets.learn_view import LearnPage, Offered, about_lines

if TYPE_CHECKING:
    from gearlog.services.book import Book

Form = Mapping[str, str]


class LearnScreen(PageOver):
    """The page over its main screen.

    Args:
        place: the main screen.
        form: gives the planner's form whose splices are asked for.
        adjust: takes a correction into the form or out of it, then does what it is given; None where there is no plan.
    """

    KEYS = "learn"
    TOPIC = "Lessons"
    BINDINGS: ClassVar[list[BindingType]] = bindings("learn")
    HELP = (
        "What splices of this method in ropes like this one teach: how they came out, with which tools, what was hard. "
        "A mean stands never without its interval and n, strength never without its lower bound; with too few it is "
        "said that they are too few. A correction, of the eye or of how much a bury shortens the rope, is only "
        "offered: d takes it into the plan, where it is shown, and d takes it out again; with two it is asked which. "
        "Different methods and constructions are never put together without a word."
    )

    def __init__(
        self, place: str, form: Callable[[], Form], adjust: Callable[[Callable[[], None]], None] | None = None
    ) -> None:
        super().__init__(place)
        self._form = form
        self._adjust = adjust

    def begin(self) -> None:
        """Show it from the first line."""
        self.renew()

    def renew(self) -> None:
        """Draw it from the book anew."""
        page, asked = self._page(), about(self.book, self._form())
        self.show_page(lambda width: about_lines(asked, width), lambda width: page(width).lines(width))

    def _page(self) -> Callable[[int], LearnPage]:
        book, form = self.book, self._form()
        recall = book.planner.recall_for(form)
        offered = [
            Offered(
                of=one.of.name,
                words=one.words,
                there_is_one=one.offer.correction_m is not None,
                taken=one.taken,
                by_key=self._adjust is not None,
            )
            for one in book.learning.suggestions(form)
        ]
        tape = Tape(book.settings.unit is Unit.IMPERIAL, book.settings.tape_parts)
        return lambda width: LearnPage(recall, offered, drawn(book, form, recall, width), tape)

    def action_adjust(self) -> None:
        """Take an offered correction into the plan, or take it out again."""
        if self._adjust is None:
            self.gearlog.tell("There is no plan here to take it into: press p on the splice, then d in the planner.")
        else:
            self._adjust(self.renew)


def drawn(book: Book, form: Form, recall: Recall, width: int) -> tuple[Picture, ...]:
    """The small pictures of the splices that are summed up."""
    method = form.get("method", "")
    asked = [match.splice.id for match in recall.matches if not method or match.splice.method == method]
    wanted = frozenset(asked[: recall.summary.made])
    return book.diary.pictures([row for row in book.diary.rows() if row.splice.id in wanted], min(width, WIDTH))


def form_like(book: Book, splice: Splice) -> dict[str, str]:
    """The planner's form that asks for splices like this one."""
    try:
        form = book.planner.form_for(splice.rope_id, "" if splice.end is End.BETWEEN else splice.end.value)
    except NotFoundError:
        form = _of_plan(book, splice)
    known = _methods(book)
    return form | {"method": splice.method if splice.method in known else ""}


def _of_plan(book: Book, splice: Splice) -> dict[str, str]:
    construction = splice.plan.inputs.rope.construction if splice.plan else ""
    return book.planner.blank_form() | {"construction": construction}


def about(book: Book, form: Form) -> str:
    """Which splices are asked for: the method and the rope."""
    method = _methods(book).get(form.get("method", ""), "any method")
    made = dict(CONSTRUCTIONS).get(form.get("construction", ""), "")
    rope = ", ".join(filter(None, (form.get("rope", ""), made)))
    return f"{method}; {rope or 'any rope'} and ropes like it"


def _methods(book: Book) -> dict[str, str]:
    return {method.id: method.title for method in book.planner.methods()}
