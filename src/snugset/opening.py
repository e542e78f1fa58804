"""Beginning a build: its files, and the spec sheet that comes with it."""

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from snugset.clock import utc
from snugset.files.problems import Problem, Problems
from snugset.files.shared import names_in
from snugset.files.specs import SpecSheet
from snugset.files.tree import parse
from snugset.filling import answered, sheet_in
from snugset.guide.apply import fold
from snugset.guide.events import Record
from snugset.guide.state import State
from snugset.journal.journal import Journal
from snugset.journal.owner import Owner
from snugset.journal.shelf import Shelf
from snugset.plan.plan import Pinned, Plan
from snugset.stored import BuildError, begun, compiled, head_of

_LARGEST = 2 * 1024 * 1024
"""Bytes; no more is read of what another file names."""


def pin(path: Path, shown: str = "") -> Pinned:
    """Read a file as it is now; BuildError if it cannot be read as UTF-8 text of 2 MiB at most."""
    try:
        with path.open("rb") as source:
            content = source.read(_LARGEST + 1)
        if len(content) > _LARGEST:
            raise BuildError(f"{path}: this is larger than 2 MiB; split it or give another file")
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        raise BuildError(
            f"{path}: byte {error.start + 1} is not UTF-8; save the file as UTF-8"
        ) from None
    except OSError as error:
        raise BuildError(f"{path}: {error.strerror or error}; check the path") from None
    return Pinned(file=shown or path.name, text=text)


def pin_named(path: Path) -> Pinned:
    """Read a file that another file names; BuildError also where it is no plain file.

    A pipe or a device would be waited for without an end.
    """
    if path.exists() and not path.is_file():
        raise BuildError(f"{path}: this is no file; check the path")
    return pin(path)


def pin_shared(path: Path, procedure: Pinned) -> dict[str, Pinned]:
    """Read the files of shared groups that a procedure names, from the folder beside its file.

    Only bare names are looked for. One that is not there is left out: reading the procedure tells.
    """
    found = {}
    for name in names_in(parse(procedure.text, procedure.file, Problems())):
        file = path.parent / "shared" / f"{name}.yaml"
        if file.is_file():
            found[name] = pin(file, f"shared/{file.name}")
    return found


def identity(name: str, shelf: Shelf) -> str:
    """Make an id from a name that is not taken yet: ``pump-six``, ``pump-six-2``."""
    words = "".join(c if c.isascii() and c.isalnum() else "-" for c in name.lower())
    base = "-".join(part for part in words.split("-") if part)[:48].strip("-") or "build"
    taken = {entry.id for entry in shelf.builds()}
    number, found = 1, base
    while found in taken:
        number += 1
        found = f"{base}-{number}"
    return found


def begin(
    shelf: Shelf,
    *,
    name: str,
    procedure: Pinned,
    engine: Pinned,
    specs: Pinned | None,
    owner: Owner,
    moment: datetime,
    shared: Mapping[str, Pinned] | None = None,
) -> Path:
    """Make a build with its spec sheet answered as far as the file goes, and give its folder.

    Nothing is made unless everything reads; BuildError with every mistake otherwise.
    """
    if not name.strip() or len(name) > 200 or not name.isprintable():
        raise BuildError("A build needs a name of 1 to 200 letters that can be seen.")
    plan = compiled(procedure, engine, shared)
    records = [begun(name, procedure, engine, at=utc(moment), person=owner.person, shared=shared)]
    if specs is not None:
        records += spec_records(plan, specs, fold(records), owner.person, moment)
    folder = shelf.new_folder(identity(name, shelf))
    head = head_of(plan, fold(records), moment)
    Journal.create(folder, owner=owner, records=records, head=head).close()
    return folder


def spec_records(
    plan: Plan, specs: Pinned, state: State, person: str, moment: datetime
) -> list[Record]:
    """Answer the spec sheet's prompts with a file; BuildError with every mistake in it."""
    into = Problems()
    sheet = sheet_in(plan, specs, into)
    if sheet is None:
        raise BuildError("\n".join(str(problem) for problem in into.items))
    found = answered(plan, sheet, state, person, moment)
    if found.wrong:
        raise BuildError("\n".join(map(str, found.wrong)))
    return found.records


def broken_rules(plan: Plan, sheet: SpecSheet) -> list[Problem]:
    """Give what the spec sheet's prompts would stop: a wrench out of reach, figures at odds."""
    return answered(plan, sheet, State(), "", datetime.fromtimestamp(0, UTC)).wrong
