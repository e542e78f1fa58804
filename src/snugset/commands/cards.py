"""cards: the procedure for the wall, with this build's figures."""

from pathlib import Path

from snugset.commands.declare import Argument, Command, Given, Place
from snugset.commands.output import say, say_text


def _run(given: Given, place: Place) -> int:
    from snugset.commands import recording  # noqa: PLC0415 - loads the guide
    from snugset.sheet.cards import cards_of  # noqa: PLC0415
    from snugset.sheet.cards_text import FORMS  # noqa: PLC0415
    from snugset.writing import write_new  # noqa: PLC0415

    build = recording.read(given.one("BUILD"), place)
    text = FORMS[given.one("--as", "text")](cards_of(build.plan, build.records))
    if given.has("--to"):
        target = Path(given.one("--to"))
        write_new(target, text)
        say(f"The bench cards are in {target}")
    else:
        say_text(text.replace("\f", "\n"))
    return 0


COMMAND = Command(
    "cards",
    "bench cards for the wall: the procedure with this build's figures, and the setting points",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("--as", "text without", choices=("text", "md")),
        Argument("--to", "a file to write; one that is there is never overwritten", value="FILE"),
    ),
    notes=(
        "Text has 76 columns; a file of it has a form feed between cards, so that each begins a "
        "sheet of A4 or Letter. "
        "A figure that is not on the spec sheet yet reads (not given)."
    ),
    examples=('snugset cards "Yard six" --to yard-six-cards.txt',),
)
