"""replay: plays an answers file."""

from pathlib import Path

from snugset.commands.declare import JSON, Argument, Command, Given, Place
from snugset.commands.output import say, say_json
from snugset.printable import counted


def _run(given: Given, place: Place) -> int:
    from snugset.journal.shelf import Shelf  # noqa: PLC0415 - loads the guide
    from snugset.play import play  # noqa: PLC0415

    played = play(Path(given.one("ANSWERS")), Shelf(place.data))
    build = played.folder.name
    if given.has("--json"):
        say_json(
            {
                "build": build,
                "answers": played.answers,
                "refused": played.refused,
                "finished": played.finished,
            }
        )
        return 0
    end = "is finished" if played.finished else f"stands open: snugset resume {build}"
    say(
        f"Played {counted(played.answers, 'answer')}, {played.refused} refused as expected; "
        f"the build {build} {end}"
    )
    return 0


COMMAND = Command(
    "replay",
    "plays an answers file through its procedure; the build stays",
    _run,
    (Argument("ANSWERS", "an answers file", needed=True), JSON),
    notes=(
        "The clock and the people are the file's. The first answer that is taken or refused "
        "otherwise than the file says ends it with exit 1; the build then stands there."
    ),
)
