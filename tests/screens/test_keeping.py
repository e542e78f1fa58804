"""Saved before shown: an answer is on disk before the next prompt is painted, off the loop."""

import asyncio
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

import pytest
from textual.css.query import NoMatches
from textual.worker import WorkerFailed

from snugset.journal.errors import JournalError
from snugset.journal.journal import Journal
from snugset.journal.reading import read_records
from snugset.screens.builds import BuildsScreen
from snugset.screens.desk import Desk
from snugset.screens.doors import New, Opening

from .stage import OWNER, Stage, at, playing


class Disk:
    """A disk that takes as long as the test wants."""

    def __init__(self) -> None:
        self.reached = threading.Event()
        self.go_on = threading.Event()
        self.thread = ""


@contextmanager
def slow_disk(monkeypatch: pytest.MonkeyPatch) -> Iterator[Disk]:
    disk = Disk()
    append = Journal.append

    def slowly(journal: Journal, *given: object) -> None:
        disk.thread = threading.current_thread().name
        disk.reached.set()
        assert disk.go_on.wait(20)
        append(journal, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(Journal, "append", slowly)
    try:
        yield disk
    finally:
        disk.go_on.set()


async def reached(disk: Disk) -> None:
    assert await asyncio.to_thread(disk.reached.wait, 20)
    await asyncio.sleep(0.05)


async def test_nothing_is_shown_before_it_is_on_disk(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            assert disk.thread.startswith("bench")
            assert player.asked == "manual"
            assert "workplace" not in player.picture.splitlines()[0]
            disk.go_on.set()
            await player.settled()
            assert player.asked == "workplace"
            assert "workplace" in player.picture.splitlines()[0]


async def test_nothing_is_said_to_be_kept_before_it_is_on_disk(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        await player.type("note dry")
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            await player.painted()
            assert "✓" not in player.words
            disk.go_on.set()
            await player.settled()
        assert "✓ Noted." in player.words


async def test_keys_struck_while_an_answer_is_kept_are_dropped(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            for key in ("enter", "space", "7", "f3", "f10", "backspace", "f4"):
                player.strike(key)
            await player.painted()
            disk.go_on.set()
            await player.settled()
        assert player.asked == "workplace"
        assert player.typed == ""


async def test_a_key_struck_before_the_prompt_was_painted_is_dropped_however_late(
    there: Stage,
) -> None:
    async with playing(there.at("manual")) as player:
        player.bench.field._open += 1000
        await player.press("7", "enter", "space")
        assert (player.asked, player.typed) == ("manual", "")
        await player.paste("7")
        assert player.typed == ""


async def test_a_slow_disk_is_said(there: Stage, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("snugset.screens.keeping.SLOW", 0.01)
    async with playing(there.at("manual")) as player:
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            await player.painted()
            assert "Being kept …" in player.words
            disk.go_on.set()
            await player.settled()
        assert "Being kept …" not in player.words


async def test_the_screen_answers_while_the_disk_does_not(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            player.strike("f1")
            await player.painted()
            assert "Help · bench" in player.picture


@pytest.mark.parametrize("key", ["enter", "f3"])
async def test_ctrl_q_leaves_while_an_answer_is_kept_and_loses_nothing(
    there: Stage, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    app = there.at("workplace")
    async with playing(app) as player:
        sequence = player.look.state.sequence
        with slow_disk(monkeypatch) as disk:
            player.strike(key)
            await reached(disk)
            player.strike("ctrl+q")
            async with asyncio.timeout(10):
                while app._running:  # noqa: ASYNC110 - the library tells nobody
                    await asyncio.sleep(0.01)
    (entry,) = there.shelf.builds()
    assert len(read_records(there.shelf.path / entry.id)) == sequence + 1


@pytest.mark.parametrize("left", [True, False])
async def test_work_that_is_done_once_the_screens_are_gone_is_no_fault(
    there: Stage, *, left: bool
) -> None:
    """It was past its last wait when they were left; with the screens there it is a fault."""
    app = there.at("workplace")

    async def late() -> None:
        if left:
            app.exit()
        while left and app.is_running:
            with suppress(asyncio.CancelledError):
                await asyncio.sleep(0.01)
        app.query_one("#nowhere")

    async def run() -> None:
        async with playing(app) as player:
            player.bench.begin_work(late)
            async with asyncio.timeout(20):
                while app.is_running:  # noqa: ASYNC110 - the library tells nobody
                    await asyncio.sleep(0.01)

    if left:
        await run()
        assert app.failure is None
    else:
        with pytest.raises(WorkerFailed, match="nowhere"):
            await run()
        assert isinstance(app.failure, NoMatches)


async def test_escape_while_an_answer_is_kept_waits_for_it(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        with slow_disk(monkeypatch) as disk:
            player.strike("enter")
            await reached(disk)
            player.strike("escape")
            await asyncio.sleep(0.05)
            assert not isinstance(player.app.screen, BuildsScreen)
            disk.go_on.set()
            await player.settled()
        assert isinstance(player.app.screen, BuildsScreen)
    (entry,) = there.shelf.builds()
    assert entry.head is not None
    assert entry.head.step == "workplace"


@pytest.mark.parametrize("way", ["enter", "f3", "f10"])
async def test_what_the_disk_does_not_take_is_not_acknowledged_and_can_be_tried_again(
    there: Stage, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    async with playing(there.at("cover-flat")) as player:
        before, picture = player.look, player.picture.splitlines()[:2]

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        if way == "enter":
            await player.type("note dry")
        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            await player.press(way)
        assert player.look is before
        assert player.picture.splitlines()[:2] == picture
        assert "✗ Not kept: the disk is full." in player.words
        if way == "enter":
            assert player.typed == "note dry"
        await player.press(way)
        assert player.look.state.sequence > before.state.sequence
        assert "Not kept" not in player.words


async def test_a_break_that_cannot_be_kept_is_said(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("manual")) as player:
        there.clock.advance(40 * 60)

        def full(*_: object) -> None:
            raise JournalError("disk", "the disk is full")

        with monkeypatch.context() as patch:
            patch.setattr(Journal, "append", full)
            player.bench._look_again()
            await player.settled()
        assert "✗ Not kept: the disk is full." in player.words
        player.bench._look_again()
        await player.settled()
        assert player.asked == "return"


async def test_keys_struck_twice_take_back_and_give_once(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with playing(there.at("battery")) as player:
        await player.press("f9", "f3")
        with slow_disk(monkeypatch) as disk:
            for _ in range(3):
                player.strike("f3")
            await reached(disk)
            disk.go_on.set()
            await player.settled()
        await player.press("escape")
        assert player.asked == "workplace"
        records = len(player.look.records)
        await player.press("f8", "enter", "ctrl+u", *".004", "enter")
        with slow_disk(monkeypatch) as disk:
            for _ in range(3):
                player.strike("enter")
            await reached(disk)
            disk.go_on.set()
            await player.settled()
        await player.press("escape")
        assert len(player.look.records) == records + 1


async def test_enter_struck_twice_begins_one_build(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = there.app()
    begin, begun = app.doors.begin, []

    def counted(new: New) -> Opening:
        begun.append(new.name)
        return begin(new)

    object.__setattr__(app.doors, "begin", counted)
    async with playing(app) as player:
        await player.press("n", "enter", *"barn-pump-six", "enter", "enter", *"north")
        with slow_disk(monkeypatch) as disk:
            for _ in range(3):
                player.strike("enter")
            await reached(disk)
            disk.go_on.set()
            await player.settled()
        assert player.bench.desk.build == "north"
    assert begun == ["north"]


async def test_opening_that_is_given_up_lets_the_build_go(
    there: Stage, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = there.put(at("manual"))
    with slow_disk(monkeypatch) as disk:
        there.clock.advance(86400)
        opening = asyncio.create_task(Desk.open(folder, owner=OWNER, clock=there.clock))
        await reached(disk)
        opening.cancel()
        with pytest.raises(asyncio.CancelledError):
            await opening
        disk.go_on.set()
    async with asyncio.timeout(10):
        while (folder / "lock").read_bytes():  # noqa: ASYNC110 - another thread lets go
            await asyncio.sleep(0.01)
    async with playing(there.app(there.opening(folder))) as player:
        assert player.asked
