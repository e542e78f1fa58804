"""A build's spec sheet and files, for the command."""

from pathlib import Path

from snugset.bench import Bench
from snugset.clock import now
from snugset.commands.declare import CommandError, Given, Place, UsageError
from snugset.commands.output import say, say_text, warn
from snugset.commands.sitting import warn_of_network
from snugset.commands.who import owner
from snugset.filling import Answered, changed_lines, proposed, take
from snugset.guide.spec_file import spec_file
from snugset.journal.reading import read_records
from snugset.journal.shelf import Shelf
from snugset.opening import pin
from snugset.printable import counted
from snugset.stored import stood
from snugset.writing import write_new


def specs(given: Given, place: Place) -> int:
    """Show, save or fill a spec sheet; UsageError for two of them at once."""
    if given.has("--fill") and given.has("--save"):
        raise UsageError("--fill and --save are done one at a time; leave one out")
    if given.has("--take") and not given.has("--fill"):
        raise UsageError("--take belongs to --fill FILE; name the file")
    folder = Shelf(place.data).folder(given.one("BUILD"))
    if given.has("--fill"):
        return _fill(folder, given, place)
    records = read_records(folder)
    plan, state = stood(records, folder.name)
    found = spec_file(plan, state)
    if not given.has("--save"):
        say_text(found.text)
        return 0
    file = Path(given.one("--save"))
    try:
        write_new(file, found.text)
    except FileExistsError:
        raise CommandError(f"{file} is there already; give another name") from None
    say(f"Saved: {counted(found.count, 'figure')} in {file}")
    warn(*(f"snugset: left out: {one}" for one in found.left_out))
    return 0


def _fill(folder: Path, given: Given, place: Place) -> int:
    file = pin(Path(given.one("--fill")), shown=given.one("--fill"))
    who = owner(given, place.environ)
    if not given.has("--take"):
        records = read_records(folder)
        plan, state = stood(records, folder.name)
        found = proposed(plan, file, state, who.person, now())
        _tell(found)
        if found.changes:
            say("", "Nothing is taken yet; the same with --take takes it.")
        return 0
    warn_of_network(place)
    with Bench.open(folder, owner=who, clock=now) as bench:
        found = take(bench, file)
    _tell(found)
    say("", f"Taken: {counted(len(found.changes), 'figure')}.")
    return 0


def _tell(found: Answered) -> None:
    say(*changed_lines(found))
