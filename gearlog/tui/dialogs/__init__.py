"""Small questions that a screen asks; each typed by its answer."""
