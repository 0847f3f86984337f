"""The two looks, day and night: every colour in one place, text on ground at a contrast of 4.5 or more."""

from __future__ import annotations

from textual.theme import Theme

DAY = {
    "ground": "#faf8f2", "ink": "#1d2320", "quiet": "#58605b", "accent": "#1f6136", "bad": "#a5231c",
    "warn": "#7d4e00", "raised": "#efece2", "chosen": "#d9e5d8", "line": "#8b918c",
}  # fmt: skip
NIGHT = {
    "ground": "#141816", "ink": "#e4e7e2", "quiet": "#a3aca6", "accent": "#8fce9c", "bad": "#ff9d92",
    "warn": "#f0c070", "raised": "#1e2421", "chosen": "#2b3a30", "line": "#5d6660",
}  # fmt: skip
LOOKS = {"day": DAY, "night": NIGHT}
GROUNDS = ("ground", "raised", "chosen")
INKS = ("ink", "quiet", "accent", "bad", "warn")


def themes() -> tuple[Theme, ...]:
    """The two themes, named as in the settings: ``day`` and ``night``."""
    return tuple(_theme(name, look, dark=name == "night") for name, look in LOOKS.items())


def _theme(name: str, look: dict[str, str], *, dark: bool) -> Theme:
    return Theme(
        name=name, primary=look["accent"], secondary=look["accent"], accent=look["accent"], warning=look["warn"],
        error=look["bad"], success=look["accent"], foreground=look["ink"], background=look["ground"],
        surface=look["ground"], panel=look["raised"], boost=look["raised"], dark=dark, variables=_variables(look),
    )  # fmt: skip


def _variables(look: dict[str, str]) -> dict[str, str]:
    return {
        **look,
        "block-cursor-background": look["accent"],
        "block-cursor-foreground": look["ground"],
        "input-cursor-background": look["ink"],
        "input-cursor-foreground": look["ground"],
        "input-selection-background": look["chosen"],
        "input-selection-foreground": look["ink"],
        "scrollbar": look["line"],
        "scrollbar-hover": look["quiet"],
        "scrollbar-active": look["accent"],
        "scrollbar-background": look["raised"],
        "scrollbar-background-hover": look["raised"],
        "scrollbar-background-active": look["raised"],
        "scrollbar-corner-color": look["raised"],
    }
