"""Handing over, photographs and the order list, by their keys."""

from pathlib import Path

from driving import Table, table
from snugset.journal.reading import read_records, verify
from snugset.screens.order import OrderScreen

from .stage import Stage, at, playing

JPEG = b"\xff\xd8\xff\xe0" + bytes(100)


async def test_handing_over_puts_the_initials_in_the_title_and_the_history(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        assert player.picture.splitlines()[0].strip().startswith("Test six")
        await player.press("ctrl+t")
        assert player.typed == "person "
        await player.say("Robin")
        assert "From here on Robin answers." in player.words
        assert player.picture.splitlines()[0].strip().startswith("R · Test six")
        assert player.asked == "gap@4E#1"
        await player.say("78; 79")
        assert player.look.records[-1].person == "Robin"
        await player.press("f9")
        rows = player.picture.splitlines()
        assert "W\u00a0Wren, R\u00a0Robin" in rows[0]
        assert " R    gap@4E#1: 78.5 thou" in rows[1]
        assert " R    Robin takes over from Wren" in rows[2]
        assert " W    gap@4I#1" in rows[3]


async def test_at_a_source_the_words_are_a_source_and_the_key_hands_over(there: Stage) -> None:
    async with playing(there.app(there.opening(there.put(_at_a_source())))) as player:
        asked = player.asked
        assert asked.endswith(".source")
        await player.press("ctrl+y")
        assert player.typed == ""
        await player.press("ctrl+t")
        await player.say("Robin")
        assert (player.look.person, player.asked) == ("Robin", asked)


async def test_a_key_puts_its_word_in_the_place_of_another_keys_word(there: Stage) -> None:
    async with playing(there.at("gap@4E#1")) as player:
        await player.press("ctrl+y", *"lamp")
        assert player.typed == "photo lamp"
        for key, line in (
            ("ctrl+t", "person lamp"),
            ("f4", "note lamp"),
            ("f4", "note lamp"),
            ("f5", "skip lamp"),
            ("ctrl+y", "photo lamp"),
        ):
            await player.press(key)
            assert player.typed == line


def _at_a_source() -> Table:
    told = table(specs=False)
    while not told.at.endswith(".source"):
        told.taken(".005")
    return told


async def test_a_second_look_is_asked_of_somebody_else(there: Stage) -> None:
    async with playing(there.at("head-tighten.second-look")) as player:
        await player.press("enter")
        assert "the second look is another person's" in player.words
        await player.say("Robin")
        assert "Looked at by Robin." in player.words
        assert player.asked == "head-threads"


async def test_a_photograph_is_copied_and_a_wrong_path_stays_typed(
    there: Stage, tmp_path: Path
) -> None:
    picture = tmp_path / "deck [1].jpg"
    picture.write_bytes(JPEG)
    folder = there.put(at("gap@4E#1"))
    async with playing(there.app(there.opening(folder))) as player:
        await player.press("ctrl+y")
        assert player.typed == "photo "
        await player.say(f"{tmp_path}/gone.jpg")
        assert "is not there; check the path" in player.words
        assert player.typed == f"photo {tmp_path}/gone.jpg"
        await player.press("escape")
        await player.paste("photo x.jpg")
        assert "→ Enter reads the file" in player.words
        await player.press("escape")
        await player.say(f"photo '{picture}' it weeps [bold]")
        assert "Copied into the build: image/jpeg" in player.words
        assert player.asked == "gap@4E#1"
    assert [p.read_bytes() for p in (folder / "attachments").iterdir()] == [JPEG]
    assert read_records(folder)[-1].body["caption"] == "it weeps [bold]"
    assert verify(folder).whole


async def test_the_order_list_is_read_copied_and_written(there: Stage, tmp_path: Path) -> None:
    async with playing(there.at("post#1"), (100, 30)) as player:
        await player.press("ctrl+o")
        assert isinstance(player.app.screen, OrderScreen)
        assert "12 x 10.300 in = 261.62 mm" in player.picture
        assert "0.040 in shorter than the measured one of 10.340 in" in player.picture
        await player.press("c")
        assert "12 x 10.300 in" in player.app.clipboard
        await player.press("w")
        field = player.field("file")
        assert field.value.endswith("barn-pump-six-order.txt")
        field.value = str(tmp_path / "order.txt")
        await player.press("enter")
        assert "Written to" in player.picture
        assert (tmp_path / "order.txt").read_text("utf-8") == player.app.clipboard
        await player.press("w", "enter")
        assert "There is such a file already" in player.picture
        field.value = str(tmp_path / "no" / "folder.txt")
        await player.press("enter")
        assert "Not written" in player.picture
        await player.press("escape")
        assert player.asked == "post#1"
