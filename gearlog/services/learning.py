"""Learning from the diary: the corrections it offers, taken on request only, and given back."""

from __future__ import annotations

import msgspec

from gearlog.domain.recalled import Bias, Offer
from gearlog.domain.vocabulary import Unit
from gearlog.errors import Fault, InvalidRecordError
from gearlog.reports.recalled_words import interval
from gearlog.reports.words import Tape
from gearlog.services.correcting import EYE, SHORTENING, Corrected, correction_text
from gearlog.services.planner import Planner
from gearlog.services.reading_forms import Form
from gearlog.services.shelf import Shelf


class Suggestion(msgspec.Struct, frozen=True):
    """One correction as it stands in a form.

    Attributes:
        of: what is corrected.
        offer: what the diary suggests.
        words: the offer, or why there is none, in one sentence.
        taken: the correction that the form holds now, as typed, or empty.
    """

    of: Corrected
    offer: Offer
    words: str
    taken: str

    @property
    def movable(self) -> bool:
        """Whether it can be taken into the plan, or out of it."""
        return bool(self.taken) or self.offer.correction_m is not None


class Learning:
    """What the diary teaches the planner; nothing of it is used unless the user says so."""

    def __init__(self, shelf: Shelf, planner: Planner) -> None:
        self._shelf = shelf
        self._planner = planner

    def suggestions(self, form: Form) -> tuple[Suggestion, ...]:
        """Of the eye, and of the shortening where the method reckons with one; raises InvalidRecordError."""
        found = (EYE, SHORTENING) if self._shortens(form) else (EYE,)
        return tuple(self._suggestion(form, of) for of in found)

    def offer(self, form: Form, of: Corrected = EYE) -> Offer:
        """What splices like the one in the planner's form suggest; raises InvalidRecordError."""
        from gearlog.recall import offered, shortening_offered

        summary = self._planner.recall_for(form).summary
        return offered(summary) if of == EYE else shortening_offered(summary)

    def words(self, offer: Offer, of: Corrected = EYE) -> str:
        """The offer, or why there is none, in one sentence."""
        if offer.bias is None or offer.correction_m is None:
            return offer.reason
        by = self._tape().longer(offer.correction_m, of.ways)
        what = f"mark the eye {by}" if of == EYE else f"reckon with {by} shortening"
        return f"{what}: {self._because(offer.bias, of)}"

    def taken(self, form: Form, of: Corrected = EYE) -> dict[str, str]:
        """The form with the offered correction in it; raises InvalidRecordError where nothing is offered."""
        offer = self.offer(form, of)
        if offer.bias is None or offer.correction_m is None:
            fault = Fault(of.field, f"is not offered: {offer.reason}", "plan without a correction")
            raise InvalidRecordError((fault,))
        imperial = self._shelf.store.settings.unit is Unit.IMPERIAL
        because = self._because(offer.bias, of)
        return dict(form) | {of.field: correction_text(offer.correction_m, because, imperial=imperial, of=of)}

    def undone(self, form: Form, of: Corrected = EYE) -> dict[str, str]:
        """The form without a correction."""
        return dict(form) | {of.field: ""}

    def _shortens(self, form: Form) -> bool:
        fields = self._planner.fields_for(form.get("method", ""))
        return bool(form.get(SHORTENING.field)) or SHORTENING.field in {field.name for field in fields}

    def _suggestion(self, form: Form, of: Corrected) -> Suggestion:
        offer = self.offer(form, of)
        return Suggestion(of, offer, self.words(offer, of), form.get(of.field, ""))

    def _because(self, bias: Bias, of: Corrected) -> str:
        tape = self._tape()
        by = tape.longer(bias.mean_m, of.ways)
        if of == EYE:
            found = f"{bias.n} like eyes came out {by} than marked on average"
        else:
            found = f"{bias.n} like splices shortened {by} than reckoned on average"
        return f"{found} ({interval(bias, tape, of.ways)})"

    def _tape(self) -> Tape:
        settings = self._shelf.store.settings
        return Tape(settings.unit is Unit.IMPERIAL, settings.tape_parts)
