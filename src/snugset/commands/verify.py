"""verify: whether a build's journal is what was written."""

from pathlib import Path

from snugset.commands.declare import JSON, Argument, Command, CommandError, Given, Place
from snugset.commands.output import say, say_json, warn
from snugset.printable import counted
from snugset.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from snugset.journal.reading import Verdict


def _run(given: Given, place: Place) -> int:
    from snugset.journal.reading import verify  # noqa: PLC0415 - loads what proves it
    from snugset.journal.shelf import Shelf  # noqa: PLC0415

    folder = Shelf(place.data).folder(given.one("BUILD"))
    verdict = verify(folder)
    if given.has("--out"):
        _copy_out(folder, verdict, Path(given.one("--out")))
    if given.has("--json"):
        say_json(
            {
                "build": folder.name,
                "whole": verdict.whole,
                "records": verdict.records,
                "digest": verdict.digest,
                "problems": verdict.problems,
            }
        )
    elif verdict.whole:
        say(
            f"{folder.name} is whole: {counted(verdict.records, 'record')}",
            f"digest {verdict.digest}",
        )
    else:
        say(*verdict.problems)
        first = counted(verdict.records, "record")
        say(f"{folder.name} is not whole; its first {first} can be relied on")
    return 0 if verdict.whole else 1


def _copy_out(folder: Path, verdict: "Verdict", target: Path) -> None:
    """Write the records that are proven into a new backup; the build itself is left as it is.

    Of a journal that a newer Snugset wrote nothing is: what its records mean is not known here.
    """
    from snugset.guide.scene import when  # noqa: PLC0415
    from snugset.journal.carry import copy_records  # noqa: PLC0415
    from snugset.journal.salvage import salvage  # noqa: PLC0415
    from snugset.stored import BuildError, fitting, head_of, stood  # noqa: PLC0415 - loads the guide

    if not target.parent.is_dir():
        raise CommandError(f"there is no folder {target.parent}; make it first")
    records, _ = salvage(folder)
    if len(records) > verdict.records:
        raise CommandError(f"{'; '.join(verdict.problems)}; nothing is copied out")
    try:
        plan, state = stood(records, folder.name)
        with fitting(folder.name):
            head = head_of(plan, state, when(records[-1].at))
    except (BuildError, IndexError):
        raise CommandError(
            f"{folder.name}: not even its first record can be read; restore a backup"
        ) from None
    digest = copy_records(folder, records, head, target)
    are = counted(len(records), "record is", "records are")
    warn(f"{are} in {target}; digest {digest}")
    warn(f"to put them on the shelf as a build of its own: snugset restore {target}")


COMMAND = Command(
    "verify",
    "proves a build's journal and photographs whole, or says how far; nothing is changed",
    _run,
    (
        Argument("BUILD", "its id, its name, or how its id begins", needed=True),
        Argument("--out", "copies the records that are proven into a new backup", value="FILE"),
        JSON,
    ),
    notes=(
        "Lost last records show only against a digest kept elsewhere: on a build sheet, with a "
        "backup. Exit 1 if the journal is not whole."
    ),
)
