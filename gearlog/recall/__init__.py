"""What worked last time: like splices found, ranked and summed up. Pure: records in, records out."""

from gearlog.domain.recalled import Bias, Counted, Demand, Match, Offer, Query, Recall, StrengthFound, Summary
from gearlog.recall.columns import Columns
from gearlog.recall.offering import offered, shortening_offered
from gearlog.recall.ranking import recall, standing

__all__ = [
    "Bias", "Columns", "Counted", "Demand", "Match", "Offer", "Query", "Recall", "StrengthFound", "Summary", "offered",
    "recall", "shortening_offered", "standing",
]  # fmt: skip
