"""The demo's whole build through the real application: its bytes, and what there is to read."""

import hashlib
from pathlib import Path

from driving import ANSWERS, ENGINE, PROCEDURE, SPECS, demo_answers
from snugset.files.answers import Say, Wait
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.opening import begin, pin, pin_shared
from snugset.play import play
from snugset.screens import asking

from .stage import OWNER, PACE, Player, playing, stage


async def test_the_whole_demo_by_its_keys_gives_the_bytes_of_replay(tmp_path: Path) -> None:
    """At 80x24; wherever it stands, the words of the prompt and the field are to be seen."""
    replayed = play(ANSWERS, Shelf(tmp_path / "replayed")).folder
    answers = demo_answers()
    there = stage(tmp_path / "walked")
    folder = begin(
        there.shelf,
        name=answers.name,
        procedure=pin(PROCEDURE),
        shared=pin_shared(PROCEDURE, pin(PROCEDURE)),
        engine=pin(ENGINE),
        specs=pin(SPECS),
        owner=OWNER,
        moment=answers.start,
    )
    there.clock.moment = answers.start
    left = list(answers.answers)
    fresh = True
    seen: set[str] = set()
    while left:
        if isinstance(left[0], Wait):
            there.clock.advance(left.pop(0).time.number("s"))  # type: ignore[union-attr]
        async with playing(there.app(there.opening(folder, fresh=fresh))) as player:
            fresh = False
            while left and isinstance(left[0], Say):
                seen.add(player.asked)
                _can_be_read(player)
                there.clock.advance(PACE)
                await answered(player, left.pop(0))
            finished = player.asked == ""
    assert finished
    assert len(seen) > 250
    assert read_records(folder) == read_records(replayed)
    assert _digest(folder) == _digest(replayed)


async def answered(player: Player, entry: object) -> None:
    """Answer as a builder would: digits for choices, F10 for parts, elsewhere by its address."""
    assert isinstance(entry, Say)
    prompt = player.look.prompt
    assert prompt is not None
    sequence = player.look.state.sequence
    if entry.text == "arrived":
        await player.press("f10")
    elif entry.at != player.asked:
        await player.say(f"@{entry.at} {entry.text}")
    elif prompt.asks == "choice" and entry.text in prompt.choices:
        await player.press(str(prompt.choices.index(entry.text) + 1))
    elif prompt.asks == "tick" and not entry.text and sequence % 2:
        await player.press("space")
    else:
        await player.say(entry.text)
    if entry.refused:
        assert player.bench.under, entry
        assert player.typed in ("", entry.text)
        if player.typed:
            assert player.look.state.sequence == sequence
            player.bench.field.value = ""
            await player.settled()
    else:
        assert player.look.state.sequence > sequence, (entry, player.picture)


def _can_be_read(player: Player) -> None:
    """Hold what is on the screen against what must be: all words, the unit, or a sign of more."""
    shown = player.picture
    rows = shown.splitlines()
    assert len(rows) == 24
    ask = player.bench.query_one("#ask").content_region
    column = " ".join(row[ask.x : ask.right].strip() for row in rows[ask.y : ask.bottom])
    column = " ".join(column.split())
    prompt = player.look.prompt
    assert prompt is not None
    assert " ".join(prompt.words.split()) in column, shown
    for caution in prompt.caution:
        whole = " ".join(f"! {caution}".split())
        assert whole in column or asking.cautious(caution, ask.width) in column, shown
    rest = " ".join(part.plain for part in asking.detail(prompt) if part.plain)
    assert " ".join(rest.split()) in column or "more lines: PgDn" in column, shown
    assert asking.cue(prompt) in column, shown
    if prompt.proposal:
        assert f"Enter: {prompt.proposal}" in column, shown
    assert rows[23].endswith("^Q quit")


def _digest(folder: Path) -> str:
    return hashlib.sha256((folder / "journal.sqlite").read_bytes()).hexdigest()
