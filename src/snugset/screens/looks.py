"""The looks of the screens: our own colours, dark, light and high contrast."""

from textual.theme import Theme

DARK = Theme(
    name="bench-dark",
    primary="#7fb3a6",
    secondary="#c9b27c",
    accent="#e0c36a",
    foreground="#e6e2d8",
    background="#14181a",
    surface="#1b2124",
    panel="#232b2f",
    success="#8fc29a",
    warning="#e0b25a",
    error="#e58b75",
    dark=True,
)
LIGHT = Theme(
    name="bench-light",
    primary="#1d5f52",
    secondary="#6b5412",
    accent="#7a4d00",
    foreground="#1c1c18",
    background="#f6f3ea",
    surface="#ece8dc",
    panel="#e0dbcb",
    success="#1f6131",
    warning="#7a5200",
    error="#93301b",
    dark=False,
)
CONTRAST = Theme(
    name="bench-contrast",
    primary="#ffffff",
    secondary="#ffffff",
    accent="#ffff00",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#000000",
    success="#ffffff",
    warning="#ffff00",
    error="#ffff00",
    dark=True,
)
THEMES = (DARK, LIGHT, CONTRAST)

CSS = """
Screen { layout: vertical; }
#where { height: auto; background: $panel; color: $foreground; padding: 0 1; }
#keys { height: 1; dock: bottom; background: $panel; color: $foreground; padding: 0 1; }
#work { height: 1fr; }
#ask { width: 56%; height: 100%; padding: 0 1; }
#view { width: 44%; height: 100%; padding: 0 1; border-left: solid $secondary; }
#view { text-wrap: nowrap; text-overflow: clip; }
.coming-back #view { display: none; }
.coming-back #ask { width: 100%; }
#prompt { height: 1fr; min-height: 1; color: $foreground; }
#large { height: 4; }
#detail { height: 1fr; }
#far { display: none; }
.far #far { display: block; height: 1fr; }
.far #view, .tiny #view { display: none; }
.far #ask, .tiny #ask { width: 100%; }
.flat #keys { display: none; }
#under { height: 1; background: $surface; }
#typing { height: 1; background: $surface; }
#cue { width: auto; height: 1; color: $accent; text-style: bold; }
#answer { height: 1; border: none; padding: 0; background: $surface; width: 1fr; }
#answer:focus { border: none; background: $surface; }
.list { height: 1fr; border: none; padding: 0; }
.list:focus { border: none; }
.form { height: auto; max-height: 60%; padding: 0 1; }
.form Input { height: 1; border: none; padding: 0; background: $surface; }
.form Input:focus { border: none; background: $panel; }
.form .ask { height: auto; color: $accent; margin-top: 1; }
#facts { height: auto; padding: 0 1; margin-bottom: 1; }
#message { height: auto; padding: 0 1; }
#help { padding: 1 2; }
"""
