"""Explaining a plan: each number with its formula, the values put in, what went in and its source."""
