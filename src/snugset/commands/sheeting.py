"""The build sheet, for the command."""

from pathlib import Path
from typing import cast

from snugset.commands.declare import CommandError, Given, Place, UsageError
from snugset.commands.output import say, say_bytes, say_json_text, say_text
from snugset.journal.shelf import Shelf
from snugset.sheets import Form, form_of, sheet_text, write_sheet


def show(given: Given, place: Place) -> None:
    """Show the sheet of a build, or put it into a file and say where it is."""
    out = given.one("--out")
    if given.has("--replace") and not out:
        raise UsageError("--replace goes with --out FILE: say which file is written over")
    form = cast("Form", given.one("--as") or (form_of(Path(out)) if out else "md"))
    folder = Shelf(place.data).folder(given.one("BUILD"))
    if not out:
        _write(form, sheet_text(folder, form))
        return
    target = Path(out)
    if not target.parent.is_dir():
        raise CommandError(f"there is no folder {target.parent}; make it first")
    if target.is_dir():
        raise CommandError(f"{target} is a folder; name the file in it")
    write_sheet(folder, target, form, replace=given.has("--replace"))
    say(f"The build sheet of {folder.name} is in {target.absolute()}")


def _write(form: Form, text: str) -> None:
    if form == "json":
        say_json_text(text)
    elif form == "md":
        say_text(text)
    else:
        say_bytes(text)
