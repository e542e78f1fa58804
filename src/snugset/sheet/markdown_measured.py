"""The sheet's measured figures in Markdown: rounds, pushrods, other readings."""

from snugset.sheet.contents import Sheet
from snugset.sheet.inert import inert
from snugset.sheet.layout import is_cut, items, paragraph, table
from snugset.sheet.phrases import at, clock, code, done, limits, measured, verdict
from snugset.sheet.readings import FLAGS, ReadingRow
from snugset.sheet.rounds import Judgement, Round


def rounds(sheet: Sheet) -> list[str]:
    """Give each round: window, readings by place, what was decided."""
    lines = ["## Readings by round", ""] if sheet.rounds else []
    for each in sheet.rounds:
        lines += [f"### {inert(each.figure)}, round {each.number}", "", *_round(each)]
    return lines


def _round(round_: Round) -> list[str]:
    window = limits(round_.low, round_.high)
    target = f", target {round_.target}" if round_.target else ""
    lines = paragraph(f"Window {window}{target}." if window else "No window is on the spec sheet.")
    lines += table(
        ("Place", "Reading", "Verdict", "Predicted", "Takes", "Pushrod in", "Read", "By"),
        [
            (
                inert(row.place),
                measured(row),
                verdict(row),
                f"{row.predicted}: {FLAGS.get(row.flag, row.flag)}" if row.predicted else "",
                inert(row.typed),
                str(row.pushrod or ""),
                clock(row.at),
                inert(row.person),
            )
            for row in round_.readings
        ],
        shared=("Pushrod in", "By"),
    )
    lines += items([text for row in round_.readings for text in _remarks(row, inert(row.place))])
    lines += items(
        [
            f"{inert(gap.place) or code(gap.address)}: "
            + (f"skipped: {inert(gap.reason)}" if gap.skipped else "not read")
            for gap in round_.missing
        ]
    )
    return lines + _judgement(round_.judgement)


def _remarks(row: ReadingRow, what: str) -> list[str]:
    found = [f"{what}, kept because: {inert(row.reason)}"] if row.reason else []
    if is_cut(inert(row.typed)):
        found.append(f"{what}, takes: {inert(row.typed)}")
    return found


def _judgement(judgement: Judgement | None) -> list[str]:
    if judgement is None:
        return paragraph("Not judged yet.")
    what = {"accept": "Accepted", "order": "Other pushrods ordered"}
    proved = "every place is proved inside" if judgement.proved else "not every place is proved"
    ahead = ", as predicted" if judgement.outcome == "order" else ""
    lines = paragraph(
        f"**{what.get(judgement.outcome, judgement.outcome)}** {clock(judgement.at)} by "
        f"{inert(judgement.person)}: {proved}{ahead}."
    )
    lines += items([inert(text) for text in judgement.words])
    if judgement.outcome != "order":
        return lines
    return lines + table(
        ("Place", "Pushrod", "Before", "Change", "Should read"),
        [
            (
                inert(each.place),
                str(each.length),
                str(each.before or ""),
                "kept" if each.change and not each.change.value else str(each.change or ""),
                str(each.predicted or ""),
            )
            for each in judgement.chosen
        ],
    )


def pushrods(sheet: Sheet) -> list[str]:
    """Give the pushrod at every place, and how its length is measured."""
    found = sheet.pushrods
    if not any(each.length for each in found.places):
        return []
    how = inert(found.convention) or "not given: an order by these figures may be wrong"
    return [
        "## Pushrods fitted",
        "",
        *paragraph(f"How their length is measured: {how}."),
        *table(
            ("Place", "Length", "Which", "Went in", "By"),
            [
                (
                    inert(each.place),
                    each.shown or "not on record",
                    "" if each.length is None else "ordered" if each.new else "of the set in hand",
                    done(each.entry),
                    inert(each.entry.person) if each.entry else "",
                )
                for each in found.places
            ],
            shared=("Which", "By"),
        ),
    ]


def other_readings(sheet: Sheet) -> list[str]:
    """Give what was measured outside the rounds' own figure."""
    if not sheet.readings:
        return []
    return [
        "## Other readings",
        "",
        *table(
            ("Ledger", "Place", "Round", "Reading", "Limit", "Verdict", "Typed", "Read", "By"),
            [
                (
                    inert(row.figure),
                    inert(row.place),
                    str(row.round or ""),
                    measured(row),
                    limits(row.low, row.high),
                    verdict(row),
                    inert(row.typed),
                    clock(row.at),
                    inert(row.person),
                )
                for row in sheet.readings
            ],
            shared=("By",),
        ),
        *items([text for r in sheet.readings for text in _remarks(r, at(r.address, r.where))]),
    ]
