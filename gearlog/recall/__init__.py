"""What worked last time: likeness, ranking, summaries. Pure."""
