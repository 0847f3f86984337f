"""What worked last time: like splices found, ranked and summed up. Pure: records in, records out."""

from gearlog.domain.recalled import Bias, Counted, Match, Query, Recall, Summary
from gearlog.recall.ranking import recall, standing

__all__ = ["Bias", "Counted", "Match", "Query", "Recall", "Summary", "recall", "standing"]
