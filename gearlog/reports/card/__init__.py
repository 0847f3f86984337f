"""The bench card: one page of a plan to work from, as HTML, PDF or SVG, in black on white."""
