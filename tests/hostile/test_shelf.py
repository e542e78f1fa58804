"""The list on the screen with every strange build folder on it: each is told, opened or refused."""

import shutil
from pathlib import Path

import pytest
from textual.widgets import OptionList

from screens.stage import playing, stage
from snugset.screens.bench import BenchScreen
from snugset.screens.builds import BuildsScreen

from .checked import ending
from .databases import ODD, victim
from .journals import forged
from .opened import demo_records

ODD_ONES = sorted(ODD)
_PART = 12
"""Strange folders on one shelf; each starts the application once."""


@pytest.mark.parametrize("first", range(0, len(ODD_ONES), _PART))
async def test_strange_folders_on_the_list(first: int, tmp_path: Path) -> None:
    there = stage(tmp_path / "data")
    shelf = there.shelf.path
    shelf.mkdir(parents=True)
    forged(shelf / "good", list(demo_records())[:140])
    letters = {}
    names = ODD_ONES[first : first + _PART]
    for number, name in enumerate(names):
        odd = shutil.copytree(shelf / "good", shelf / f"odd{number:02}")
        letters[name] = victim(odd)
        ODD[name][0](odd)
    held = {name: letter.read_bytes() for name, letter in letters.items()}
    opened = []
    with ending(real=True):
        async with playing(there.app()) as player:
            builds = player.app.screen.query_one(OptionList)
            ids = [builds.get_option_at_index(n).id for n in range(builds.option_count)]
            assert "good" in ids
            for number in range(builds.option_count):
                assert isinstance(player.app.screen, BuildsScreen)
                player.app.screen.query_one(OptionList).highlighted = number
                await player.press("enter")
                if isinstance(player.app.screen, BenchScreen):
                    opened.append(player.bench.desk.build)
                    if player.bench.field.value:  # what the prompt offers
                        await player.press("escape")
                    await player.press("escape")
            assert "good" in opened
            assert player.app.failure is None
    assert {name: letter.read_bytes() for name, letter in letters.items()} == held
    for number, name in enumerate(names):
        if ODD[name][1]:
            assert f"odd{number:02}" not in opened, name
