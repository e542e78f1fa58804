"""How the work went, in Markdown: by phase, and all that did not go straight."""

from collections.abc import Iterable
from itertools import groupby

from snugset.sheet.contents import Sheet
from snugset.sheet.entries import Entry
from snugset.sheet.inert import inert
from snugset.sheet.layout import items, paragraph, table
from snugset.sheet.phrases import at, clock, spread

MOST_PLACES = 16
HOW = {
    "set-aside": "set aside",
    "replaced": "replaced",
    "voided": "its step was opened again",
}


def not_standing(sheet: Sheet) -> list[str]:
    """Give the readings that were taken and do not stand."""
    return _section(
        "Readings that do not stand",
        (
            f"{at(each.address, each.where)}: {each.value}"
            f"{f' ± {each.uncertainty}' if each.uncertainty else ''}"
            f"{f' (typed {inert(each.typed)})' if each.typed else ''}, {clock(each.at)}, "
            f"{inert(each.person)}; {HOW[each.how]}"
            f"{f' by the rule {each.code}' if each.code else ''}: {inert(each.why)}"
            for each in sheet.asides
        ),
    )


def work(sheet: Sheet) -> list[str]:
    """Give every step that was closed, by phase."""
    lines = ["## The work, by phase", ""]
    for phase in sheet.phases:
        if phase.entries:
            lines += [f"### {inert(phase.title)}", "", *items(list(_steps(phase.entries)))]
    lines += _counts(sheet)
    return lines + _section(
        "Questions and answers",
        (
            f"{at(each.address, each.where)}: {inert(each.answer)}"
            f"{f' (wanted: {inert(each.wants)})' if each.wants not in ('', each.answer) else ''}, "
            f"{clock(each.at)}, {inert(each.person)}"
            for each in sheet.choices
        ),
    )


def _steps(entries: tuple[Entry, ...]) -> Iterable[str]:
    """Say each step once, with its places, as long as the same person went on with it."""
    steps = dict.fromkeys((e.step, e.round, e.outcome, e.person) for e in entries)
    for key in steps:
        yield _step([e for e in entries if (e.step, e.round, e.outcome, e.person) == key])


def _step(entries: list[Entry]) -> str:
    first, last = entries[0], entries[-1]
    places = [entry.place for entry in entries if entry.place]
    where = ""
    if len(places) > MOST_PLACES:
        where = f" at {len(places)} places"
    elif places:
        where = f" at {', '.join(places)}"
    round_ = f", round {first.round}" if first.round else ""
    if first.outcome == "skipped":
        told = "**skipped** (the reason stands below)"
    elif first.outcome == "done":
        told = _values(entries)
    else:
        told = {"reading": "read", "judged": f"judged: {first.value}"}[first.outcome]
    when = spread(first.at, last.at)
    return f"`{first.step}`{where}{round_}: {told}, {when}, {inert(first.person)}"


def _values(entries: list[Entry]) -> str:
    values = [(value, len(list(same))) for value, same in groupby(e.value for e in entries)]
    if all(not value for value, _ in values):
        return "done"
    if len(values) == 1:
        return f"done ({inert(values[0][0])})"
    return f"done ({', '.join(inert(value) for value in dict.fromkeys(v for v, _ in values))})"


def _counts(sheet: Sheet) -> list[str]:
    if not sheet.counts:
        return []
    agrees = {True: "yes", False: "**no**", None: ""}
    return [
        "## Counted",
        "",
        *table(
            ("Step", "What", "Count", "Must equal", "That count", "Agrees", "When", "By"),
            [
                (
                    f"`{each.address}`",
                    inert(each.what),
                    each.count,
                    f"`{each.same_as}`" if each.same_as else "",
                    each.before,
                    agrees[each.agrees],
                    clock(each.at),
                    inert(each.person),
                )
                for each in sheet.counts
            ],
            shared=("By",),
        ),
    ]


def doubts(sheet: Sheet) -> list[str]:
    """Give waits, overrides, skips, notes, breaks, work opened again, answers taken back."""
    lines = _section(
        "Waits",
        (
            f"{at(each.address)} {inert(each.what)}: "
            + (
                f"{spread(each.since, each.until)}, {each.lasted}"
                if each.until
                else f"since {clock(each.since)}, {each.lasted} so far"
            )
            for each in sheet.waits
        ),
    )
    lines += _section(
        "Gone on against a rule",
        (
            f"{at(each.address, each.where)}, {clock(each.at)}, {inert(each.person)}: rule "
            f"{each.code}, {each.rule}. Reason: {inert(each.reason)}"
            for each in sheet.overrides
        ),
    )
    for title, remarks in (("Skipped", sheet.skips), ("Notes", sheet.notes)):
        lines += _section(
            title,
            (
                f"{at(each.address, each.where)}, {clock(each.at)}, {inert(each.person)}: "
                f"{inert(each.text)}"
                for each in remarks
            ),
        )
    return lines + _interruptions(sheet) + _corrections(sheet)


def _interruptions(sheet: Sheet) -> list[str]:
    lines = ["## Interruptions", ""] if sheet.breaks else []
    for each in sheet.breaks:
        crank = "The crank was not known."
        if each.crank is not None:
            kept = "untouched, its owner said" if each.crank_kept else "counted as unknown after it"
            crank = f"Crank before it at {each.crank.value.normalize():f}°: {kept}."
        lines += paragraph(
            f"{each.gap}, from {clock(each.before)} ({inert(each.last_person)}) to "
            f"{clock(each.at)} ({inert(each.person)}). It stood at `{each.stood}`. {crank}"
            if each.stood
            else f"{each.gap}, from {clock(each.before)} ({inert(each.last_person)}) to "
            f"{clock(each.at)} ({inert(each.person)}). {crank}"
        )
        lines += items(
            [
                *(f"Loose: {inert(text)}" for text in each.loose),
                *(f"To check first: {inert(text)}" for text in each.advice),
                *([f"To be done again: {', '.join(each.voided)}"] if each.voided else []),
            ]
        )
    return lines


def _corrections(sheet: Sheet) -> list[str]:
    lines = _section(
        "Opened again",
        (
            f"{clock(each.at)}, {inert(each.person)}: {inert(each.reason)}. "
            f"{', '.join(each.addresses)}"
            for each in sheet.reopened
        ),
    )
    return lines + _section(
        f"Answers taken back: {len(sheet.taken_back)}",
        (
            f"`{each.address}`, answered {clock(each.answered_at)} by {inert(each.answered_by)} "
            f"({inert('; '.join(each.was))}), taken back {clock(each.at)} by {inert(each.person)}"
            for each in sheet.taken_back
        ),
    )


def journal(sheet: Sheet) -> list[str]:
    """Give what the sheet can be held against."""
    found = sheet.journal
    return [
        "## The journal",
        "",
        *items([f"Records: {found.records}", f"Digest: `{found.digest}`"]),
        *paragraph(found.caveat),
    ]


def _section(title: str, texts: Iterable[str]) -> list[str]:
    texts = list(texts)
    return [f"## {title}", "", *items(texts)] if texts else []
