"""The build sheet, for the command."""

from snugset.bench import plan_of
from snugset.commands.declare import Place
from snugset.commands.output import say_json_text, say_text
from snugset.journal.contents import whole_records
from snugset.journal.opening import reading
from snugset.journal.shelf import Shelf
from snugset.sheet import as_json, markdown, sheet_of


def show(build: str, form: str, place: Place) -> None:
    """Show the sheet of a build as ``md`` or ``json``."""
    folder = Shelf(place.data).folder(build)
    with reading(folder) as connection:
        records, digest = whole_records(connection, folder.name)
    sheet = sheet_of(plan_of(records), records, digest)
    if form == "json":
        say_json_text(as_json(sheet))
    else:
        say_text(markdown(sheet))
