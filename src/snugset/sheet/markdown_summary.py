"""The top of the sheet: what build it is, where it stands, what to know before taking it apart."""

from collections.abc import Iterable

from snugset.printable import counted
from snugset.sheet.contents import Sheet
from snugset.sheet.inert import inert
from snugset.sheet.layout import items, paragraph, table
from snugset.sheet.phrases import at, clock, limits, listed, measured, spread, verdict
from snugset.sheet.readings import Missing, ReadingRow


def head(sheet: Sheet) -> list[str]:
    """Give the title, the engine, who, when, and where it stands."""
    engine = sheet.engine
    people = listed(
        f"{inert(person.name)} ({inert(person.initials)}: {counted(person.answers, 'answer')}, "
        f"{spread(person.first, person.last)})"
        for person in sheet.people
    )
    order = "-".join(map(str, engine.firing_order))
    kind = (
        f"{engine.layout}, {counted(engine.cylinders, 'cylinder')}, firing order {order}, runs "
        f"{engine.running} seen from the front, rockers {engine.rockers}, lifters "
        f"{engine.lifters}, ratio {engine.ratio:f}"
    )
    lines = [
        f"Engine: {inert(engine.name)}; {kind}",
        f"Procedure: {inert(sheet.procedure.name)}",
        f"Begun {clock(sheet.begun)}, last answer {clock(sheet.last)}; all times are UTC",
        f"By {people}",
        _standing(sheet),
    ]
    lines += [
        f"Waiting: {inert(wait.what)}, since {clock(wait.since)}, {wait.lasted} so far"
        for wait in sheet.waits
        if not wait.until
    ]
    return ["# Build sheet", "", *paragraph(f"**Build:** {inert(sheet.name)}"), *items(lines)]


def _standing(sheet: Sheet) -> str:
    standing = sheet.standing
    if standing.finished:
        return f"Stands finished: all {standing.known} steps that it came to are closed"
    words = f": {inert(standing.words)}" if standing.words else ""
    return (
        f"Stands open at {at(standing.address, standing.where)}, {inert(standing.phase)}{words} "
        f"({standing.closed} of {standing.known} steps known so far are closed)"
    )


def summary(sheet: Sheet) -> list[str]:
    """Give what matters to whoever takes the engine apart."""
    found = sheet.summary
    lines = ["## What matters first", ""]
    lines += final_table(found.final) or paragraph("No preload and no lash has been measured yet.")
    if any(row.place[-1:] in "IE" for row in found.final):
        lines += paragraph("Newest reading of each place. I is the intake, E the exhaust valve.")
    lines += _block("Not proved", (_doubt(row) for row in found.doubtful))
    lines += _block(
        "Gone on against a rule",
        (
            f"{at(each.address, each.where)}: {inert(each.rule)}. Reason: {inert(each.reason)}"
            for each in sheet.overrides
        ),
    )
    lines += _block(
        "Skipped", (f"{at(each.address, each.where)}: {inert(each.text)}" for each in sheet.skips)
    )
    lines += _block("Not measured", _missing(found.missing))
    if found.not_due:
        lines += _block(
            "No part of this build",
            (f"{inert(e.figure)}, only if: {inert('; '.join(e.why))}" for e in found.not_due),
        )
    if found.not_had:
        names = ", ".join(map(inert, found.not_had))
        lines += paragraph(f"**Figures not had:** {names}. The spec sheet says what follows.")
    return lines + _block("Also on record", _counted(sheet))


def _block(title: str, texts: Iterable[str]) -> list[str]:
    texts = list(texts)
    return [f"**{title}:**", "", *items(texts)] if texts else paragraph(f"**{title}:** nothing.")


def final_table(rows: tuple[ReadingRow, ...]) -> list[str]:
    """Make a table of readings by place with what is in there now."""
    return table(
        ("Place", "Reading", "Or", "Verdict", "Pushrod then in", "Round", "Limits", "Ledger"),
        [
            (
                inert(row.place),
                measured(row),
                row.shown.partition(" = ")[2],
                verdict(row),
                str(row.pushrod or ""),
                str(row.round or ""),
                limits(row.low, row.high),
                inert(row.figure),
            )
            for row in rows
        ],
        shared=("Round", "Limits", "Ledger"),
    )


def _doubt(row: ReadingRow) -> str:
    reason = f" Kept because: {inert(row.reason)}" if row.reason else ""
    return (
        f"{inert(row.figure)} at {at(row.address, row.where)}, {measured(row)}: "
        f"{inert('; '.join(row.doubts))}.{reason}"
    )


def _missing(missing: tuple[Missing, ...]) -> Iterable[str]:
    for gap in missing:
        if gap.skipped:
            where = at(gap.address, gap.where)
            yield f"{inert(gap.figure)} at {where}, skipped: {inert(gap.reason)}"
    open_: dict[tuple[str, int], list[str]] = {}
    for gap in missing:
        if not gap.skipped:
            open_.setdefault((gap.figure, gap.round), []).append(inert(gap.place))
    for (figure, round_), places in open_.items():
        of_round = f", round {round_}" if round_ else ""
        where = f": {', '.join(places)}" if any(places) else ""
        yield f"{inert(figure)}{of_round}, not come to yet{where}"


def _counted(sheet: Sheet) -> Iterable[str]:
    for count, words in (
        (len(sheet.asides), "readings that do not stand"),
        (len(sheet.taken_back), "answers taken back"),
        (len(sheet.breaks), "interruptions"),
        (len(sheet.notes), "notes"),
        (len(sheet.photographs), "photographs"),
    ):
        if count:
            yield f"{words}: {count}"
