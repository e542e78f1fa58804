"""The build sheet as Markdown that reads as plain text, in 100 columns."""

from snugset.sheet import markdown_again as again
from snugset.sheet import markdown_figures as figures
from snugset.sheet import markdown_measured as measured
from snugset.sheet import markdown_work as work
from snugset.sheet.contents import Sheet
from snugset.sheet.markdown_summary import head, summary


def markdown(sheet: Sheet) -> str:
    """Write a sheet: what matters first, then everything. What people typed is text, never markup.

    A single word longer than a line is the only thing that goes beyond 100 columns.
    """
    parts = (
        head,
        summary,
        figures.spec_sheet,
        figures.instruments,
        figures.fasteners,
        again.passes,
        figures.setting_points,
        measured.rounds,
        work.not_standing,
        measured.pushrods,
        measured.other_readings,
        again.lash_changes,
        work.work,
        work.second_looks,
        work.doubts,
        again.revisions,
        work.journal,
    )
    lines = [line for part in parts for line in part(sheet)]
    return "\n".join(lines).rstrip("\n") + "\n"
