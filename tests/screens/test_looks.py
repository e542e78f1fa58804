"""Each look, with all colours, 256 or 16: every text stands out from its ground by 4.5 to 1.

Contrast is reckoned as in the Web Content Accessibility Guidelines 2.1, §1.4.3 and the definition
of relative luminance there; the limit for text is the same.
"""

from collections.abc import Iterator

import pytest
from rich.color import Color, ColorSystem
from rich.color_triplet import ColorTriplet
from rich.style import Style
from textual.widgets import OptionList

from snugset.screens import looks

from .contrasts import contrast
from .moments import MOMENTS, shown
from .stage import Player, Stage, at, playing

LIMIT = 4.5
HIGH = 7.0
"""The limit of the look with high contrast, which is §1.4.6's."""
SYSTEMS = {"all": None, "256": ColorSystem.EIGHT_BIT, "16": ColorSystem.STANDARD}
BORDERS = set("│▌▔▁▂▃▄▅▆▇▊▎ ")
"""Lines and bars that say nothing."""


def test_the_contrast_of_black_and_white_is_21_and_of_a_grey_as_published() -> None:
    """The grey that just passes on white, #767676 at 4.54, is quoted from memory."""
    assert contrast(Color.parse("#000000"), Color.parse("#ffffff")) == pytest.approx(21)
    assert contrast(Color.parse("#767676"), Color.parse("#ffffff")) == pytest.approx(4.54, abs=0.01)


def painted(player: Player) -> Iterator[tuple[str, Style]]:
    """Give each piece of text on the screen with its style; under a palette only the palette's."""
    screen = player.app.screen
    box = screen.region
    if screen.query("#--input"):
        box = screen.query_one("#--input").region.union(screen.query_one(OptionList).region)
    for row, strip in enumerate(screen._compositor.render_strips()):
        if not box.y <= row < box.bottom:
            continue
        for segment in strip.crop(box.x, box.right):
            if segment.style is not None and not set(segment.text) <= BORDERS:
                yield segment.text.strip(), segment.style


def faint(player: Player, system: ColorSystem | None) -> list[str]:
    """Name the texts that do not stand out."""
    found = []
    limit = HIGH if player.app.theme == looks.CONTRAST.name else LIMIT
    for text, style in painted(player):
        assert not style.dim, text
        assert style.color is not None, text
        assert style.bgcolor is not None, text
        pair = [style.color, style.bgcolor]
        if system is not None:
            pair = [color.downgrade(system) for color in pair]
        if contrast(*pair) < limit:
            found.append(f"{contrast(*pair):.2f} {text} {style}")
    return found


def alike(one: ColorTriplet, other: ColorTriplet) -> bool:
    """Tell whether two colours are the same: what is painted may be rounded otherwise."""
    return all(abs(a - b) <= 2 for a, b in zip(one, other, strict=True))


def unsigned(player: Player) -> list[str]:
    """Name the texts in a colour of success, warning or error that no sign or style says too."""
    theme = looks.DARK
    said = [
        Color.parse(str(c)).get_truecolor() for c in (theme.success, theme.warning, theme.error)
    ]
    found = []
    before: set[tuple[int, ColorTriplet]] = set()
    for strip in player.app.screen._compositor.render_strips():
        here: set[tuple[int, ColorTriplet]] = set()
        column = 0
        for segment in strip.simplify():
            style, text = segment.style, segment.text.strip()
            colour = style.color.get_truecolor() if style and style.color else None
            if style and text and colour and any(alike(colour, each) for each in said):
                here.add((column, colour))
                signed = text[0] in "✗✓!→" or style.bold or style.italic
                if not signed and (column, colour) not in before:
                    found.append(text)
            column += segment.cell_length
        before = here
    return found


@pytest.mark.parametrize("name", MOMENTS)
async def test_every_text_stands_out_and_no_colour_says_a_thing_alone(
    there: Stage, name: str
) -> None:
    async with shown(there, MOMENTS[name]) as player:
        assert player.app.theme == looks.DARK.name
        assert not unsigned(player)
        for look in looks.THEMES:
            player.app.theme = look.name
            await player.settled()
            assert list(painted(player))
            for system in SYSTEMS.values():
                assert not faint(player, system), look.name


async def test_without_colour_every_text_stands_out_too(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    for value in ("", "1"):
        monkeypatch.setenv("NO_COLOR", value)
        folder = there.put(at("gap@5E#2"), f"grey{value}")
        async with playing(there.app(there.opening(folder))) as player:
            assert player.app.no_color
            await player.type("40+38; 40+40")
            assert not faint(player, None)
            for _, style in painted(player):
                for color in (style.color, style.bgcolor):
                    assert color is not None
                    assert len(set(color.get_truecolor())) == 1, "a grey"
