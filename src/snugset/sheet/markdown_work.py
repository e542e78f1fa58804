"""How the work went, in Markdown: by phase, and all that did not go straight."""

from collections.abc import Iterable
from itertools import groupby

from snugset.sheet.contents import Sheet
from snugset.sheet.entries import Entry
from snugset.sheet.happened import Repeated
from snugset.sheet.inert import inert
from snugset.sheet.layout import items, paragraph, table
from snugset.sheet.phrases import at, clock, code, crank, spread

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
            f"{f' by the rule {inert(each.code)}' if each.code else ''}: {inert(each.why)}"
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
        where = f" at {inert(', '.join(places))}"
    round_ = f", round {first.round}" if first.round else ""
    if first.outcome == "skipped":
        told = "**skipped** (the reason stands below)"
    elif first.outcome == "done":
        told = _values(entries)
    else:
        told = {"reading": "read", "judged": f"judged: {inert(first.value)}"}[first.outcome]
    when = spread(first.at, last.at)
    return f"{code(first.step)}{where}{round_}: {told}, {when}, {inert(first.person)}"


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
                    code(each.address),
                    inert(each.what),
                    each.count,
                    code(each.same_as) if each.same_as else "",
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
            f"{inert(each.code)}, {inert(each.rule)}. Reason: {inert(each.reason)}"
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
    return lines + _photographs(sheet) + _interruptions(sheet) + _corrections(sheet)


def _photographs(sheet: Sheet) -> list[str]:
    """List the photographs, each by the name and digest of its copy."""
    return _section(
        "Photographs",
        (
            f"{at(each.address, each.where)}, {clock(each.at)}, {inert(each.person)}"
            f"{f': {inert(each.caption)}' if each.caption else ''}. {inert(each.media)}, "
            f"{each.size} bytes, {code(f'attachments/{each.name}')}"
            for each in sheet.photographs
        ),
    )


def second_looks(sheet: Sheet) -> list[str]:
    """Give what a second person looked at, and who took over from whom."""
    lines = _section(
        "Looked at by a second person",
        (
            f"{at(each.address, each.where)}: "
            + (
                f"{inert(each.by)}, {clock(each.at)}"
                if each.by
                else f"**nobody**, {clock(each.at)}, {inert(each.person)}: {inert(each.reason)}"
            )
            for each in sheet.second_looks
        ),
    )
    return lines + _section(
        "Handed over",
        (
            f"{clock(each.at)}: {inert(each.former)} to {inert(each.person)}"
            f"{'' if each.said else ' (by who answered next)'}"
            for each in sheet.handovers
        ),
    )


def _interruptions(sheet: Sheet) -> list[str]:
    lines = ["## Interruptions", ""] if sheet.breaks else []
    for each in sheet.breaks:
        known = "The crank was not known."
        if each.crank is not None:
            after = "said on return to be untouched" if each.crank_kept else "unknown after it"
            known = f"Crank before it at {crank(each.crank.value)}: {after}."
        stood = f" It stood at {code(each.stood)}." if each.stood else ""
        lines += paragraph(
            f"{each.gap}, from {clock(each.before)} ({inert(each.last_person)}) to "
            f"{clock(each.at)} ({inert(each.person)}).{stood} {known}"
        )
        lines += items(
            [
                *(f"Loose: {inert(text)}" for text in each.loose),
                *(f"To check first: {inert(text)}" for text in each.advice),
                *(f"To be done again: {again}" for again in [_codes(each.voided)] if again),
            ]
        )
    return lines


def _codes(addresses: tuple[str, ...]) -> str:
    return ", ".join(map(code, addresses))


def _corrections(sheet: Sheet) -> list[str]:
    lines = _section(
        "Opened again",
        (
            f"{clock(each.at)}, {inert(each.person)}: {inert(each.reason)}. "
            f"{_codes(each.addresses)}"
            for each in sheet.reopened
        ),
    )
    again: dict[str, list[Repeated]] = {}
    for each in sheet.repeated:
        again.setdefault(each.address.partition("@")[0].partition("#")[0], []).append(each)
    lines += _section(
        "Done more than once", (_again(step, leaves) for step, leaves in again.items())
    )
    return lines + _section(
        f"Answers taken back: {len(sheet.taken_back)}",
        (
            f"{code(each.address)}, answered {clock(each.answered_at)} by "
            f"{inert(each.answered_by)} ({inert('; '.join(each.was))}), taken back "
            f"{clock(each.at)} by {inert(each.person)}"
            for each in sheet.taken_back
        ),
    )


def _again(step: str, leaves: list[Repeated]) -> str:
    """Say the times that a step was closed; with many places, from the first to the last."""
    places = ", ".join(inert(each.address.partition("@")[2]) for each in leaves)
    if len(leaves) > 1:
        first = min(each.times[0].at for each in leaves)
        last = max(each.times[-1].at for each in leaves)
        return f"{code(step)} at {places}: from {clock(first)} on, the last time {clock(last)}"
    times = ", ".join(f"{clock(time.at)} ({inert(time.person)})" for time in leaves[0].times)
    return f"{code(leaves[0].address)}: {times}"


def journal(sheet: Sheet) -> list[str]:
    """Give what the sheet can be held against."""
    found = sheet.journal
    return [
        "## The journal",
        "",
        *items([f"Records: {found.records}", f"Digest: {code(found.digest)}"]),
        *paragraph(inert(found.check)),
        *paragraph(found.caveat),
    ]


def _section(title: str, texts: Iterable[str]) -> list[str]:
    texts = list(texts)
    return [f"## {title}", "", *items(texts)] if texts else []
