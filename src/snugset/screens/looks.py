"""The looks of the screens: our own colours, dark, light and high contrast.

Each colour of a text stands out from its ground by 4.5 to 1 or more, also where the terminal has
256 or 16 colours and takes the nearest: the tests work it out.
"""

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
    primary="#1a2f80",
    secondary="#3d3208",
    accent="#002a80",
    foreground="#1c1c18",
    background="#f6f3ea",
    surface="#ece8dc",
    panel="#e0dbcb",
    success="#0b5200",
    warning="#7a2a10",
    error="#7a1f10",
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
Screen { layout: vertical; overflow: hidden; }
#where { height: auto; background: $panel; color: $foreground; padding: 0 1; }
.tiny #where { max-height: 1; }
.low #where { height: 0; }
#small { height: auto; background: $panel; color: $foreground; padding: 0 1; }
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
Input:focus { background-tint: transparent; }
Input > .input--placeholder { color: $foreground; text-style: italic; }
Input > .input--selection, Input > .input--cursor { background: $foreground; color: $background; }
.list > .option-list--option-highlighted {
    background: $foreground; color: $background; text-style: bold;
}
CommandPalette .option-list--option-highlighted {
    background: $panel; color: $foreground; text-style: bold underline;
}
CommandPalette .option-list--option { color: $foreground; }
CommandPalette > .command-palette--help-text { color: $foreground; text-style: not bold italic; }
CommandPalette > .command-palette--highlight { color: $foreground; text-style: bold underline; }
CommandPalette SearchIcon { display: none; }
.list { height: 1fr; min-height: 2; border: none; padding: 0; }
.list:focus { border: none; }
.form { height: auto; max-height: 60%; padding: 0 1; }
.form Input, #fields Input, #find {
    height: 1; border: none; border-left: solid $secondary; padding: 0; background: $surface;
}
.form Input:focus, #fields Input:focus, #find:focus {
    border: none; border-left: outer $foreground; background: $panel;
}
.form .ask { height: auto; color: $accent; margin-top: 1; }
#facts { height: auto; padding: 0 1; margin-bottom: 1; }
.tiny .form { max-height: 40%; }
.tiny .form .ask { margin-top: 0; }
.tiny #facts { max-height: 2; margin-bottom: 0; }
.tiny #work { layout: vertical; }
.tiny #fields { width: 100%; height: 60%; }
.tiny #result { width: 100%; height: 40%; border-left: none; }
.low .place { padding-bottom: 0; }
#message { height: auto; padding: 0 1; }
.tiny #message { max-height: 40%; }
#help { padding: 1 2; }
"""
