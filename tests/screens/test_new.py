"""Beginning a build with as few keys as can be."""

import pytest

from snugset.screens.app import SnugsetApp
from snugset.screens.doors import Doors, New, Opening
from snugset.screens.typed import shipped_as
from snugset.values import replace

from .stage import Stage, playing

PROCEDURES = ("inline-four-solid", "inline-six-bridged", "vee-eight-bridged")
ENGINES = ("barn-six", "ferry-eight")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("2", "inline-six-bridged"),
        ("vee", "vee-eight-bridged"),
        ("SIX", "inline-six-bridged"),
        ("bridged", "bridged"),  # two have it
        ("4", "4"),
        ("0", "0"),
        ("", ""),
        ("inline-six-bridged", "inline-six-bridged"),
    ],
)
def test_a_shipped_name_is_meant_by_its_number_or_by_what_only_it_has(
    typed: str, meant: str
) -> None:
    assert shipped_as(typed, PROCEDURES) == meant


def _app(there: Stage, given: list[New]) -> SnugsetApp:
    app = there.app()
    made = app.doors.begin

    def begin(new: New) -> Opening:
        given.append(new)
        return made(new)

    doors: Doors = replace(app.doors, procedures=PROCEDURES, engines=ENGINES, begin=begin)
    return SnugsetApp(doors, None)


async def test_digits_and_enter_begin_a_build(there: Stage) -> None:
    given: list[New] = []
    async with playing(_app(there, given)) as player:
        await player.press("n")
        assert "1 inline-four-solid  2 inline-six-bridged  3 vee-eight-bridged" in player.picture
        await player.press("2", "enter")
        assert player.field("procedure").value == "inline-six-bridged"
        assert "1 barn-six  2 ferry-eight" in player.picture
        assert "vee-eight-bridged" not in player.picture  # only what this field takes
        await player.press("1", "enter", "enter", "enter")
        assert given == [New(procedure="inline-six-bridged", engine="barn-six")]
        assert player.asked == "spec.head-flatness"


async def test_a_name_that_is_not_known_stays_at_its_field(there: Stage) -> None:
    async with playing(_app(there, [])) as player:
        await player.press("n", *"bridged", "enter")
        assert "No shipped procedure is meant by “bridged”" in player.picture
        assert player.app.focused is player.field("procedure")


async def test_arrows_go_from_field_to_field(there: Stage) -> None:
    async with playing(_app(there, [])) as player:
        await player.press("n", "down", "down")
        assert player.app.focused is player.field("specs")
        await player.press("up")
        assert player.app.focused is player.field("engine")
