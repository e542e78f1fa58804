"""order: what a build wants ordered, to paste into a message."""

from pathlib import Path

from snugset.commands.declare import JSON, Argument, Command, Given, Place
from snugset.commands.output import say, say_json_text, say_text


def _run(given: Given, place: Place) -> int:
    from snugset.commands import recording  # noqa: PLC0415 - loads the guide
    from snugset.sheet.order import order_of  # noqa: PLC0415
    from snugset.sheet.order_text import order_json, order_text  # noqa: PLC0415
    from snugset.writing import write_new  # noqa: PLC0415

    build = recording.read(given.one("BUILD"), place)
    found = order_of(build.plan, build.records)
    text = order_json(found) if given.has("--json") else order_text(found)
    if given.has("--to"):
        target = Path(given.one("--to"))
        write_new(target, text)
        say(f"The order list is in {target}")
    elif given.has("--json"):
        say_json_text(text)
    else:
        say_text(text)
    return 0


COMMAND = Command(
    "order",
    "what to order and why: pushrods by difference, what is renewed",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("--to", "a file to write; one that is there is never overwritten", value="FILE"),
        JSON,
    ),
    notes=(
        "Plain text of 72 columns, to paste into a message. It is made from the journal as it "
        "stands, also while the build is open elsewhere."
    ),
    examples=('snugset order "Yard six"',),
)
