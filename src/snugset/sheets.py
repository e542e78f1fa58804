"""A build sheet from a build's folder, as text, and put into a file whole."""

from pathlib import Path

from snugset.journal.attachments import pictures
from snugset.journal.contents import whole_records
from snugset.journal.errors import JournalError, told
from snugset.journal.opening import reading
from snugset.printable import printable_json
from snugset.sheet import as_csv, as_json, markdown, sheet_of
from snugset.sheet.contents import Sheet
from snugset.stored import fitting, stood
from snugset.typed import Literal, words
from snugset.writing import write_new

Form = Literal["html", "md", "csv", "json"]
FORMS: tuple[Form, ...] = words(Form)
OWN = "build-sheet.html"
"""The sheet's name in the build's own folder: made from the journal, so it may be made again."""


def sheet_text(folder: Path, form: Form) -> str:
    """Write the sheet of a build as text, also while it is open.

    JournalError if the journal is unreadable, BuildError if its records make no sheet.
    """
    with reading(folder) as connection:
        records, digest, _ = whole_records(connection, folder.name)
    plan, _ = stood(records, folder.name)
    with fitting(folder.name):
        return _written(folder, sheet_of(plan, records, digest), form)


def _written(folder: Path, sheet: Sheet, form: Form) -> str:
    match form:
        case "html":
            from snugset.sheet.page import html  # noqa: PLC0415 - loads the template engine

            return html(sheet, pictures(folder, (each.name for each in sheet.photographs)))
        case "csv":
            return as_csv(sheet)
        case "json":
            return printable_json(as_json(sheet))
    return markdown(sheet)


def form_of(target: Path) -> Form:
    """Give the form that a file's name asks for; Markdown where it says none."""
    ending = target.suffix.lower().removeprefix(".")
    return next((form for form in FORMS if form == ending), "html" if ending == "htm" else "md")


def keep_sheet(folder: Path) -> Path:
    """Put the sheet as a page into the build's own folder, over an earlier one; its path.

    JournalError if the journal cannot be read or the page cannot be written.
    """
    return write_sheet(folder, folder / OWN, "html", replace=True)


def write_sheet(folder: Path, target: Path, form: Form, *, replace: bool = False) -> Path:
    """Put the sheet of a build into a file; its path, as it was given.

    It appears complete or not at all. JournalError "exists" if there is one of that name and it is
    not to be replaced, "disk" if it cannot be written.
    """
    text = sheet_text(folder, form)
    with told(str(target)):
        try:
            write_new(target, text, replace=replace)
        except FileExistsError as fault:
            raise JournalError(
                "exists", f"{target} is there already; --replace writes over it"
            ) from fault
    return target
