"""What happens to gear beyond its data: cuts, quarantine, handing out, several alike, photos, a past day."""

from __future__ import annotations

from collections.abc import Iterator

from gearlog.domain.vocabulary import Status, label
from gearlog.services.views import Card
from gearlog.tui.dialogs.choose import Choice
from gearlog.tui.dialogs.day import DayDialog
from gearlog.tui.screens.form_screen import FormScreen
from gearlog.tui.screens.gear_desk import GearDesk, present
from gearlog.tui.screens.gear_forms import ADD, MANY, PIECE
from gearlog.tui.screens.gear_life_forms import (
    ASSIGN,
    CUT_END,
    CUT_TRIM,
    DESTROY,
    FIND,
    LEND,
    LOSE,
    QUARANTINE,
    RELEASE,
    RETIRE,
    TAKE_BACK,
)
from gearlog.tui.viewer import show

CUTS: tuple[Choice, ...] = (
    (PIECE, "a piece that goes on as an item of its own"),
    (CUT_END, "an end, with the splice and all that is on it"),
    (CUT_TRIM, "a trim: some rope off an end"),
)
STANDS: dict[Status, tuple[Choice, ...]] = {
    Status.IN_SERVICE: (
        (QUARANTINE, "quarantine: out of use until it is released"),
        (RETIRE, "retire: its use ends for good"),
        (DESTROY, "note its destruction"),
        (LOSE, "record that it was lost"),
    ),
    Status.QUARANTINED: (
        (RELEASE, "release: it may be used again"),
        (RETIRE, "retire: its use ends for good"),
        (DESTROY, "note its destruction"),
        (LOSE, "record that it was lost"),
    ),
    Status.RETIRED: ((DESTROY, "note its destruction"), (LOSE, "record that it was lost")),
    Status.LOST: ((FIND, "record that it was found"), (RETIRE, "retire: its use ends for good")),
}
"""What can be decided on an item that stands so."""
KIT = "kit:"
"""Before the id of a kit that the item can be put into."""


class GearMoves(GearDesk):
    """Cuts, standing, handing out, kits, several alike, a past day."""

    @present
    def action_cut(self) -> None:
        """Cut a piece, an end or a trim off the chosen rope; it is said what moves where before it is saved."""
        card = self.chosen_card()
        if card is None:
            return
        if card.item.rope is None:
            self.gearlog.tell(f"{card.item.tag} is not on record as a rope.", "warning")
            return
        item_id = card.item.id
        self.ask(f"What is cut off {card.item.tag}?", CUTS, lambda draft: self.open_form(f"{draft}:{item_id}"))

    @present
    def action_stand(self) -> None:
        """Take the chosen item out of service or back into it, with a reason."""
        card = self.chosen_card()
        if card is None:
            return
        choices = STANDS.get(card.status, ())
        if not choices:
            self.gearlog.tell(f"{card.item.tag} is {label(card.status)}; strike that entry out with x if it is wrong.")
            return
        item_id = card.item.id
        title = f"{card.item.tag} is {label(card.status)}. What now?"
        self.ask(title, choices, lambda draft: self.open_form(f"{draft}:{item_id}"))

    @present
    def action_hand(self) -> None:
        """Hand the chosen item out, take it back, or put it into a kit."""
        card = self.chosen_card()
        if card is None:
            return
        choices = self._hands(card)
        why = self.book.standing.refusal(card.item.id)
        if why and not card.loan:
            self.gearlog.tell(f"It cannot be handed out: {why}", "error")
            return
        item_id = card.item.id
        self.ask(f"What with {card.item.tag}?", choices, lambda choice: self._hand(item_id, choice))

    def _hands(self, card: Card) -> tuple[Choice, ...]:
        back: tuple[Choice, ...] = ((TAKE_BACK, "take it back from its loan"),) if card.loan else ()
        kits = tuple(
            (KIT + row.kit.id, f"put it into {row.kit.tag}, {row.kit.name}")
            for row in self.book.kits.rows()
            if card.item.id not in row.kit.items
        )
        return (*back, (LEND, "lend it"), (ASSIGN, "give it to somebody for good"), *kits)

    def _hand(self, item_id: str, choice: str) -> None:
        if not choice.startswith(KIT):
            self.open_form(f"{choice}:{item_id}")
            return
        tag = self.book.gear.item(item_id).tag
        if self.gearlog.attempt(lambda: self.book.kits.put(choice.removeprefix(KIT), tag)) is not None:
            self.renew_if_changed()
            self.gearlog.tell("Put into the kit. u takes it back.")

    @present
    def action_several(self) -> None:
        """Add several alike, like the chosen item or afresh."""
        card = self.chosen_card()
        if card is None:
            self.open_form(MANY)
            return
        choices = ((MANY, f"several like {card.item.tag}"), (ADD, "several of something else"))
        item_id = card.item.id
        self.ask(
            "Several of what?", choices, lambda choice: self.open_form(f"{MANY}:{item_id if choice == MANY else ''}")
        )

    @present
    def action_kits(self) -> None:
        """Show the kits."""
        self.show_kits()

    @present
    def action_rules(self) -> None:
        """Say who you are and which rules hold."""
        from gearlog.tui.screens.you import you_task

        self.app.push_screen(FormScreen(you_task(self.book, self.PLACE)), lambda kept: self.renew() if kept else None)

    # Photos

    def action_photos(self) -> None:
        """Show a photo of what was found on the chosen item with the system's viewer."""
        card = self.chosen_card()
        if card is None:
            return
        choices = tuple(photo_choices(card))
        if choices:
            self.ask("Which photo?", choices, self._photo)
        else:
            self.gearlog.tell("No photo of a finding is on record. An inspection takes them, with each finding.")

    def _photo(self, name: str) -> None:
        command = self.gearlog.attempt(lambda: self.book.diary.photo_command(name))
        if command is not None:
            show(self.gearlog, command)

    # A past day

    def action_day(self) -> None:
        """Show all gear as it stood on a past day, or come back to today."""
        start = self.on.isoformat() if self.on else ""
        self.app.push_screen(DayDialog(self.book.today(), start), self._look_at)

    def _look_at(self, answer: str | None) -> None:
        if answer is not None:
            self.look_at(answer)


def photo_choices(card: Card) -> Iterator[Choice]:
    """The photos of an item's inspections, the newest first, each once, told by what they show."""
    told: set[str] = set()
    for one in card.inspections:
        shown = [(name, finding.words) for finding in one.findings for name in finding.photos]
        shown += [(name, f"{label(one.kind)} inspection") for name in one.photos]
        for name, words in shown:
            if name not in told:
                told.add(name)
                yield name, f"{one.inspected_on}  {words}"
    for row in card.findings:
        for name in row.finding.photos:
            if name not in told:
                told.add(name)
                yield name, f"{row.inspection.inspected_on}  {row.finding.words}, before the cut"
