"""Keys, footer, palette and help come from one declaration, and all of it works."""

import pytest
from textual.command import CommandPalette

from snugset.plain.aside import HELP
from snugset.screens import commands, looks
from snugset.screens import help as helping
from snugset.screens.app import SnugsetApp
from snugset.screens.base import Base
from snugset.screens.bench import BenchScreen
from snugset.screens.builds import BuildsScreen
from snugset.screens.calculators import CalculatorsScreen
from snugset.screens.copy import CopyScreen
from snugset.screens.declared import COMMANDS, EVERYWHERE
from snugset.screens.figure import FigureScreen
from snugset.screens.file import FileScreen
from snugset.screens.follow import FollowScreen
from snugset.screens.help import Help
from snugset.screens.history import HistoryScreen
from snugset.screens.new import NewScreen
from snugset.screens.order import OrderScreen
from snugset.screens.specs import SpecsScreen
from snugset.screens.worked import WorkingScreen

from .stage import Player, Stage, playing

SCREENS: dict[str, type[Base]] = {
    screen.NAME: screen
    for screen in (
        *(BuildsScreen, BenchScreen, SpecsScreen, HistoryScreen, NewScreen, Help),
        *(CalculatorsScreen, FigureScreen, WorkingScreen, FileScreen),
        *(OrderScreen, CopyScreen, FollowScreen),
    )
}
WAYS = {
    "bench": (),
    "builds": ("escape",),
    "specs": ("f8",),
    "history": ("f9",),
    "new": ("escape", "n"),
    "help": ("f1",),
    "calculators": ("ctrl+f",),
    "figure": ("ctrl+f", "enter"),
    "working": ("ctrl+e",),
    "file": ("f8", "f2"),
    "order": ("ctrl+o",),
    "copy": ("ctrl+n",),
    "follow": ("escape", "f"),
}
"""The keys from the bench to each screen."""


def test_every_screen_is_declared() -> None:
    assert set(SCREENS) == set(EVERYWHERE)
    assert {screen for command in COMMANDS for screen in command.screens} == set(SCREENS)


@pytest.mark.parametrize("name", EVERYWHERE)
def test_each_command_of_a_screen_has_its_own_key_and_its_action(name: str) -> None:
    declared = commands.of(name)
    assert len({command.key for command in declared}) == len(declared)
    assert len({command.name for command in declared}) == len(declared)
    for command in declared:
        assert callable(getattr(SCREENS[name], f"action_{command.name}")), command
        assert command.help.endswith(".")


@pytest.mark.parametrize("name", EVERYWHERE)
def test_the_bindings_of_a_screen_are_those_declared(name: str) -> None:
    bound = {
        key: [binding.action for binding in found]
        for key, found in SCREENS[name]._merged_bindings.key_to_bindings.items()  # type: ignore[union-attr]
    }
    for command in commands.of(name):
        assert command.name in bound[command.key]


@pytest.mark.parametrize("name", EVERYWHERE)
@pytest.mark.parametrize("width", [30, 78, 98, 158])
def test_the_footer_fits_and_always_says_how_to_leave(name: str, width: int) -> None:
    (line,) = commands.footer(name, width)
    assert len(line) <= width
    assert line.endswith("^Q quit")
    assert name == "help" or "F1 help" in line


def test_at_80_columns_the_footer_of_each_screen_leaves_nothing_out() -> None:
    for name in EVERYWHERE:
        (line,) = commands.footer(name, 78)
        for command in commands.of(name):
            assert not command.footed or f"{command.shown} {command.footer}" in line


@pytest.mark.parametrize("name", [name for name in EVERYWHERE if name != "help"])
def test_help_names_each_key_with_its_words(name: str) -> None:
    said = "\n".join(helping.words(name))
    flat = " ".join(said.split())
    for command in commands.of(name):
        assert f"{command.shown} {command.help}" in flat
    assert all(len(line) <= 74 for line in helping.words(name) if line not in HELP.splitlines())
    assert (HELP in said) == (name == "bench")


@pytest.mark.parametrize("name", [name for name in EVERYWHERE if name != "help"])
async def test_f1_shows_the_help_of_where_one_is_and_escape_goes_back(
    there: Stage, name: str
) -> None:
    async with playing(there.at("manual")) as player:
        await player.press(*WAYS[name])
        before = player.app.screen
        await player.press("f1")
        assert player.picture.startswith(f" Help · {name}")
        await player.press("escape")
        assert player.app.screen is before


async def test_all_of_the_help_can_be_read_at_80_by_24(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("f1")
        seen = player.picture
        for _ in range(12):  # nine do; a slow machine may pass over one
            await player.press("pagedown", "up", "up")  # a line may be broken at the page's end
            seen += player.picture
        await player.press("end")
        seen += player.picture
        flat = " ".join(seen.translate(dict.fromkeys(map(ord, "▁▂▃▄▅▆▇█"))).split())
        for line in helping.words("bench"):
            assert " ".join(line.split()) in flat


async def _palette(player: Player, typed: str) -> None:
    await player.press("ctrl+p")
    assert isinstance(player.app.screen, CommandPalette)
    await player.type(typed)
    await player.pilot.pause(0.3)
    await player.press("enter")
    await player.pilot.pause(0.1)
    await player.settled()


@pytest.mark.parametrize(
    ("typed", "shows"),
    [
        ("Spec sheet", "figures had"),
        ("History", "History of Test six"),
        ("Why this step", "The guide carries the order"),
    ],
)
async def test_the_palette_finds_a_command_by_its_words(
    there: Stage, typed: str, shows: str
) -> None:
    async with playing(there.at("manual")) as player:
        await _palette(player, typed)
        assert shows in " ".join(player.picture.split())


async def test_the_palette_offers_each_command_of_the_screen_and_the_looks(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        offered = {c.title: c.help for c in player.app.get_system_commands(player.app.screen)}
        for command in commands.of("bench"):
            if command.name != "palette":
                assert offered[f"{command.palette} ({command.shown})"] == command.help
        for theme in looks.THEMES:
            assert f"Look: {theme.name.removeprefix('bench-')}" in offered
        assert len(offered) == len(commands.of("bench")) - 1 + len(looks.THEMES)


async def test_the_palette_changes_the_look(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await _palette(player, "Look: light")
        assert player.app.theme == "bench-light"
        assert player.asked == "manual"


async def test_escape_closes_the_palette_and_not_the_build(there: Stage) -> None:
    async with playing(there.at("manual")) as player:
        await player.press("ctrl+p", "escape")
        assert player.asked == "manual"


@pytest.mark.parametrize("name", [*EVERYWHERE, "palette", "typing", "form"])
async def test_ctrl_q_leaves_from_everywhere(there: Stage, name: str) -> None:
    ways = {
        **WAYS,
        "palette": ("ctrl+p", "x"),
        "typing": ("f4", "x"),
        "form": ("f8", "enter", "9"),
    }
    app = there.at("manual")
    async with playing(app) as player:
        await player.press(*ways[name])
        assert runs(app)
        player.strike("ctrl+q")
        await player.pilot.pause(0.2)
        assert not runs(app)
    assert app.failure is None
    assert app.return_code == 0


def runs(app: SnugsetApp) -> bool:
    """Tell whether the application has not been left."""
    return app._running


@pytest.mark.parametrize(
    ("at", "views"),
    [
        ("gap@4I#1", ["ledger", "list", "map", "crank", "ledger"]),
        ("gap@4I#2", ["ledger", "rounds", "list", "map", "crank", "ledger"]),
    ],
)
async def test_f7_turns_through_the_views_and_back(there: Stage, at: str, views: list[str]) -> None:
    async with playing(there.at(at)) as player:
        seen = [player.bench.view_name()]
        for _ in views[1:]:
            await player.press("f7")
            seen.append(player.bench.view_name())
        assert seen == views
        assert f"Ledger, round {at[-1]}" in player.picture


@pytest.mark.parametrize("name", EVERYWHERE)
@pytest.mark.parametrize("width", [40, 58, 77])
def test_a_footer_in_two_lines_leaves_out_less_and_says_where_it_does(
    name: str, width: int
) -> None:
    every = [f"{c.shown} {c.footer}" for c in commands.of(name) if c.footed]
    for count in (1, 2):
        found = commands.footer(name, width, count)
        assert len(found) <= count
        assert all(len(line) <= width for line in found)
        said = "\n".join(found)
        assert ("…" in said) == any(each not in said for each in every)
    if len(" ".join(every)) <= 2 * width - 20:
        assert "…" not in said
