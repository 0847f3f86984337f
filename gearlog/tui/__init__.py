"""The screens: drawn with Textual, fed by services."""
