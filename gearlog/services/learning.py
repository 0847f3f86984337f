"""Learning from the diary: the correction it offers for the eye, taken on request only, and given back."""

from __future__ import annotations

from gearlog.domain.recalled import Bias, Offer
from gearlog.domain.vocabulary import Unit
from gearlog.errors import Fault, InvalidRecordError
from gearlog.reports.recalled_words import interval
from gearlog.reports.words import Tape
from gearlog.services.correcting import FIELD, correction_text
from gearlog.services.planner import Planner
from gearlog.services.reading_forms import Form
from gearlog.services.shelf import Shelf


class Learning:
    """What the diary teaches the planner; nothing of it is used unless the user says so."""

    def __init__(self, shelf: Shelf, planner: Planner) -> None:
        self._shelf = shelf
        self._planner = planner

    def offer(self, form: Form) -> Offer:
        """What splices like the one in the planner's form suggest; raises InvalidRecordError."""
        from gearlog.recall import offered

        return offered(self._planner.recall_for(form).summary)

    def words(self, offer: Offer) -> str:
        """The offer, or why there is none, in one sentence."""
        if offer.bias is None or offer.correction_m is None:
            return offer.reason
        return f"mark the eye {self._tape().longer(offer.correction_m)}: {self._because(offer.bias)}"

    def taken(self, form: Form) -> dict[str, str]:
        """The form with the offered correction in it; raises InvalidRecordError where nothing is offered."""
        offer = self.offer(form)
        if offer.bias is None or offer.correction_m is None:
            raise InvalidRecordError((Fault(FIELD, f"is not offered: {offer.reason}", "plan without a correction"),))
        imperial = self._shelf.store.settings.unit is Unit.IMPERIAL
        return dict(form) | {FIELD: correction_text(offer.correction_m, self._because(offer.bias), imperial=imperial)}

    def undone(self, form: Form) -> dict[str, str]:
        """The form without a correction."""
        return dict(form) | {FIELD: ""}

    def _because(self, bias: Bias) -> str:
        tape = self._tape()
        came_out = f"came out {tape.longer(bias.mean_m)} than marked on average"
        return f"{bias.n} like eyes {came_out} ({interval(bias, tape)})"

    def _tape(self) -> Tape:
        settings = self._shelf.store.settings
        return Tape(settings.unit is Unit.IMPERIAL, settings.tape_parts)
