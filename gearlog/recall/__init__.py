"""What worked last time: like splices found, ranked and summed up. Pure: records in, records out."""

from gearlog.recall.ranking import recall, standing
from gearlog.recall.records import Bias, Counted, Match, Query, Recall, Summary

__all__ = ["Bias", "Counted", "Match", "Query", "Recall", "Summary", "recall", "standing"]
