"""Which of two things came later, where dates may be known only to the month or the year."""

from __future__ import annotations

from datetime import datetime

import msgspec

from gearlog.domain.dates import PartialDate


class Moment(msgspec.Struct, frozen=True):
    """When something happened.

    Attributes:
        day: its date, as well as it is known.
        saved: when it was first written down.
        place: its place in the order of the records; decides between two saved in the same second.
    """

    day: PartialDate
    saved: datetime
    place: int = 0

    def is_after(self, other: Moment) -> bool:
        """Whether it came later: by date, and where the dates overlap by which was written down later."""
        if self.day.earliest() > other.day.latest():
            return True
        if self.day.latest() < other.day.earliest():
            return False
        return (self.saved, self.place) > (other.saved, other.place)
