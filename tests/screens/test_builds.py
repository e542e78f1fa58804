"""The list of builds: where each stands, what it waits for, who has it open; and opening one."""

import asyncio
from pathlib import Path

import pytest
from textual.widgets import OptionList

from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.lock import holder
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf, entry_of
from snugset.screens import app as app_module
from snugset.screens.app import SnugsetApp
from snugset.screens.bench import BenchScreen
from snugset.screens.builds import BuildsScreen, Shelved, on_shelf
from snugset.screens.doors import Opening
from snugset.stored import BuildError

from .stage import OWNER, Stage, at, playing

ASH = Owner(person="Ash", host="barn", pid=7, since="2026-03-06T17:40:00Z")


def lock_file(folder: Path) -> bytes:
    return (folder / "lock").read_bytes()


async def test_with_none_the_demo_and_a_new_build_are_offered(there: Stage) -> None:
    async with playing(there.app()) as player:
        assert "No builds yet." in player.picture
        assert "D opens a part-finished build of an invented engine" in player.words
        assert "N begins a build of your own." in player.picture
        assert "go on with it" not in player.picture, "there is none to go on with"


async def test_each_build_shows_where_it_stands_and_what_it_waits_for(there: Stage) -> None:
    there.put(at("gap@4I#1"), "one")
    there.put(at("cover-flat"), "two")
    async with playing(there.app()) as player:
        shown = player.words
        assert "Enter go on with it" in shown
        assert "Test six 2026-03-06 22:16 UTC at gap@4I#1" in shown
        assert "at cover-flat · waits for pushrods" in shown


async def test_a_build_that_is_open_elsewhere_says_by_whom(there: Stage) -> None:
    folder = there.put(at("manual"))
    with Journal.open(folder, owner=ASH):
        async with playing(there.app()) as player:
            assert "open elsewhere: Ash on barn since 2026-03-06 17:40 UTC" in player.words
            await player.press("enter")
            assert isinstance(player.app.screen, BuildsScreen)
            assert "is open elsewhere, by Ash on barn (process 7)" in player.words
    async with playing(there.app()) as player:
        assert "open elsewhere" not in player.picture


async def test_a_build_that_cannot_be_read_says_why_and_stays_as_it_is(there: Stage) -> None:
    folder = there.put(at("manual"), "broken")
    (folder / "journal.sqlite").write_bytes(b"no journal")
    async with playing(there.app()) as player:
        assert "broken: journal.sqlite is not a journal" in player.words
        await player.press("enter")
        assert isinstance(player.app.screen, BuildsScreen)
    assert (folder / "journal.sqlite").read_bytes() == b"no journal"


async def test_enter_goes_on_with_the_marked_build(there: Stage) -> None:
    there.put(at("manual"), "one")
    there.put(at("gap@4I#1"), "two")
    async with playing(there.app()) as player:
        await player.press("down", "enter")
        assert player.bench.desk.build == "one"
        assert player.asked == "return"


async def test_escape_leaves_the_bench_for_the_list_and_lets_the_build_go(there: Stage) -> None:
    folder = there.put(at("manual"))
    async with playing(there.app(there.opening(folder))) as player:
        assert holder(folder)[0]
        await player.press("enter", "escape")
        assert isinstance(player.app.screen, BuildsScreen)
        assert "at workplace" in player.picture
        assert holder(folder) == (False, None)
        assert lock_file(folder) == b""
        await player.press("enter")
        assert player.asked == "return"


async def test_the_demo_opens_by_its_key(there: Stage) -> None:
    async with playing(there.app()) as player:
        await player.press("d")
        assert player.asked == "gap@4I#1"


async def test_a_build_that_is_yet_to_be_made_is_waited_for_beside_the_first_picture(
    there: Stage,
) -> None:
    made = asyncio.Event()
    loop = asyncio.get_running_loop()

    def slowly() -> Opening:
        asyncio.run_coroutine_threadsafe(made.wait(), loop).result(20)
        return there.opening(there.put(at("manual")), note="A note on opening.")

    app = there.app(slowly)
    async with app.run_test(size=(80, 24)) as pilot:
        while not isinstance(app.screen, BuildsScreen):
            await pilot.pause()
        screen = app.screen
        assert isinstance(screen, BuildsScreen)
        assert "One moment: the build is set out …" in _facts(screen)
        made.set()
        async with asyncio.timeout(20):
            while not isinstance(app.screen, BenchScreen):  # noqa: ASYNC110 - it tells nobody
                await asyncio.sleep(0.01)
        await pilot.pause()
        assert app.screen.under[0].plain == "A note on opening."
    app.let_go()


async def test_until_a_build_is_read_its_head_tells_where_it_stands(there: Stage) -> None:
    folder = there.put(at("gap@4I#1"), "one")
    asked = asyncio.Event()
    loop = asyncio.get_running_loop()

    def slowly() -> Opening:
        asyncio.run_coroutine_threadsafe(asked.wait(), loop).result(20)
        return there.opening(folder)

    app = SnugsetApp(there.app().doors, slowly, entry_of(folder))
    async with app.run_test(size=(80, 24)) as pilot:
        while not isinstance(app.screen, BuildsScreen):
            await pilot.pause()
        told = _facts(app.screen)
        assert "Test six" in told
        assert "at gap@4I#1" in told
        assert "One moment: the build is set out …" in told
        asked.set()
        async with asyncio.timeout(20):
            while not isinstance(app.screen, BenchScreen):  # noqa: ASYNC110 - it tells nobody
                await asyncio.sleep(0.01)
        await pilot.pause()
    app.let_go()


def _facts(screen: BuildsScreen) -> str:
    return str(screen.query_one("#facts").render())


@pytest.mark.parametrize(
    "error",
    [
        BuildError("nothing to begin with"),
        JournalError("disk", "the disk is full"),
        OSError(28, "No space left on device", "scratch"),
    ],
)
async def test_what_cannot_be_made_is_said_on_the_list(there: Stage, error: Exception) -> None:
    app = there.app()

    def never() -> Opening:
        raise error

    async with playing(app) as player:
        assert isinstance(player.app.screen, BuildsScreen)
        player.app.screen.make(never)
        await player.settled()
        last = str(error.args[-1]) if not isinstance(error, OSError) else "No space left on device"
        assert last in player.words
        assert app.failure is None
        await player.press("d")
        assert player.asked == "gap@4I#1"


async def test_without_the_build_that_was_asked_for_the_screens_end(there: Stage) -> None:
    folder = there.put(at("manual"))
    with Journal.open(folder, owner=ASH):
        app = there.app(there.opening(folder))
        async with app.run_test(), asyncio.timeout(20):
            while app.failure is None:  # noqa: ASYNC110 - it tells nobody
                await asyncio.sleep(0.01)
    assert isinstance(app.failure, JournalError)
    assert "open elsewhere, by Ash" in str(app.failure)


async def test_the_list_is_read_again_by_its_key_and_keeps_the_mark(there: Stage) -> None:
    there.put(at("manual"), "one")
    there.put(at("gap@4I#1"), "two")
    async with playing(there.app()) as player:
        await player.press("down")
        there.put(at("cover-flat"), "three")
        await player.press("r")
        assert "at cover-flat" in player.picture
        marked = player.app.screen.query_one(OptionList).highlighted_option
        assert marked is not None
        assert marked.id == "one"


async def test_a_shelf_that_cannot_be_read_is_said(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    def closed(_: Shelf, **_given: object) -> None:
        raise JournalError("disk", "builds: the folder may not be written")

    monkeypatch.setattr(Shelf, "builds", closed)
    async with playing(there.app()) as player:
        assert "builds: the folder may not be written" in player.words


def test_looking_at_who_holds_a_build_changes_nothing(there: Stage) -> None:
    folder = there.put(at("manual"))
    assert holder(folder) == (False, None)
    with Journal.open(folder, owner=OWNER):
        assert holder(folder) == (True, OWNER)
        (folder / "lock").write_bytes(b"half a na")
        assert holder(folder) == (True, None)
    assert holder(folder / "nothing") == (False, None)
    (build,) = on_shelf(there.shelf)
    assert (build.held, build.owner) == (False, None)


async def test_a_new_build_is_begun_from_the_form(there: Stage) -> None:
    async with playing(there.app()) as player:
        await player.press("n")
        assert player.field("procedure").value == "inline-six-bridged-hydraulic"
        await player.press("enter")
        assert "1 barn-pump-six" in player.words
        await player.type("barn-pump-six")
        await player.press("enter", "enter")
        await player.type("north")
        await player.press("enter")
        assert player.asked == "spec.head-flatness"
        assert player.bench.desk.build == "north"
        await player.press("escape")
        assert isinstance(player.app.screen, BuildsScreen)


async def test_a_form_without_an_engine_asks_for_it(there: Stage) -> None:
    async with playing(there.app()) as player:
        await player.press("n", "enter", "enter", "enter", "enter")
        assert "Engine is empty" in player.picture
        focused = player.app.focused
        assert focused is not None
        assert focused.id == "engine"
        await player.press("escape")
        assert isinstance(player.app.screen, BuildsScreen)


async def test_every_mistake_of_the_files_is_shown_on_the_form(
    there: Stage,
) -> None:
    wrong = "\n".join(f"bad.yaml:{line}:3: “[red]” is no figure" for line in range(1, 6))

    def begin(_: object) -> Opening:
        raise BuildError(wrong)

    app = there.app()
    async with playing(app) as player:
        object.__setattr__(app.doors, "begin", begin)
        await player.press("n", "enter")
        await player.type("bad.yaml")
        await player.press("enter", "enter", "enter")
        for line in wrong.splitlines():
            assert line in player.picture
        assert player.field("engine").value == "bad.yaml"


async def test_of_many_builds_the_newest_are_shown_at_once_and_the_others_follow(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("snugset.screens.builds._LINES", 12)  # there is room for two
    for name in ("one", "two", "three"):
        there.put(at("manual"), name)
    filled: list[int] = []
    fill, prepare = BuildsScreen._fill, app_module._prepare
    loaded_after: list[int] = []

    def counted(screen: BuildsScreen, builds: tuple[Shelved, ...]) -> None:
        filled.append(len(builds))
        fill(screen, builds)

    def loading() -> None:
        loaded_after.append(len(filled))
        prepare()

    monkeypatch.setattr(BuildsScreen, "_fill", counted)
    monkeypatch.setattr(app_module, "_prepare", loading)
    async with playing(there.app()) as player:
        assert filled == [2, 3]
        assert loaded_after, "what opening a build needs is loaded"
        assert loaded_after[0] >= 1, "and not before the first of the list stands"
        assert player.app.screen.query_one(OptionList).option_count == 3
        await player.press("down")
        marked = player.app.screen.query_one(OptionList).highlighted_option
        assert marked is not None
        await player.press("r")
        assert filled == [2, 3, 3]
        again = player.app.screen.query_one(OptionList).highlighted_option
        assert again is not None
        assert again.id == marked.id
