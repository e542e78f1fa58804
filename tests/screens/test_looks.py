"""Each look, with all colours, 256 or 16: every text stands out from its ground by 4.5 to 1.

Contrast is reckoned as in the Web Content Accessibility Guidelines 2.1, §1.4.3 and the definition
of relative luminance there; the limit for text is the same.
"""

from collections.abc import Iterator

import pytest
from rich.color import Color, ColorSystem
from rich.style import Style
from textual.widgets import OptionList

from snugset.screens import looks

from .stage import Player, Stage, at, playing

LIMIT = 4.5
SYSTEMS = {"all": None, "256": ColorSystem.EIGHT_BIT, "16": ColorSystem.STANDARD}
BORDERS = set("│▔▁▂▃▄▅▆▇▊▎ ")
"""Lines and bars that say nothing."""
MOMENTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "reading": ("gap@5E#2", tuple("40+38;40+40")),
    "figure": ("head-tighten@1.5", ("f2",)),
    "refused": ("points.turn@P2#1", (*"900", "enter")),
    "proposal": ("lengths#1", ()),
    "list": ("battery", ()),
    "far": ("head-tighten@1.5", ("f12",)),
    "history": ("gap@5E#2", ("f9", "f3", "f3")),
    "sheet": ("gap@5E#2", ("f8",)),
    "form": ("gap@5E#2", ("f8", "enter")),
    "help": ("gap@5E#2", ("f1",)),
    "palette": ("gap@5E#2", ("ctrl+p", "down")),
    "builds": ("gap@5E#2", ("escape",)),
}


def luminance(color: Color) -> float:
    """Give the relative luminance of a colour."""
    parts = [part / 255 for part in color.get_truecolor()]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Color, two: Color) -> float:
    """Give the contrast of two colours, 1 to 21."""
    low, high = sorted((luminance(one), luminance(two)))
    return (high + 0.05) / (low + 0.05)


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
    for text, style in painted(player):
        assert not style.dim, text
        assert style.color is not None, text
        assert style.bgcolor is not None, text
        pair = [style.color, style.bgcolor]
        if system is not None:
            pair = [color.downgrade(system) for color in pair]
        if contrast(*pair) < LIMIT:
            found.append(f"{contrast(*pair):.2f} {text} {style}")
    return found


@pytest.mark.parametrize("name", MOMENTS)
@pytest.mark.parametrize("look", [theme.name for theme in looks.THEMES])
async def test_every_text_stands_out_from_its_ground(there: Stage, look: str, name: str) -> None:
    address, keys = MOMENTS[name]
    async with playing(there.at(address)) as player:
        player.app.theme = look
        await player.settled()
        await player.press(*keys)
        assert list(painted(player))
        for system in SYSTEMS.values():
            assert not faint(player, system), look


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
