"""Quantities: read strictly, kept as typed, converted exactly, shown as the user measures."""
