"""Beginning a build from files, for the command."""

from pathlib import Path

from snugset import shipped
from snugset.clock import now
from snugset.commands.declare import CommandError, Given, Place
from snugset.commands.output import say
from snugset.commands.parse import near, quote
from snugset.commands.sitting import sit, warn_of_network
from snugset.commands.who import owner
from snugset.files.problems import Problems
from snugset.files.tree import Fields, Scalar, parse
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.opening import begin as begin_build
from snugset.opening import pin, pin_shared
from snugset.plan.plan import Pinned


def begin(given: Given, place: Place) -> int:
    """Make the build, say what it is called, and open it."""
    who = owner(given, place.environ)
    warn_of_network(place)
    folder = made(
        place,
        who,
        procedure=given.one("PROCEDURE"),
        engine=given.one("--engine"),
        specs=given.one("--specs"),
        name=given.one("--name"),
    )
    say(f"Begun: {folder.name}, kept in {folder}")
    return sit(folder, given, place, who, fresh=True)


def made(place: Place, who: Owner, *, procedure: str, engine: str, specs: str, name: str) -> Path:
    """Make a build from what was typed, and give its folder."""
    machine = pin(meant("engine", engine, shipped.engines()))
    file = meant("procedure", procedure, shipped.procedures())
    work = pin(file)
    return begin_build(
        Shelf(place.data),
        name=name or _name_of(machine),
        procedure=work,
        shared=pin_shared(file, work),
        engine=machine,
        specs=pin(Path(specs)) if specs else None,
        owner=who,
        moment=now(),
    )


def meant(sort: str, text: str, known: dict[str, Path]) -> Path:
    """Find the file that a path or a shipped name means; CommandError if there is none."""
    found = shipped.find(text, known)
    if found is None:
        raise CommandError(
            f"there is no {sort} file {quote(text)}{near(text, known)}; give a path, or a name "
            f"that is shipped: {', '.join(known)}"
        )
    return found


def _name_of(engine: Pinned) -> str:
    """Give the name that an engine file says, or the file's own; mistakes are told elsewhere."""
    node = parse(engine.text, engine.file, Problems())
    if isinstance(node, Fields) and "name" in node.fields:
        name = node.fields["name"][1]
        if isinstance(name, Scalar) and name.text.strip():
            return name.text.strip()
    return Path(engine.file).stem
