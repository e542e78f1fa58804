"""attach: a photograph into a build, from the shell."""

from pathlib import Path

from snugset.commands.declare import JSON, PERSON, Argument, Command, CommandError, Given, Place
from snugset.commands.output import say, say_json


def _run(given: Given, place: Place) -> int:
    from shlex import quote  # noqa: PLC0415 - with the guide

    from snugset.bench import Bench  # noqa: PLC0415 - loads the guide
    from snugset.clock import now  # noqa: PLC0415
    from snugset.commands import who  # noqa: PLC0415
    from snugset.guide.address import Address, AddressError  # noqa: PLC0415
    from snugset.guide.ruling import Refusal  # noqa: PLC0415
    from snugset.journal.shelf import Shelf  # noqa: PLC0415

    folder = Shelf(place.data).folder(given.one("BUILD"))
    at: Address | None = None
    if given.has("--at"):
        try:
            at = Address.parse(given.one("--at"))
        except AddressError as error:
            raise CommandError(str(error)) from None
    owner = who.owner(given, place.environ)
    with Bench.open(folder, owner=owner, clock=now) as bench:
        at = at or bench.standing
        path = Path(given.one("PATH")).absolute()
        outcome = bench.say(f"photo {quote(str(path))} {given.one('--note')}".strip(), at=at)
        if isinstance(outcome, Refusal):
            raise CommandError(outcome.words)
        (photo,) = bench.state.photographs[-1:]
    if given.has("--json"):
        say_json(
            {
                "build": folder.name,
                "at": str(at),
                "name": photo.name,
                "digest": photo.digest,
                "media": photo.media,
                "size": photo.size,
            }
        )
    else:
        say(*outcome.said, f"It stands at {at}: {folder / 'attachments' / photo.name}")
    return 0


COMMAND = Command(
    "attach",
    "copies a photograph into a build; it stands on the build sheet",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("PATH", "a JPEG, PNG, WebP or HEIC of 25 MiB at the most", needed=True),
        Argument("--note", "what it shows", value="TEXT"),
        Argument("--at", "the step it belongs to; else where the build stands", value="ADDRESS"),
        PERSON,
        JSON,
    ),
    notes=(
        "Refused while the build is open elsewhere: type photo PATH there. Only a plain file is "
        "taken, not a link. It counts as coming back to the build, as any opening does."
    ),
    examples=('snugset attach "Yard six" deck.jpg --note "deck after scraping"',),
)
