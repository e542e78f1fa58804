"""Text from files, people and typing is content: brackets stay brackets, nothing is obeyed."""

from pathlib import Path

import pytest

from driving import ENGINE, PROCEDURE, SPECS, Table, table
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned
from snugset.screens.words import around, lines, short, text, wrapped
from snugset.stored import compiled

from .stage import Stage, playing

EVIL = ("[bold][red](x)[/red]", "[/][[in[side]]]\\[c]")


def evil_text(path: Path, *pairs: tuple[str, str]) -> Pinned:
    """Put hostile words into a file of the demo."""
    words = pin(path).text
    for old, new in pairs:
        assert old in words, old
        words = words.replace(old, new, 1)
    return Pinned(file=path.name, text=words)


@pytest.fixture(params=EVIL)
def evil(request: pytest.FixtureRequest) -> str:
    """One text that would be markup elsewhere."""
    return str(request.param)


@pytest.fixture
def told(evil: str) -> Table:
    """A build whose files and names are hostile."""
    quoted = evil.replace("\\", "\\\\")
    procedure = evil_text(
        PROCEDURE,
        ("- title: Before starting", f'- title: "{quoted} starting"'),
        ("choices: [here, on order]", f'choices: [here, "{quoted}"]'),
    )
    shared = pin_shared(PROCEDURE, procedure)
    shared["studs-and-head"] = evil_text(
        PROCEDURE.parent / "shared" / "studs-and-head.yaml",
        ("Lay the maker's manual", f"Lay {evil} manual"),
        ("The guide carries the order", f"The {evil} order"),
        ("- Where you are not sure of a step", f"- A {evil} step"),
        ("How far out of flat may the head's face be", f"How {evil} flat may the head be"),
    )
    engine = evil_text(ENGINE, ("name: Barn pump six (invented)", f'name: "{quoted} six"'))
    told = Table(
        compiled(procedure, engine, shared), procedure, engine, shared, person=f"Wren {evil}"
    )
    specs = evil_text(SPECS, ("engine maker's leaflet (invented), p. 3", f'"{quoted} p. 3"'))
    told.begin(specs)
    record = told.records[0]
    assert record.kind == "begun"
    named = {**record.body, "name": f"{evil} six"}
    told.records[0] = type(record)(
        sequence=1, answer=0, at=record.at, person=record.person, kind="begun", body=named
    )
    told.say("72 lbf·in; leaflet")
    return told


async def test_the_bench_shows_hostile_words_as_they_are(
    there: Stage, told: Table, evil: str
) -> None:
    folder = there.put(told)
    async with playing(there.app(there.opening(folder)), (100, 30)) as player:
        assert player.asked == "manual"
        first = player.picture.splitlines()[:2]
        assert first[0].startswith(f" W · {evil} six")
        assert evil in first[1]
        shown = player.words
        assert f"Lay {evil} manual" in shown
        assert f"{evil} step" in shown
        await player.press("f2")
        assert f"The {evil} order" in player.words
        await player.type(f"note {evil} typed")
        assert f"note {evil} typed" in player.words
        await player.press("enter")
        assert player.look.state.notes[-1].text == f"{evil} typed"
        await player.press("f4")
        await player.type("x")
        await player.press("enter")
        await player.say(f"{evil} is no answer here")
        assert f"note {evil} is no answer" in player.words


async def test_sheet_history_list_and_return_show_them_as_they_are(
    there: Stage, told: Table, evil: str
) -> None:
    folder = there.put(told)
    there.clock.advance(7200)
    async with playing(there.app(there.opening(folder, fresh=False)), (100, 30)) as player:
        assert f"last here: Wren {evil}" in player.words
        await player.press("enter", "f8")
        assert f"from {evil} p. 3" in player.words
        assert f"How {evil} flat may the head be" in player.words
        await player.press("enter", "enter", "ctrl+u")
        await player.type(f"{evil} leaflet")
        await player.press("enter")
        assert f"from {evil} leaflet" in player.words
        await player.press("escape", "f9")
        assert player.picture.startswith(f" History of {evil} six")
        assert f"Wren {evil}" in player.words or "Wren head-flatness" in player.words
        await player.press("f3")
        assert f"{evil} leaflet" in player.words
        await player.press("escape", "escape")
        assert f"{evil} six" in player.words


async def test_a_hostile_choice_is_offered_and_given_as_it_is(
    there: Stage, told: Table, evil: str
) -> None:
    while told.at != "other-parts":
        told.say(".002" if told.at == "head-flat" else "")
    folder = there.put(told)
    async with playing(there.app(there.opening(folder)), (100, 30)) as player:
        assert f"2  {evil}" in player.picture
        await player.press("2")
        assert f"other-parts: {evil}" in player.words


async def test_a_hostile_owner(there: Stage, told: Table, evil: str) -> None:
    folder = there.put(told)
    other = Owner(person=evil, host="barn", pid=1, since="2026-03-06T17:40:00Z")
    with Journal.open(folder, owner=other):
        async with playing(there.app(), (160, 48)) as player:
            assert f"open elsewhere: {evil} on barn" in player.words
            await player.press("enter")
            assert f"is open elsewhere, by {evil} on barn" in player.words


async def test_a_hostile_proposal_stands_in_the_field_as_it_is(there: Stage, evil: str) -> None:
    folder = there.put(table(specs=False))
    async with playing(there.app(there.opening(folder))) as player:
        await player.say(f"0.005; {evil} p. 3")
        await player.say(".003")
        assert player.asked == "spec.deck-flatness.source"
        assert f"▸ Enter: {evil} p. 3" in player.words
        await player.press("enter")
        assert player.look.state.specs["deck-flatness"].source == f"{evil} p. 3"


@pytest.mark.parametrize("words", ["\x1b[31m", "a\tb", "\u202e", "\x07", "\ud800"])
def test_what_cannot_be_seen_is_shown_as_such(words: str) -> None:
    shown = text(words).plain
    assert "�" in shown
    assert shown.isprintable()


def test_several_lines_stay_several() -> None:
    assert text("a\nb").plain == "a\nb"
    assert lines(["a", "[b]", ""]).plain == "a\n[b]\n"


def test_a_short_text_is_cut_by_cells_not_letters() -> None:
    assert short("abcdef", 4) == "abc…"
    assert short("ab", 4) == "ab"
    assert text(short("日本語のエンジン", 7)).cell_length <= 7


def test_lines_are_broken_by_cells_and_lose_nothing() -> None:
    words = "日本語 [bold]mixed[/] with latin and a verylongwordthatfitsnowhere"
    broken = wrapped([text(words)], 10)
    assert all(line.cell_length <= 10 for line in broken)
    assert "".join(line.plain for line in broken).replace(" ", "") == words.replace(" ", "")


def test_the_line_that_matters_is_always_among_those_shown() -> None:
    every = [text(str(number)) for number in range(50)]
    for height in (1, 2, 3, 10, 60):
        for at in (0, 1, 2, 25, 48, 49):
            shown = [line.plain for line in around(every, at, height)]
            assert len(shown) == min(height, 50)
            assert str(at) in shown, (height, at)
