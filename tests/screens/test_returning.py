"""Coming back: the first screen says what is loose, what waits, what to check, who was here."""

import os
import signal
from pathlib import Path

from snugset.journal.reading import read_records, verify

from .stage import Stage, at, playing
from .terminal import on_terminal


async def test_the_first_screen_has_the_whole_width_and_everything_to_check(there: Stage) -> None:
    folder = there.put(at("head-tighten@2.10"))
    there.clock.advance(9 * 86400)
    async with playing(there.app(there.opening(folder, fresh=False))) as player:
        assert player.asked == "return"
        shown = player.words
        assert "You are back. Read this before touching anything." in shown
        assert "You were away 9 days; last here: Wren." in shown
        assert "You stood at head-tighten@2.10 (Tightening)." in shown
        assert "Loose: the head" in shown
        assert not player.bench.query_one("#view").display
        await player.press("enter")
        assert player.asked == "head-tighten@1.11"
        assert player.bench.query_one("#view").display


async def test_within_the_hour_one_digit_says_the_crank_is_untouched(there: Stage) -> None:
    folder = there.put(at("gap@4I#1"))
    there.clock.advance(20 * 60)
    async with playing(there.app(there.opening(folder, fresh=False))) as player:
        assert "1  untouched" in player.picture
        await player.press("1")
        assert player.look.state.condition.crank is not None


async def test_what_waits_is_said_on_return(there: Stage) -> None:
    folder = there.put(at("cover-flat"))
    there.clock.advance(9 * 86400)
    async with playing(there.app(there.opening(folder, fresh=False))) as player:
        assert "Waiting: pushrods" in player.words
        assert "for 9 days" in player.words


def test_killed_at_the_bench_it_stands_where_the_last_shown_answer_left_it(tmp_path: Path) -> None:
    """The program runs on a terminal of its own and is killed; nothing that it showed is lost."""
    folder = tmp_path / "data" / "builds" / "north"
    new = ("new", "inline-six-bridged-hydraulic", "--engine", "barn-pump-six", "--name", "north")
    with on_terminal(tmp_path, *new) as terminal:
        terminal.until("How far out of flat may the head")
        terminal.type(".004; shop manual\r")
        terminal.until("How far out of flat may the deck")
        terminal.type(".003; shop manual\r")
        terminal.until("How thick is the new")
        os.kill(terminal.child.pid, signal.SIGKILL)
        assert terminal.ended() == -signal.SIGKILL
    assert [r.body["name"] for r in read_records(folder) if r.kind == "spec"] == [
        "head-flatness",
        "deck-flatness",
    ]
    assert verify(folder).whole
    with on_terminal(tmp_path, "resume") as terminal:
        terminal.until("You are back.")
        terminal.type("\r")
        terminal.until("How thick is the new")
        terminal.type("\x11")
        assert terminal.ended() == 0
